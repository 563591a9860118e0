"""Edits leave panels whole: nothing outside, nothing cut off, tips and tape where they belong.

All of it is this project's own language; numbers are plane geometry.
"""

import math
from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.paths import bounds_of, signed_area

CALIPERS = {"cardstock": Fraction(2, 7)}
F = Fraction
#: a leaf of 60 x 40 with a tab of 20 x 40 at its left and one of 60 x 15 below
SHEET = """template = "sheet"
kind = "page"
units = "mm"
[parts.sheet]
columns = [20, 60]
rows = ["40 : tab leaf", "15 : . foot"]
edits = [
{edits}
]
[parts.sheet.folds]
"tab | leaf" = "valley"
"leaf / foot" = "valley"
"""


def sheet(*edits: str):
    text = SHEET.replace("{edits}", ",\n".join(edits))
    return build(template_from_text(text, "sheet.toml"), {}, CALIPERS).parts[0]


def refused(*edits: str) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        sheet(*edits)
    return [fault.code for fault in caught.value.faults]


def outline(part, panel: str) -> list[tuple]:
    """Return the corners of a panel counter-clockwise, with their bulges where they have one."""
    path = part.panel(panel).outline
    return ring([(v.x, v.y, v.bulge) if v.bulge else (v.x, v.y) for v in path.vertices])


def ring(corners: list[tuple]) -> list[tuple]:
    """Return *corners* from the lowest one on, of several the leftmost."""
    first = corners.index(min(corners, key=lambda corner: (corner[1], corner[0])))
    return corners[first:] + corners[:first]


def middles(part, panel: str) -> list[tuple[float, float]]:
    """Return the middle of each hole of a panel."""
    boxes = [bounds_of([hole]) for hole in part.panel(panel).holes]
    return [(float(b.left + b.right) / 2, float(b.bottom + b.top) / 2) for b in boxes]


def area(part, panel: str):
    found = part.panel(panel)
    return signed_area(found.outline) - sum(abs(signed_area(hole)) for hole in found.holes)


def test_a_tip_can_be_rounded_by_either_of_its_names():
    expected = None
    for corner in ('"left"', '"top left"', '["bottom left", "top left"]'):
        part = sheet(
            '{ taper = "tab", inset = 20 }', f'{{ round = "tab", corner = {corner}, radius = 3 }}'
        )
        found = outline(part, "tab")
        assert len(found) == 4
        expected = expected or found
        assert found == expected
    # the sides lean 45 degrees, so the arc is a quarter and begins 3 mm before the tip
    arc = next(corner for corner in expected if len(corner) == 3)
    assert arc[2] == pytest.approx(math.tan(math.pi / 8))
    # and the arc stands 3 * (sqrt(2) - 1) in from where the tip was: there the part begins now
    begins = 3 / math.sqrt(2) - 3 * (math.sqrt(2) - 1)
    assert min(corner[0] for corner in expected) == pytest.approx(begins, abs=1e-6)


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        ('{ mitre = "foot", angle = [45, 45, 45] }', "list-length"),
        ('{ mitre = "foot", angle = 91 }', "angle-range"),
        ('{ mitre = "foot", angle = 0 }', "angle-range"),
        ('{ mitre = "tab", angle = 30 }', "ends-overlap"),
        ('{ mitre = "foot", angle = "7 mm" }', "wrong-kind"),
    ],
)
def test_a_mitre_that_cannot_be_is_told(edit, code):
    assert refused(edit) == [code]


def test_a_clip_larger_than_its_edge_is_told():
    assert refused('{ clip = "foot", corner = "bottom left", by = [1, 16] }') == ["edge-too-short"]
    assert refused('{ clip = "foot", corner = "left", by = [1, 8] }') == ["edge-too-short"]
    assert refused('{ clip = "foot", corner = "lower", by = 1 }') == ["unknown-word"]
    assert refused('{ taper = "foot", inset = [1, 0] }', '{ clip = "foot", corner = "bottom", by = 1 }',
                   '{ clip = "foot", corner = "bottom left", by = 1 }') == ["no-corner"]  # fmt: skip


def test_a_rounded_corner_of_a_tapered_panel_touches_both_edges():
    part = sheet(
        '{ taper = "tab", inset = 10 }', '{ round = "tab", corner = "top left", radius = 3 }'
    )
    (index, start), *more = [
        (i, v) for i, v in enumerate(part.panel("tab").outline.vertices) if v.bulge
    ]
    assert more == []
    # the slanted edge leans atan(10 / 20) from level, so the way turns by 90 degrees less that
    turn = math.pi / 2 - math.atan2(10, 20)
    assert float(start.bulge) == pytest.approx(math.tan(turn / 4))
    reach = 3 * math.tan(turn / 2)
    end = part.panel("tab").outline.vertices[(index + 1) % 5]
    assert (float(end.x), float(end.y)) == pytest.approx((0, 45 - reach))
    assert math.dist((float(start.x), float(start.y)), (0, 45)) == pytest.approx(reach)


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        ('{ shape = "foot", edge = "bottom", inset = [15, 0] }', "too-deep-inset"),
        ('{ shape = "foot", edge = "bottom", inset = [0] }', "list-length"),
        ('{ shape = "foot", edge = "bottom", inset = [14, 0, 0, 14] }', "list-length"),
        ('{ shape = "foot", edge = "bottom", inset = [0, "60 - 60 + 14.9", 0] }', None),
        # an arc fuller than a half circle would bulge out of the panel
        ('{ shape = "tab", edge = "bottom", inset = [25, 0, 25] }', "cut-through"),
    ],
)
def test_an_edge_that_would_leave_its_panel_is_told(edit, code):
    if code is None:
        assert sheet(edit)
    else:
        assert refused(edit) == [code]


def test_a_notch_over_a_hole_is_told_at_the_notch():
    hole = '{ hole = "foot", from = "bottom", at = ["middle", 4], diameter = 4 }'
    assert refused(hole, '{ notch = "foot", edge = "bottom", diameter = 6 }') == ["cut-off"]
    assert sheet(hole, '{ notch = "foot", edge = "bottom", diameter = 3 }')


@pytest.mark.parametrize(
    ("edits", "code"),
    [
        (['{ hole = "foot", at = [1, 5], diameter = "15 / 7" }'], "outside"),
        (['{ hole = "foot", at = [5, 5], diameter = 4 }', '{ hole = "foot", at = [8, 5], diameter = 4 }'], "outside"),
        (['{ hole = "foot", at = [8], diameter = 4 }'], "bad-point"),
        (['{ hole = "foot", at = [8, "3 * 3 * 1"], diameter = 4, from = "corner" }'], "unknown-word"),
        # inside the rectangle that the panel was, outside the taper that it is
        (['{ taper = "foot", inset = [40, 0] }', '{ hole = "foot", at = [5, 12], diameter = 4 }'], "outside"),
        (['{ hole = "foot", at = [5, 12], diameter = 4 }', '{ taper = "foot", inset = [40, 0] }'], "cut-off"),
    ],
)  # fmt: skip
def test_a_hole_that_is_not_wholly_inside_is_told(edits, code):
    assert refused(*edits) == [code]


def test_a_window_with_rounded_corners_keeps_true_arcs():
    part = sheet('{ window = "leaf", margin = 5, radius = 4 }')
    (hole,) = part.panel("leaf").holes
    assert len(hole.vertices) == 8
    assert sum(bool(vertex.bulge) for vertex in hole.vertices) == 4
    assert abs(signed_area(hole)) == pytest.approx(50 * 30 - 16 * (4 - math.pi))
    (round_hole,) = sheet('{ window = "leaf", size = [30, 30], radius = 15 }').panel("leaf").holes
    assert len(round_hole.vertices) == 4
    assert abs(signed_area(round_hole)) == pytest.approx(math.pi * 15**2)


def test_a_line_that_leaves_its_panel_is_told():
    assert refused('{ cut = "foot", line = [[1, 1], [1, "15 + 1/7"]] }') == ["outside"]
    assert refused('{ cut = "foot", line = [[1, 1], [1, 1]] }') == ["bad-point"]
    assert refused('{ cut = "foot", line = [{ through = [1, 1], to = [2, 2] }, [1, 2]] }') == [
        "bad-point"
    ]
    assert refused('{ mark = "foot", line = [[1, 1], [5, 5]], name = "a b" }') == ["bad-name"]


def test_tape_follows_a_tapered_panel_at_an_even_distance():
    part = sheet('{ tape = "tab", side = "face", inset = 1 }', '{ taper = "tab", inset = 10 }')
    zone = part.zones[0].path
    xs = sorted({round(float(p.x), 9) for p in zone.points})
    assert xs == [1, 19]
    # the slanted edges rise 1 in 2; the zone's corners stand 1 mm off both their edges
    slant = math.hypot(20, 10) / 20
    y_at_19 = 15 + 0.5 * 1 + slant
    assert min(float(p.y) for p in zone.points if p.x > 10) == pytest.approx(y_at_19)


def test_tape_is_cut_to_what_other_edits_leave_whatever_their_order():
    before = sheet(
        '{ tape = "foot", side = "face", inset = 1 }',
        '{ shape = "foot", edge = "right", inset = [7, 7] }',
    )
    after = sheet(
        '{ shape = "foot", edge = "right", inset = [7, 7] }',
        '{ tape = "foot", side = "face", inset = 1 }',
    )
    assert before.zones == after.zones
    assert bounds_of([before.zones[0].path]).right == 72


def test_tape_keeps_off_a_notch():
    part = sheet(
        '{ notch = "foot", edge = "bottom", diameter = 6 }',
        '{ tape = "foot", side = "face", inset = 1 }',
    )
    zone = part.zones[0].path
    assert float(abs(signed_area(zone))) == pytest.approx(
        58 * 13 - math.pi * 16 / 2 + _sliver(), abs=0.2
    )


def _sliver() -> float:
    """Return the part of a circle of 4 mm about the notch's middle that lies below the inset, 1 mm."""
    half = math.acos(1 / 4)
    return math.pi * 16 / 2 - (16 * half - 4 * math.sin(half) * 1)


def test_a_label_stands_in_the_middle_unless_told_otherwise():
    part = sheet(
        '{ label = "leaf", text = "cover", height = "10 / 3" }',
        '{ label = "foot", text = "x", at = [3, 4] }',
    )
    first, second = part.lettering
    width = 5 * F(6, 10) * F(10, 3)
    assert first.at == (50 - width / 2, 35 - F(5, 3))
    assert (second.panel, second.at, second.height) == ("foot", (23, 11), 3)
    assert refused('{ label = "leaf", text = "a\\nb" }') == ["bad-character"]
    assert refused(f'{{ label = "leaf", text = "{"a" * 81}" }}') == ["too-long"]


def test_a_pattern_names_all_panels_that_begin_so():
    part = sheet('{ clip = "*", corner = "top left", by = 1 }')
    assert [area(part, name) for name in ("tab", "leaf", "foot")] == [
        800 - F(1, 2), 2400 - F(1, 2), 900 - F(1, 2),
    ]  # fmt: skip
    assert refused('{ clip = "lid*", corner = "top left", by = 1 }') == ["no-panel"]


def test_an_edit_that_parts_the_sheet_is_told():
    trim = '{ shape = "foot", edge = "top", inset = [1, 1] }'
    assert refused(trim) == ["falls-apart"]


def test_a_strip_of_tape_that_a_notch_parts_is_told():
    notch = '{ notch = "foot", edge = "bottom", diameter = 12 }'
    strip = '{ tape = "foot", side = "face", edge = "bottom", width = %s }'
    assert refused(notch, strip % 3) == ["parted-zone"]
    (zone,) = sheet(notch, strip % 7).zones
    whole_less_notch = 60 * 7 - math.pi * 36 / 2
    assert float(signed_area(zone.path)) == pytest.approx(whole_less_notch, abs=0.1)


def test_cuts_from_both_sides_that_cross_are_told():
    vee = '{ notch = "foot", edge = "%s", style = "vee", width = 8, depth = %s, at = 30 }'
    assert refused('{ notch = "tab", edge = "left", diameter = 6 }', vee % ("bottom", 9),
                   '{ notch = "foot", edge = "right", style = "square", width = 1, depth = 31 }') == ["cut-through"]  # fmt: skip
    assert sheet(
        vee % ("bottom", 9),
        '{ notch = "foot", edge = "right", style = "square", width = 1, depth = 25 }',
    )


def test_a_panel_that_an_edit_leaves_hanging_on_a_slit_falls_off():
    text = """template = "sheet"
kind = "page"
units = "mm"
[parts.sheet]
columns = [20, 20]
rows = ["10 : a a", "10 : b c"]
edits = [{{ taper = "c", from = "right", inset = [0, {last}] }}]
[parts.sheet.folds]
"a / b" = 90
"a / c" = "slit"
"b | c" = 90
"""
    part = build(template_from_text(text.format(last=9)), {}, CALIPERS).parts[0]
    fold = next(line for line in part.lines if str(line.key) == "b | c")
    assert [tuple(piece.points) for piece in fold.pieces] == [((20, 9), (20, 10))]
    with pytest.raises(TemplateError) as caught:
        build(template_from_text(text.format(last=10)), {}, CALIPERS)
    assert [fault.code for fault in caught.value.faults] == ["falls-apart"]


@pytest.mark.parametrize(
    "edits",
    [
        ['{ window = "foot", margin = 0 }'],
        ['{ window = "foot", margin = [0, 5, 5, 5] }'],
        ['{ hole = "foot", at = ["7 / 3", 7], diameter = "14 / 3" }'],
        ['{ window = "leaf", size = [10, 10], at = [10, 10] }', '{ window = "leaf", size = [10, 10], at = [20, 10] }'],
        ['{ window = "leaf", size = [20, 20], at = [15, 15] }', '{ hole = "leaf", at = [15, 15], diameter = 2 }'],
        ['{ hole = "leaf", at = [15, 15], diameter = 2 }', '{ window = "leaf", size = [20, 20], at = [15, 15] }'],
    ],
)  # fmt: skip
def test_a_hole_leaves_paper_all_around_it(edits):
    assert refused(*edits) == ["outside"]


def test_holes_may_come_as_near_as_one_likes():
    near = ['{ hole = "foot", at = ["7 / 3 + 1/1000", 7], diameter = "14 / 3" }',
            '{ hole = "foot", at = ["21 / 3 + 1/500", 7], diameter = "14 / 3" }']  # fmt: skip
    assert len(sheet(*near).panel("foot").holes) == 2
