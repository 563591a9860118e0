"""Narrow places of paper: plane geometry alone."""

import math

import pytest
from flat_spoils import SIXTHS, correct_book, flat_book, spoiled, with_hole, with_outline
from shapely import LineString

from dielines.checks import narrow_paper
from dielines.checks.flat_shapes import shapes_of
from dielines.checks.narrow_paper import WIDEST, narrow_places
from dielines.paths import rectangle


@pytest.fixture
def book(folded_of):
    folded = folded_of(SIXTHS)
    return flat_book(folded.book, folded.workshop)


def widths(folded, key):
    return [round(n.width, 3) for n in narrow_places(shapes_of(folded.parts[key]))]


def test_two_rectangles_that_touch_along_a_short_piece_have_a_neck(book):
    # drawn in they fall apart, and drawn out again they are as they were
    stairs = [(0, 0), (20, 0), (20, 50), (37, 50), (37, 109), (17, 109), (17, 50), (0, 50)]
    folded = spoiled(book, "spine-board", lambda p: with_outline(p, *stairs))
    assert widths(folded, "spine-board") == [3]


def test_openings_that_come_near_with_a_corner_leave_a_narrow_place(book):
    def change(part):
        part = with_hole(part, "page", rectangle(80, 30, 100, 50))
        return with_hole(part, "page", rectangle(102, 52, 130, 80))

    assert widths(spoiled(book, "page-4", change), "page-4") == [round(math.sqrt(8), 3)]


def test_an_opening_near_a_corner_that_was_cut_away_leaves_a_narrow_place(book):
    def change(part):
        steps = [(0, 0), (37, 0), (37, 60), (20, 60), (20, 109), (0, 109)]
        return with_hole(with_outline(part, *steps), "spine", rectangle(6, 40, 17, 56))

    assert widths(spoiled(book, "spine-board", change), "spine-board") == []
    near = spoiled(
        book,
        "spine-board",
        lambda p: with_hole(
            with_outline(p, (0, 0), (37, 0), (37, 60), (20, 60), (20, 109), (0, 109)),
            "spine",
            rectangle(6, 40, 18, 57),
        ),
    )
    assert widths(near, "spine-board") == [round(math.hypot(2, 3), 3)]


@pytest.mark.parametrize("seed", range(60, 66))
def test_what_is_sure_to_be_wide_has_no_narrow_place(folded_of, seed, monkeypatch):
    folded = correct_book(folded_of, seed)
    shapes = [shapes_of(part) for part in folded.parts.values()]
    quick = [narrow_places(one) for one in shapes]
    monkeypatch.setattr(narrow_paper, "_is_wide", lambda one: False)
    assert [narrow_places(one) for one in shapes] == quick


@pytest.mark.parametrize("seed", [2, 6, 10])
def test_every_narrow_place_lies_on_the_paper_between_its_cuts(folded_of, seed):
    folded = correct_book(folded_of, seed)
    for part in folded.parts.values():
        shapes = shapes_of(part)
        for narrow in narrow_places(shapes):
            across = LineString([narrow.start, narrow.end])
            assert across.length == pytest.approx(narrow.width)
            assert narrow.width < WIDEST
            assert shapes.room.covers(across)
