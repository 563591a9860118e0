"""Where notches, holes and tape zones land once a part is folded.

Sizes are common practice, no source; the overhangs of too short backs (1/16,
3/16, 3/4 in) were worked out by hand: the seam's height less what the back lacks.
"""

import math
from fractions import Fraction
from itertools import pairwise

import pytest

from dielines.landing import (
    NOTHING,
    Overhang,
    land,
    landing_of,
    landings,
    overhang_of,
    rectangle_of,
)
from dielines.part import FoldKey, Line, LineKind, Side, Zone
from dielines.paths import (
    Path,
    Point,
    Vertex,
    circle,
    flattened,
    line,
    polyline,
    rectangle,
    signed_area,
    translated,
)
from dielines.poses import poses
from dielines.rigid import AT_REST, Pose, turn_about

INCH = Fraction(254, 10)
WIDTH = Fraction(25, 4) * INCH
THIRD, SEVENTH = Fraction(1, 3), Fraction(1, 7)
HEIGHTS = {"back": "17/4", "tail": "1/8", "front": "17/4", "head": "1/8", "seam": "1/2"}


class Folded:
    """A side pocket of the usual sizes (inches, from the bottom up), all folds at one angle."""

    def __init__(self, angle: int = -90, **other: str) -> None:
        self.panels: dict[str, Path] = {}
        lines, y, below = [], Fraction(0), ""
        for name, height in (HEIGHTS | other).items():
            top = y + Fraction(height) * INCH
            self.panels[name] = rectangle(Fraction(0), y, WIDTH, top)
            if below:
                at = line((Fraction(0), y), (WIDTH, y))
                lines.append(Line(FoldKey(name, "/", below), LineKind.FOLD, Fraction(angle), (at,)))
            y, below = top, name
        self.poses: dict[str, Pose] = poses(self.panels, lines, root="front")

    def landing(self, side: Side, path: Path | None = None, **holes: list[Path]):
        zone = Zone("seam", "seam", side, path or self.panels["seam"], "back")
        return landing_of(zone, self.panels, self.poses, holes)


def test_a_notch_of_the_front_lands_on_the_same_place_of_the_back():
    pocket = Folded()
    notch = circle((WIDTH, Fraction(13, 2) * INCH), Fraction(3, 8) * INCH)
    landed = land(pocket.poses["front"], pocket.poses["back"], notch)
    assert set(landed.path.points) == set(
        circle((WIDTH, Fraction(17, 8) * INCH), Fraction(3, 8) * INCH).points
    )
    assert all(isinstance(n, Fraction) for vertex in landed.path.vertices for n in vertex.point)
    assert landed.is_parallel
    assert landed.is_turned_over
    assert signed_area(landed.path) == pytest.approx(float(signed_area(notch)))


@pytest.mark.parametrize(("angle", "distance"), [(-90, Fraction(-1, 8)), (90, Fraction(1, 8))])
def test_the_distance_is_measured_along_the_normal_of_the_target(angle, distance):
    """Folded away behind the front, the back has it on its reverse; folded in front, on its face."""
    pocket = Folded(angle)
    landed = land(pocket.poses["front"], pocket.poses["back"], pocket.panels["front"])
    assert landed.distance == landed.low == landed.high == distance * INCH


def test_what_lands_twice_is_back_where_it_was():
    pocket = Folded()
    bay = Path(
        (Vertex(THIRD, SEVENTH, THIRD), Vertex(9 + THIRD, SEVENTH), Vertex(THIRD, 7 + SEVENTH))
    )
    there = land(pocket.poses["front"], pocket.poses["back"], bay)
    again = land(pocket.poses["back"], pocket.poses["front"], there.path)
    assert set(again.path.vertices) == set(bay.vertices)


def test_an_arc_that_lands_keeps_the_side_that_it_bulges_to():
    over = turn_about(
        Point(Fraction(0), Fraction(0)), Point(Fraction(0), Fraction(1)), Fraction(180)
    )
    arc = Path((Vertex(THIRD, SEVENTH, Fraction(2, 7)), Vertex(5 + THIRD, SEVENTH)), closed=False)
    landed = land(over, AT_REST, arc).path
    there = {(round(-x, 9), round(y, 9)) for x, y in flattened(landed, 1e-4)}
    assert there == {(round(x, 9), round(y, 9)) for x, y in flattened(arc, 1e-4)}


def test_what_stands_oblique_to_its_target_is_dropped_along_the_normal():
    lid = turn_about(Point(Fraction(0), Fraction(0)), Point(Fraction(7), Fraction(0)), Fraction(60))
    landed = land(lid, AT_REST, rectangle(Fraction(0), Fraction(2), Fraction(1), Fraction(4)))
    assert not landed.is_parallel
    assert [float(v.y) for v in landed.path.vertices] == pytest.approx([1, 1, 2, 2], abs=1e-12)
    assert (landed.low, landed.high) == pytest.approx((math.sqrt(3), 2 * math.sqrt(3)))
    assert landed.distance == landed.high


def test_arcs_that_stand_oblique_become_chords():
    lid = turn_about(Point(Fraction(0), Fraction(0)), Point(Fraction(7), Fraction(0)), Fraction(60))
    ring = circle((Fraction(0), Fraction(0)), Fraction(3))
    landed = land(lid, AT_REST, ring)
    assert not any(vertex.bulge for vertex in landed.path.vertices)
    assert float(signed_area(landed.path)) == pytest.approx(math.pi * 9 / 2, rel=1e-3)
    assert landed.low == pytest.approx(-landed.high)


BACK = rectangle(Fraction(0), Fraction(0), 100 * THIRD, 100 * SEVENTH)


def test_a_rectangle_inside_sticks_out_by_exactly_nothing():
    assert overhang_of(BACK, BACK) == NOTHING
    assert overhang_of(BACK, BACK).is_inside


def test_a_rectangle_sticks_out_by_exact_fractions():
    seam = rectangle(Fraction(1), 100 * SEVENTH - 2, Fraction(8), 100 * SEVENTH + THIRD)
    assert overhang_of(seam, BACK) == Overhang(7 * THIRD, THIRD)


def test_a_rectangle_that_passes_a_corner_sticks_out_by_its_corner():
    found = overhang_of(rectangle(-3 * SEVENTH, -4 * SEVENTH, Fraction(2), Fraction(2)), BACK)
    assert found.area == Fraction(17 * 18, 49) - 4
    assert found.distance == pytest.approx(5 / 7, abs=1e-15)


def test_a_rectangle_beside_its_target_lies_all_outside():
    found = overhang_of(rectangle(Fraction(-3), Fraction(1), Fraction(-1), Fraction(4)), BACK)
    assert found == Overhang(Fraction(6), Fraction(3))


def test_what_sticks_out_by_less_than_the_tolerance_lies_within():
    sliver = rectangle(Fraction(-1, 7000), Fraction(0), Fraction(1), Fraction(1))
    assert overhang_of(sliver, BACK) == NOTHING
    assert overhang_of(sliver, BACK, tolerance=Fraction(1, 8000)).distance == Fraction(1, 7000)
    assert overhang_of(sliver, rounded(BACK)) == NOTHING


def rounded(path: Path) -> Path:
    """Return the rectangle with one corner cut, so that it is none."""
    return Path(
        (*path.vertices[:2], Vertex(path.vertices[2].x, path.vertices[2].y - 1), *path.vertices[2:])
    )


TRAPEZIUM = polyline([(0, 0), (70 * SEVENTH, 0), (50 * SEVENTH, 5), (20 * SEVENTH, 5)], closed=True)


def test_a_tapered_zone_needs_no_rectangle():
    assert overhang_of(TRAPEZIUM, BACK) == NOTHING
    found = overhang_of(rectangle(Fraction(0), Fraction(0), 10, Fraction(5)), TRAPEZIUM)
    assert found.area == pytest.approx(5 * 20 / 7)
    along = math.hypot(20 / 7, 5)
    assert found.distance == pytest.approx(20 / 7 * 5 / along)


def test_a_tapered_zone_sticks_out_by_its_own_area_not_by_its_frame():
    """Half a millimetre of the taper's foot lies below: a strip, less two small corners."""
    low = translated(TRAPEZIUM, Fraction(5), Fraction(-1, 2))
    found = overhang_of(low, BACK)
    assert found.area == pytest.approx(0.5 * (10 - 0.05 * (20 + 20) / 7))
    assert found.distance == pytest.approx(0.5)


def test_arcs_of_one_shape_cut_differently_do_not_stick_out():
    whole = circle((Fraction(0), Fraction(0)), 50 * THIRD)
    starts = (0.3, 1.3, 2.3, 3.3, 4.3, 5.3, 0.3 + 2 * math.pi)
    pieces = Path(
        tuple(
            Vertex(50 / 3 * math.cos(a), 50 / 3 * math.sin(a), math.tan((b - a) / 4))
            for a, b in pairwise(starts)
        )
    )
    assert overhang_of(pieces, whole) == NOTHING
    assert overhang_of(whole, pieces) == NOTHING


def test_a_zone_over_a_window_sticks_out_into_it():
    window = circle((Fraction(10), Fraction(7)), Fraction(3))
    found = overhang_of(
        rectangle(Fraction(1), Fraction(1), Fraction(20), Fraction(13)), BACK, [window]
    )
    assert found.area == pytest.approx(9 * math.pi, rel=1e-3)
    assert found.distance == pytest.approx(3, rel=1e-2)
    beside = rectangle(Fraction(14), Fraction(1), Fraction(20), Fraction(13))
    assert overhang_of(beside, BACK, [window]) == NOTHING


def test_a_line_that_runs_out_has_a_distance_and_no_area():
    found = overhang_of(line((Fraction(1), Fraction(1)), (-3 * SEVENTH, Fraction(1))), BACK)
    assert found.area == 0
    assert found.distance == pytest.approx(3 / 7)
    assert not found.is_inside


@pytest.mark.parametrize(
    ("path", "is_one"),
    [
        (BACK, True),
        (polyline(BACK.points[::-1], closed=True), True),
        (polyline(BACK.points, closed=False), False),
        (TRAPEZIUM, False),
        (polyline([BACK.points[i] for i in (0, 2, 1, 3)], closed=True), False),
        (Path((Vertex(0, 0, SEVENTH), *BACK.vertices[1:])), False),
        (Path((Vertex(0, 0, -SEVENTH), *BACK.vertices[1:])), False),
        (polyline([(0, 0), (1, 0), (3, 0), (2, 0)], closed=True), False),
        (polyline([(0, 1), (1, 0), (2, 1), (1, 2)], closed=True), False),
    ],
)
def test_a_rectangle_is_known_by_its_four_upright_edges(path, is_one):
    assert (rectangle_of(path) is not None) == is_one


@pytest.mark.parametrize(
    ("back", "overhang", "share"),
    [("17/4", "0", "1"), ("67/16", "1/16", "7/8"), ("65/16", "3/16", "5/8"), ("7/2", "3/4", "0")],
)
@pytest.mark.parametrize("angle", [-90, 90])
def test_the_seam_of_a_pocket_lands_exactly_or_is_told_by_how_much_not(
    angle, back, overhang, share
):
    landing = Folded(angle, back=back).landing(Side.FACE)
    assert landing.overhang.distance == Fraction(overhang) * INCH
    assert landing.share == Fraction(share)
    assert landing.distance == 0


def test_a_tail_gusset_that_is_too_deep_lands_within_but_off_the_plane():
    landing = Folded(tail="3/16").landing(Side.FACE)
    assert landing.overhang == NOTHING
    assert abs(landing.distance) == Fraction(1, 16) * INCH


def test_a_wrong_sign_of_a_fold_lands_nowhere():
    pocket = Folded()
    seam = pocket.panels["seam"]
    hinge = seam.points[0], seam.points[1]
    pocket.poses["seam"] = pocket.poses["head"].compose(turn_about(*hinge, Fraction(90)))
    assert pocket.landing(Side.FACE).share == 0


def test_a_zone_that_stands_upright_on_its_target_does_not_land():
    pocket = Folded()
    zone = Zone("z", "head", Side.FACE, pocket.panels["head"], "back")
    landing = landing_of(zone, pocket.panels, pocket.poses)
    assert not landing.is_parallel
    assert (landing.share, landing.faces, landing.is_facing) == (0, None, None)
    assert landing.overhang.area == WIDTH * INCH / 8


@pytest.mark.parametrize("angle", [-90, 90])
def test_tape_on_the_face_of_a_seam_looks_at_the_reverse_of_the_back(angle):
    """Both are turned over against the front, so they look the same way."""
    pocket = Folded(angle)
    assert pocket.landing(Side.FACE).faces is Side.REVERSE
    assert pocket.landing(Side.REVERSE).faces is Side.FACE


def test_which_way_tape_looks_in_one_plane_is_left_to_the_order_of_layers():
    assert Folded().landing(Side.FACE).is_facing is None


def test_tape_off_the_plane_looks_towards_its_target_or_away():
    deep, shallow = Folded(tail="3/16"), Folded(tail="1/16")
    assert [deep.landing(side).is_facing for side in Side] == [True, False]
    assert [shallow.landing(side).is_facing for side in Side] == [False, True]


def test_a_hole_of_the_target_takes_its_share():
    pocket = Folded()
    hole = rectangle(INCH, Fraction(0), INCH * 2, INCH / 4)
    landing = pocket.landing(Side.FACE, back=[hole])
    assert float(landing.share) == pytest.approx(1 - 0.25 / (6.25 * 0.5))


def test_a_zone_without_area_lands_with_no_share():
    pocket = Folded()
    flat = polyline([pocket.panels["seam"].points[0]] * 3, closed=True)
    assert pocket.landing(Side.FACE, flat).share == 0


def test_only_zones_onto_panels_of_the_same_part_are_dropped():
    pocket = Folded()
    seam = pocket.panels["seam"]
    zones = [
        Zone("own", "seam", Side.FACE, seam, "back"),
        Zone("other", "seam", Side.FACE, seam, "card.back"),
        Zone("joined", "seam", Side.FACE, seam),
    ]
    found = landings(zones, pocket.panels, pocket.poses)
    assert [(landing.zone, landing.onto) for landing in found] == [("own", "back")]
