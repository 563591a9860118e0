"""Pictures of whole books: the samples closed, open at every page, and pulled apart."""

import re
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.errors import UsageError
from dielines.folding.folded_book import FoldedBook
from dielines.folding.opening import opened
from dielines.models.book_places import lying_panels
from dielines.pictures.book_layers import picture_shifts
from dielines.pictures.book_picture import (
    WIDE,
    View,
    _at_right,
    attached,
    book_picture,
    tint_of,
)
from dielines.pictures.cover_tabs import with_tabs_on_covers
from dielines.pictures.tints import PAGES
from dielines.rigid import relative

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = ("lakeside", "seed-swap", "first-year")
SVG = "{http://www.w3.org/2000/svg}"


@cache
def folded(name: str) -> FoldedBook:
    source = book_source(book_document(SAMPLES / name / f"{name}.toml"))
    return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)


@cache
def drawn(name: str, view: View, opening: int = 0) -> ElementTree.Element:
    return ElementTree.fromstring(book_picture(folded(name), view, opening))


def words(root) -> list[str]:
    return [element.text for element in root.iter(f"{SVG}text")]


@pytest.mark.parametrize("name", NAMES)
def test_a_book_is_drawn_closed_pulled_apart_and_open_at_every_page(name):
    pages = len(folded(name).book.request.pages)
    views = [(View.CLOSED, 0), (View.EXPLODED, 0), *((View.OPEN, k) for k in range(pages + 1))]
    for view, opening in views:
        root = drawn(name, view, opening)
        width, height = (float(v) for v in root.get("viewBox").split()[2:])
        data = " ".join(element.get("d", "") for element in root.iter())
        numbers = [float(n) for n in re.findall(r"-?[0-9.]+", data)]
        assert len(numbers) > 200
        assert -1 <= min(numbers) <= max(numbers) <= max(width, height) + 1
        assert "not to cut" in root.find(f"{SVG}desc").text


@pytest.mark.parametrize("name", NAMES)
def test_the_two_pages_beside_an_opening_are_named(name):
    pages = len(folded(name).book.request.pages)
    for opening in range(1, pages):
        said = words(drawn(name, View.OPEN, opening))
        assert said[-2].endswith(f"open between page {opening} and page {opening + 1}")
        assert {f"page {opening}", f"page {opening + 1}"} & set(said)


def test_the_first_and_the_last_opening_are_those_of_the_covers():
    first, last = drawn("lakeside", View.OPEN, 0), drawn("lakeside", View.OPEN, 5)
    assert words(first)[-2].endswith("open at page 1")
    assert words(last)[-2].endswith("open at its back cover")
    assert "front board" in words(first)
    assert "back board" in words(last)


@pytest.mark.parametrize("opening", [-1, 6, 99])
def test_an_opening_that_there_is_not_is_refused(opening):
    with pytest.raises(UsageError, match="0 to 5"):
        book_picture(folded("lakeside"), View.OPEN, opening)


@pytest.mark.parametrize("view", list(View))
def test_the_same_book_gives_the_same_bytes(view):
    book = folded("lakeside")
    again = FoldedBook(book.book, book.workshop)
    assert book_picture(book, view, 2) == book_picture(again, view, 2)


@pytest.mark.parametrize("name", NAMES)
def test_pulled_apart_every_part_that_is_not_stuck_on_another_is_named(name):
    book = folded(name)
    said = words(drawn(name, View.EXPLODED))
    stuck = attached(book)
    placed = {*book.assembly.places, *book.assembly.bent}
    wanted = {
        entry.title for entry in book.book.parts if entry.key in placed and entry.key not in stuck
    }
    assert wanted <= set(said)
    assert not {entry.title for entry in book.book.parts if entry.key in stuck} & set(said)


@pytest.mark.parametrize("name", NAMES)
def test_names_beside_an_exploded_book_keep_a_line_apart(name):
    places = [
        (float(e.get("x")), float(e.get("y")))
        for e in drawn(name, View.EXPLODED).iter(f"{SVG}text")
        if e.get("text-anchor") is None
    ]
    right = max(x for x, _ in places)
    heights = sorted(y for x, y in places if x == right)
    assert len(heights) > 5
    assert min(b - a for a, b in pairwise(heights)) >= 4.1


@pytest.mark.parametrize("name", NAMES)
def test_layers_lie_apart_in_the_order_in_which_they_lie_in_the_book(name):
    """No two panels that overlap are drawn in one place, and none changes sides with another."""
    book, gap = folded(name), 0.6
    shifts = picture_shifts(book, gap)
    covering = {e.key for e in book.book.parts if e.role in ("wrap", "lining", "edges")}
    stuck = attached(book)
    layers = []
    for panel, pose in lying_panels(book.assembly):
        key = panel[0]
        if key in covering or stuck.get(key) in covering or key not in book.assembly.places:
            continue
        up = 1 if pose.normal[2] > 0 else -1
        true = book.thickness.upright.get(panel)
        if true is None:
            continue
        outline = book.parts[key].outlines[panel[1]]
        flat = shapely.Polygon([[float(v) for v in pose.at(p)[:2]] for p in outline.points])
        layers.append((true, float(pose.translation[2]) + shifts[panel] * up, flat))
    layers.sort(key=lambda layer: layer[0])
    checked = 0
    for i, (low, drawn_low, shape) in enumerate(layers):
        for high, drawn_high, other in layers[i + 1 :]:
            if 1e-6 < high - low <= 12 and shape.buffer(-0.5).intersects(other.buffer(-0.5)):
                assert drawn_high - drawn_low >= gap - 1e-6
                checked += 1
    assert checked > 20


@pytest.mark.parametrize("opening", [0, 5])
def test_a_tab_that_is_glued_to_a_cover_lies_on_it(opening):
    book = folded("lakeside")
    page, board = (("page-1", "front-board"), ("page-5", "back-board"))[opening == 5]
    plain = opened(book.book, book.parts, book.assembly, opening, WIDE)
    mended = with_tabs_on_covers(book, plain)
    closed = book.assembly.places
    wanted = relative(closed[board]["board"], closed[page]["binding.tab"])
    found = relative(mended.places[board]["board"], mended.places[page]["binding.tab"])
    assert np.allclose(np.array(found.rotation, float), np.array(wanted.rotation, float), atol=1e-9)
    others = {k: v for k, v in mended.places.items() if not k.startswith(page)}
    assert others == {k: v for k, v in plain.places.items() if not k.startswith(page)}


def test_each_page_has_a_tint_of_its_own_and_its_neighbours_have_others():
    book = folded("seed-swap").book
    tints = [tint_of(book.part(f"page-{k}")) for k in range(1, 10)]
    assert all(a != b for a, b in pairwise(tints))
    assert set(tints) == set(PAGES)


def test_the_closed_book_says_how_thick_it_is_in_the_units_of_its_maker():
    assert " in thick at the spine" in words(drawn("lakeside", View.CLOSED))[-1]
    assert " mm thick at the spine" in words(drawn("seed-swap", View.CLOSED))[-1]


def test_the_line_of_a_name_ends_on_its_part_even_where_that_is_seen_in_pieces():
    pieces = shapely.MultiPolygon([shapely.box(0, 0, 31 / 7, 9), shapely.box(65 / 7, 0, 10, 1)])
    assert pieces.covers(shapely.Point(_at_right(pieces)))
