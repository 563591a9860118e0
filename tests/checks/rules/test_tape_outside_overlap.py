"""Tape that sticks out of its panel or its target. All amounts are geometry."""

from dataclasses import replace
from fractions import Fraction

import pytest
from flat_spoils import with_hole
from seam_spoils import (
    INCH,
    POCKETS,
    correct_books,
    cut_short,
    faults_in,
    found_in,
    speaking,
    spoiled,
)
from spoiling import changed_join, changed_zone, longer_panel, moved_zone

from dielines.checks.report_text import settings_of
from dielines.checks.rules import tape_outside_overlap as rule
from dielines.folding.folded_book import FoldedBook
from dielines.paths import Point, bounds_of, polyline, rectangle


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def moved_join(book, part, dx=0, dy=0):
    (join,) = [j for j in book.book.joins if (j.part, j.zone) == (part, "binding.tab")]
    offset = Point(join.offset.x + dx, join.offset.y + dy)
    return FoldedBook(changed_join(book.book, part, "binding.tab", offset=offset), book.workshop)


def test_samples_and_correct_books_have_no_tape_outside(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


def test_tape_moved_over_the_end_of_its_seam_sticks_out(book):
    folded = spoiled(book, "page-3", lambda p: moved_zone(p, "seam1", dx=Fraction(-13, 3)))
    found = found_in(rule, folded)
    assert [f.amount.value for f in found] == [pytest.approx(13 / 3 - 1.5875)] * 2
    assert speaking(folded) == {"tape_outside_overlap", "tape_shows"}


def test_tape_wider_than_its_tab_sticks_out_on_both_sides(book):
    def wide(path):
        box = bounds_of([path])
        return rectangle(box.left - 9, box.bottom, box.right + 9, box.top)

    folded = spoiled(book, "page-2", lambda p: changed_zone(p, "binding.tab", wide))
    found = found_in(rule, folded)
    assert [f.amount.value for f in found] == [pytest.approx(9 - 1.5875)]


def test_tape_of_a_seam_that_passes_its_short_target_sticks_out(book):
    folded = spoiled(book, "page-1", lambda p: cut_short(p, "y", 30, INCH * Fraction(3, 16)))
    (found,) = found_in(rule, folded)
    assert found.amount.value == pytest.approx(25.4 / 8)
    assert found.spot.panel == "seam"


def test_a_tab_moved_past_the_edge_of_its_neighbour_sticks_out(book):
    found = found_in(rule, moved_join(book, "page-2", dy=Fraction(22, 7)))
    assert [f.amount.value for f in found] == [pytest.approx(22 / 7 - 1.5875)]
    assert found[0].spot.part == "page-1"


def test_a_tab_onto_a_shorter_neighbour_sticks_out(book):
    folded = spoiled(book, "page-2", lambda p: longer_panel(p, "page", "y", -5))
    found = [f for f in found_in(rule, folded) if f.spot.part == "page-2"]
    assert [f.amount.value for f in found] == [pytest.approx(5 - 1.5875)]


def test_a_tab_over_a_window_sticks_out_into_it(book):
    (join,) = [j for j in book.book.joins if (j.part, j.zone) == ("page-3", "binding.tab")]
    x, y = join.offset
    window = rectangle(x + 1, y + 20, x + 6, y + 40)
    folded = spoiled(book, join.onto_part, lambda p: with_hole(p, join.onto_panel, window))
    found = [f for f in found_in(rule, folded) if f.spot.part == join.onto_part]
    assert [float(f.amount.value) for f in found] == [pytest.approx(2.5, abs=0.01)]


def test_a_hole_in_its_own_tab_is_told(book):
    zone = next(z for z in book.book.part("page-3").part.zones if z.name == "seam1")
    box = bounds_of([zone.path])
    hole = rectangle(box.left + 2, box.bottom + 5, box.left + 6, box.bottom + 30)
    folded = spoiled(book, "page-3", lambda p: with_hole(p, "seam1", hole))
    assert [float(f.amount.value) for f in found_in(rule, folded)] == [pytest.approx(2, abs=0.01)]


def without_corners(path, by):
    """Return a rectangle with its corners cut off at 45 degrees."""
    left, bottom, right, top = bounds_of([path])
    corners = [
        (left + by, bottom), (right - by, bottom), (right, bottom + by), (right, top - by),
        (right - by, top), (left + by, top), (left, top - by), (left, bottom + by),
    ]  # fmt: skip
    return polyline(corners, closed=True)


def test_tape_with_its_corners_cut_fits_a_page_with_its_corners_cut(book):
    def page(part):
        panels = [
            replace(p, outline=without_corners(p.outline, 6)) if p.name == "page" else p
            for p in part.panels
        ]
        return replace(part, panels=tuple(panels))

    def at_page(folded):
        return [f for f in found_in(rule, folded) if f.spot.part == "page-2"]

    (join,) = [j for j in book.book.joins if j.onto_part == "page-2" and "tab" in j.zone]
    cut = spoiled(book, "page-2", page)
    (found,) = at_page(cut)
    assert found.amount.value == pytest.approx((6 - 2 * 1.5875) / 2**0.5, abs=0.01)
    mended = spoiled(
        cut, join.part, lambda p: changed_zone(p, join.zone, lambda z: without_corners(z, 4))
    )
    assert at_page(mended) == []


def test_channels_beside_a_narrow_spine_are_one_fault_that_a_wider_spine_mends(folded_of):
    narrow = folded_of(POCKETS, "spine.width=3/7")
    (found,) = found_in(rule, narrow)
    assert (found.spot.part, found.spot.panel) == ("spine-board", "spine")
    settings = [text.strip('"') for text in settings_of(narrow.book, found)]
    assert [text.partition("=")[0] for text in settings] == ["spine.width"]
    assert found_in(rule, folded_of(POCKETS, *settings)) == []
