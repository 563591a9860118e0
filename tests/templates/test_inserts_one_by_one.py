"""What is special to each built-in insert.

Common practice with no source: all usual sizes. Geometry: all else. Inches unless a
unit is named.
"""

import math
from fractions import Fraction

import pytest
from shapely import Polygon

from dielines.language.building import ArgumentRefused, build
from dielines.language.library import built_in_library
from dielines.lengths import parse_length
from dielines.part import LineKind, Part, Purpose, Side
from dielines.paths import bounds_of, flattened, signed_area
from dielines.poses import poses

INCH = Fraction(254, 10)
CALIPER = Fraction(2413, 10000)  #: mm, 9.5 thousandths of an inch
CALIPERS = {
    "cardstock": CALIPER,
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(127, 1000),
}
LIBRARY = built_in_library()


def inches(*sizes) -> list[Fraction]:
    return [
        size * INCH if isinstance(size, Fraction) else parse_length(str(size), "in").mm
        for size in sizes
    ]


def parts_of(name: str, **arguments) -> tuple[Part, ...]:
    return build(LIBRARY.find(name), arguments, CALIPERS).parts


def part_of(name: str, **arguments) -> Part:
    return parts_of(name, **arguments)[0]


def outlines(part: Part) -> dict[str, object]:
    return {panel.name: panel.outline for panel in part.panels}


def folded(part: Part, stage=Fraction(1)):
    return poses(outlines(part), part.lines, part.steps, stage, rigid=part.rigid)


@pytest.mark.parametrize(
    ("head", "lost"),
    [("clipped", 1), ("rounded", 2 * (1 - math.pi / 4)), ("square", 0)],
)
def test_the_head_of_a_tag_loses_what_its_corners_take(head, lost):
    """Two corners of 3/7; the hole, 1/4 across, goes as well."""
    part = part_of("tag", head=head, corner="3/7")
    hole = math.pi / 64
    area = sum(float(signed_area(ring)) for ring in part.outline) / 25.4**2
    assert area == pytest.approx(8 - lost * 9 / 49 - hole)


def test_a_tag_may_have_a_pull_and_two_rings_for_its_hole():
    tag, ring = parts_of("tag", pull="2/3", grip=1, ring="5/8")
    assert [tag.width, tag.height] == inches(Fraction(8, 3), 4)
    pull = float(signed_area(tag.panel("pull").outline)) / 25.4**2
    assert pull == pytest.approx(2 / 3 - 2 * (1 - math.pi / 4) / 9)  # both corners by a third
    assert (ring.quantity, ring.stock) == (2, "reinforcing")
    area = sum(float(signed_area(path)) for path in ring.outline) / 25.4**2
    assert area == pytest.approx(math.pi * (25 / 256 - 1 / 64))
    box = bounds_of(tag.outline[1:])
    assert [float(tag.height - box.top), float(box.width)] == pytest.approx([6.35, 6.35])


def test_a_ticket_tears_off_along_a_perforation_between_stub_and_ticket():
    part = part_of("ticket", stub="9/7")
    line = part.lines[0]
    assert line.kind is LineKind.PERFORATE
    assert {point.x for point in line.pieces[0].points} == set(inches("9/7"))


def test_pointed_flaps_are_triangles():
    part = part_of("envelope", flaps="pointed")
    areas = [signed_area(part.panel(name).outline) / INCH**2 for name in ("lid", "foot")]
    assert areas == [Fraction(21, 4) * Fraction(15, 8) / 2, Fraction(21, 4) * Fraction(75, 32) / 2]


@pytest.mark.parametrize("flaps", ["square", "pointed"])
def test_the_foot_of_an_envelope_lies_over_both_sides_and_its_lid_over_the_foot(flaps):
    part = part_of("envelope", flaps=flaps)
    foot, lid, face = (part.panel(name).bounds().height for name in ("foot", "lid", "face"))
    assert foot + lid > face
    zones = [abs(signed_area(zone.path)) for zone in part.zones]
    assert zones[0] == pytest.approx(zones[1])
    assert {zone.onto for zone in part.zones} == {"left", "right"}


def test_the_window_of_a_mat_stands_in_its_middle_or_above_and_shows_the_photo_less_the_lap():
    for rise in ("0", "3/16"):
        mat, back = parts_of("photo-mat", rise=rise, lap="1/7")
        box = bounds_of(mat.outline[1:])
        assert [box.width, box.height] == inches(Fraction(33, 7), Fraction(45, 14))
        assert box.left == mat.width - box.right
        assert box.bottom - (mat.height - box.top) == 2 * inches(rise)[0]
        assert [back.width, back.height] == [mat.width, mat.height]


def test_a_photo_slides_between_the_tapes_of_a_mat_from_above():
    built = build(LIBRARY.find("photo-mat"), {}, CALIPERS)
    back = built.part("back")
    zones = {zone.name: bounds_of([zone.path]) for zone in back.zones}
    assert set(zones) == {"left", "right", "foot"}
    room = zones["right"].left - zones["left"].right
    assert room - inches(5)[0] == 2 * inches("1/16")[0]  # the photo of 5 and a margin at each side
    assert zones["foot"].top < zones["left"].bottom
    joins = {join.zone: join for join in built.joins}
    for name, box in zones.items():
        assert joins[name].onto_side is Side.REVERSE
        assert joins[name].at == (box.left, box.bottom)
    assert parts_of("photo-mat", back=False)[0].zones == ()


def test_a_sleeve_has_a_notch_in_the_middle_of_both_sides():
    part = part_of("sleeve")
    for name in ("front", "back"):
        box = part.panel(name).bounds()
        arcs = [s for s in part.panel(name).outline.segments() if s.bulge]
        assert len(arcs) == 1
        assert arcs[0].start.x + arcs[0].end.x == box.left + box.right
        assert abs(arcs[0].end.x - arcs[0].start.x) == inches("3/4")[0]


@pytest.mark.parametrize(("name", "panel"), [("belly-band", "lap"), ("sleeve", "seam")])
def test_a_band_without_depth_is_scored_twice_and_folds_flat(name, panel):
    part = part_of(name, depth=0)
    assert [str(fold.key) for fold in part.folds] == [f"{panel} | back", "back | front"]
    assert {fold.angle_deg for fold in part.folds} == {180}


def test_a_lid_takes_its_tray_with_room_at_every_side():
    tray = part_of("tray", width="13/3", height="37/7")
    lid = part_of("lid", width="13/3", height="37/7", play="1/16")
    for across in ("width", "height"):
        inside = getattr(lid.panel("top").bounds(), across) - CALIPER
        outside = getattr(tray.panel("base").bounds(), across) + CALIPER
        assert inside - outside == 2 * inches("1/16")[0]


def test_the_tabs_of_a_tray_lie_a_thickness_inside_its_walls():
    part = part_of("tray")
    placed = folded(part)
    walls = {
        name: {placed[name].at(q)[0] for q in part.panel(name).outline.points}
        for name in ("left", "tab1", "tab3")
    }
    assert [len(x) for x in walls.values()] == [1, 1, 1]
    left = walls["left"].pop()
    assert [walls[name].pop() - left for name in ("tab1", "tab3")] == [CALIPER, CALIPER]


def test_a_slipcase_has_room_for_its_book_inside_all_layers():
    part = part_of("slipcase", width="14/3", height="31/7", depth="5/7", play="1/16")
    placed = folded(part)
    level = {
        name: {placed[name].at(q)[1] for q in part.panel(name).outline.points}
        for name in ("tuck1", "tuck2", "head1", "head2")
    }
    tuck1, tuck2, head1, head2 = (level[name].pop() for name in level)
    assert tuck1 - tuck2 - CALIPER == inches(Fraction(31, 7) + Fraction(1, 16))[0]
    assert [head1 - tuck1, head2 - head1] == [CALIPER, CALIPER]
    front, back = (
        {placed[n].at(q)[2] for q in part.panel(n).outline.points} for n in ("front", "back")
    )
    assert abs(front.pop() - back.pop()) - CALIPER == inches(Fraction(5, 7) + Fraction(1, 16))[0]
    assert part.panel("front").bounds().width == inches(Fraction(14, 3) + Fraction(1, 16))[0]
    # the inner flaps end a thickness before the back, the outer ones reach the front
    thick = inches(Fraction(5, 7) + Fraction(1, 16))[0] + CALIPER
    assert all(len({p.y for p in part.panel(n).outline.points}) == 2 for n in ("head1", "tail1"))
    reach = {n: part.panel(n).bounds().height for n in ("head1", "tail1", "head2", "tail2")}
    assert list(reach.values()) == [thick - CALIPER, thick - CALIPER, thick, thick]


@pytest.mark.parametrize("lean", [5, 15, "22 1/2", 30])
def test_a_photo_on_its_stand_leans_as_told(lean):
    """The foot of the strut rises by reach x tan(lean) behind the back, where the table lies."""
    back, strut = parts_of("photo-stand", lean=lean, reach="5/4")
    corners = sorted(strut.panel("strut").outline.points, key=lambda p: (p.y, p.x))
    (x0, y0), (x1, y1) = corners[:2]
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    assert angle == pytest.approx(float(Fraction(45, 2) if lean == "22 1/2" else lean))
    assert x1 - x0 == inches("5/4")[0]
    assert len([s for s in back.strokes if s.purpose is Purpose.CUT]) == 4


def test_the_slits_of_a_stand_cut_the_corners_off_a_photo_a_margin_inside():
    """Along a slit the distances from both edges of the photo add up to the corner, and 1/32 twice."""
    back = part_of("photo-stand", margin="2/7", corner="3/7")
    photo = [float(v) / 25.4 for v in (back.width, back.height)]
    for stroke in back.strokes:
        for x, y in stroke.path.points:
            inward = [
                min(float(v) / 25.4, size - float(v) / 25.4) - 2 / 7
                for v, size in zip((x, y), photo, strict=True)
            ]
            assert sum(inward) == pytest.approx(3 / 7)
            assert sorted(inward) == pytest.approx([-1 / 32, 3 / 7 + 1 / 32])


def test_the_strut_of_a_stand_folds_flat_behind_it_and_is_held_in_its_middle():
    built = build(LIBRARY.find("photo-stand"), {}, CALIPERS)
    back, strut = built.part("back"), built.part("strut")
    assert strut.panel("strut").bounds().width <= back.width / 2
    join = built.joins[0]
    assert join.onto_side is Side.REVERSE
    assert join.at.x - inches("1/16")[0] == back.width / 2
    assert strut.height < back.height


def test_the_sides_of_a_round_card_fold_within_its_circle_and_meet_no_edge():
    part = part_of("round-card", width=5, height="13/3")
    radius = 13 / 6 * 25.4
    assert {fold.angle_deg for fold in part.folds} == {180}
    middle = (float(part.width) / 2, float(part.height) / 2)
    for side in ("left", "right"):
        pose = folded(part)[side]
        corners = [pose.at(q) for q in flattened(part.panel(side).outline)]
        assert max(math.dist(middle, c[:2]) for c in corners) <= radius + 1e-6
    area = float(signed_area(part.outline[0]))
    assert area == pytest.approx(math.pi * radius**2)


@pytest.mark.parametrize(("head", "tail"), [("1/2", "1/2"), ("5/4", "5/4"), ("1/2", "7/4")])
def test_a_round_card_has_three_panels_whatever_way_its_folds_lean(head, tail):
    part = part_of("round-card", head=head, tail=tail)
    assert set(outlines(part)) == {"left", "middle", "right"}
    assert [len(step.angles_deg) for step in part.steps] == [1, 1]


@pytest.mark.parametrize(("head", "tail"), [("7/4", "7/4"), ("7/4", "1"), ("4/3", "5/4")])
def test_a_round_card_whose_side_would_reach_past_the_other_fold_is_refused(head, tail):
    """The second fold would have to cut through the side that is folded already."""
    with pytest.raises(ArgumentRefused):
        part_of("round-card", head=head, tail=tail)


def test_the_curves_of_a_packet_are_true_arcs_that_mirror_its_ends():
    part = part_of("curved-packet", width="10/3", bow="3/7")
    curved = [fold for fold in part.folds if not fold.is_straight]
    assert len(curved) == 4
    arcs = [s for s in part.outline[0].segments() if s.bulge]
    bulge = 2 * (3 / 7) / (10 / 3)  # of an arc: the sagitta is half the chord times the bulge
    assert [abs(float(s.bulge)) for s in arcs] == pytest.approx([bulge] * 4)
    scored = [abs(float(s.bulge)) for fold in curved for s in fold.pieces[0].segments()]
    assert scored == pytest.approx([bulge] * 4)
    assert float(part.height) == pytest.approx((5 + 6 / 7) * 25.4)
    assert float(part.width) == pytest.approx((20 / 3 + 1 / 2) * 25.4)
    seam = part.panel("seam").outline.points
    far = sorted(float(y) for x, y in seam if x == max(p.x for p in seam))
    assert far[1] - far[0] == pytest.approx((5 - 1 / 3) * 25.4)  # narrower by a third of its width


@pytest.mark.parametrize(("folds", "layers"), [(0, 1), (1, 3), (3, 7)])
def test_a_guard_is_folded_to_and_fro_to_be_as_thick_as_what_the_leaf_carries(folds, layers):
    part = part_of("guard-leaf", guard="3/7", folds=folds)
    placed = folded(part)
    leaf = part.panel("leaf").bounds()
    boxes = []
    for panel in part.panels:
        corners = [placed[panel.name].at(q) for q in panel.outline.points]
        if panel.name != "leaf":
            boxes.append(({c[0] for c in corners}, {c[2] for c in corners}))
    assert len(boxes) == layers
    assert all(box == ({leaf.left - inches("3/7")[0], leaf.left}, {0}) for box in boxes)


def test_the_flaps_of_a_tuck_strip_lie_side_by_side_behind_it():
    part = part_of("tuck-strip", drop="1/5", depth="1/8")
    placed = folded(part)
    shapes = {
        name: Polygon([placed[name].at(q)[:2] for q in part.panel(name).outline.points])
        for name in ("foot", "side1", "side2")
    }
    strip = part.panel("strip").bounds()
    frame = Polygon([(strip.left, strip.bottom), (strip.right, strip.bottom),
                     (strip.right, strip.top), (strip.left, strip.top)])  # fmt: skip
    assert all(frame.buffer(1e-6).covers(shape) for shape in shapes.values())
    assert shapes["foot"].intersection(shapes["side1"]).area == pytest.approx(0, abs=1e-6)
    heights = {placed[name].at(q)[2] for name in shapes for q in part.panel(name).outline.points}
    assert heights == {-inches("1/8")[0]}
