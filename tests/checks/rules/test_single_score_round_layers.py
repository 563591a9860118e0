"""One score round layers: n thicknesses need a gusset. That 0.6 mm are too many is from memory."""

import pytest
from random_books import random_book
from spoiling import longer_panel
from thick_books import TAPE, book_of, composed, found_in, shut_roll, spoiled, with_stock

from dielines.checks.finding import Severity
from dielines.checks.rules import single_score_round_layers as rule

MOST = 0.6


def shut(tmp_path, rolls):
    """A roll with its gussets folded flat: the leaves lie inside the crease at the fore-edge."""
    text = book_of(["plain leaf", "roll fold", "plain leaf"], f"[page.2]\nrolls = {rolls}\n")
    return spoiled(composed(tmp_path, text), "page-2", shut_roll)


def amounts(found):
    return [round(float(f.amount.value), 4) for f in found]


def test_correct_books_are_not_blamed(samples, tmp_path):
    for folded in samples.values():
        assert found_in(rule, folded) == []
    for seed in range(1, 20, 4):
        assert found_in(rule, composed(tmp_path, random_book(seed), workshop="")) == []


def test_two_thin_leaves_go_into_one_crease(tmp_path):
    assert found_in(rule, shut(tmp_path, 3)) == []


def test_two_leaves_of_thicker_paper_do_not(tmp_path):
    (found,) = found_in(rule, with_stock(shut(tmp_path, 3), "pages", "7/20"))
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(2 * 0.35 - MOST)
    assert found.spot.part == "page-2"


def test_the_point_told_lies_on_the_crease(tmp_path):
    folded = with_stock(shut(tmp_path, 3), "pages", "7/20")
    (found,) = found_in(rule, folded)
    page = folded.book.part("page-2").part.panel("page").bounds()
    assert min(abs(float(found.spot.point.x - x)) for x in (page.left, page.right)) < 1e-6


@pytest.mark.parametrize("caliper", ["1/3", "3/7", "5/9"])
def test_the_amount_grows_with_the_paper(tmp_path, caliper):
    top, bottom = map(int, caliper.split("/"))
    found = found_in(rule, with_stock(shut(tmp_path, 3), "pages", caliper))
    assert amounts(found) == [round(2 * top / bottom - MOST, 4)]


def test_one_leaf_of_board_is_too_much_for_one_score(tmp_path):
    lengthened = spoiled(shut(tmp_path, 2), "page-2", lambda p: longer_panel(p, "leaf2", "x", 2))
    (told,) = found_in(rule, with_stock(lengthened, "pages", "2/3"))
    assert amounts([told]) == [round(2 / 3 - MOST, 4)]


def test_what_ends_far_from_the_crease_does_not_fill_it(tmp_path):
    folded = with_stock(shut(tmp_path, 3), "pages", "7/20")
    assert len(found_in(rule, folded)) == 1
    shorter = spoiled(folded, "page-2", lambda p: longer_panel(p, "leaf2", "x", -3))
    assert found_in(rule, shorter) == []


def test_tape_on_what_is_inside_counts(tmp_path):
    """The flap page's own tape is put onto leaf two after composing."""
    from dataclasses import replace

    from dielines.part import Side, Zone
    from dielines.paths import rectangle

    def taped(part):
        box = part.panel("leaf2").bounds()
        path = rectangle(box.left + 2, box.bottom + 2, box.right - 2, box.bottom + 12)
        return replace(part, zones=(*part.zones, Zone("extra", "leaf2", Side.FACE, path)))

    folded = with_stock(shut(tmp_path, 3), "pages", "7/20")
    (found,) = found_in(rule, spoiled(folded, "page-2", taped))
    assert float(found.amount.value) == pytest.approx(0.7 + TAPE - MOST)
