"""What only whole parts show: one face under two names, arcs that meet, panels that vanish.

All of it is this project's own language; areas are plane geometry.
"""

import math
from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import Graft, build, build_fragment
from dielines.language.template import template_from_text
from dielines.paths import signed_area
from dielines.poses import poses

CALIPERS = {"cardstock": Fraction(2413, 10000), "reinforcing": Fraction(15, 100)}
HEAD = 'template = "leaf"\nkind = "page"\nunits = "mm"\n'
FRAGMENT = """
template = "hold"
kind = "edge"
units = "mm"
[parameters]
room = { type = "length", default = 7 }
[parts.edge]
columns = [30, "room", 10]
rows = ["length : tab channel page"]
folds = { "* | *" = "if(room > 0, -90, -180)" }
[parts.backing]
stock = "reinforcing"
covers = ["tab", "channel"]
lap = { page = 5 }
"""


def page(text: str):
    return build(template_from_text(HEAD + text, "leaf.toml"), {}, CALIPERS).parts[0]


@pytest.mark.parametrize("rule", ["none", "perforate"])
def test_panels_of_one_face_still_hang_together_in_the_finished_part(rule):
    part = page(f"""[parts.page]
bound = "leaf left"
columns = [100, 20]
rows = ["40 : leaf tab"]
folds = {{ "leaf | tab" = "{rule}" }}""")
    panels = {panel.name: panel.outline for panel in part.panels}
    assert set(poses(panels, part.lines, part.steps, rigid=part.rigid)) == {"leaf", "tab"}


def test_two_rounded_corners_that_meet_are_both_arcs_of_the_panel():
    part = page("""[parts.page]
columns = [100]
rows = ["40 : leaf"]
edits = [{ round = "leaf", corner = "right", radius = 20 }]""")
    half_circle_less_square = 20 * 20 * math.pi / 2 - 20 * 40
    expected = pytest.approx(100 * 40 + half_circle_less_square, abs=1e-9)
    assert signed_area(part.panels[0].outline) == expected
    assert signed_area(part.outline[0]) == expected


def test_a_rounded_corner_at_the_tail_leaves_all_other_places_exact():
    part = page("""[parts.page]
bound = "leaf left"
columns = [100]
rows = ["100 / 7 : leaf", "100 / 3 : flap"]
edits = [{ round = "flap", corner = "bottom", radius = "100 / 9" }]
folds = { "leaf / flap" = 90 }""")
    assert part.lines[0].pieces[0].points == ((0, Fraction(100, 3)), (100, Fraction(100, 3)))
    assert isinstance(part.lines[0].pieces[0].points[0].y, Fraction)
    assert part.bound.start.y == Fraction(100, 3) + Fraction(100, 7)


def test_what_covers_a_panel_that_vanishes_covers_the_rest():
    fragment = template_from_text(FRAGMENT, "hold.toml")
    wide = build_fragment(Graft(fragment), Fraction(50), CALIPERS)[1]
    flat = build_fragment(Graft(fragment, {"room": 0}), Fraction(50), CALIPERS)[1]
    assert (wide.width, flat.width) == (42, 35)


def test_what_covers_a_panel_that_nobody_speaks_of_is_a_fault():
    fragment = template_from_text(FRAGMENT.replace('"tab", "channel"]', '"tab", "chanel"]'), "x")
    with pytest.raises(TemplateError) as caught:
        build_fragment(Graft(fragment), Fraction(50), CALIPERS)
    assert [fault.code for fault in caught.value.faults] == ["no-panel"]


SLOTTED = """[parts.page]
bound = "leaf left"
columns = [30, 20]
rows = ["70 : leaf turn"]
folds = {{ "leaf | turn" = "valley" }}
edits = [
  {{ slots = "leaf | turn", width = "100 / 7", parts = 7, which = "{which}" }},
  {{ tape = "turn", side = "face", edge = "right", inset = 1, width = 3 }},
]"""


@pytest.mark.parametrize(("which", "count"), [("even", 3), ("odd", 4)])
def test_slots_may_begin_at_the_end_of_a_fold(which, count):
    part = page(SLOTTED.format(which=which))
    slot = 10 * Fraction(100, 7)
    assert signed_area(part.outline[0]) + sum(map(signed_area, part.outline[1:])) == (
        50 * 70 - count * slot
    )
    assert sum(signed_area(panel.outline) for panel in part.panels) == 50 * 70 - count * slot
    assert len(part.lines[0].pieces) == 7 - count


@pytest.mark.parametrize("depth", [20, 21, 400])
def test_a_cut_that_reaches_the_other_side_of_its_panel_is_told(depth):
    with pytest.raises(TemplateError) as caught:
        page(f"""[parts.page]
columns = [100, 20]
rows = ["40 : leaf tab"]
edits = [{{ notch = "tab", edge = "right", style = "square", width = 10, depth = {depth} }}]
folds = {{ "leaf | tab" = 90 }}""")
    assert [fault.code for fault in caught.value.faults] == ["cut-through"]


def test_a_cut_that_stops_a_hair_before_the_other_side_is_made():
    part = page("""[parts.page]
columns = [100, 20]
rows = ["40 : leaf tab"]
edits = [{ notch = "tab", edge = "right", style = "square", width = 10, depth = "20 - 1/7" }]
folds = { "leaf | tab" = 90 }""")
    assert signed_area(part.outline[0]) == 120 * 40 - 10 * (20 - Fraction(1, 7))
