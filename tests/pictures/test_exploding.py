"""A book pulled apart: what moves, where to, and what stays together."""

from functools import cache
from pathlib import Path

import numpy as np
import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.folding.folded_book import FoldedBook
from dielines.models.book_places import book_facets, true_shifts
from dielines.pictures.book_picture import attached
from dielines.pictures.exploding import is_of_spine, pulled_apart

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = ("lakeside", "seed-swap", "first-year")


@cache
def moved(name: str):
    """The folded book, and by how much each part moved."""
    source = book_source(book_document(SAMPLES / name / f"{name}.toml"))
    book = FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)
    facets = book_facets(book, book.assembly, true_shifts(book))
    apart = pulled_apart(book.book, facets, attached(book))
    offsets = {
        key: apart[key][0].rings[0] - facets[key][0].rings[0] for key in facets if facets[key]
    }
    for key, found in apart.items():
        for before, after in zip(facets[key], found, strict=True):
            assert np.allclose(after.rings[0] - before.rings[0], offsets[key][0], atol=1e-9)
    return book, {key: offset[0] for key, offset in offsets.items()}


@pytest.mark.parametrize("name", NAMES)
def test_what_is_stuck_on_a_part_goes_with_it(name):
    book, by = moved(name)
    stuck = attached(book)
    assert len(stuck) > 5
    for key, host in stuck.items():
        if key in by and host in by:
            assert np.allclose(by[key], by[host])


@pytest.mark.parametrize("name", NAMES)
def test_boards_and_pages_go_straight_up_in_the_order_in_which_they_lie(name):
    book, by = moved(name)
    keys = [
        "back-board",
        *(f"page-{k}" for k in range(len(book.book.request.pages), 0, -1)),
        "front-board",
    ]
    lifts = [by[key] for key in keys]
    assert all(lift[0] == lift[1] == 0 for lift in lifts)
    assert [lift[2] for lift in lifts] == sorted(lift[2] for lift in lifts)
    assert len({lift[2] for lift in lifts}) == len(keys)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_of_the_spine_goes_aside_the_cloth_farthest(name):
    book, by = moved(name)
    keys = [key for key in by if is_of_spine(book.book, key)]
    assert set(keys) == {"joint-wrap", "spine-board", "spine-lining"}
    assert by["joint-wrap"][0] < by["spine-board"][0] < by["spine-lining"][0] < 0
    assert all(by[key][2] == 0 for key in keys)


@pytest.mark.parametrize("name", NAMES)
def test_edge_strips_go_outwards_from_their_board(name):
    _, by = moved(name)
    for board in ("front", "back"):
        lift = by[f"{board}-board"]
        assert (by[f"edge-{board}-head"] - lift)[1] > 0
        assert (by[f"edge-{board}-tail"] - lift)[1] < 0
        assert (by[f"edge-{board}-fore-edge"] - lift)[0] > 0
