"""Scores too near to an edge or a cut. The widths are from memory."""

from fractions import Fraction

import pytest
from flat_spoils import (
    SIXTHS,
    flat_book,
    found_in,
    spoiled,
    with_cut,
    with_hole,
    with_outline,
    with_score,
)
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import score_near_edge as rule
from dielines.paths import rectangle

NEAR = Fraction(16, 7)  #: 2.29 mm
TORN = Fraction(5, 7)


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_a_score_beside_the_head_is_too_near(book):
    y = 103 - NEAR
    found = the_finding(book, "page-4", lambda p: with_score(p, "page", (80, y), (150, y)))
    assert found.severity is Severity.WARNING
    assert float(found.amount.value) == pytest.approx(3 - float(NEAR))
    assert found.spot.panel == "page"


def test_a_seam_tab_that_was_made_narrow_cannot_be_folded(book):
    found = the_finding(book, "page-1", lambda p: longer_panel(p, "seam", "y", TORN - 12))
    assert found.severity is Severity.ERROR
    assert float(found.amount.value) == pytest.approx(1 - float(TORN), abs=0.01)


def test_a_slit_beside_a_fold_is_too_near(book):
    x = 18 + NEAR
    found = the_finding(book, "page-3", lambda p: with_cut(p, "page", (x, 30), (x, 60), name="hem"))
    assert float(found.amount.value) == pytest.approx(3 - float(NEAR))
    assert "hem" in found.message


def test_a_window_beside_a_fold_is_too_near(book):
    hole = rectangle(56 + TORN, 30, 100, 60)
    found = the_finding(book, "page-4", lambda p: with_hole(p, "page", hole))
    assert float(found.amount.value) == pytest.approx(1 - float(TORN))
    assert found.severity is Severity.ERROR


def test_a_score_on_a_slit_is_on_it(book):
    def change(part):
        return with_score(with_cut(part, "page", (80, 41), (150, 41)), "page", (90, 41), (120, 41))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(1)


def test_an_oblique_score_beside_an_oblique_edge_is_too_near(book):
    def change(part):
        part = with_outline(part, (0, 0), (37, 0), (37, 60), (0, 109))
        # the edge from (37, 60) to (0, 109), moved inwards
        long = (37**2 + 49**2) ** 0.5
        dx, dy = -49 / long * float(NEAR), -37 / long * float(NEAR)
        return with_score(
            part, "spine", (30 + dx, 60 + 49 * 7 / 37 + dy), (10 + dx, 60 + 49 * 27 / 37 + dy)
        )

    found = the_finding(book, "spine-board", change)
    assert float(found.amount.value) == pytest.approx(3 - float(NEAR))


def test_a_fold_that_ends_at_an_edge_is_not_beside_it(book):
    assert found_in(rule, book) == []


def test_a_score_just_far_enough_is_none(book):
    folded = spoiled(book, "page-4", lambda p: with_score(p, "page", (80, 100), (150, 100)))
    assert found_in(rule, folded) == []


def test_a_score_beside_a_narrow_window_is_near_its_near_edge_only(book):
    hole = rectangle(56 + TORN, 30, 56 + 3 * TORN, 60)
    found = the_finding(book, "page-4", lambda p: with_hole(p, "page", hole))
    assert float(found.amount.value) == pytest.approx(1 - float(TORN))


def test_an_edge_that_is_beside_a_score_for_a_moment_only_is_none(book):
    hole = rectangle(56 + NEAR, 30, 100, 30 + Fraction(13, 7))
    assert found_in(rule, spoiled(book, "page-4", lambda p: with_hole(p, "page", hole))) == []
