"""Panels that do not add up. All of it is arithmetic; what counts as nearly alike is from memory."""

from dataclasses import replace
from fractions import Fraction

import pytest
from flat_spoils import (
    SIXTHS,
    flat_book,
    found_in,
    spoiled,
    with_hole,
    with_line_moved,
    with_panel_resized,
)
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import does_not_add_up as rule
from dielines.paths import rectangle, translated

BY = Fraction(5, 7)


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def amounts(folded, key, change):
    found = found_in(rule, spoiled(folded, key, change))
    assert {finding.spot.part for finding in found} == {key}
    return [round(float(finding.amount.value), 4) for finding in found]


def test_a_cut_size_that_is_larger_than_its_panels(book):
    def change(part):
        return replace(part, outline=(rectangle(0, 0, 155 + BY, 103),))

    assert amounts(book, "page-3", change) == [round(float(BY), 4)]


def test_a_cut_size_that_is_smaller_in_the_other_direction(book):
    def change(part):
        return replace(part, outline=(rectangle(0, BY, 155, 103),))

    assert round(float(BY), 4) in amounts(book, "page-3", change)


def test_a_cut_size_that_is_wrong_both_ways_is_told_both_ways(book):
    def change(part):
        return replace(part, outline=(rectangle(0, 0, 155 + BY, 104 + BY),))

    assert amounts(book, "page-3", change) == [round(float(BY), 4), round(float(1 + BY), 4)]


def test_a_panel_that_overlaps_its_neighbour(book):
    found = amounts(book, "page-3", lambda p: with_panel_resized(p, "page", (BY, 0, 0, 0)))
    assert set(found) == {round(float(BY), 4)}
    assert len(found) == 2  # the row does not add up, and the score is off its border


def test_a_panel_that_leaves_a_gap(book):
    found = amounts(book, "page-1", lambda p: with_panel_resized(p, "head", (0, 0, 0, -BY)))
    assert round(float(BY), 4) in found


def test_a_panel_moved_between_its_neighbours(book):
    def change(part):
        panels = [
            replace(p, outline=translated(p.outline, BY, 0)) if p.name == "binding.channel" else p
            for p in part.panels
        ]
        return replace(part, panels=tuple(panels))

    # The row adds up all the same: both scores are off.
    assert amounts(book, "page-3", change) == [round(float(BY), 4)] * 2


def test_a_score_that_was_moved(book):
    found = amounts(book, "page-1", lambda p: with_line_moved(p, "front / tail", dy=Fraction(2, 7)))
    assert found == [round(2 / 7, 4)] * 2  # off the border of either


def test_a_hole_of_a_panel_that_is_not_cut(book):
    def change(part):
        holed = with_hole(part, "page", rectangle(80, 30, 100, 60))
        return replace(holed, outline=part.outline)

    assert amounts(book, "page-4", change) == [20]


def test_channels_that_are_not_as_wide_as_they_were_asked_to_be(book):
    found = amounts(book, "page-3", lambda p: longer_panel(p, "binding.channel", "x", BY))
    assert found == [round(float(BY), 4)]


def test_a_tab_rounded_by_itself(book):
    found = amounts(
        book, "hinge-strip", lambda p: longer_panel(p, "front_tab", "x", Fraction(2, 7))
    )
    assert found == [round(2 / 7, 4)]


def test_gussets_at_head_and_tail_that_are_not_equal(book):
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "tail", "y", Fraction(1, 2)))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.WARNING
    assert found.amount.value == Fraction(1, 2)


def test_gussets_that_were_meant_to_differ_are_silent(book):
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "tail", "y", 2))
    assert found_in(rule, folded) == []


def test_a_front_and_a_back_that_wrap_something_may_differ_by_its_thickness(book):
    def change(part):
        return longer_panel(part, "back", "y", Fraction(1, 2))

    assert found_in(rule, spoiled(book, "page-1", change)) == []
