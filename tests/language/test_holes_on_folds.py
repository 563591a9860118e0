"""Holes along a fold, and what a fragment of kind fold knows of the fold it works on.

All of it is this project's own language; areas are plane geometry.
"""

import math
from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import ArgumentRefused, Graft, build
from dielines.language.template import template_from_text
from dielines.paths import bounds_of, signed_area

CALIPERS = {"cardstock": Fraction(2413, 10000)}
SHEETS = {
    "left | right": 'columns = [50, "170 / 3"]\nrows = ["80 : left right"]',
    "upper / lower": 'columns = [80]\nrows = ["170 / 3 : upper", "50 : lower"]',
}
STATIONS = """
template = "stations"
kind = "fold"
units = "mm"
edits = [{ holes = "bound", diameter = 1, at = ["end", "length - end / 3"] }]
[parameters]
end = { type = "length", default = "length / 7", max = "length / 2" }
"""


def sheet(fold: str, edits: str = ""):
    text = f"""template = "sheet"
kind = "page"
units = "mm"
[parts.sheet]
bound = "{fold}"
{SHEETS[fold]}
edits = [{edits}]
folds = {{ "{fold}" = "valley" }}"""
    return template_from_text(text, "sheet.toml")


@pytest.mark.parametrize("fold", SHEETS)
def test_a_hole_on_a_fold_is_a_full_circle_half_of_it_in_each_panel(fold):
    edits = f'{{ holes = "{fold}", diameter = "20 / 3", at = [20, "140 / 3"] }}'
    part = build(sheet(fold, edits), {}, CALIPERS).parts[0]
    circle = math.pi * (10 / 3) ** 2
    holes = part.outline[1:]
    assert [float(-signed_area(hole)) for hole in holes] == pytest.approx([circle, circle])
    whole = 80 * (50 + 170 / 3)
    areas = [float(signed_area(panel.outline)) for panel in part.panels]
    assert sum(areas) == pytest.approx(whole - 2 * circle)
    assert sorted(areas) == pytest.approx([80 * 50 - circle, 80 * 170 / 3 - circle])
    assert len(part.lines[0].pieces) == 3


def test_a_fragment_on_a_fold_knows_how_long_the_fold_is():
    part = build(sheet("left | right"), {}, CALIPERS, Graft(template_from_text(STATIONS))).parts[0]
    middles = [bounds_of([hole]) for hole in part.outline[1:]]
    from_head = sorted(80 - (box.bottom + box.top) / 2 for box in middles)
    assert [float(y) for y in from_head] == pytest.approx([80 / 7, 80 - 80 / 21])
    assert part.graft.template == "stations"
    assert {name: size.mm for name, size in part.graft.parameters.items()} == {
        "end": Fraction(80, 7)
    }


def test_a_size_that_does_not_suit_the_fold_is_told_at_that_size():
    graft = Graft(template_from_text(STATIONS), {"end": "41 mm"})
    with pytest.raises(ArgumentRefused) as caught:
        build(sheet("left | right"), {}, CALIPERS, graft)
    assert [(name, refusal.code) for name, refusal in caught.value.refusals] == [
        ("end", "out-of-range")
    ]


def test_a_station_beyond_the_end_of_the_fold_is_told():
    graft = Graft(template_from_text(STATIONS.replace("length - end / 3", "length + 1")))
    with pytest.raises(TemplateError) as caught:
        build(sheet("left | right"), {}, CALIPERS, graft)
    assert [fault.code for fault in caught.value.faults] == ["off-edge"]
