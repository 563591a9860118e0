"""Cuts that go through named layers once folded, mapped to the right place and refused elsewhere.

The place on the pocket's back is common practice, worked out by hand; the rest is
this project's own language.
"""

import math
from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import Graft, build
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.paths import bounds_of, signed_area

INCH = Fraction(254, 10)
CALIPERS = {"cardstock": Fraction(2, 7), "reinforcing": Fraction(1, 7)}
F = Fraction
POCKET = """template = "pocket"
kind = "page"
units = "mm"
[parts.page]
columns = ["200 / 3"]
rows = ["12 : seam", "10 / 3 : head", "50 : front", "10 / 3 : tail", "50 : back"]
edits = [{edit}]
[parts.page.folds]
"* / *" = -90
"""


def pocket(edit: str):
    return build(template_from_text(POCKET.replace("{edit}", edit)), {}, CALIPERS).parts[0]


def refused(edit: str) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        pocket(edit)
    return [fault.code for fault in caught.value.faults]


def middle(path) -> tuple[float, float]:
    box = bounds_of([path])
    return float(box.left + box.right) / 2, float(box.bottom + box.top) / 2


def notches(part, panel: str) -> list[tuple[float, float, float]]:
    """Return the middle of each arc's chord, with its bulge."""
    return [
        (float(s.start.x + s.end.x) / 2, float(s.start.y + s.end.y) / 2, float(s.bulge))
        for s in part.panel(panel).outline.segments()
        if s.bulge
    ]


def test_a_thumb_notch_on_the_front_lands_at_the_same_height_of_the_back():
    library = built_in_library()
    sizes = {"width": "6 1/4 in", "height": "4 1/4 in", "depth": "1/8 in"}
    page = build(library.find("side-pocket"), sizes, CALIPERS, Graft(library.find("cover-tab")))
    part = page.part("page")
    right = INCH * 67 / 8
    assert notches(part, "front") == [(float(right), float(INCH * 13 / 2), -1.0)]
    assert notches(part, "back") == [(float(right), float(INCH * 17 / 8), -1.0)]
    radius = float(INCH * 3 / 8)
    cut = [Fraction(25, 4) * Fraction(17, 4) * INCH**2 - signed_area(part.panel(n).outline)
           for n in ("front", "back")]  # fmt: skip
    assert [float(area) for area in cut] == pytest.approx([math.pi * radius**2 / 2] * 2)


def test_a_hole_goes_through_to_its_mirror_image_across_the_folds():
    part = pocket('{ hole = "front", at = ["20 / 3", 7], diameter = 3, through = ["back"] }')
    (front,), (back,) = part.panel("front").holes, part.panel("back").holes
    # front spans 53 1/3 to 103 1/3 mm above the lowest edge, the back lies folded up behind it
    assert middle(front) == pytest.approx((20 / 3, 160 / 3 + 43))
    assert middle(back) == pytest.approx((20 / 3, 50 - 43))


def test_a_line_with_an_arc_goes_through_as_a_true_arc():
    part = pocket(
        '{ cut = "front", line = [[9, 9], { through = [12, 12], to = [15, 9] }], through = ["back"] }'
    )
    first, second = part.strokes
    assert [stroke.panel for stroke in part.strokes] == ["front", "back"]
    bulges = [float(stroke.path.vertices[0].bulge) for stroke in part.strokes]
    assert bulges == pytest.approx([bulges[0], -bulges[0]])
    ends = [[float(y) for _, y in stroke.path.points] for stroke in (first, second)]
    assert ends[0] == pytest.approx([160 / 3 + 41] * 2)
    assert ends[1] == pytest.approx([50 - 41] * 2)


def test_several_layers_and_a_pattern_are_gone_through():
    text = """template = "pleat"
kind = "insert"
units = "mm"
[parts.strip]
columns = [{ repeat = 4, columns = [30] }]
rows = ["40 : ( leaf# )"]
edits = [{ notch = "leaf1", edge = "top", diameter = "20 / 3", at = 9, through = ["leaf2", "leaf3*", "leaf4"] }]
[parts.strip.folds]
"* | *" = "valley"
"leaf2 | leaf3" = "mountain"
"""
    part = build(template_from_text(text), {}, CALIPERS).parts[0]
    places = [notches(part, f"leaf{i}")[0][0] for i in (1, 2, 3, 4)]
    assert places == pytest.approx([9, 51, 69, 111])
    assert all(notches(part, f"leaf{i}")[0][1:] == (40.0, -1.0) for i in (1, 2, 3, 4))


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        # the gusset stands upright on the front
        ('{ hole = "front", at = [9, 9], diameter = 3, through = ["tail"] }', "not-over"),
        # the seam lies over the back, not over the middle of the front
        ('{ hole = "front", at = [9, 25], diameter = 3, through = ["seam"] }', "not-over"),
        # half over the seam's edge
        ('{ hole = "front", at = [9, 12], diameter = 3, through = ["seam"] }', "not-over"),
        ('{ notch = "front", edge = "right", diameter = 3, at = 9, through = ["bck"] }', "no-panel"),
        ('{ notch = "front", edge = "right", diameter = 3, at = 9, through = [["back"]] }', "wrong-kind"),
    ],
)  # fmt: skip
def test_a_layer_that_does_not_lie_there_is_refused(edit, code):
    assert refused(edit) == [code]


def test_a_hole_that_lies_over_the_seam_goes_through_it_as_well():
    part = pocket('{ hole = "front", at = [9, 6], diameter = 3, through = ["back", "seam"] }')
    # the seam is folded down behind the front's head: 6 mm below its top is 6 mm above its fold
    assert middle(part.panel("seam").holes[0]) == pytest.approx((9, 320 / 3 + 6))
    assert middle(part.panel("back").holes[0]) == pytest.approx((9, 6))


def test_layers_are_where_the_declared_angles_bring_them():
    leaning = POCKET.replace('"* / *" = -90', '"* / *" = -90\n"tail / back" = -80')
    text = leaning.replace(
        "{edit}", '{ hole = "front", at = [9, 9], diameter = 3, through = ["back"] }'
    )
    with pytest.raises(TemplateError) as caught:
        build(template_from_text(text), {}, CALIPERS)
    assert [fault.code for fault in caught.value.faults] == ["not-over"]
