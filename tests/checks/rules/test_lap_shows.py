"""Laps of reinforcements that show. Common practice, no source; the amounts are arithmetic."""

from fractions import Fraction

import pytest
from flat_spoils import SIXTHS, flat_book, found_in, settings_of, spoiled
from spoiling import changed_join, longer_panel, without_join

from dielines.checks.finding import Severity
from dielines.checks.rules import lap_shows as rule
from dielines.paths import Point


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def told(folded):
    return {f.spot.part: round(float(f.amount.value), 4) for f in found_in(rule, folded)}


def test_a_lap_that_was_made_longer(book):
    by = Fraction(24, 7)  # 10 and this, under a tab of 12
    longer = spoiled(book, "page-1-reinforcement", lambda p: longer_panel(p, "lap_page", "x", by))
    assert told(longer) == {"page-1-reinforcement": round(float(by) - 2, 4)}
    assert found_in(rule, longer)[0].severity is Severity.WARNING


def test_a_tab_that_was_made_narrower(book):
    by = -Fraction(20, 7)
    join = next(j for j in book.book.joins if j.part == "page-2" and j.onto_part == "page-1")
    narrow = spoiled(book, "page-2", lambda p: longer_panel(p, "binding.tab", "x", by))
    # its tape becomes narrower by as much
    there = Point(join.offset.x - by, join.offset.y)
    moved = changed_join(
        narrow.book, "page-2", join.zone, "page-1", width=join.width + by, offset=there
    )
    assert told(flat_book(moved, book.workshop)) == {"page-1-reinforcement": round(20 / 7 - 2, 4)}


def test_a_tab_that_was_joined_nearer_to_the_binding_edge(book):
    join = next(j for j in book.book.joins if j.part == "page-2" and j.onto_part == "page-1")
    there = Point(join.offset.x + Fraction(18, 7), join.offset.y)
    moved = changed_join(book.book, "page-2", join.zone, "page-1", offset=there)
    assert told(flat_book(moved, book.workshop)) == {"page-1-reinforcement": round(18 / 7 - 2, 4)}


@pytest.mark.parametrize("settings", [("usual.reinforcement_lap=15",), ("usual.hinge_tab=8",)])
def test_laps_and_tabs_that_were_asked_for_and_the_advice_followed(folded_of, settings):
    folded = folded_of(SIXTHS, *settings)
    book = flat_book(folded.book, folded.workshop)
    found = found_in(rule, book)
    assert {round(float(f.amount.value), 4) for f in found} == {3 if "lap" in settings[0] else 2}
    (advice,) = {text for f in found for text in settings_of(book.book, f.advice)}
    mended = folded_of(SIXTHS, *settings, advice)
    assert found_in(rule, flat_book(mended.book, mended.workshop)) == []


def test_a_lap_of_a_page_bound_at_the_right(book):
    by = Fraction(24, 7)
    longer = spoiled(book, "page-2-reinforcement", lambda p: longer_panel(p, "lap_page", "x", by))
    assert told(longer) == {"page-2-reinforcement": round(float(by) - 2, 4)}


def test_a_lap_that_nothing_covers_is_left_to_taste(book):
    join = next(j for j in book.book.joins if j.part == "page-2" and j.onto_part == "page-1")
    longer = spoiled(
        book, "page-1-reinforcement", lambda p: longer_panel(p, "lap_page", "x", Fraction(24, 7))
    )
    bare = without_join(longer.book, "page-2", join.zone)
    assert told(flat_book(bare, book.workshop)) == {}


def test_a_lap_as_long_as_the_tab_is_covered(book):
    longer = spoiled(book, "page-1-reinforcement", lambda p: longer_panel(p, "lap_page", "x", 2))
    assert told(longer) == {}
