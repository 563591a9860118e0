"""Books of 1 to 24 pages of any kinds, sizes and order: what has to hold for all of them.

Rules: TRADE.md (sum, crossing folds, junctions). Folding and laying out are those
of the other tests here, independent of the code that joins.
"""

from __future__ import annotations

import re
from collections import Counter

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dielines.language.library import built_in_library
from dielines.paths import magnitude, signed_area

KINDS = sorted(t.name for t in built_in_library().templates() if t.kind == "page")
KEY = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
SOMETIMES = settings(
    max_examples=9,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


@st.composite
def texts(draw, binding: str) -> str:
    """A book file in inches or millimetres, pages at least as large as all kinds need."""
    units = draw(st.sampled_from(["in", "mm"]))
    count = draw(st.one_of(st.integers(1, 6), st.integers(7, 24)))
    kinds = draw(st.lists(st.sampled_from(KINDS), min_size=count, max_size=count))
    least, most = (4, 9) if units == "in" else (100, 230)
    sides = [draw(st.fractions(least, most, max_denominator=7)) for _ in range(2)]
    size = " x ".join(f"{side // 1} {side % 1}" if side % 1 else str(side) for side in sides)
    turned = draw(st.sets(st.integers(1, count), max_size=2))
    mats = draw(st.sampled_from(["none", "inner side", "both sides"]))
    return "\n".join(
        [
            f'units = "{units}"',
            f'size = "page {size}"',
            f'binding = "{binding}"',
            f"pages = [{', '.join(f'{kind!r}' for kind in kinds)}]",
            f'extra_page = "{draw(st.sampled_from(["front half", "back half"]))}"',
            *([f'mats = "{mats}"'] if mats != "none" else []),
            *(f'[page.{n}]\nlooks = "cover"' for n in sorted(turned)),
        ]
    )


def area(part) -> float:
    exterior, *interiors = (float(magnitude(signed_area(ring))) for ring in part.outline)
    return exterior - sum(interiors)


def panel_areas(part) -> float:
    return sum(
        float(signed_area(panel.outline))
        - sum(float(magnitude(signed_area(h))) for h in panel.holes)
        for panel in part.panels
    )


def crossings(part) -> list[tuple[float, float]]:
    """Places where folds leave in all four directions: no flat paper folds so."""
    ways: dict[tuple[float, float], set[str]] = {}
    for line in part.folds:
        for piece in line.pieces:
            (x0, y0), (x1, y1) = sorted(
                tuple(map(float, p)) for p in (piece.points[0], piece.points[-1])
            )
            if x0 == x1:
                y0, y1 = sorted((y0, y1))
                ways.setdefault((x0, y0), set()).add("up")
                ways.setdefault((x0, y1), set()).add("down")
            elif y0 == y1:
                ways.setdefault((x0, y0), set()).add("right")
                ways.setdefault((x1, y0), set()).add("left")
    return [place for place, found in ways.items() if len(found) == 4]


def check_parts(book) -> None:
    keys = [entry.key for entry in book.parts]
    assert len(set(keys)) == len(keys)
    assert all(KEY.fullmatch(key) for key in keys)
    for entry in book.parts:
        assert panel_areas(entry.part) == pytest.approx(area(entry.part), rel=1e-6), entry.key
        assert not crossings(entry.part), entry.key
        assert signed_area(entry.part.outline[0]) > 0
        if entry.role in ("pages", "reinforcement") and entry.part.bound:
            assert entry.part.grain == "up"


def check_zones(book, spare: set[str]) -> None:
    """Every zone has one join; those of the case that lie on several parts have more."""
    used = Counter((join.part, join.zone) for join in book.joins)
    for entry in book.parts:
        for zone in entry.part.zones:
            count = used.pop((entry.key, zone.name), 0)
            is_shared = zone.name in ("head", "tail", "lining")
            if f"{entry.key} {zone.name}" in spare:
                assert count == 0
            else:
                assert count == 1 or (is_shared and count > 1), (entry.key, zone.name)
    assert not used


def check_sums(book) -> None:
    sizes, count = book.reasons, len(book.request.pages)
    names = [f"channel_{n}" for n in range(1, count)]
    if "gap" in sizes.by_name:
        names = ["gap"] * (count - 1)
    names = ["end_channel_front", *names, "end_channel_back"]
    total = sum(sizes.length(name).mm for name in names)
    assert sizes.length("channels").mm == total
    assert sizes.length("spine") >= sizes.length("spine_by_junctions")
    assert sizes.length("spine").mm >= total + sizes.length("spine_allowance").mm
    board = book.part("spine-board").part
    assert (board.width, board.height) == (
        sizes.length("spine").mm,
        sizes.length("board_height").mm,
    )


@SOMETIMES
@given(text=texts("tab and channel"))
def test_books_of_tabs_and_channels(text, compose_anew, prove):
    book = compose_anew(text)
    count = len(book.request.pages)
    check_parts(book)
    check_zones(book, set())
    check_sums(book)
    assert [entry.key for entry in book.parts].count("hinge-strip") == 1
    onto_pages = [j for j in book.joins if "tab" in j.zone or j.zone == "hinge"]
    onto_pages = [
        j for j in onto_pages if re.fullmatch(r"page-\d+", j.onto_part) and j.part != j.onto_part
    ]
    onto_pages = [j for j in onto_pages if not j.part.startswith(f"{j.onto_part}-")]
    assert len(onto_pages) == count  # junctions
    assert sum(j.part != "hinge-strip" for j in onto_pages) == max(count - 2, 0)
    covers = [j for j in book.joins if j.onto_panel == "board" and "tab" in j.zone]
    assert [j.onto_part for j in covers] == ["front-board", "back-board"]
    channels = [j for j in book.joins if j.onto_part == "spine-board" and "channel" in j.zone]
    assert len(channels) == count + 1
    prove(book)


@SOMETIMES
@given(text=texts("concertina spine"))
def test_books_on_a_pleated_spine(text, compose_anew, prove):
    book = compose_anew(text)
    count = len(book.request.pages)
    check_parts(book)
    pieces = [entry.key for entry in book.parts if entry.key.startswith("comb-spine")]
    check_zones(book, {f"{key} page_last" for key in pieces[:-1]})
    check_sums(book)
    fins = [j for j in book.joins if j.part.startswith("comb") and j.onto_part.startswith("page-")]
    assert [j.onto_part for j in fins] == [f"page-{n}" for n in range(1, count + 1)]
    rooms = [j for j in book.joins if j.onto_part == "spine-board" and j.part.startswith("comb")]
    assert len(rooms) == count + 1
    prove(book)


@settings(max_examples=3, deadline=None, suppress_health_check=list(HealthCheck))
@given(text=texts("tab and channel"))
def test_the_same_text_gives_the_same_book(text, compose_anew):
    one, two = (compose_anew(text) for _ in range(2))
    assert repr((one.parts, one.joins, one.notes)) == repr((two.parts, two.joins, two.notes))
    assert one.reasons.by_name == two.reasons.by_name
