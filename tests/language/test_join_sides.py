"""Joins between the parts of a template: the side of the target that they go onto."""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text
from dielines.part import Side

CALIPERS = {"cardstock": Fraction(2413, 10000)}
TEXT = """
template = "mount"
kind = "insert"
units = "mm"
joins = [{ zone = "strip.strip", onto = "card.card", at = [5, "10 / 3"] %s }]
[parts.card]
columns = [80]
rows = ["50 : card"]
[parts.strip]
columns = [60]
rows = ["10 : strip"]
edits = [{ tape = "strip", side = "reverse", inset = 1 }]
"""


@pytest.mark.parametrize(
    ("said", "side"),
    [("", Side.FACE), (', side = "face"', Side.FACE), (', side = "reverse"', Side.REVERSE)],
)
def test_a_join_goes_onto_the_face_of_its_target_unless_told(said, side):
    join = build(template_from_text(TEXT % said), {}, CALIPERS).joins[0]
    assert join.onto_side is side
    assert join.at == (5, Fraction(10, 3))


def test_a_side_that_there_is_not_is_told():
    with pytest.raises(TemplateError) as caught:
        build(template_from_text(TEXT % ', side = "back"'), {}, CALIPERS)
    assert [fault.code for fault in caught.value.faults] == ["unknown-word"]
