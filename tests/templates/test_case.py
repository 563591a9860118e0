"""The built-in templates of the case: sizes by hand, mitres that meet, corners that stay covered.

Published (VALUES.md, section 5): the cut of a turn-in passes the corner of a board
of 2 mm at 3 mm, 1.5 thicknesses (a worksheet for a corner cutter); turn-in of 3/4 in
(a handbook for schools). Derived there: at a right angle turn-ins just meet at 0.7071
thicknesses and overlap by 1.1213 at 1.5. Common practice with no source: all other
usual sizes. Inches unless a unit is named.
"""

import math
from fractions import Fraction

import pytest
from shapely import Polygon, unary_union
from shapely.affinity import rotate, scale, translate

from dielines.language.building import ArgumentRefused, build
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.lengths import parse_length
from dielines.part import Part, Side
from dielines.paths import flattened
from dielines.poses import poses

INCH = Fraction(254, 10)
BOARD = 2  #: mm, thickness
CALIPERS = {
    "cardstock": Fraction(2413, 10000),
    "board": Fraction(BOARD),
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


def changed(name: str, right: str, wrong: str, **arguments) -> Part:
    """Return the part of a built-in template with one thing in it changed."""
    text = LIBRARY.find(name).document.text
    assert right in text
    return build(template_from_text(text.replace(right, wrong)), arguments, CALIPERS).parts[0]


def scores(part: Part) -> tuple[list[Fraction], list[Fraction]]:
    """Return where folds stand from the left, and from the top."""
    ends = [piece.points for fold in part.folds for piece in fold.pieces]
    upright = {a.x for a, b in ends if a.x == b.x}
    level = {part.height - a.y for a, b in ends if a.y == b.y}
    return sorted(upright), sorted(level)


def polygon(path) -> Polygon:
    return Polygon(flattened(path))


# ------------------------------------------------------------------ sizes

#: piece: width, height, scores from the left, scores from the top
FLAT = {
    "cover-board": ("6 1/2", "4 1/2", [], []),
    "spine-board": ("1 3/8", "4 1/2", [], []),
    "joint-wrap": (4, 6, [], ["3/4", "5 1/4"]),  # 1 3/8 + 2 x 5/16 + 2 x 1
    "spine-lining": ("1 5/8", "3 1/2", [], []),  # 4 1/2 - 2 x 3/4 + 2 x 1/4
    "edge-strip": (1, "4 1/2", ["1/2"], []),
    "stab-cover": (6, 4, ["3/4"], []),
}


@pytest.mark.parametrize("name", FLAT)
def test_a_piece_of_the_case_is_cut_and_scored_at_the_sizes_worked_out_by_hand(name):
    width, height, upright, level = FLAT[name]
    part = part_of(name)
    assert [part.width, part.height] == inches(width, height)
    assert scores(part) == (inches(*upright), inches(*level))


#: boards, spine and joints side by side, and turn-ins of 3/4 all round
WRAPPED = {
    "wrapped-case": (2 * Fraction(13, 2) + Fraction(11, 8) + Fraction(5, 8), Fraction(9, 2)),
    "five-sided-case": (2 * Fraction(13, 2) + Fraction(11, 8) + Fraction(5, 8), Fraction(9, 2)),
    "three-sided-case": (2 * Fraction(26, 5) + Fraction(11, 8) + Fraction(5, 8), Fraction(6)),
}


@pytest.mark.parametrize("name", WRAPPED)
def test_a_wrapped_case_holds_its_boards_a_joint_from_the_spine(name):
    part = part_of(name)
    boxes = [part.panel(panel).bounds() for panel in ("back", "gap1", "spine", "gap2", "front")]
    widths = [float(box.width) / 25.4 for box in boxes]
    assert [widths[1], widths[2], widths[3]] == pytest.approx([5 / 16, 11 / 8, 5 / 16])
    across, up = (float(size) for size in WRAPPED[name])
    assert float(boxes[-1].right - boxes[0].left) / 25.4 == pytest.approx(across)
    assert max(float(box.height) for box in boxes) / 25.4 == pytest.approx(up)
    assert float(part.height) / 25.4 == pytest.approx(up + 3 / 2)
    sides = {"wrapped-case": 4, "five-sided-case": 5, "three-sided-case": 3}[name]
    boards = [stroke for stroke in part.strokes if stroke.name in ("back", "front")]
    back, front = ({(float(x), float(y)) for x, y in board.path.points} for board in boards)
    middle = float(boxes[0].left + boxes[-1].right)
    mirrored = sorted((middle - x, y) for x, y in back)
    assert sum(sorted(front), ()) == pytest.approx(sum(mirrored, ()))
    assert [len(board.path.vertices) for board in boards] == [sides, sides]


# ------------------------------------------------------------------ edge strips

CORNERS = {60: 3, 90: 4, 108: 5}  #: degrees -> sides of a regular board


def side_up(part: Part, panel: str, begins: str) -> Polygon:
    """Return a half of a strip as it lies on its board: the board's edge on x = 0, board at x > 0.

    *begins* names the side of the panel that lies on the ridge of the board.
    """
    shape = polygon(part.panel(panel).outline)
    left, bottom, right, _ = part.panel(panel).bounds()
    if begins == "right":
        return translate(scale(shape, -1, 1, origin=(0, 0)), float(right), -float(bottom))
    return translate(shape, -float(left), -float(bottom))


def round_the_board(half: Polygon, corner: int, length: float) -> list[Polygon]:
    """Return the halves of as many strips as a regular board has edges, each on its edge.

    The first edge runs from (0, 0) to (0, length), the board at its right.
    """
    turn = 180 - corner
    placed, x, y, direction = [], 0.0, 0.0, 0.0
    for _ in range(CORNERS[corner]):
        placed.append(translate(rotate(half, -direction, origin=(0, 0)), x, y))
        x += length * math.sin(math.radians(direction))
        y += length * math.cos(math.radians(direction))
        direction += turn
    return placed


def gap_and_overlap(part: Part, panel: str, begins: str, corner: int) -> tuple[float, float]:
    """Return how much of a board's border stays bare, and how much is covered twice, mm2."""
    half = side_up(part, panel, begins)
    length = 101.6
    pieces = round_the_board(half, corner, length)
    edges = round_the_board(Polygon([(0, 0), (1, 0), (1, length), (0, length)]), corner, length)
    board = Polygon([shape.exterior.coords[0] for shape in edges])
    reach = half.bounds[2]
    border = board.difference(board.buffer(-reach, join_style="mitre"))
    covered = unary_union(pieces)
    return border.difference(covered).area, sum(p.area for p in pieces) - covered.area


@pytest.mark.parametrize("corner", CORNERS)
@pytest.mark.parametrize("scored", ["once", "twice"])
def test_mitred_strips_meet_without_gap_or_overlap_outside_and_inside(corner, scored):
    """Four inches of edge; inside, the mitre begins where the strip has passed the board's edge."""
    part = part_of("edge-strip", length_of_edge=4, scores=scored, corner1=corner, corner2=corner)
    for panel, begins in (("outside", "right"), ("inside", "left")):
        bare, twice = gap_and_overlap(part, panel, begins, corner)
        assert bare == pytest.approx(0, abs=1e-6)
        assert twice == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("corner", [60, 108])
def test_a_mitre_of_45_degrees_would_leave_bare_board_or_double_the_paper(corner):
    bare, twice = gap_and_overlap(
        part_of("edge-strip", length_of_edge=4), "outside", "right", corner
    )
    assert (twice if corner == 60 else bare) > 50


def test_a_mitre_that_begins_a_thickness_early_would_leave_bare_board_inside():
    early = changed(
        "edge-strip",
        'mitre = "inside", from = "left",',
        'mitre = "inside", from = "left", setback = "thick",',
        length_of_edge=4,
    )
    bare, _ = gap_and_overlap(early, "inside", "left", 90)
    # at each of four corners two wedges, 2 mm of the edge wide; the half reaches 10.7 in
    assert bare == pytest.approx(4 * 2 * BOARD * (12.7 - BOARD), rel=0.02)


@pytest.mark.parametrize(
    ("scored", "outside", "inside"),
    [("once", 12.7, 12.7 - BOARD), ("twice", 12.7 - BOARD / 2, 12.7 - BOARD / 2)],
)
def test_a_strip_wraps_the_thickness_of_the_board(scored, outside, inside):
    """Scored once in the middle it shows half outside, and half less a thickness inside."""
    part = part_of("edge-strip", scores=scored)
    shown = [float(part.panel(name).bounds().width) for name in ("outside", "inside")]
    assert shown == pytest.approx([outside, inside])
    assert float(part.width) == 25.4
    between = next(p for p in part.panels if p.name in ("edge", "bend"))
    assert float(between.bounds().width) == BOARD
    # the strip is as long as the edge where it passes it, so that it meets the next one
    assert between.bounds().height == part.height


def test_a_strip_scored_twice_stands_a_board_apart():
    part = part_of("edge-strip", scores="twice")
    placed = poses({p.name: p.outline for p in part.panels}, part.lines, part.steps)
    heights = [
        {placed[name].at(q)[2] for q in part.panel(name).outline.points}
        for name in ("outside", "inside")
    ]
    assert [len(h) for h in heights] == [1, 1]
    assert abs(heights[0].pop() - heights[1].pop()) == BOARD


def test_an_overlapping_end_runs_round_the_corner_on_one_side_only():
    part = part_of("edge-strip", first="overlapping", second="plain", lap="3/7")
    assert part.height == inches(Fraction(9, 2) + Fraction(3, 7))[0]
    flap, outside = part.panel("over1").bounds(), part.panel("outside").bounds()
    assert [flap.left, flap.right] == [outside.left, outside.right]
    assert flap.height == inches("3/7")[0]
    assert [str(fold.key) for fold in part.folds if "over1" in fold.key.panels()] == [
        "over1 / outside"
    ]
    placed = poses(
        {p.name: p.outline for p in part.panels}, part.lines, part.steps, rigid=part.rigid
    )
    tip = min(placed["over1"].at(q)[1] for q in part.panel("over1").outline.points)
    assert tip == outside.top - inches("3/7")[0]


@pytest.mark.parametrize(("scored", "angles"), [("once", [180]), ("twice", [90, 90])])
def test_a_strip_closes_round_the_board_its_glue_inside(scored, angles):
    part = part_of("edge-strip", scores=scored)
    assert [fold.angle_deg for fold in part.folds] == angles
    assert {zone.name: zone.side for zone in part.zones} == {
        "outside": Side.FACE, "inside": Side.FACE,
    }  # fmt: skip


def test_an_overlapping_end_wants_a_square_corner():
    with pytest.raises(ArgumentRefused) as caught:
        part_of("edge-strip", first="overlapping", corner1=108)
    assert [name for name, _ in caught.value.refusals] == ["corner1"]


BOOK = """
title = "Strips"
units = "in"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["plain leaf"]
[usual]
edge_corners = "overlapped"
"""


def test_the_ends_of_overlapped_strips_are_glued_inside_the_board(book_of):
    book = book_of(BOOK)
    board = next(part.part for part in book.parts if part.key == "front-board")
    joins = [j for j in book.joins if j.part == "edge-front-fore-edge"]
    sides = {join.zone: join.onto_side for join in joins}
    assert sides == {
        "outside": Side.FACE, "inside": Side.REVERSE, "over1": Side.REVERSE, "over2": Side.REVERSE,
    }  # fmt: skip
    by_zone = {join.zone: join for join in joins}
    ends = sorted([by_zone["over1"].offset.y, by_zone["over2"].offset.y])
    assert float(ends[0]) < float(board.height) / 4
    assert float(ends[1]) > float(board.height) * 3 / 4


# ------------------------------------------------------------------ wrapped cases


def corner_cut(allowance: object) -> float:
    """Return how far beyond the board's corner the paper reaches where it has passed the edge, mm.

    Below 0 the corner of the board is bare. The paper is that along the tail of the back board.
    """
    part = changed("wrapped-case", 'min = "3/4 * board.caliper"', "min = 0", mitre=allowance)
    board = part.panel("back").bounds()
    level = float(board.bottom) - BOARD
    line = Polygon([(-99, level), (999, level), (999, level - 1e-6), (-99, level - 1e-6)])
    return float(board.left) - line.intersection(polygon(part.outline[0])).bounds[0]


def test_the_cut_passes_the_corner_of_a_board_of_two_mm_at_three():
    part = part_of("wrapped-case")
    board = part.panel("back").bounds()
    corner = Polygon([(board.left, board.bottom), (board.left - 99, board.bottom),
                      (board.left - 99, board.bottom - 99), (board.left, board.bottom - 99)])  # fmt: skip
    outside = corner.difference(polygon(part.outline[0]))
    assert outside.distance(Polygon([(board.left, board.bottom)] * 4)) == pytest.approx(3)


@pytest.mark.parametrize(
    ("allowance", "beyond"),
    [
        ("3 mm", 1.1213 * BOARD),  # the worksheet's rule
        ("1.41421356 mm", 0),  # 0.7071 thicknesses: they just meet
        ("1 mm", math.sqrt(2) - BOARD),  # bare by 0.586 mm
    ],
)
def test_a_corner_is_covered_as_far_as_the_allowance_reaches(allowance, beyond):
    assert corner_cut(allowance) == pytest.approx(beyond, abs=1e-4)


def test_an_allowance_that_would_leave_the_corner_bare_is_refused():
    with pytest.raises(ArgumentRefused) as caught:
        part_of("wrapped-case", mitre="1.4 mm")
    assert [name for name, _ in caught.value.refusals] == ["mitre"]


def turned_in(name: str) -> tuple[list[Polygon], Polygon]:
    """Return the turn-ins of a case with no allowance, folded in, and the whole of its boards."""
    part = changed(name, 'mitre   = "mitre"', "mitre   = 0", turn_in="3/5")
    placed = poses(
        {p.name: p.outline for p in part.panels}, part.lines, part.steps, rigid=part.rigid
    )
    shapes = {
        p.name: Polygon([placed[p.name].at(q)[:2] for q in p.outline.points]) for p in part.panels
    }
    turn_ins = [shape for key, shape in shapes.items() if key.startswith("turn_in")]
    return turn_ins, unary_union([s.buffer(1e-7) for k, s in shapes.items() if "turn" not in k])


@pytest.mark.parametrize("name", WRAPPED)
def test_turn_ins_without_allowance_meet_without_gap_or_overlap(name):
    """Corners of 90, of 124 and 113, and of 60 and 150 degrees."""
    turn_ins, boards = turned_in(name)
    assert len(turn_ins) == {"wrapped-case": 4}.get(name, 6)
    border = boards.difference(boards.buffer(-0.6 * 25.4, join_style="mitre"))
    covered = unary_union(turn_ins)
    assert border.difference(covered.buffer(1e-6)).area == pytest.approx(0, abs=1e-2)
    assert sum(shape.area for shape in turn_ins) == pytest.approx(covered.area, abs=1e-6)
    assert covered.difference(border.buffer(1e-5)).area == pytest.approx(0, abs=1e-2)


def test_a_three_sided_board_has_three_corners_of_sixty_degrees_within_a_degree():
    part = part_of("three-sided-case")
    points = next(s.path for s in part.strokes if s.name == "front").points
    sides = [math.dist(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    assert max(sides) / min(sides) < 1.001


def test_the_board_of_five_sides_comes_to_its_point_in_the_middle():
    part = part_of("five-sided-case", point="13/6")
    front = next(s.path for s in part.strokes if s.name == "front").points
    box = part.panel("front").bounds()
    tip = max(front, key=lambda p: p.x)
    shoulders = sorted(p.x for p in front)[-3:-1]
    assert 2 * float(tip.y) == pytest.approx(float(box.bottom + box.top))
    assert [float(tip.x - x) for x in shoulders] == pytest.approx([13 / 6 * 25.4] * 2)


# ------------------------------------------------------------------ others


def test_the_holes_of_a_stab_cover_stand_in_a_row_beside_the_score():
    part = part_of("stab-cover", holes=5, end="2/7", inset="1/3", diameter="1/9")
    boxes = sorted(
        (hole for panel in part.panels for hole in panel.holes),
        key=lambda hole: -float(hole.points[0].y),
    )
    middles = [(sum(p.x for p in h.points) / 2, sum(p.y for p in h.points) / 2) for h in boxes]
    assert [float(x) for x, _ in middles] == pytest.approx([25.4 / 3] * 5)
    from_head = [float(part.height - y) / 25.4 for _, y in middles]
    step = (4 - 4 / 7) / 4
    assert from_head == pytest.approx([2 / 7 + i * step for i in range(5)])
    assert part.quantity == 2


@pytest.mark.parametrize(
    ("name", "arguments", "told"),
    [
        ("edge-strip", {"width": 4}, "width"),
        ("edge-strip", {"length_of_edge": 2, "corner1": 30, "corner2": 30}, "length_of_edge"),
        ("wrapped-case", {"turn_in": 2}, "turn_in"),
        ("five-sided-case", {"point": 5}, "point"),
        ("three-sided-case", {"board_width": 9}, "board_width"),
        ("stab-cover", {"inset": "3/4"}, "inset"),
        ("stab-cover", {"end": 1}, "end"),
        ("joint-wrap", {"turn_in": 3}, "turn_in"),
    ],
)
def test_a_size_that_the_case_cannot_take_is_told_at_that_size(name, arguments, told):
    with pytest.raises(ArgumentRefused) as caught:
        parts_of(name, **arguments)
    assert [n for n, _ in caught.value.refusals] == [told]
