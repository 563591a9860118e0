"""Paper turned in around boards: turn-ins meet at every corner, whatever its angle and the board's thickness.

The mitre of 1.5 times the board's thickness is that of a published worksheet
("Make your own corner cutter", University of Brighton); what it overlaps by, and
that turn-ins gape below 0.7071 thicknesses, is derived (both checked here by
folding with an independent library). Sizes are common practice or awkward.
"""

import math
from fractions import Fraction

import pytest
from shapely import Point, Polygon, unary_union
from shapely.affinity import affine_transform, rotate, scale, translate

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.part import LineKind, Purpose
from dielines.paths import bounds_of, flattened, signed_area

CALIPERS = {"covering": Fraction(1, 8), "board": Fraction(2)}
HEAD = 'template = "case"\nkind = "case"\nunits = "mm"\n[parts.case]\nstock = "covering"\n'
TURN_IN = 100 / 7


def wrap(boards: str, turn_in: str = '"100 / 7"', mitre: str = "0"):
    text = f"{HEAD}turn_in = {turn_in}\nmitre = {mitre}\nboards = [{boards}]\n"
    return build(template_from_text(text), {}, CALIPERS).parts[0]


def refused(boards: str, **fields: str) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        wrap(boards, **fields)
    return [fault.code for fault in caught.value.faults]


def polygon(panel) -> Polygon:
    return Polygon(flattened(panel.outline))


def corners_of(count: int, side: float) -> str:
    """Return the outline of a regular board, its corners 60, 90, 108 or 120 degrees."""
    radius = side / 2 / math.sin(math.pi / count)
    turns = [2 * math.pi * i / count + 0.1 for i in range(count)]
    points = [(radius * math.cos(a), radius * math.sin(a)) for a in turns]
    return "[" + ", ".join(f'["{x:.9f}", "{y:.9f}"]' for x, y in points) + "]"


def folded_in(part, board: Polygon, thickness: float = 0.0) -> list[Polygon]:
    """Return the turn-ins laid onto the board, around its edge of this thickness."""
    laid = []
    for line in part.lines:
        turn_in = next(p for p in line.key.panels() if p.startswith("turn_in"))
        (x0, y0), (x1, y1) = flattened(line.pieces[0])
        ux, uy = (
            (x1 - x0) / math.dist((x0, y0), (x1, y1)),
            (y1 - y0) / math.dist((x0, y0), (x1, y1)),
        )
        nx, ny = -uy, ux
        if (board.centroid.x - x0) * nx + (board.centroid.y - y0) * ny < 0:
            nx, ny = -nx, -ny
        # the mirror image about the edge, pulled back by what goes over the edge
        off = 2 * (nx * x0 + ny * y0)
        mirror = [1 - 2 * nx * nx, -2 * nx * ny, -2 * nx * ny, 1 - 2 * ny * ny, off * nx, off * ny]
        shape = affine_transform(polygon(part.panel(turn_in)), mirror)
        laid.append(translate(shape, -nx * thickness, -ny * thickness).intersection(board))
    return laid


@pytest.mark.parametrize(("count", "angle"), [(3, 60), (4, 90), (5, 108), (6, 120)])
def test_turn_ins_meet_without_gap_or_overlap_at_corners_of_any_angle(count, angle):
    part = wrap(f'{{ board = "front", outline = {corners_of(count, 90)} }}')
    board = polygon(part.panel("front"))
    laid = folded_in(part, board)
    assert len(laid) == count
    band = board.difference(board.buffer(-TURN_IN, join_style="mitre"))
    covered = unary_union(laid)
    assert covered.symmetric_difference(band).area < 1e-5
    assert sum(shape.area for shape in laid) == pytest.approx(covered.area, abs=1e-5)


def test_a_plain_board_has_exact_turn_ins_cut_at_45_degrees():
    part = wrap('{ board = "front", width = "200 / 3", height = 100 }')
    assert {p.name: signed_area(p.outline) for p in part.panels} == {
        "front": Fraction(20000, 3),
        "turn_in1": Fraction(100, 7) * (Fraction(200, 3) - Fraction(100, 7)),
        "turn_in2": Fraction(100, 7) * (100 - Fraction(100, 7)),
        "turn_in3": Fraction(100, 7) * (Fraction(200, 3) - Fraction(100, 7)),
        "turn_in4": Fraction(100, 7) * (100 - Fraction(100, 7)),
    }
    assert {(line.kind, line.angle_deg) for line in part.lines} == {(LineKind.FOLD, 180)}
    assert len(part.lines) == 4
    (mark,) = part.strokes
    assert (mark.purpose, mark.name) == (Purpose.MARK, "front")


def overlap_along_the_edge(mitre: float, thickness: float) -> float:
    """Return by how much two turn-ins overlap at the very edge of a board, below 0 where they gape."""
    part = wrap('{ board = "front", width = 90, height = 80 }', mitre=f'"{mitre:.9f}"')
    board = polygon(part.panel("front"))
    low, right = board.bounds[1], board.bounds[2]
    laid = folded_in(part, board, thickness)
    level = max(laid, key=lambda shape: -shape.centroid.y)
    upright = max(laid, key=lambda shape: shape.centroid.x)
    near = 1e-6
    strip = Polygon([(0, low), (right, low), (right, low + near), (0, low + near)])
    reached = level.intersection(strip).bounds[2]
    side = upright.intersection(strip)
    return reached - (right if side.is_empty else side.bounds[0])


@pytest.mark.parametrize("thickness", [2.0, 7 / 3])
def test_the_usual_mitre_overlaps_by_what_was_derived(thickness):
    # University of Brighton: 3 mm for board of 2 mm; derived: sqrt(2) * d - t, at 1.5 t 1.1213 t
    found = overlap_along_the_edge(1.5 * thickness, thickness)
    assert found == pytest.approx(math.sqrt(2) * 1.5 * thickness - thickness, abs=1e-5)
    assert found == pytest.approx(1.1213 * thickness, abs=1e-4 * thickness)


def test_turn_ins_just_meet_at_the_least_mitre_and_gape_below_it():
    # derived: they meet where d = t / sqrt(2) = 0.7071 t
    assert overlap_along_the_edge(2 / math.sqrt(2), 2.0) == pytest.approx(0, abs=1e-5)
    assert overlap_along_the_edge(2 * 0.7, 2.0) < -0.01
    assert overlap_along_the_edge(2 * 0.72, 2.0) > 0.01


def test_the_cut_passes_the_corner_at_the_mitre():
    part = wrap('{ board = "front", width = 90, height = 80 }', mitre='"3/2 * board.caliper"')
    rim = Polygon(flattened(part.outline[0])).exterior
    assert [rim.distance(Point(corner)) for corner in part.panel("front").outline.points] == (
        pytest.approx([3] * 4)
    )


def test_boards_and_gaps_lie_side_by_side_and_bend_freely():
    part = wrap(
        '{ board = "back", width = 60, height = 90 }, { gap = "20 / 3" }, '
        '{ board = "spine", width = 10, height = 90 }, { gap = 0 }, '
        '{ board = "front", width = 60, height = 90 }'
    )
    depth = Fraction(100, 7)
    lefts = {p.name: p.bounds().left - depth for p in part.panels if not p.name.startswith("turn")}
    third = Fraction(20, 3)
    assert lefts == {"back": 0, "gap1": 60, "spine": 60 + third, "front": 70 + third}
    assert set(part.rigid) == {("back", "gap1"), ("gap1", "spine"), ("spine", "front")}
    assert part.width == 130 + third + 2 * depth


def test_turn_ins_follow_the_hull_where_boards_differ():
    part = wrap(
        '{ board = "tall", width = 30, height = 60 }, { gap = 6 }, '
        '{ board = "peak", outline = [[0, 0], [30, 0], [15, 26]] }'
    )
    # the slanted edge of the hull passes over the gap and the lower board
    slanted = [line for line in part.lines if line.key.relation == "-"]
    assert {p for line in slanted for p in line.key.panels()} >= {"gap1", "peak"}
    area = sum(float(signed_area(panel.outline)) for panel in part.panels)
    assert area == pytest.approx(float(signed_area(part.outline[0])))
    assert len(part.outline) == 1


def turned_in(part) -> list[set[str]]:
    """Return the panels called turn-ins that each step of folding moves."""
    return [
        {p for key, _ in step.angles_deg for p in key.panels() if p.startswith("turn_in")}
        for step in part.steps
    ]


def test_turn_ins_are_folded_one_after_the_other_head_and_tail_first():
    """Head and tail first: common practice, no source."""
    part = wrap(
        '{ board = "back", width = 60, height = 90 }, { gap = "20 / 3" }, '
        '{ board = "front", width = 60, height = 90 }'
    )
    assert turned_in(part) == [{"turn_in1"}, {"turn_in3"}, {"turn_in2"}, {"turn_in4"}]
    assert [len(step.angles_deg) for step in part.steps] == [3, 3, 1, 1]
    reached = {key: angle for step in part.steps for key, angle in step.angles_deg}
    assert reached == {line.key: line.angle_deg for line in part.folds}


def test_a_slanted_edge_over_several_boards_is_turned_in_at_once():
    part = wrap(
        '{ board = "tall", width = 30, height = 60 }, { gap = 6 }, '
        '{ board = "peak", outline = [[0, 0], [30, 0], [15, 26]] }'
    )
    steps = turned_in(part)
    assert all(len(step) == 1 for step in steps)
    assert len({name for step in steps for name in step}) == len(steps) == 5
    assert steps[:2] == [{"turn_in1"}, {"turn_in4"}]  # the level edges at tail and head
    assert sum(len(step.angles_deg) for step in part.steps) == len(part.folds)


def test_a_board_with_its_corner_upwards_has_no_head_or_tail_to_begin_with():
    part = wrap('{ board = "tip", outline = [[40, 0], [80, 41], [40, 80], [0, 39]] }')
    assert turned_in(part) == [{f"turn_in{n}"} for n in (1, 2, 3, 4)]


def test_a_wrap_without_turn_ins_has_no_steps():
    assert wrap('{ board = "a", width = 60, height = 90 }', turn_in="0").steps == ()


@pytest.mark.parametrize(
    ("boards", "fields", "code"),
    [
        ("", {}, "no-board"),
        ("{ gap = 3 }", {}, "no-board"),
        ('{ gap = 3 }, { board = "a", width = 9, height = 9 }', {}, "loose-gap"),
        ('{ board = "a", width = 9, height = 9 }, { gap = 3 }', {}, "loose-gap"),
        ('{ board = "a", width = 9, height = 9 }, { board = "a", width = 9, height = 9 }', {}, "twice"),
        ('{ board = "A", width = 9, height = 9 }', {}, "bad-name"),
        ('{ board = "turn_in1", width = 9, height = 9 }', {}, "reserved"),
        ('{ board = "a", width = 9 }', {}, "missing"),
        ('{ board = "a", width = 0, height = 9 }', {}, "negative"),
        ('{ board = "a", width = 9, height = 9, depth = 1 }', {}, "unknown-key"),
        ('{ board = "a", width = 9, height = 9 }, { gap = -1 }, { board = "b", width = 9, height = 9 }', {}, "negative"),
        ('{ board = "a", width = 60, height = 60 }', {"turn_in": "-1"}, "negative"),
        ('{ board = "a", width = 60, height = 60 }', {"mitre": '"-1 mm"'}, "negative"),
        ('{ board = "a", width = 20, height = 60 }', {}, "ends-overlap"),
        ('{ board = "a", outline = [[0, 0], { through = [9, -3], to = [18, 0] }, [9, 20]] }', {}, "curved-edge"),
        ("7", {}, "wrong-kind"),
    ],
)  # fmt: skip
def test_boards_that_cannot_be_wrapped_are_told(boards, fields, code):
    assert refused(boards, **fields) == [code]


STRIP = """template = "strip"
kind = "case"
units = "mm"
[parameters]
corner = {{ type = "angle", default = {angle} }}
[parts.strip]
stock = "covering"
columns = [90]
rows = ["{depth} : outside", "{depth} : inside"]
edits = [{{ mitre = "inside", angle = ["corner / 2", "square"] }}]
folds = {{ "outside / inside" = "mountain" }}
"""


@pytest.mark.parametrize("angle", [60, 90, 108])
def test_edge_strips_mitred_by_half_the_corner_meet_along_its_bisector(angle):
    depth = 90 / 7
    text = STRIP.format(angle=angle, depth="90 / 7")
    part = build(template_from_text(text), {}, CALIPERS).parts[0]
    inside = polygon(part.panel("inside"))
    assert bounds_of([part.panel("inside").outline]).top == Fraction(90, 7)
    # folded up about its fold: the corner of the board is the fold's left end
    laid = scale(translate(inside, 0, -depth), yfact=-1, origin=(0, 0))
    other = rotate(scale(laid, yfact=-1, origin=(0, 0)), angle, origin=(0, 0))
    assert laid.intersection(other).area < 1e-9
    reach = depth / math.tan(math.radians(angle / 2))
    kite = Polygon(
        [
            (0, 0),
            (reach, 0),
            (reach, depth),
            (reach * math.cos(math.radians(angle)), reach * math.sin(math.radians(angle))),
        ]
    )
    assert kite.difference(unary_union([laid, other]).buffer(1e-9)).area < 1e-6
