"""Zones of tape that nothing is left of; plane geometry."""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.paths import bounds_of, signed_area

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
        ('inset = "1 / 7", edge = "right", width = 2', "holed-zone"),
        ('inset = 7, edge = "right", width = 2', "no-zone"),
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


def test_a_strip_beside_a_hole_is_a_zone():
    (zone,) = frame('inset = "1 / 7", edge = "right", width = "13 / 7"').zones
    assert bounds_of([zone.path]) == (
        Fraction(100, 3) - 2,
        Fraction(80, 3) + Fraction(1, 7),
        Fraction(100, 3) - Fraction(1, 7),
        Fraction(80, 3) + Fraction(90, 7) - Fraction(1, 7),
    )
