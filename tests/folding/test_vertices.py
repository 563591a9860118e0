"""The theorems on flat-folded vertices, with the worked examples of VALUES (section 4).

Source of theorems and examples: Kawasaki-Justin and Maekawa-Justin as copied in
several encyclopedias; the geometry of the examples is computed.
"""

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.folding.vertices import alternating_sum, inner_vertices
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.part import FoldKey, Line, LineKind, Part
from dielines.paths import line, rectangle

LIBRARY = built_in_library()
TEMPLATES = [t for t in LIBRARY.templates() if t.kind not in ("edge", "fold")]
CALIPERS = dict.fromkeys(("cardstock", "board", "reinforcing", "covering", "tape"), Fraction(1, 7))


def star(*directions_and_angles):
    """Return a square sheet with folds from its middle in these directions (degrees)."""
    sheet = rectangle(-50, -50, 50, 50)
    lines = tuple(
        Line(
            FoldKey(f"a{n}", "-", f"b{n}"),
            LineKind.FOLD,
            Fraction(angle),
            (line((0, 0), (20 * math.cos(math.radians(d)), 20 * math.sin(math.radians(d)))),),
        )
        for n, (d, angle) in enumerate(directions_and_angles)
    )
    part = build(LIBRARY.find("plain-leaf"), {}, {}).parts[0]
    return replace(part, panels=(), lines=lines, outline=(sheet,), strokes=())


def vertex(part: Part):
    """Return the vertex in the middle; the far ends of the folds are vertices of their own."""
    return next(v for v in inner_vertices(part) if math.dist(v.point, (0, 0)) < 1e-6)


def directions(*sectors):
    return [sum(sectors[:n]) for n in range(len(sectors))]


def test_eight_sectors_whose_alternating_sum_is_nothing_can_fold_flat():
    assert alternating_sum([90, 45, 22.5, 22.5, 45, 90, 22.5, 22.5]) == 0
    angles = [180, 180, 180, 180, 180, -180, -180, -180]
    found = vertex(
        star(*zip(directions(90, 45, 22.5, 22.5, 45, 90, 22.5, 22.5), angles, strict=True))
    )
    assert found.alternating_deg == pytest.approx(0)
    assert (found.surplus, found.can_fold_flat) == (2, True)


def test_four_right_angles_can_fold_flat_with_three_of_a_kind():
    found = vertex(star((0, 180), (90, 180), (180, 180), (270, -180)))
    assert (found.sectors_deg, found.surplus) == (pytest.approx([90] * 4), 2)
    assert found.can_fold_flat


def test_two_valleys_and_two_mountains_cannot():
    found = vertex(star((0, 180), (90, -180), (180, 180), (270, -180)))
    assert (found.surplus, found.can_fold_flat) == (0, False)


def test_sectors_of_100_80_100_80_cannot_whatever_the_signs():
    found = vertex(star(*zip(directions(100, 80, 100, 80), [180, 180, 180, -180], strict=True)))
    assert found.alternating_deg == pytest.approx(40)
    assert not found.can_fold_flat


def test_a_fold_that_ends_inside_the_paper_cannot():
    found = vertex(star((0, 180)))
    assert (found.has_even_folds, found.can_fold_flat) == (False, False)


def test_a_fold_that_changes_its_sign_on_its_way_cannot_but_one_that_runs_on_is_no_vertex():
    assert not vertex(star((30, 180), (210, -180))).can_fold_flat
    straight = inner_vertices(star((30, 180), (210, 180)))
    assert [v for v in straight if math.dist(v.point, (0, 0)) < 1e-6] == []


def test_a_fold_that_crosses_another_in_its_middle_counts_twice():
    part = star((0, 180), (180, -180))
    cross = Line(FoldKey("c", "-", "d"), LineKind.FOLD, Fraction(180), (line((0, -20), (0, 20)),))
    found = vertex(replace(part, lines=(*part.lines, cross)))
    assert [round(r.direction_deg) for r in found.rays] == [0, 90, 180, 270]
    assert found.can_fold_flat


def test_a_point_on_a_slit_or_on_an_edge_is_free():
    part = star((0, 180), (90, 180), (180, 180), (270, 180))
    slit = Line(FoldKey("c", "-", "d"), LineKind.SLIT, Fraction(0), (line((-5, -5), (5, 5)),))
    cut = replace(part, lines=(*part.lines, slit))
    holed = replace(part, outline=(*part.outline, rectangle(-7, -7, 7, 7)))
    for free in (cut, replace(holed, outline=(part.outline[0], rectangle(0, 0, 7, 7)))):
        assert [v for v in inner_vertices(free) if math.dist(v.point, (0, 0)) < 1e-6] == []


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda t: t.name)
def test_every_template_can_be_folded_at_each_of_its_vertices(template):
    parts = [p for p in build(template, {}, CALIPERS).parts if p.stock != "covering"]
    found = [vertex for part in parts for vertex in inner_vertices(part)]
    assert [v for v in found if not (v.is_flat and v.can_fold_flat)] == []
