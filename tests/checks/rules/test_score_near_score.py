"""Scores too near to each other. 1.5 mm is from memory; 1.5 c + d from VALUES.md, section 4."""

from fractions import Fraction

import pytest
from flat_spoils import SIXTHS, flat_book, found_in, settings_of, spoiled, with_score
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import score_near_score as rule

NEAR = Fraction(8, 7)  #: mm


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_a_channel_that_was_made_narrow_has_its_scores_too_near(book):
    found = the_finding(book, "page-3", lambda p: longer_panel(p, "binding.channel", "x", NEAR - 6))
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(1.5 - float(NEAR))
    assert found.spot.panel == "binding.channel"
    assert found.spot.point.y == pytest.approx(51.5)


def test_a_gusset_narrower_than_a_crease_cannot_be_made(book):
    by = Fraction(2, 7) - 3
    found = the_finding(book, "page-1", lambda p: longer_panel(p, "head", "y", by))
    assert found.severity is Severity.ERROR
    assert float(found.amount.value) == pytest.approx(1.5 * 0.24 - 2 / 7, abs=0.01)


def test_a_score_drawn_beside_a_fold_is_too_near(book):
    x = 18 + NEAR
    found = the_finding(book, "page-3", lambda p: with_score(p, "page", (x, 20), (x, 70)))
    assert float(found.amount.value) == pytest.approx(1.5 - float(NEAR))
    assert found.spot.panel == "page"
    assert found.spot.point.y == pytest.approx(45)


def test_two_oblique_scores_are_too_near(book):
    def change(part):
        part = with_score(part, "page", (60, 20), (100, 50))
        # beside it by the 3-4-5 triangle
        dx, dy = -NEAR * Fraction(3, 5), NEAR * Fraction(4, 5)
        return with_score(part, "page", (60 + dx, 20 + dy), (100 + dx, 50 + dy))

    found = the_finding(book, "page-3", change)
    assert float(found.amount.value) == pytest.approx(1.5 - float(NEAR))


def test_scores_of_thick_paper_have_to_be_farther_apart(folded_of):
    thick = 'units = "mm"\n[papers."thick"]\nroles = ["pages"]\ncaliper = "1.1 mm"\n'
    folded = folded_of(SIXTHS, "usual.channel=1.6", workshop=thick)
    found = found_in(rule, flat_book(folded.book, folded.workshop))
    amounts = {f.spot.part: float(f.amount.value) for f in found}
    assert amounts["page-2"] == pytest.approx(1.65 - 1.6)
    assert {f.severity for f in found} == {Severity.ERROR}


def test_leaves_that_roll_up_too_tightly_have_scores_too_near(folded_of):
    rolls = SIXTHS.replace('"flap"', '"roll fold"') + "[page.2]\nrolls = 3\ndepth = 3\n"
    folded = folded_of(rolls)
    found = found_in(rule, flat_book(folded.book, folded.workshop))
    assert [(f.spot.panel, float(f.amount.value)) for f in found] == [("gusset3", 0.5)]


@pytest.mark.parametrize("setting", ["usual.channel=1", "usual.end_channel=1.25"])
def test_the_advice_followed_sets_them_apart(folded_of, setting):
    folded = folded_of(SIXTHS, setting)
    book = flat_book(folded.book, folded.workshop)
    found = found_in(rule, book)
    assert found
    advice = {text for finding in found for text in settings_of(book.book, finding.advice)}
    assert advice
    mended = folded_of(SIXTHS, setting, *sorted(advice))
    assert found_in(rule, flat_book(mended.book, mended.workshop)) == []


def test_cloth_may_be_scored_twice_as_near_as_a_thin_board_is_thick(folded_of):
    thin = (
        'units = "mm"\n[boards."thin"]\nroles = ["boards"]\ncaliper = "0.8 mm"\nsheets = ["A3"]\n'
    )
    folded = folded_of(SIXTHS, "usual.edge_scores=twice", workshop=thin)
    assert found_in(rule, flat_book(folded.book, folded.workshop)) == []


def test_cloth_has_its_limit_as_well(folded_of):
    folded = folded_of(SIXTHS, "usual.edge_scores=twice")
    book = flat_book(folded.book, folded.workshop)
    by = Fraction(3, 7) - 2
    found = the_finding(book, "edge-front-head", lambda p: longer_panel(p, "edge", "x", by))
    assert found.severity is Severity.ERROR
    assert float(found.amount.value) == pytest.approx(1.5 * 0.35 - 3 / 7, abs=0.01)


def test_scores_just_far_enough_apart_are_none(book):
    by = Fraction(3, 2) - 6
    folded = spoiled(book, "page-3", lambda p: longer_panel(p, "binding.channel", "x", by))
    assert found_in(rule, folded) == []


def test_the_advice_for_a_book_of_one_page_sets_its_scores_apart(folded_of):
    one = SIXTHS.replace('"side pocket", "flap", "photo slits", "plain leaf"', '"plain leaf"')
    folded = folded_of(one, "usual.channel=1")
    book = flat_book(folded.book, folded.workshop)
    found = found_in(rule, book)
    assert {f.spot.part for f in found} == {"page-1", "hinge-strip"}
    for finding in found:
        mended = folded_of(one, "usual.channel=1", *settings_of(book.book, finding.advice))
        assert finding.spot.part not in {
            f.spot.part for f in found_in(rule, flat_book(mended.book, mended.workshop))
        }
