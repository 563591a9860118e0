"""What a beam leaves over has its nominal size: the width of the cut is taken away by buffers."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path as File

import pytest
from composed import composed
from shapely import LinearRing, Polygon

from dielines.book.pieces import pieces_of
from dielines.cutting.kerf import inwards, outwards, with_kerf
from dielines.drawing import Drawing, Group, Item, Layer, in_floats, only_layers
from dielines.errors import UsageError
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.offsets import NothingLeft
from dielines.part_drawing import part_drawing, part_group, rows_drawing
from dielines.paths import (
    Path,
    Vertex,
    arc_of,
    bounds_of,
    circle,
    flattened,
    line,
    polyline,
    rectangle,
    reversed_path,
    signed_area,
)

SEVENTH = 1 / 7
KERF = 1 / 6
FINE = 1e-4  #: mm, of chords for arcs
SAMPLES = File(__file__).parents[2] / "samples"
CALIPERS = {role: Fraction(1, 4) for role in ("cardstock", "reinforcing", "covering", "tape")}
CALIPERS["board"] = Fraction(2)


def cut(path: Path, name: str = "") -> Item:
    return Item(Layer.CUT, path, name)


def drawing(*items: Item) -> Drawing:
    return Drawing(200.0, 150.0, (Group("page", "Page", items),))


def burnt(path: Path, kerf: float):
    """Return what a beam takes away along a closed path: half its width on either side."""
    return LinearRing(flattened(path, FINE)).buffer(kerf / 2, quad_segs=32)


def polygon(paths: list[Path]) -> Polygon:
    outer, *holes = (flattened(path, FINE) for path in paths)
    return Polygon(outer, holes)


WINDOWED = (
    rectangle(SEVENTH, 1 / 3, 100 + SEVENTH, 80 + 1 / 3),
    reversed_path(rectangle(20, 20, 50 + 1 / 3, 60 + SEVENTH)),
    reversed_path(circle((75 + 1 / 3, 40 + SEVENTH), 10 + 1 / 7)),
)


def what_is_left(cuts: Drawing, kerf: float):
    """Return what stays of the sheet when the beam has gone along all cuts, without the waste."""
    paths = [item.path for item in cuts.items()]
    left = polygon(paths)
    for path in paths:
        left = left.difference(burnt(path, kerf))
    return left


def test_the_part_has_its_nominal_size_once_the_width_of_the_cut_is_gone():
    moved = with_kerf(drawing(*map(cut, WINDOWED)), KERF)
    left, nominal = what_is_left(moved, KERF), polygon(list(WINDOWED))
    assert left.symmetric_difference(nominal).area < nominal.length * 2 * FINE
    assert left.bounds == pytest.approx(nominal.bounds, abs=2 * FINE)


def test_without_moving_the_paths_the_part_would_be_too_small():
    left, nominal = what_is_left(drawing(*map(cut, WINDOWED)), KERF), polygon(list(WINDOWED))
    assert nominal.area - left.area == pytest.approx(nominal.length * KERF / 2, rel=0.01)


def test_an_outline_goes_out_an_opening_in_and_a_part_within_it_out_again():
    rings = [rectangle(10, 10, 90, 90), rectangle(20, 20, 80, 80), rectangle(30, 30, 70, 70)]
    for turn in (list, lambda paths: [reversed_path(path) for path in paths]):
        moved = with_kerf(drawing(*map(cut, turn(rings))), KERF)
        widths = [float(bounds_of([item.path]).width) for item in moved.items()]
        assert widths == pytest.approx([80 + KERF, 60 - KERF, 40 + KERF])


def test_each_path_is_run_the_way_it_was():
    moved = with_kerf(drawing(*map(cut, WINDOWED)), KERF)
    areas = [float(signed_area(item.path)) for item in moved.items()]
    assert [area > 0 for area in areas] == [True, False, False]


def test_parts_are_told_apart_by_their_groups_not_by_where_they_lie():
    inner = Group("b", "B", (cut(rectangle(30, 30, 60, 60)),))
    outer = Group("a", "A", (cut(rectangle(10, 10, 90, 90)),))
    moved = with_kerf(Drawing(200.0, 150.0, (inner, outer)), KERF)
    widths = [float(bounds_of([item.path]).width) for item in moved.items()]
    assert widths == pytest.approx([30 + KERF, 80 + KERF])


def test_corners_are_mitred_and_arcs_keep_their_centres():
    tag = Path(
        (Vertex(10.0, 10.0), Vertex(50.0, 10.0, 1.0), Vertex(50.0, 40.0), Vertex(10.0, 40.0))
    )
    grown = outwards(tag, SEVENTH)
    (arc,) = [arc_of(segment) for segment in grown.segments() if segment.bulge]
    assert arc.centre == pytest.approx((50, 25))
    assert arc.radius == pytest.approx(15 + SEVENTH)
    assert grown.vertices[0].point == pytest.approx((10 - SEVENTH, 10 - SEVENTH))
    assert len(grown.vertices) == 4


def test_a_round_opening_shrinks_by_half_the_kerf_all_round():
    radii = [arc_of(s).radius for s in inwards(circle((5.0, 5.0), 2.0), KERF / 2).segments()]
    assert radii == pytest.approx([2 - KERF / 2] * 2)


def test_open_cuts_scores_and_marks_stay_where_they_are():
    others = (
        cut(line((10, 50), (60, 50)), "slit"),
        Item(Layer.SCORE_VALLEY, line((20, 10), (20, 90))),
        Item(Layer.MARK, rectangle(12, 12, 14, 14)),
        Item(Layer.PERFORATE, line((30, 10), (30, 90))),
    )
    moved = with_kerf(drawing(*others, cut(rectangle(10, 10, 90, 90))), KERF)
    assert moved.items()[:4] == others
    assert moved.items()[4] != cut(rectangle(10, 10, 90, 90))


def test_a_blade_changes_nothing():
    before = drawing(*map(cut, WINDOWED))
    assert with_kerf(before, 0.0) is before


def test_all_that_is_narrower_than_the_cut_is_told_at_once():
    before = drawing(
        cut(circle((30, 30), 0.07), "hole 1"),
        cut(circle((60, 30), 0.07), "hole 2"),
        cut(circle((60, 60), 0.09), "hole 3"),
        cut(rectangle(0, 0, 100, 100), "outline"),
    )
    with pytest.raises(UsageError) as error:
        with_kerf(before, KERF)
    told = str(error.value).splitlines()
    assert [words.split(": ")[:2] for words in told] == [["Page", "hole 1"], ["Page", "hole 2"]]
    with pytest.raises(NothingLeft):
        inwards(circle((30, 30), 0.07), KERF / 2)


def test_a_slot_narrower_than_the_cut_is_refused():
    corners = [
        (0, 0),
        (50, 0),
        (50, 40),
        (25.07, 40),
        (25.07, 20),
        (24.93, 20),
        (24.93, 40),
        (0, 40),
    ]
    before = drawing(cut(polyline([(float(x), float(y)) for x, y in corners], True), "outline"))
    with pytest.raises(UsageError):
        with_kerf(before, KERF)
    assert with_kerf(before, 0.1).items()


def assert_clear_by(kerf: float, before: Drawing, after: Drawing) -> int:
    """Hold every moved path to be half the kerf from where it was, and tell how many there are."""
    pairs = [
        (LinearRing(flattened(old.path, FINE)), LinearRing(flattened(new.path, FINE)))
        for old, new in zip(before.items(), after.items(), strict=True)
        if old.layer is Layer.CUT and old.path.closed
    ]
    for old, new in pairs:
        assert old.distance(new) == pytest.approx(kerf / 2, abs=3 * FINE)
    return len(pairs)


@pytest.mark.parametrize("file", sorted(SAMPLES.glob("*/*-*.toml")), ids=lambda file: file.stem)
def test_every_cut_of_the_samples_is_moved_by_half_the_kerf(file):
    workshop = (SAMPLES / "workshop.toml").read_text("utf-8")
    book = composed(file.read_text("utf-8"), workshop=workshop)
    groups = [part_group(piece.part, piece.key, piece.title) for piece in pieces_of(book)]
    before = in_floats(rows_drawing(groups, "all", Fraction(10)))
    after = with_kerf(before, KERF)
    assert assert_clear_by(KERF, before, after) > 20
    for old, new in zip(before.groups, after.groups, strict=True):
        assert_nominal(rings_of(old), rings_of(new))


def rings_of(group: Group) -> list[Path]:
    """Return the closed cuts of a part, its outline first."""
    rings = [i.path for i in group.items if i.layer is Layer.CUT and i.path.closed]
    return sorted(rings, key=lambda path: -abs(float(signed_area(path))))


def assert_nominal(nominal: list[Path], cuts: list[Path]) -> None:
    """Hold what is left of the sheet along the cuts to be the part, but for what clings in corners.

    A round beam leaves (1 - pi / 4) of the square of its radius in a corner that points
    into the part.
    """
    left = polygon(cuts)
    for path in cuts:
        left = left.difference(burnt(path, KERF))
    corners = sum(len(path.vertices) for path in nominal)
    most = corners * (KERF / 2) ** 2 + polygon(nominal).length * 2 * FINE
    assert left.symmetric_difference(polygon(nominal)).area < most


def test_a_notch_between_flaps_that_ends_narrower_than_the_cut_is_cut_as_deep_as_it_goes():
    (part,) = build(built_in_library().find("slipcase"), {}, CALIPERS).parts
    before = in_floats(part_drawing(part, "slipcase"))
    after = with_kerf(before, KERF)
    assert assert_clear_by(KERF, before, after) == 1
    old, new = (
        only_layers(each, frozenset({Layer.CUT})).items()[0].path for each in (before, after)
    )
    assert len(new.vertices) < len(old.vertices)
    assert polygon([new]).contains(polygon([old]))
