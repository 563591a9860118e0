"""The built-in inserts: sizes worked out by hand, what they are once folded, and how they fold.

Common practice with no source: all usual sizes. Published (VALUES.md, section 5):
kettle stitches about 1/4 in from the ends, 3 bands for 8 in, 4 for 12 and 5 for 15,
which part the length equally (Cockerell). Geometry: all else. Inches unless a unit
is named.
"""

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from shapely import Point as Place
from shapely import Polygon

from dielines.errors import TemplateError
from dielines.landing import landing_of
from dielines.language.building import ArgumentRefused, Graft, build, build_fragment
from dielines.language.library import built_in_library
from dielines.language.parameters import ParameterType
from dielines.language.template import template_from_text
from dielines.lengths import parse_length
from dielines.part import LineKind, Part, Purpose, Side
from dielines.paths import bounds_of, flattened, signed_area
from dielines.poses import angles_after, poses, residuals
from dielines.rigid import relative

INCH = Fraction(254, 10)
CALIPER = Fraction(2413, 10000)  #: mm, 9.5 thousandths of an inch
T = CALIPER / INCH
CALIPERS = {
    "cardstock": CALIPER,
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(127, 1000),
}
LIBRARY = built_in_library()
INSERTS = [template.name for template in LIBRARY.templates() if template.kind == "insert"]
EVERY_INSERT = pytest.mark.parametrize("name", INSERTS)


def inches(*sizes) -> list[Fraction]:
    return [
        size * INCH if isinstance(size, Fraction) else parse_length(str(size), "in").mm
        for size in sizes
    ]


def parts_of(name: str, **arguments) -> tuple[Part, ...]:
    return build(LIBRARY.find(name), arguments, CALIPERS).parts


def part_of(name: str, **arguments) -> Part:
    return parts_of(name, **arguments)[0]


def broken(name: str, right: str, wrong: str) -> Part:
    """Return the part of a built-in template with one thing in it changed."""
    text = LIBRARY.find(name).document.text
    assert right in text
    return build(template_from_text(text.replace(right, wrong)), {}, CALIPERS).parts[0]


def outlines(part: Part) -> dict[str, object]:
    return {panel.name: panel.outline for panel in part.panels}


def folded(part: Part, stage=Fraction(1)):
    return poses(outlines(part), part.lines, part.steps, stage, rigid=part.rigid)


def is_straight(part: Part) -> bool:
    return all(line.is_straight for line in part.folds)


def scores(part: Part) -> tuple[list[Fraction], list[Fraction]]:
    """Return where folds stand from the left, and from the top, as one sets a scoring board."""
    upright, level = set(), set()
    for fold in part.folds:
        for a, b in (piece.points for piece in fold.pieces):
            if a.x == b.x:
                upright.add(a.x)
            else:
                level.add(part.height - a.y)
    return sorted(upright), sorted(level)


# ------------------------------------------------------------------ sizes

#: insert: width, height, scores from the left, scores from the top
FLAT = {
    "tag": (2, 4, [], []),
    "ticket": (5, 2, [], []),
    "envelope": ("6 3/4", Fraction(255, 32), ["3/4", 6], ["1 7/8", "5 5/8"]),
    "photo-mat": (7, 5, [], []),
    "belly-band": ("9 1/16", "1 1/2", ["3/4", "7/8", "4 29/32", "5 1/32"], []),
    "sleeve": (9, "5 1/2", ["1/2", "3/4", "4 3/4", 5], []),
    "tray": (
        "5 1/2", 7,
        [Fraction(3, 4), Fraction(3, 4) + T, Fraction(19, 4) - T, Fraction(19, 4)],
        ["3/4", "6 1/4"],
    ),
    "lid": (
        5 + Fraction(1, 16) + 2 * T,
        6 + Fraction(9, 16) + 2 * T,
        [Fraction(1, 2), Fraction(1, 2) + T, 4 + Fraction(9, 16) + T, 4 + Fraction(9, 16) + 2 * T],
        [Fraction(1, 2), 6 + Fraction(1, 16) + 2 * T],
    ),
    "slipcase": (
        # twice 5 1/32, and 25/32 + t between; 4 1/32 + t between the flaps of the wall
        10 + Fraction(27, 32) + T,
        4 + Fraction(1, 32) + T + 4 * T + 2 * (Fraction(3, 4) + Fraction(1, 32) + T),
        [5 + Fraction(1, 32), 5 + Fraction(26, 32) + T],
        [Fraction(25, 32) + k * T for k in (1, 2, 3)]
        + [4 + Fraction(26, 32) + k * T for k in (4, 5, 6)],
    ),
    "map-fold": (8, 11, [4], ["5 1/2"]),
    "one-slit-booklet": (8, 6, [2, 4, 6], [3]),
    "maze-booklet": (10, 12, ["2 1/2", 5, "7 1/2"], [3, 6, 9]),
    # the step comes out 1.1 and stands 1.375 high: ridge 1.1 below its top
    "box-step": (4, 11, [], ["4 1/8", Fraction(209, 40), "5 1/2", Fraction(66, 10)]),
    "photo-stand": (5, 7, [], []),
    "folio": (8, "5 1/2", [4], []),
    "guard-leaf": ("4 1/2", "5 1/2", ["1/2"], []),
    "tuck-strip": (6, 2, ["1/2", "5 1/2"], ["1 1/2"]),
    "sewn-section": ("8 1/2", "5 1/2", ["4 1/4"], []),
}  # fmt: skip


@pytest.mark.parametrize("name", FLAT)
def test_an_insert_is_cut_and_scored_at_the_sizes_worked_out_by_hand(name):
    width, height, upright, level = FLAT[name]
    part = part_of(name)
    assert [part.width, part.height] == inches(width, height)
    assert scores(part) == (inches(*upright), inches(*level))


def test_every_insert_stands_in_the_table_or_is_round_or_a_set_of_leaves():
    assert set(INSERTS) - set(FLAT) == {"round-card", "curved-packet", "index-leaves"}


#: what is left once it is folded: across, up, and how high it stands
FINISHED = {
    "tag": (2, 4, 0), "ticket": (5, 2, 0), "envelope": ("5 1/4", "3 3/4", 0),
    "photo-mat": (7, 5, 0), "belly-band": ("4 1/32", "1 1/2", "1/8"),
    "sleeve": (4, "5 1/2", "1/4"), "tray": (4, "5 1/2", "3/4"),
    "lid": (4 + Fraction(1, 16) + 2 * T, 5 + Fraction(9, 16) + 2 * T, "1/2"),
    "slipcase": ("5 1/32", 4 + Fraction(1, 32) + 5 * T, Fraction(25, 32) + T),
    "map-fold": (4, "5 1/2", 0), "one-slit-booklet": (2, 3, 0), "maze-booklet": ("2 1/2", 3, 0),
    "box-step": (4, "5 1/2", "5 1/2"), "photo-stand": (5, 7, 0),
    "folio": (4, "5 1/2", 0), "guard-leaf": ("4 1/2", "5 1/2", 0),
    "tuck-strip": (5, "1 1/2", 0), "sewn-section": ("4 1/4", "5 1/2", 0),
}  # fmt: skip


@pytest.mark.parametrize("name", FINISHED)
def test_a_folded_insert_has_its_finished_size(name):
    part = part_of(name)
    placed = folded(part)
    corners = [placed[p.name].at(q) for p in part.panels for q in p.outline.points]
    size = [max(c[i] for c in corners) - min(c[i] for c in corners) for i in range(3)]
    assert list(map(float, size)) == pytest.approx(list(map(float, inches(*FINISHED[name]))))


@EVERY_INSERT
@pytest.mark.parametrize(("width", "height"), [(80, 115), (31, 160), (120, 40)])
def test_a_book_makes_an_insert_to_the_size_of_a_pocket(name, width, height):
    """As a book does: width and height alone, in mm."""
    types = {p.name: p.type for p in LIBRARY.find(name).parameters}
    assert (types["width"], types["height"]) == (ParameterType.LENGTH, ParameterType.LENGTH)
    built = build(LIBRARY.find(name), {"width": width, "height": height}, CALIPERS, None, "mm")
    assert built.resolved.values["width"].amount == width


# ------------------------------------------------------------------ folding


def torn(part: Part) -> set[Fraction]:
    """Return the stages of folding at which a loop gapes."""
    found = residuals(outlines(part), part.lines, part.steps, rigid=part.rigid)
    return {r.stage for r in found if not r.is_closed}


@pytest.mark.parametrize("name", ["map-fold", "one-slit-booklet", "box-step"])
def test_loops_of_panels_close_at_every_stage(name):
    part = part_of(name, width="22/7", height="31/7")
    assert residuals(outlines(part), part.lines, part.steps)
    assert torn(part) == set()


@pytest.mark.parametrize(
    ("name", "right", "wrong"),
    [
        ("map-fold", '"c | d" = "mountain"', '"c | d" = "valley"'),
        ("map-fold", 'steps = ["a / c, b / d", "a | b, c | d"]', "steps = []"),
        ("one-slit-booklet", '"b1 | b2" = "mountain"', '"b1 | b2" = "valley"'),
        ("one-slit-booklet", '"a4 / b4" = "mountain"', '"a4 / b4" = "valley"'),
        ("one-slit-booklet", "b3 | b4 to 90", "b3 | b4 to -90"),
        ("box-step", '"tread / front" = -90', '"tread / front" = 90'),
        ("box-step", '"min(rise, depth)     : back', '"min(rise, depth) + 1/8 : back'),
    ],
)
def test_a_wrong_sign_or_order_tears_the_paper(name, right, wrong):
    assert torn(broken(name, right, wrong))


@pytest.mark.parametrize(("rise", "depth"), [("9/7", "9/7"), ("4/3", "3/7"), ("3/7", "4/3")])
def test_a_step_closes_whether_it_is_higher_or_deeper(rise, depth):
    part = part_of("box-step", rise=rise, depth=depth)
    assert torn(part) == set()
    assert part.height == inches(11)[0]
    placed = folded(part)
    across, up = (part.panel(name).bounds().height for name in ("tread", "front"))
    assert [across, up] == inches(depth, rise)
    tread, base = (placed[name].rotation[2] for name in ("tread", "base"))
    assert abs(sum(a * b for a, b in zip(tread, base, strict=True))) == 1  # both level


def test_the_pages_of_a_maze_lie_one_on_the_other_along_its_path():
    """An accordion: from page to page the sign turns, round the corners of the path too."""
    part = part_of("maze-booklet", turns=3)
    path = [f"{letter}{turn}" for turn in (1, 2, 3) for letter in "abcdhgfe"]
    folds = {fold.key.panels(): fold.angle_deg for fold in part.folds}
    angles = [folds[frozenset(pair)] for pair in pairwise(path)]
    assert angles == [180 if i % 2 == 0 else -180 for i in range(23)]
    assert len(folds) == 23
    middles = set()
    for panel in part.panels:
        box, pose = panel.bounds(), folded(part)[panel.name]
        middles.add(pose.at(((box.left + box.right) / 2, (box.bottom + box.top) / 2)))
    assert len(middles) == 1


def test_the_cover_of_a_one_slit_booklet_goes_back_to_the_other_side():
    part = part_of("one-slit-booklet")
    reached = [
        {str(key): angle for key, angle in step.items()}["b1 | b2"]
        for step in angles_after(part.lines, part.steps)
    ]
    assert reached == [0, 0, 90, -180]


def facing(part: Part) -> dict[str, bool | None]:
    """Return whether each zone looks towards its target just before it arrives there."""
    panels, holes = outlines(part), {panel.name: panel.holes for panel in part.panels}
    steps = len(angles_after(part.lines, part.steps)) - 1
    found: dict[str, bool | None] = {}
    for zone in part.zones:
        for step in range(steps if zone.onto in panels else 0):
            placed = folded(part, Fraction(step + 1, steps) - Fraction(1, 100 * steps))
            landing = landing_of(zone, panels, placed, holes)
            if landing.is_facing is not None:
                found[zone.name] = landing.is_facing
    return found


TAPED = {
    "envelope": 2, "belly-band": 1, "sleeve": 1, "tray": 4, "lid": 4, "slipcase": 4, "guard-leaf": 2,
}  # fmt: skip


@pytest.mark.parametrize("name", TAPED)
def test_tape_looks_at_what_it_is_about_to_stick_to(name):
    part = part_of(name, **({"folds": 1} if name == "guard-leaf" else {}))
    assert set(facing(part).values()) == {True}
    targets = [zone for zone in part.zones if zone.onto]
    assert len(targets) == TAPED[name]


@pytest.mark.parametrize("name", ["envelope", "belly-band", "tray", "slipcase"])
def test_tape_on_the_other_side_shows(name):
    text = LIBRARY.find(name).document.text
    swap = {'side = "face"': 'side = "reverse"', 'side = "reverse"': 'side = "face"'}
    right = next(word for word in swap if word in text)
    try:
        found = set(facing(broken(name, right, swap[right])).values())
    except TemplateError as problem:
        found = {fault.code != "faces-away" for fault in problem.faults}
    assert found == {False}


def crossings(part: Part) -> set[tuple[str, str]]:
    """Return the pairs of panels of which one passes through the other on the way or at the end."""
    panels = outlines(part)
    lines = [line for line in part.lines if line.kind is not LineKind.SLIT]
    neighbours = {*(line.key.panels() for line in lines), *map(frozenset, part.rigid)}
    shapes = {
        p.name: Polygon(flattened(p.outline), [flattened(h) for h in p.holes]) for p in part.panels
    }
    inner = {name: shape.buffer(-0.05) for name, shape in shapes.items()}
    corners = {
        name: shape.buffer(-0.1, join_style="mitre").exterior.coords[:-1]
        for name, shape in shapes.items()
    }
    steps = len(angles_after(part.lines, part.steps)) - 1
    found = set()
    for stage in (Fraction(k, 3 * steps) for k in range(1, 3 * steps + 1)):
        placed = folded(part, stage)
        for a in panels:
            for b in panels:
                if a != b and frozenset((a, b)) not in neighbours:
                    motion = relative(placed[a], placed[b])
                    moved = [tuple(map(float, motion.at(corner))) for corner in corners[b]]
                    if any(inner[a].contains(Place(place)) for place in piercings(moved)):
                        found.add((a, b))
    return found


def piercings(corners):
    """Yield where the edges of a polygon in space go through the plane at height 0."""
    for (x0, y0, z0), (x1, y1, z1) in zip(corners, corners[1:] + corners[:1], strict=True):
        if min(z0, z1) < -0.02 and max(z0, z1) > 0.02:
            share = z0 / (z0 - z1)
            yield x0 + share * (x1 - x0), y0 + share * (y1 - y0)


@EVERY_INSERT
def test_no_panel_passes_through_another_on_its_way(name):
    for part in parts_of(name):
        if is_straight(part):
            assert crossings(part) == set()


def test_walls_that_fold_before_the_tabs_inside_them_go_through_the_tabs():
    part = broken(
        "tray",
        'steps = ["head / *, * / tail, tab* | *, * | tab*", "left | *, * | right"]',
        'steps = ["head / *, * / tail", "left | *, * | right", "tab* | *, * | tab*"]',
    )
    assert crossings(part)


# ------------------------------------------------------------------ one by one


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


@pytest.mark.parametrize(("head", "tail"), [("1/2", "1/2"), ("7/4", "7/4"), ("1/2", "7/4")])
def test_a_round_card_has_three_panels_whatever_way_its_folds_lean(head, tail):
    part = part_of("round-card", head=head, tail=tail)
    assert set(outlines(part)) == {"left", "middle", "right"}
    assert [len(step.angles_deg) for step in part.steps] == [1, 1]


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


# ------------------------------------------------------------------ bound at a fold, or by loops


def stations(height: object, **sizes) -> list[float]:
    """Return how far each sewing hole stands from the head, in."""
    graft = Graft(LIBRARY.find("sewing"), sizes)
    part = build(LIBRARY.find("sewn-section"), {"height": height}, CALIPERS, graft).parts[0]
    fold = bounds_of([piece for line in part.folds for piece in line.pieces]).left
    boxes = [bounds_of([ring]) for ring in part.outline[1:]]
    assert all(float(box.left + box.right) == pytest.approx(float(2 * fold)) for box in boxes)
    return sorted(float(part.height - (box.bottom + box.top) / 2) / 25.4 for box in boxes)


def test_a_section_is_sewn_at_its_kettle_stitches_and_beside_each_band():
    """5 1/2 high, kettles at 1/4, two bands of 3/8 at thirds of the 5 in between."""
    expected = [1 / 4, *(1 / 4 + k * 5 / 3 + s * 3 / 16 for k in (1, 2) for s in (-1, 1)), 21 / 4]
    assert stations("5 1/2", band="3/8") == pytest.approx(expected)
    cords = [1 / 4, 1 / 4 + 5 / 3, 1 / 4 + 10 / 3, 21 / 4]
    assert stations("5 1/2", band=0) == pytest.approx(cords)


@pytest.mark.parametrize(("height", "bands"), [(8, 3), (12, 4), (15, 5)])
def test_there_are_as_many_bands_as_the_handbook_says(height, bands):
    found = stations(height)
    assert len(found) == 2 + 2 * bands
    assert found[0] == 1 / 4
    middles = [(a + b) / 2 for a, b in zip(found[1:-1:2], found[2:-1:2], strict=True)]
    gaps = [b - a for a, b in zip([found[0], *middles], [*middles, found[-1]], strict=True)]
    assert gaps == pytest.approx([gaps[0]] * (bands + 1))


def test_a_section_has_as_many_sheets_as_told_each_of_them_folded_once():
    part = part_of("sewn-section", sheets=5)
    assert part.quantity == 5
    assert (part.bound.panel, part.bound.side) == ("left | right", "fold")


def loops(gaps: str) -> Polygon:
    """Return what stands left of the page, its turned part laid onto it."""
    graft = Graft(LIBRARY.find("slotted-hinge"), {"gaps": gaps, "depth": "2/5"})
    part = build_fragment(graft, inches(Fraction(30, 7))[0], CALIPERS)[0]
    page = part.panel("page").bounds()
    loop = Polygon(flattened(part.panel("loop").outline))
    edge = float(page.left) - (1 / 2 - 2 / 5) * 25.4
    beyond = Polygon([(edge, -1), (edge, 999), (-99, 999), (-99, -1)])
    return loop.intersection(beyond)


def test_the_loops_of_one_page_stand_in_the_gaps_of_the_next():
    """Seven lengths of 30/49: three gaps in the one, four in the other."""
    even, odd = loops("even"), loops("odd")
    length = 30 / 49 * 25.4
    assert [even.area, odd.area] == pytest.approx([n * length * 2 / 5 * 25.4 for n in (4, 3)])
    assert even.intersection(odd).area == pytest.approx(0, abs=1e-6)


# ------------------------------------------------------------------ sizes that cannot be


@pytest.mark.parametrize(
    ("name", "arguments", "told"),
    [
        ("tag", {"corner": 2}, "corner"),
        ("tag", {"hole": 1}, "hole"),
        ("ticket", {"stub": 4}, "stub"),
        ("envelope", {"side": 3}, "side"),
        ("envelope", {"flaps": "pointed", "side": 1}, "side"),
        ("photo-mat", {"photo": 8}, "photo"),
        ("belly-band", {"lap": 3}, "lap"),
        ("sleeve", {"notch": 2, "seam": "3/2"}, "seam"),
        ("tray", {"depth": 3}, "depth"),
        ("tray", {"tab": 1}, "tab"),
        ("lid", {"play": 1}, "play"),
        ("slipcase", {"tuck": 1}, "tuck"),
        ("box-step", {"depth": 5}, "depth"),
        ("photo-stand", {"lean": 45}, "lean"),
        ("photo-stand", {"reach": 4}, "reach"),
        ("round-card", {"head": 2}, "head"),
        ("curved-packet", {"bow": 2}, "bow"),
        ("guard-leaf", {"folds": 5}, "folds"),
        ("tuck-strip", {"foot": "5/4"}, "foot"),
        ("maze-booklet", {"turns": 0}, "turns"),
    ],
)  # fmt: skip
def test_a_size_that_an_insert_cannot_take_is_told_at_that_size(name, arguments, told):
    with pytest.raises(ArgumentRefused) as caught:
        parts_of(name, **arguments)
    assert {n: refusal.code for n, refusal in caught.value.refusals} == {told: "out-of-range"}
