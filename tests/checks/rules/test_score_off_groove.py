"""Scores between the grooves of a scoring board. All of it is arithmetic."""

from fractions import Fraction

import pytest
from flat_spoils import SIXTHS, flat_book, found_in, spoiled, with_score
from spoiling import longer_panel, warped

from dielines.checks.finding import Severity
from dielines.checks.rules import score_off_groove as rule
from dielines.paths import Point

HAND = """\
units = "mm"
[machine]
scoring = "none"
[scoring_board]
grooves = "1 mm"
length = "300 mm"
"""


@pytest.fixture
def by_hand(folded_of):
    folded = folded_of(SIXTHS, workshop=HAND)
    return flat_book(folded.book, folded.workshop)


def on(folded, key):
    return [finding for finding in found_in(rule, folded) if finding.spot.part == key]


def test_scores_in_grooves_are_in_them(by_hand):
    assert on(by_hand, "page-1") == on(by_hand, "page-4") == []


def test_a_machine_that_scores_needs_no_grooves(folded_of):
    folded = folded_of(SIXTHS, workshop=HAND.replace('scoring = "none"', 'scoring = "tool"'))
    spoilt = flat_book(folded.book, folded.workshop)
    score = ((Fraction(571, 7), 0), (Fraction(571, 7), 103))
    assert found_in(rule, spoiled(spoilt, "page-4", lambda p: with_score(p, "page", *score))) == []


def test_a_score_between_two_grooves_is_told_with_the_nearest(by_hand):
    x = 80 + Fraction(2, 7)
    (found,) = on(
        spoiled(by_hand, "page-4", lambda p: with_score(p, "page", (x, 0), (x, 103))), "page-4"
    )
    assert found.severity is Severity.REMARK
    assert found.amount.value == Fraction(2, 7)
    assert found.spot.point == Point(x, Fraction(103, 2))


def test_a_score_off_from_one_edge_may_be_in_a_groove_from_the_other(by_hand):
    # The page is a third of a mm wider: its right part moves, and is off as seen from the left.
    third = Fraction(1, 3)
    assert (
        on(spoiled(by_hand, "page-4", lambda p: longer_panel(p, "page", "x", third)), "page-4")
        == []
    )
    (found,) = on(
        spoiled(by_hand, "page-2", lambda p: longer_panel(p, "page", "x", third)), "page-2"
    )
    assert found.amount.value == third  # 71.5 from the left, and 158 1/3 from the right


def test_a_level_score_is_measured_from_the_top_and_the_bottom(by_hand):
    y = 41 + Fraction(3, 7)
    (found,) = on(
        spoiled(by_hand, "page-4", lambda p: with_score(p, "page", (60, y), (90, y))), "page-4"
    )
    assert found.amount.value == Fraction(3, 7)
    assert "bottom" in found.message or "top" in found.message


def test_a_score_beyond_the_last_groove_is_off(folded_of):
    short = folded_of(SIXTHS, workshop=HAND.replace('"300 mm"', '"60 mm"'))
    book = flat_book(short.book, short.workshop)
    (found,) = on(
        spoiled(book, "page-4", lambda p: with_score(p, "page", (97, 0), (97, 103))), "page-4"
    )
    assert found.amount.value == 96 - 60  # from the right edge, at 193


def test_a_part_is_told_once_for_all_its_scores(by_hand):
    found = on(
        spoiled(
            by_hand,
            "page-1",
            lambda p: warped(p, lambda q: Point(q.x * Fraction(8, 7), q.y * Fraction(8, 7))),
        ),
        "page-1",
    )
    assert len(found) == 1
    assert " scores" in found[0].message


def test_coarse_grooves_give_at_most_one_remark_a_letter(folded_of):
    coarse = folded_of(SIXTHS, workshop=HAND.replace('"1 mm"', '"7 mm"'))
    book = flat_book(coarse.book, coarse.workshop)
    letters = [book.book.part(finding.spot.part).letter for finding in found_in(rule, book)]
    assert letters
    assert len(letters) == len(set(letters))


def test_stock_too_thick_for_the_machine_is_scored_by_hand(folded_of):
    thick = HAND.replace('scoring = "none"', 'scoring = "tool"') + (
        '[papers."thick"]\nroles = ["pages"]\ncaliper = "0.9 mm"\n'
    )
    folded = folded_of(SIXTHS, workshop=thick.replace('"1 mm"', '"7 mm"'))
    found = found_in(rule, flat_book(folded.book, folded.workshop))
    assert {folded.book.part(finding.spot.part).role for finding in found} == {"pages"}


def test_an_oblique_score_needs_no_groove(by_hand):
    folded = spoiled(by_hand, "page-4", lambda p: with_score(p, "page", (60, 10), (91, 40)))
    assert on(folded, "page-4") == []


def test_parts_of_one_letter_are_told_once_even_where_one_was_changed(folded_of):
    leaves = SIXTHS.replace(
        '"side pocket", "flap", "photo slits"', '"plain leaf", "plain leaf", "plain leaf"'
    )
    folded = folded_of(
        leaves.replace('"plain leaf"]', '"plain leaf", "plain leaf", "plain leaf"]'),
        workshop=HAND.replace('"1 mm"', '"7 mm"'),
    )
    book = flat_book(folded.book, folded.workshop)
    keys = [e.key for e in book.book.parts if e.letter == book.book.part("page-2").letter]
    assert len(keys) > 1
    spoilt = spoiled(book, keys[1], lambda p: longer_panel(p, "page", "x", Fraction(1, 3)))
    assert len([key for key in keys if on(spoilt, key)]) == 1
