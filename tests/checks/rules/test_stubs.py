"""Fins as thick as their pages: Cockerell, p. 61. That a millimetre less is no harm is memory."""

import pytest
from spoiling import without_join
from thick_books import book_of, composed, found_in, holding, mixed_book, with_stock

from dielines.checks.finding import Severity
from dielines.checks.rules import stubs as rule
from dielines.folding.folded_book import FoldedBook

KINDS = ["plain leaf", "flap", "plain leaf", "flap"]
COMB = "concertina spine"


def filled(thick: str, pages=(2, 4)) -> str:
    return book_of(KINDS, "".join(holding(n, "4 x 3", thick) for n in pages), COMB)


def the_finding(folded):
    (finding,) = found_in(rule, folded)
    return finding


def test_correct_books_are_not_remarked_upon(samples, tmp_path):
    for folded in samples.values():
        assert found_in(rule, folded) == []
    assert found_in(rule, composed(tmp_path, book_of(KINDS, "", COMB))) == []


def test_a_book_whose_pages_hang_by_their_own_tabs_has_no_stubs(tmp_path):
    text = mixed_book(4, "".join(holding(n, "4 x 3", "0.2") for n in (2, 4)))
    assert found_in(rule, composed(tmp_path, text)) == []


@pytest.mark.parametrize("thick", ["0.2", "1/7", "0.3"])
def test_full_pages_are_thicker_than_their_fins(tmp_path, thick):
    folded = composed(tmp_path, filled(thick))
    found = the_finding(folded)
    thickness = folded.thickness
    assert found.severity is Severity.REMARK
    lacking = thickness.thickest.pressed - thickness.at_binding.pressed
    assert float(found.amount.value) == pytest.approx(lacking)
    assert found.spot.part.startswith("comb-spine")


def test_the_amount_grows_with_the_contents(tmp_path):
    one, other = (the_finding(composed(tmp_path, filled(t))) for t in ("0.2", "0.3"))
    grown = float(other.amount.value) - float(one.amount.value)
    assert grown == pytest.approx(2 * 0.1 * 25.4)


def test_one_full_page_is_enough(tmp_path):
    folded = composed(tmp_path, filled("1/4", pages=(2,)))
    assert float(the_finding(folded).amount.value) > 1


def test_thicker_fins_make_up_for_it(tmp_path):
    """Each fin is two papers: of thicker paper they grow as the contents do."""
    folded = composed(tmp_path, filled("0.08"))
    lacking = float(the_finding(folded).amount.value)
    thick = with_stock(folded, "pages", "5/6")
    found = found_in(rule, thick)
    assert not found or float(found[0].amount.value) < lacking


def test_mats_on_the_pages_count(tmp_path):
    text = book_of(KINDS, "", COMB).replace("[usual]", 'mats = "both sides"\n[usual]')
    folded = composed(tmp_path, text)
    before = folded.thickness.thickest.pressed
    thick = with_stock(folded, "mats", "3/2")
    assert thick.thickness.thickest.pressed > before + 8
    assert float(the_finding(thick).amount.value) > 1


def test_a_page_that_no_fin_holds_leaves_nothing_to_say(tmp_path):
    """Stubs hold all pages or none: with one taped elsewhere the book is bound in another way."""
    folded = composed(tmp_path, filled("0.3"))
    assert found_in(rule, without_fin(folded, "page-2")) == []


def test_a_pocket_glued_on_a_page_is_no_stub(tmp_path):
    kinds = ["plain leaf", "library-card pocket", "plain leaf", "flap"]
    folded = composed(tmp_path, book_of(kinds, holding(4, "4 x 3", "0.3"), COMB))
    assert len(found_in(rule, folded)) == 1
    assert found_in(rule, without_fin(folded, "page-2")) == []


def without_fin(folded, page):
    (join,) = [j for j in folded.book.joins if j.onto_part == page and j.part.startswith("comb")]
    return FoldedBook(without_join(folded.book, join.part, join.zone), folded.workshop)
