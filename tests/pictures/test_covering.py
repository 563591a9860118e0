"""What covers what, held against a z-buffer, which shares no code and no method with it."""

import random
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
import shapely
from shapely import LineString, Polygon, box

from dielines.book.single import single_parts
from dielines.folding.folded_parts import fold_part
from dielines.language.library import BUILT_IN, built_in_library
from dielines.models.facets import facets_of
from dielines.models.patches import patches_of
from dielines.pictures.camera import Camera
from dielines.pictures.covering import Sheet, seen
from dielines.pictures.layers import placed_at
from dielines.pictures.painting import painting
from dielines.pictures.part_stage import gap_of
from dielines.pictures.tints import PAPER
from dielines.pictures.views import view_of
from dielines.workshop.loading import load_workshop

WIDTH, HEIGHT = 500, 340  # 170,000 pixels
SIDE = 100.0  #: mm across


def pixels():
    xs = (np.arange(WIDTH) + 0.5) * SIDE / WIDTH
    ys = (np.arange(HEIGHT) + 0.5) * SIDE / WIDTH
    return np.meshgrid(xs, ys)


def z_buffer(sheets):
    """Return for each pixel the number of the nearest sheet, -1 for none."""
    x, y = pixels()
    depth, owner = np.full(x.shape, -np.inf), np.full(x.shape, -1)
    for number, sheet in enumerate(sheets):
        a, b, c = sheet.plane
        at = a * x + b * y + c
        nearer = shapely.contains_xy(sheet.shape, x, y) & (at > depth)
        depth[nearer], owner[nearer] = at[nearer], number
    return owner


def by_regions(found):
    x, y = pixels()
    owner = np.full(x.shape, -1)
    for item in found:
        owner[shapely.contains_xy(item.region, x, y)] = item.number
    return owner


def wrong(sheets) -> int:
    return int((by_regions(seen(sheets)) != z_buffer(sheets)).sum())


def scattered(seed: int, count: int, slope: float):
    """Return sheets of three to seven corners, each in a plane of its own."""
    draw = random.Random(seed)
    sheets = []
    for _ in range(count):
        x, y = draw.uniform(15, 85), draw.uniform(12, 56)
        points = [(draw.gauss(x, 17), draw.gauss(y, 12)) for _ in range(draw.randint(3, 7))]
        plane = (draw.uniform(-slope, slope), draw.uniform(-slope, slope), draw.uniform(0, 90))
        sheets.append(Sheet(Polygon(points).convex_hull, plane))
    return sheets


def leaning_in_a_circle():
    """Three strips, each over the next one and under the one before."""
    strips = []
    for k in range(3):
        strip = shapely.affinity.rotate(box(20, 40, 80, 47), 120 * k + 17, (50, 33))
        along = np.array([np.cos(np.radians(120 * k + 17)), np.sin(np.radians(120 * k + 17))])
        a, b = along * 0.31
        strips.append(Sheet(strip, (a, b, -(a * 50 + b * 33))))
    return strips


@pytest.mark.parametrize("seed", range(12))
def test_flat_sheets_one_over_the_other_are_seen_as_a_z_buffer_sees_them(seed):
    assert wrong(scattered(seed, 25, 0)) <= 3


@pytest.mark.parametrize("seed", range(12))
def test_leaning_sheets_that_pass_through_each_other_are_seen_as_a_z_buffer_sees_them(seed):
    assert wrong(scattered(seed, 12, 0.9)) <= 3


def test_strips_that_lean_on_each_other_in_a_circle_are_seen_as_a_z_buffer_sees_them():
    sheets = leaning_in_a_circle()
    found = seen(sheets)
    assert all(item.is_in_circle for item in found)
    assert wrong(sheets) <= 3


@pytest.mark.parametrize("slope", [0, 0.9])
def test_regions_do_not_overlap_and_together_are_all_that_there_is(slope):
    sheets = scattered(5, 14, slope)
    regions = [item.region for item in seen(sheets)]
    overlaps = [a.intersection(b).area for a, b in combinations(regions, 2)]
    assert max(overlaps) < 1e-6
    whole = shapely.union_all([sheet.shape for sheet in sheets])
    assert sum(region.area for region in regions) == pytest.approx(whole.area, abs=1e-6)


@pytest.mark.parametrize("slope", [0, 0.9])
def test_what_is_seen_and_what_is_covered_of_each_edge_make_up_its_length(slope):
    sheets = scattered(8, 14, slope)
    for item in seen(sheets):
        edge = LineString(sheets[item.number].shape.exterior.coords)
        if item.covers is not None:
            parts = edge.difference(item.covers).length + edge.intersection(item.covers).length
            assert parts == pytest.approx(edge.length, abs=1e-6)


def test_a_sheet_behind_others_is_not_seen():
    sheets = [Sheet(box(0, 0, 10 / 3, 10 / 3), (0, 0, 1)), Sheet(box(-1, -1, 5, 5), (0, 0, 8 / 7))]
    regions = {item.number: item.region for item in seen(sheets)}
    assert regions[0].is_empty
    assert regions[1].area == pytest.approx(36)


def test_sheets_in_one_plane_are_in_the_order_that_is_said_even_in_a_circle():
    """Four flaps tucked round: each over the next."""
    flaps = [box(0, 0, 6, 4), box(3, 0, 7, 6), box(1, 3, 7, 7), box(0, 1, 4, 7)]
    sheets = [Sheet(flap, (0.1, 0.2, 3)) for flap in flaps]
    ties = [(0, 1), (1, 2), (2, 3), (3, 0)]
    regions = {item.number: item.region for item in seen(sheets, ties)}
    for upper, lower in ties:
        shared = flaps[upper].intersection(flaps[lower])
        assert regions[lower].intersection(shared).area == pytest.approx(0, abs=1e-9)
    assert regions[0].contains(shapely.Point(5, 2))
    assert not regions[0].contains(shapely.Point(2, 2))


def test_of_half_turns_round_each_other_the_outer_one_is_seen():
    facets, camera = facets_at("one-slit-booklet", Fraction(1))
    painted = painting(facets, camera, lambda _: PAPER)
    joints = [fill for fill in painted.fills if not fill.facet.panel]
    for a, b in combinations(joints, 2):
        assert a.region.intersection(b.region).area < 1e-6
    planes = [fill for fill in joints if fill.region.area > 1]
    assert all(
        fill.region.area > 0.97 * fill.shape.area or fill.shape.area < 400 for fill in planes
    )


def test_edges_that_touch_cover_nothing():
    sheets = [Sheet(box(0, 0, 7 / 3, 1), (0, 0, 0)), Sheet(box(7 / 3, 0, 5, 1), (1, 0, -7 / 3))]
    assert [item.is_in_circle for item in seen(sheets)] == [False, False]
    assert {item.region.area for item in seen(sheets)} == {7 / 3, 5 - 7 / 3}


def facets_at(name: str, stage: Fraction):
    """The facets of a built-in part as it is drawn, and the camera."""
    template = built_in_library().find(name)
    entries = single_parts(template, {}, load_workshop(None, BUILT_IN, template.units or "mm"))
    folded = fold_part(next(entry.part for entry in entries if entry.part.folds))
    places = placed_at(folded, stage, gap_of(folded))
    return facets_of("", patches_of(folded.part), places), Camera(view_of(folded))


@pytest.mark.parametrize(
    "name", ["side-pocket", "bellows-pocket", "tray", "box-step", "envelope", "one-slit-booklet"]
)
@pytest.mark.parametrize("stage", [Fraction(2, 7), Fraction(5, 7), Fraction(1)])
def test_real_parts_are_seen_as_a_z_buffer_sees_them(name, stage):
    """Planes of the z-buffer are fitted to the corners, so that a wrong normal would show."""
    facets, camera = facets_at(name, stage)
    corners = [camera.seen(facet.rings[0]) for facet in facets]
    everything = np.vstack(corners)
    low, size = everything.min(axis=0), np.ptp(everything, axis=0)
    scale = min(SIDE / size[0], SIDE * HEIGHT / WIDTH / size[1]) * 0.96
    sheets, plain = [], []
    for facet, places in zip(facets, corners, strict=True):
        placed = (places - low) * scale + [1, 1, 0]
        shape = Polygon(
            placed[:, :2], [(camera.seen(r) - low)[:, :2] * scale + 1 for r in facet.rings[1:]]
        )
        if shape.area < 0.02 * scale or abs((camera.rows @ facet.normal)[2]) < 0.02:
            continue
        (a, b, c), *_ = np.linalg.lstsq(
            np.c_[placed[:, :2], np.ones(len(placed))], placed[:, 2], rcond=None
        )
        plain.append(Sheet(shape.buffer(0), (a, b, c)))
        n = camera.rows @ facet.normal
        a, b = -n[0] / n[2], -n[1] / n[2]
        sheets.append(
            Sheet(shape.buffer(0), (a, b, placed[0, 2] - a * placed[0, 0] - b * placed[0, 1]))
        )
    is_wrong = (by_regions(seen(sheets)) != z_buffer(plain)) & is_clear(plain)
    assert int(is_wrong.sum()) <= 12


def is_clear(sheets):
    """Return where the nearest sheet is clearly nearer than the next: folds round folds share planes."""
    x, y = pixels()
    depths = np.full((2, *x.shape), -np.inf)
    for sheet in sheets:
        a, b, c = sheet.plane
        at = np.where(shapely.contains_xy(sheet.shape, x, y), a * x + b * y + c, -np.inf)
        depths = np.sort(np.stack([*depths, at]), axis=0)[1:]
    with np.errstate(invalid="ignore"):
        return ~(depths[1] - depths[0] < 1e-3)
