"""Scores, slits and marks that leave the paper. All of it is geometry."""

from dataclasses import replace
from fractions import Fraction

import pytest
from flat_spoils import (
    SIXTHS,
    flat_book,
    found_in,
    spoiled,
    with_cut,
    with_hole,
    with_line_longer,
    with_line_moved,
    with_mark,
    with_outline,
    with_perforation,
    with_score,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import score_leaves_part as rule
from dielines.part import Lettering
from dielines.paths import Point, rectangle


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def the_finding(folded, key, change):
    (finding,) = found_in(rule, spoiled(folded, key, change))
    assert finding.spot.part == key
    return finding


def test_a_fold_longer_than_the_part(book):
    name = "binding.channel | page"
    found = the_finding(book, "page-3", lambda p: with_line_longer(p, name, Fraction(8, 7)))
    assert found.severity is Severity.ERROR
    assert float(found.amount.value) == pytest.approx(103 / 7, abs=0.04)


def test_a_fold_that_was_moved_up(book):
    name = "binding.channel | page"
    found = the_finding(book, "page-3", lambda p: with_line_moved(p, name, dy=Fraction(22, 7)))
    assert float(found.amount.value) == pytest.approx(22 / 7, abs=0.04)


def test_a_score_over_a_window(book):
    def change(part):
        part = with_hole(part, "page", rectangle(80, 30, 100, 60))
        return with_score(part, "page", (70, 41), (90, 41))

    assert float(the_finding(book, "page-4", change).amount.value) == pytest.approx(10, abs=0.04)


def test_a_mark_beside_the_part(book):
    found = the_finding(book, "page-4", lambda p: with_mark(p, "page", (150, 41), (200, 41)))
    assert float(found.amount.value) == pytest.approx(7, abs=0.04)
    assert found.spot.point.x > 193


def test_a_slit_out_over_the_edge(book):
    found = the_finding(book, "page-4", lambda p: with_cut(p, "page", (150, 90), (150, 105)))
    assert float(found.amount.value) == pytest.approx(2, abs=0.04)


def test_a_perforation_out_over_the_edge(book):
    found = the_finding(book, "page-4", lambda p: with_perforation(p, "page", (150, -3), (150, 9)))
    assert float(found.amount.value) == pytest.approx(3, abs=0.04)


def test_an_outline_that_was_cut_away_under_a_score(book):
    def change(part):
        scored = with_score(part, "spine", (0, 80), (37, 80))
        return with_outline(scored, (0, 0), (37, 0), (37, 70), (20, 70), (20, 109), (0, 109))

    assert float(the_finding(book, "spine-board", change).amount.value) == pytest.approx(
        17, abs=0.04
    )


def test_a_text_beside_the_part(book):
    def change(part):
        text = Lettering("page", "lake", Point(Fraction(200), Fraction(40)), Fraction(4))
        return replace(part, lettering=(*part.lettering, text))

    found = the_finding(book, "page-4", change)
    assert float(found.amount.value) == pytest.approx(7)


def test_what_ends_at_the_edge_is_on_the_paper(book):
    folded = spoiled(book, "page-4", lambda p: with_score(p, "page", (56, 41), (193, 41)))
    assert found_in(rule, folded) == []
