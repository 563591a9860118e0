"""Zones of tape that nothing is left of; plane geometry."""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.paths import signed_area

#: a frame 2 mm wide; its sizes leave a hair of rounding between an inset of 1 from both its edges
FRAME = """
template = "frame"
kind = "insert"
units = "mm"
[parts.frame]
columns = ["100 / 3"]
rows = ["90 / 7 : frame", "80 / 3 : foot"]
edits = [
  {{ window = "frame", margin = 2 }},
  {{ tape = "frame", side = "reverse", {zone} }},
]
folds = {{ "frame / foot" = "mountain" }}
"""


def frame(zone: str):
    template = template_from_text(FRAME.format(zone=zone), "frame.toml")
    return build(template, {}, {"cardstock": Fraction(1, 4)}).parts[0]


@pytest.mark.parametrize(
    ("zone", "code"),
    [
        ("inset = 1", "no-zone"),
        ('inset = 1, edge = "right", width = 5', "no-zone"),
        ('inset = "1 / 3"', "holed-zone"),
    ],
)
def test_a_zone_of_which_nothing_or_a_frame_is_left_is_told(zone, code):
    with pytest.raises(TemplateError) as caught:
        frame(zone)
    assert [fault.code for fault in caught.value.faults] == [code]


def test_a_strip_along_the_slant_of_an_arc_is_a_zone():
    """Arcs become chords in a zone, whichever way round these run."""
    text = FRAME.format(zone='edge = "bottom", inset = 1, width = 2').replace(
        '{ window = "frame", margin = 2 }', '{ shape = "frame", edge = "top", inset = [2, 0, 2] }'
    )
    (zone,) = build(template_from_text(text), {}, {"cardstock": Fraction(1, 4)}).parts[0].zones
    assert abs(float(signed_area(zone.path))) == pytest.approx(2 * (100 / 3 - 2))
