"""Every verb of the edits on one card, with the exact places of what it leaves.

The card in millimetres: a tab over the left of two panels, in thirds and sevenths,
so that nothing comes out even by luck. All numbers are plane geometry; the verbs
are this project's own. The worked check of the notch that goes through a side
pocket is common practice with no source.
"""

import math
from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import Graft, build
from dielines.language.edit_lines import verbs
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.part import Purpose, Side

CALIPERS = {"cardstock": Fraction(2413, 10000), "reinforcing": Fraction(15, 100)}
L, R = Fraction(100, 3), Fraction(200, 7)  #: widths of the panels left and right
H, T = Fraction(80, 3), Fraction(90, 7)  #: heights of these, and of the tab over the left one
END, TOP = L + R, H + T
QUARTER = math.tan(math.pi / 8)  #: bulge of a quarter of a circle
INCH = Fraction(254, 10)
CARD = """
template = "card"
kind = "insert"
units = "mm"
[parts.card]
columns = ["100 / 3", "200 / 7"]
rows = ["90 / 7 : tab .", "80 / 3 : left right"]
edits = [%s]
folds = { "tab / left" = "mountain", "left | right" = "valley" }
"""


def third(count) -> Fraction:
    return Fraction(count, 3)


def seventh(count) -> Fraction:
    return Fraction(count, 7)


def card(*lines: str):
    return build(template_from_text(CARD % ", ".join(lines), "card.toml"), {}, CALIPERS).parts[0]


def from_lowest(path) -> list[tuple]:
    """The vertices of a ring as (x, y, bulge), from its lowest and then leftmost one on."""
    vertices = [(v.x, v.y, v.bulge) for v in path.vertices]
    first = min(range(len(vertices)), key=lambda i: (vertices[i][1], vertices[i][0]))
    return vertices[first:] + vertices[:first]


def close(found, expected) -> None:
    assert len(found) == len(expected), found
    for have, want in zip(found, expected, strict=True):
        assert [float(n) for n in have] == pytest.approx([float(n) for n in want], abs=1e-9)


def ring(part, panel: str) -> list[tuple]:
    return from_lowest(part.panel(panel).outline)


def straight(*points) -> list[tuple]:
    return [(x, y, 0) for x, y in points]


def pieces(part, key: str) -> list[tuple]:
    """The ends of each piece of a line, in order."""
    line = next(line for line in part.lines if str(line.key) == key)
    return sorted(tuple(sorted(piece.points)) for piece in line.pieces)


def circles(paths) -> list[tuple]:
    """Each path of two half circles as (middle x, middle y, diameter)."""
    found = []
    for path in paths:
        a, b = path.vertices
        assert abs(a.bulge) == abs(b.bulge) == 1
        assert a.y == b.y
        found.append(((a.x + b.x) / 2, a.y, abs(b.x - a.x)))
    return sorted(found)


# --- taper, mitre


@pytest.mark.parametrize(
    ("inset", "first", "last"),
    [('"10 / 3"', third(10), third(10)), ('["10 / 7", 0]', seventh(10), 0), ('[0, "10 / 7"]', 0, seventh(10))],
)  # fmt: skip
def test_a_taper_draws_the_far_edge_in_the_left_end_first(inset, first, last):
    found = ring(card(f'{{ taper = "tab", inset = {inset} }}'), "tab")
    assert found == straight((0, H), (L, H), (L - last, TOP), (first, TOP))


def test_tapers_that_meet_make_a_point():
    found = ring(card('{ taper = "tab", inset = "50 / 3" }'), "tab")
    assert found == straight((0, H), (L, H), (L / 2, TOP))


def test_a_taper_of_an_upright_edge_counts_from_the_top():
    part = card('{ taper = "right", from = "left", inset = ["2 / 3", "5 / 7"] }')
    assert ring(part, "right") == straight(
        (L, 0), (END, seventh(5)), (END, H - third(2)), (L, H)
    )  # fmt: skip


def test_a_taper_from_a_free_side_shortens_the_fold():
    part = card('{ taper = "tab", from = "top", inset = ["10 / 3", "5 / 7"] }')
    assert pieces(part, "tab / left") == [((third(10), H), (L - seventh(5), H))]
    assert ring(part, "left") == straight((0, 0), (L, 0), (L, H), (0, H))


def test_a_mitre_of_45_degrees_is_exact():
    found = ring(card('{ mitre = "tab", angle = 45 }'), "tab")
    assert found == straight((0, H), (L, H), (L - T, TOP), (T, TOP))
    assert all(isinstance(n, Fraction) for corner in found for n in corner)


def test_a_mitre_has_an_angle_and_a_setback_for_each_end():
    part = card('{ mitre = "tab", angle = ["square", 60], setback = ["1 / 3", "2 / 7"] }')
    run = T / math.sqrt(3)  # tan 60 degrees
    last = L - seventh(2)
    close(ring(part, "tab"), straight((third(1), H), (last, H), (last - run, TOP), (third(1), TOP)))
    assert pieces(part, "tab / left") == [((third(1), H), (last, H))]


def test_a_mitre_of_90_degrees_leaves_the_end_square():
    assert ring(card('{ mitre = "tab", angle = 90 }'), "tab") == ring(card(), "tab")


# --- clip, round, shape


def test_a_clip_goes_across_and_up_by_its_two_sizes():
    part = card('{ clip = "right", corner = "right", by = ["2 / 3", "5 / 7"] }')
    assert ring(part, "right") == straight(
        (L, 0), (END - third(2), 0), (END, seventh(5)),
        (END, H - seventh(5)), (END - third(2), H), (L, H),
    )  # fmt: skip


def test_a_clip_by_one_size_takes_a_corner_named_alone():
    part = card('{ clip = "right", corner = "top right", by = "10 / 7" }')
    cut = seventh(10)
    expected = straight((L, 0), (END, 0), (END, H - cut), (END - cut, H), (L, H))
    assert ring(part, "right") == expected


def test_a_rounded_corner_is_a_true_quarter_of_a_circle():
    r = third(10)
    found = ring(card('{ round = "right", corner = ["bottom right"], radius = "10 / 3" }'), "right")
    close(found, [(L, 0, 0), (END - r, 0, QUARTER), (END, r, 0), (END, H, 0), (L, H, 0)])
    assert found[1][:2] == (END - r, 0)
    part = card('{ round = "right", corner = ["bottom right"], radius = "10 / 3" }')
    assert (END - r, 0) in part.outline[0].points
    assert [v.bulge for v in part.outline[0].vertices if v.bulge] == [QUARTER]


def test_a_corner_of_a_mitred_tab_is_rounded_by_a_tangent_arc():
    """At 45 degrees the way turns by 45: the arc begins r tan 22.5 before, bulge tan 11.25."""
    lines = '{ mitre = "tab", angle = 45 }', '{ round = "tab", corner = "top right", radius = 2 }'
    reach = 2 * math.tan(math.pi / 8)
    along = reach / math.sqrt(2)
    close(ring(card(*lines), "tab"), [
        (0, H, 0), (L, H, 0), (L - T + along, TOP - along, math.tan(math.pi / 16)),
        (L - T - reach, TOP, 0), (T, TOP, 0),
    ])  # fmt: skip


def test_all_corners_are_rounded_unless_told():
    part = card('{ round = "tab", radius = "10 / 7" }')
    assert sum(bool(bulge) for _, _, bulge in ring(part, "tab")) == 4
    assert pieces(part, "tab / left") == [((seventh(10), H), (L - seventh(10), H))]


def test_a_shape_of_two_insets_slants_an_edge_the_left_end_first():
    part = card('{ shape = "right", edge = "top", inset = [0, "10 / 7"] }')
    assert ring(part, "right") == straight((L, 0), (END, 0), (END, H - seventh(10)), (L, H))


def test_a_shape_of_an_upright_edge_counts_from_the_top():
    part = card('{ shape = "right", edge = "right", inset = ["2 / 3", "5 / 7"] }')
    assert ring(part, "right") == straight(
        (L, 0), (END - seventh(5), 0), (END - third(2), H), (L, H)
    )


def test_a_shape_of_three_insets_is_one_arc_through_them():
    """Sagitta 10/3 over half a chord of 50/3: a bulge of 1/5, into the panel and so clockwise."""
    part = card('{ shape = "left", edge = "bottom", inset = [0, "10 / 3", 0] }')
    close(ring(part, "left"), [(0, 0, Fraction(-1, 5)), (L, 0, 0), (L, H, 0), (0, H, 0)])
    bulges = [v.bulge for v in part.outline[0].vertices if v.bulge]
    assert bulges == [pytest.approx(-0.2)]


def test_an_arc_that_stands_out_in_its_middle_is_counter_clockwise():
    part = card('{ shape = "tab", edge = "top", inset = ["20 / 7", 0, "20 / 7"] }')
    low = TOP - seventh(20)
    bulge = seventh(20) / (L / 2)
    close(ring(part, "tab"), [(0, H, 0), (L, H, 0), (L, low, bulge), (0, low, 0)])


# --- notch


def test_a_notch_is_half_round_and_in_the_middle_unless_told():
    found = ring(card('{ notch = "right", edge = "right", diameter = "50 / 7" }'), "right")
    r = seventh(25)
    assert found == [
        (L, 0, 0), (END, 0, 0), (END, H / 2 - r, -1), (END, H / 2 + r, 0), (END, H, 0), (L, H, 0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("panel", "edge", "middle"),
    [
        ("right", "right", (END, H - third(20))),
        ("right", "bottom", (L + third(20), 0)),
        ("tab", "top", (third(20), TOP)),
        ("left", "left", (0, H - third(20))),
    ],
)
def test_a_notch_stands_as_far_as_told_from_the_top_or_the_left(panel, edge, middle):
    part = card(f'{{ notch = "{panel}", edge = "{edge}", diameter = "10 / 7", at = "20 / 3" }}')
    segment = next(s for s in part.outline[0].segments() if s.bulge)
    assert segment.bulge == -1
    found = tuple((a + b) / 2 for a, b in zip(segment.start, segment.end, strict=True))
    assert found == middle
    assert math.dist(segment.start, segment.end) == pytest.approx(10 / 7)


def test_a_vee_and_a_square_notch_are_as_wide_and_deep_as_told():
    edge = 'edge = "right", width = "20 / 3", depth = "15 / 7", at = "40 / 3"'
    vee = ring(card(f'{{ notch = "right", {edge}, style = "vee" }}'), "right")
    square = ring(card(f'{{ notch = "right", {edge}, style = "square" }}'), "right")
    low, high, deep = third(30), third(50), END - seventh(15)
    rest = straight((END, H), (L, H))
    assert vee == straight((L, 0), (END, 0), (END, low), (deep, third(40)), (END, high)) + rest
    assert square == (
        straight((L, 0), (END, 0), (END, low), (deep, low), (deep, high), (END, high)) + rest
    )


@pytest.mark.parametrize("line", ['notch = "right", edge = "right"', 'hole = "left", at = [9, 9]'])
def test_what_has_a_diameter_of_0_is_not_cut(line):
    assert card(f"{{ {line}, diameter = 0 }}") == card()


# --- hole, holes, slots, window


@pytest.mark.parametrize(
    ("start", "middle"),
    [
        (None, (third(10), H - seventh(30))),
        ("bottom right", (L - third(10), seventh(30))),
        ("bottom", (third(10), seventh(30))),
        ("right", (L - third(10), H - seventh(30))),
    ],
)
def test_a_hole_is_measured_inward_from_the_corner_or_side_that_is_told(start, middle):
    told = f'from = "{start}", ' if start else ""
    part = card(f'{{ hole = "left", {told}at = ["10 / 3", "30 / 7"], diameter = "20 / 7" }}')
    assert circles(part.panel("left").holes) == [(*middle, seventh(20))]
    assert circles(part.outline[1:]) == [(*middle, seventh(20))]


def test_a_hole_from_each_corner_is_four_holes():
    part = card('{ hole = "left", from = "each corner", at = ["10 / 3", "30 / 7"], diameter = 1 }')
    x, y = third(10), seventh(30)
    assert circles(part.panel("left").holes) == sorted(
        [(x, y, 1), (L - x, y, 1), (x, H - y, 1), (L - x, H - y, 1)]
    )


def test_a_hole_in_the_middle_halves_the_panel_both_ways():
    part = card('{ hole = "right", at = ["middle", "middle"], diameter = "10 / 7" }')
    assert circles(part.panel("right").holes) == [(L + R / 2, H / 2, seventh(10))]


@pytest.mark.parametrize(
    ("told", "places"),
    [
        ('start = "10 / 3", count = 3', (third(10), third(40), third(70))),
        ('start = "10 / 7", count = 4, spacing = "20 / 3"',
         [seventh(10) + i * third(20) for i in range(4)]),
        ('count = 3, spacing = "20 / 3"', (third(20), third(40), 20)),
        ('at = ["10 / 7", "middle", "80 / 3 - 20 / 7"]', (seventh(10), third(40), H - seventh(20))),
        ('start = "10 / 7"', (seventh(10),)),
    ],
)  # fmt: skip
def test_a_row_of_holes_along_a_margin_counts_from_the_top(told, places):
    part = card(
        f'{{ holes = "left", edge = "left", inset = "20 / 7", diameter = "2 / 3", {told} }}'
    )
    expected = sorted((seventh(20), H - place, third(2)) for place in places)
    assert circles(part.panel("left").holes) == expected


def test_a_row_of_holes_along_the_bottom_counts_from_the_left():
    part = card(
        '{ holes = "right", edge = "bottom", inset = 2, diameter = 1, start = "30 / 7", count = 2 }'
    )
    assert circles(part.panel("right").holes) == [
        (L + seventh(30), 2, 1),
        (END - seventh(30), 2, 1),
    ]


def test_holes_on_a_fold_part_it_into_what_is_left_between_them():
    part = card('{ holes = "left | right", diameter = "10 / 7", start = "10 / 3", count = 3 }')
    r = seventh(5)
    middles = [third(10), third(40), third(70)]
    ends = [0, *(end for middle in middles for end in (middle - r, middle + r)), H]
    expected = [((L, a), (L, b)) for a, b in zip(ends[::2], ends[1::2], strict=True)]
    assert pieces(part, "left | right") == expected
    assert len(part.outline) == 4


def test_slots_take_every_second_length_of_a_fold_half_from_each_panel():
    part = card('{ slots = "left | right", width = "10 / 7", parts = 7 }')
    seven = [H * i / 7 for i in range(8)]
    assert pieces(part, "left | right") == [
        ((L, seven[i]), (L, seven[i + 1])) for i in (0, 2, 4, 6)
    ]
    slots = sorted(from_lowest(hole) for hole in part.outline[1:])
    half = seventh(5)
    for slot, i in zip(slots, (1, 3, 5), strict=True):
        corners = {(x, y) for x, y, _ in slot}
        assert corners == {(x, y) for x in (L - half, L + half) for y in seven[i : i + 2]}


def test_a_window_leaves_its_margins_from_the_top_clockwise():
    part = card('{ window = "left", margin = ["10 / 3", "5 / 7", "20 / 3", "10 / 7"] }')
    left, bottom, right, top = seventh(10), third(20), L - seventh(5), H - third(10)
    assert [from_lowest(hole) for hole in part.panel("left").holes] == [
        straight((left, bottom), (right, bottom), (right, top), (left, top))
    ]


def test_a_window_by_size_lies_about_its_middle_with_true_round_corners():
    part = card(
        '{ window = "left", size = ["40 / 3", "60 / 7"], at = ["middle", 10], radius = "10 / 7" }'
    )
    (hole,) = part.panel("left").holes
    left, right, r = third(30), third(70), seventh(10)
    bottom, top = H - 10 - seventh(30), H - 10 + seventh(30)
    assert [(v.x, v.y, v.bulge) for v in hole.vertices] == [
        (left + r, bottom, 0), (right - r, bottom, QUARTER), (right, bottom + r, 0),
        (right, top - r, QUARTER), (right - r, top, 0), (left + r, top, QUARTER),
        (left, top - r, 0), (left, bottom + r, QUARTER),
    ]  # fmt: skip
    assert sorted(abs(v.bulge) for v in part.outline[1].vertices) == [0] * 4 + [QUARTER] * 4


def test_one_margin_is_that_of_all_sides():
    part = card('{ window = "right", margin = "20 / 7" }')
    m = seventh(20)
    (hole,) = part.panel("right").holes
    assert from_lowest(hole) == straight((L + m, m), (END - m, m), (END - m, H - m), (L + m, H - m))


# --- cut, score, perforate, mark


@pytest.mark.parametrize(
    ("verb", "purpose", "angle"),
    [("cut", Purpose.CUT, 0), ("score", Purpose.SCORE, 180), ("perforate", Purpose.PERFORATE, 0),
     ("mark", Purpose.MARK, 0)],
)  # fmt: skip
def test_a_line_is_measured_from_the_top_left_and_knows_its_purpose(verb, purpose, angle):
    part = card(
        f'{{ {verb} = "right", line = [[1, "10 / 3"], ["20 / 7", "middle"]], name = "way" }}'
    )
    (stroke,) = part.strokes
    assert (stroke.panel, stroke.purpose, stroke.angle_deg) == ("right", purpose, angle)
    assert stroke.name == "way"
    assert stroke.path.points == ((L + 1, H - third(10)), (L + seventh(20), H / 2))
    assert not stroke.path.closed


@pytest.mark.parametrize(("fold", "angle"), [('"mountain"', -180), ("-45", -45), ('"valley"', 180)])
def test_an_extra_score_gives_the_way_that_it_says(fold, angle):
    part = card(f'{{ score = "left", line = [[1, 1], [9, 1]], fold = {fold} }}')
    assert [stroke.angle_deg for stroke in part.strokes] == [angle]


def test_a_slit_from_each_corner_is_turned_to_it():
    part = card(
        '{ cut = "left", from = "each corner", line = [["1 / 3", "15 / 7"], ["15 / 7", "1 / 3"]] }'
    )
    a, b = third(1), seventh(15)
    found = sorted(tuple(sorted(stroke.path.points)) for stroke in part.strokes)
    assert found == sorted([
        ((a, b), (b, a)), ((a, H - b), (b, H - a)), ((L - b, a), (L - a, b)),
        ((L - b, H - a), (L - a, H - b)),
    ])  # fmt: skip


@pytest.mark.parametrize(("start", "sign"), [("top left", -1), ("bottom left", 1)])
def test_a_drawn_arc_stays_one_and_turns_with_the_corner_it_is_measured_from(start, sign):
    """Three points of a half circle about (10, 5), through the side nearer to the corner."""
    line = "[[5, 5], { through = [10, 0], to = [15, 5] }]"
    part = card(f'{{ mark = "left", from = "{start}", line = {line} }}')
    (stroke,) = part.strokes
    first, last = stroke.path.vertices
    y = H - 5 if sign < 0 else 5
    assert (first.point, last.point) == ((5, y), (15, y))
    assert float(first.bulge) == pytest.approx(sign)


# --- tape, label


def test_tape_is_the_panel_less_its_inset_and_done_when_all_else_is_done():
    part = card(
        '{ tape = "tab", side = "reverse", inset = "5 / 7", onto = "left" }',
        '{ taper = "tab", inset = [0, "90 / 7"] }',
    )
    (zone,) = part.zones
    assert (zone.name, zone.panel, zone.side, zone.onto) == ("tab", "tab", Side.REVERSE, "left")
    i = seventh(5)
    # along the end cut at 45 degrees the corner moves by i tan 22.5 and i tan 67.5
    low, high = i / math.tan(math.pi / 8), i * math.tan(math.pi / 8)
    close(from_lowest(zone.path), straight(
        (i, H + i), (L - low, H + i), (L - T - high, TOP - i), (i, TOP - i)
    ))  # fmt: skip


def test_a_strip_of_tape_lies_an_inset_off_its_edge_and_is_as_wide_as_told():
    edge = 'edge = "right", inset = "2 / 3", width = "30 / 7"'
    part = card(f'{{ tape = "right", side = "face", {edge}, onto = "left" }}')
    i = third(2)
    left, right = END - i - seventh(30), END - i
    assert from_lowest(part.zones[0].path) == straight(
        (left, i), (right, i), (right, H - i), (left, H - i)
    )


def test_tape_on_several_panels_has_an_aim_for_each_and_names_of_its_own():
    part = card(
        '{ tape = ["tab", "right"], side = "reverse", edge = "bottom", width = 2, onto = ["left", "spine"] }',
        '{ tape = "tab", side = "reverse", edge = "top", width = 2, name = "far" }',
        '{ tape = "tab", side = "reverse", edge = "left", width = 2 }',
    )  # fmt: skip
    found = [(zone.name, zone.panel, zone.onto) for zone in part.zones]
    assert found == [("tab", "tab", "left"), ("right", "right", "spine"), ("far", "tab", ""),
                     ("tab2", "tab", "")]  # fmt: skip


def test_a_label_stands_in_the_middle_or_where_it_is_told():
    """Letters are taken to be six tenths as wide as high, common practice with no source."""
    middle, told = card(
        '{ label = "right", text = "fold me", height = "10 / 3" }',
        '{ label = "left", text = "a", at = ["10 / 3", "40 / 7"] }',
    ).lettering
    wide = 7 * Fraction(6, 10) * third(10)
    assert (middle.text, middle.height) == ("fold me", third(10))
    assert middle.at == (L + (R - wide) / 2, (H - third(10)) / 2)
    assert (told.panel, told.at) == ("left", (third(10), H - seventh(40)))


# --- when, repeat, several panels


def test_a_line_is_done_once_a_turn_and_only_where_its_condition_holds():
    part = card(
        '{ mark = "left", repeat = 7, when = "mod(i, 3) == 1", line = [[0, "i * 10 mm / 3"], [5, 0]] }'
    )
    assert [stroke.path.points[0].y for stroke in part.strokes] == [
        H - third(10), H - third(40), H - third(70),
    ]  # fmt: skip


def test_a_line_is_done_on_every_panel_that_it_names():
    part = card('{ hole = ["left", "right"], at = [3, 3], diameter = 1 }')
    assert circles(part.outline[1:]) == [(3, H - 3, 1), (L + 3, H - 3, 1)]
    everywhere = card('{ hole = "*", at = [3, 3], diameter = 1 }')
    assert len(everywhere.outline) == 4


# --- through the layers


def test_a_hole_goes_through_the_panel_that_lies_over_it_once_folded():
    part = card('{ hole = "left", at = [20, "20 / 3"], diameter = "10 / 7", through = ["right"] }')
    y, d = H - third(20), seventh(10)
    assert circles(part.panel("left").holes) == [(20, y, d)]
    assert circles(part.panel("right").holes) == [(2 * L - 20, y, d)]


def test_a_notch_at_the_tail_goes_through_as_one_of_the_same_kind():
    line = 'edge = "bottom", at = 20, width = "10 / 7", depth = "20 / 3", style = "vee"'
    part = card(f'{{ notch = "left", {line}, through = ["right"] }}')
    x, half = 2 * L - 20, seventh(5)
    assert ring(part, "right") == straight(
        (L, 0), (x - half, 0), (x, third(20)), (x + half, 0), (END, 0), (END, H), (L, H)
    )


def test_a_drawn_arc_goes_through_as_its_mirror_image():
    line = "[[12, 9], { through = [16, 7], to = [20, 9] }]"
    part = card(f'{{ mark = "left", line = {line}, through = ["right"] }}')
    here, there = part.strokes
    assert there.path.points == tuple((2 * L - x, y) for x, y in here.path.points)
    assert there.path.vertices[0].bulge == -here.path.vertices[0].bulge
    assert abs(float(here.path.vertices[0].bulge)) == pytest.approx(
        0.5
    )  # sagitta 2 over half a chord of 4


def test_the_thumb_notch_of_a_side_pocket_goes_through_to_its_back():
    """With a cover tab of 2 in, around (8 3/8, 6 1/2) on the front and (8 3/8, 2 1/8) on the back."""
    library = built_in_library()
    sizes = {"width": "6 1/4", "height": "4 1/4", "depth": "1/8", "seam": "1/2", "notch": "3/4"}
    graft = Graft(library.find("cover-tab"), {"tab": 2, "channel": "1/8"})
    page = build(library.find("side-pocket"), sizes, CALIPERS, graft).parts[0]
    found = {}
    for panel in page.panels:
        for a, b, bulge in panel.outline.segments():
            if bulge:
                assert bulge == -1
                found[panel.name] = ((a.x + b.x) / 2 / INCH, (a.y + b.y) / 2 / INCH)
                assert abs(b.y - a.y) == Fraction(3, 4) * INCH
    x = Fraction(67, 8)
    assert found == {"front": (x, Fraction(13, 2)), "back": (x, Fraction(17, 8))}


# --- what does not fit


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ('{ taper = "tab", inset = "101 / 6" }', "ends-overlap"),
        ('{ taper = "left", inset = 1 }', "which-side"),
        ('{ taper = "right", from = "middle", inset = 1 }', "unknown-word"),
        ('{ taper = "tab", inset = [1, 2, 3] }', "list-length"),
        ('{ mitre = "tab", angle = "181 / 2" }', "angle-range"),
        ('{ mitre = "tab", angle = 0 }', "angle-range"),
        ('{ mitre = "tab", angle = 37 }', "ends-overlap"),  # 2 x 90/7 / tan 37 = 34.1 > 33.3
        ('{ clip = "right", corner = "right", by = "201 / 7" }', "edge-too-short"),
        ('{ clip = "right", corner = "front", by = 1 }', "unknown-word"),
        ('{ round = "tab", corner = "top left", radius = 13 }', "edge-too-short"),
        ('{ round = "tab", corner = "all", radius = "46 / 7" }', "edge-too-short"),
        ('{ shape = "right", edge = "right", inset = ["200 / 7", 0] }', "too-deep-inset"),
        ('{ shape = "left", edge = "bottom", inset = [1] }', "list-length"),
        ('{ notch = "right", edge = "right", diameter = 27 }', "off-edge"),
        ('{ notch = "right", edge = "right", diameter = 4, at = "5 / 3" }', "off-edge"),
        ('{ notch = "right", edge = "right", diameter = 2, style = "oval" }', "unknown-word"),
        ('{ notch = "left", edge = "top", diameter = 60 }', "off-edge"),
        ('{ hole = "left", at = [1, 9], diameter = "15 / 7" }', "outside"),
        ('{ hole = "left", from = "edge", at = [9, 9], diameter = 1 }', "unknown-word"),
        ('{ hole = "left", at = [9], diameter = 1 }', "bad-point"),
        ('{ holes = "left", edge = "left", inset = 2, diameter = 1, count = 5, spacing = 7 }', "off-edge"),
        ('{ holes = "left", edge = "left", inset = 2, diameter = 1, start = 1, count = 5, spacing = 7 }', "off-edge"),
        ('{ holes = "tab | right", diameter = 1, at = [1] }', "no-contact"),
        ('{ slots = "left | right", width = 1, parts = 0 }', "out-of-range"),
        ('{ slots = "left | right", width = 1, parts = "7 / 2" }', "not-whole"),
        ('{ window = "left", margin = "40 / 3" }', "no-window"),
        ('{ window = "left", margin = 2, size = [3, 3] }', "which-size"),
        ('{ window = "left" }', "which-size"),
        ('{ window = "left", size = [6, "20 / 7"], radius = "11 / 7" }', "too-large"),
        ('{ window = "left", size = [34, 3], at = ["middle", "middle"] }', "outside"),
        ('{ cut = "left", line = [[1, 1], [34, 1]] }', "outside"),
        ('{ mark = "left", line = [[1, 1], [1, 1]] }', "bad-point"),
        ('{ mark = "left", line = [[1, 1], { through = [2, 1], to = [1, 1] }] }', "bad-arc"),
        ('{ score = "left", line = [[1, 1], [3, 1]], fold = 181 }', "angle-range"),
        ('{ tape = "tab", side = "reverse", inset = "45 / 7" }', "no-zone"),
        ('{ tape = "tab", side = "reverse", edge = "left" }', "which-size"),
        ('{ tape = "tab", side = "reverse", onto = "lefft" }', "no-panel"),
        ('{ tape = "left", side = "face", inset = 1, onto = "right" }', "off-target"),
        ('{ tape = ["tab", "right"], side = "reverse", inset = 1, onto = ["left"] }', "list-length"),
        ('{ label = "left", text = "' + "a" * 81 + '" }', "too-long"),
        ('{ hole = "left", at = [3, 3], diameter = 1, through = ["right"] }', "not-over"),
        ('{ notch = "left", edge = "left", diameter = 3, through = ["right"] }', "not-over"),
        ('{ hole = "left", at = [20, 9], diameter = 1, through = ["write"] }', "no-panel"),
        ('{ hole = "lefft", at = [20, 9], diameter = 1 }', "no-panel"),
        ('{ hole = "left", at = [9, 9], diameter = -1 }', "negative"),
    ],
)  # fmt: skip
def test_an_edit_that_does_not_fit_is_told_with_its_line(line, code):
    with pytest.raises(TemplateError) as caught:
        card(line)
    assert [fault.code for fault in caught.value.faults] == [code]
    assert caught.value.faults[0].line == 8


@pytest.mark.parametrize(
    ("before", "after", "code"),
    [
        ('{ shape = "right", edge = "right", inset = [0, 5, 0] }',
         '{ notch = "right", edge = "right", diameter = 4 }', "curved-edge"),
        ('{ notch = "right", edge = "right", diameter = 4 }',
         '{ shape = "right", edge = "right", inset = [1, 1] }', "cut-edge"),
        ('{ hole = "tab", at = [3, 3], diameter = 2 }', '{ taper = "tab", inset = 9 }', "cut-off"),
        ('{ hole = "left", at = [9, 9], diameter = 4 }',
         '{ hole = "left", at = [11, 9], diameter = 4 }', "outside"),
        ('{ window = "tab", margin = 2 }',
         '{ tape = "tab", side = "reverse", inset = "1 / 3" }', "holed-zone"),
        ('{ taper = "tab", inset = "50 / 3" }',
         '{ notch = "tab", edge = "top", diameter = 1 }', "no-edge"),
    ],
)  # fmt: skip
def test_an_edit_that_does_not_fit_what_was_done_before_is_told(before, after, code):
    card(before)
    with pytest.raises(TemplateError) as caught:
        card(before, after)
    assert [fault.code for fault in caught.value.faults] == [code]
    assert ".edits[2]" in caught.value.faults[0].field


def test_all_edits_that_do_not_fit_are_told_at_once():
    with pytest.raises(TemplateError) as caught:
        card('{ taper = "tab", inset = 17 }', '{ hole = "tab", at = [0, 0], diameter = 1 }',
             '{ mark = "tab", line = [[1, 1], [2, 2]] }', '{ window = "tab", margin = 7 }')  # fmt: skip
    assert [fault.code for fault in caught.value.faults] == ["ends-overlap", "outside", "no-window"]


@pytest.mark.parametrize(
    "line",
    ['{ hole = "left", notch = "left", edge = "left", at = [1, 1], diameter = 1 }', "{ inset = 3 }",
     '{ hoel = "left", at = [1, 1], diameter = 1 }'],
)  # fmt: skip
def test_a_line_of_two_verbs_or_none_is_told(line):
    with pytest.raises(TemplateError) as caught:
        card(line)
    assert [fault.code for fault in caught.value.faults] == ["no-verb"]


def test_no_verb_is_also_a_field_of_another_one():
    fields = {field.name for verb in verbs().values() for field in verb.FIELDS}
    assert fields & set(verbs()) == set()
