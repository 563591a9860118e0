"""The ratios of units that are taken for one another."""

from fractions import Fraction
from itertools import pairwise

import pytest

from dielines.formats.misreadings import MISREADINGS, misreading_of


@pytest.mark.parametrize(
    ("factor", "meant", "taken_for"),  # 1 in = 96 px = 72 pt (CSS Values); 90: CSS 1, s. 6.1
    [
        (Fraction(96, 72), "units of 1/96 in", "points of 1/72 in"),
        (Fraction(96, 90), "units of 1/96 in", "units of 1/90 in"),
        (Fraction(90, 72), "units of 1/90 in", "points of 1/72 in"),
        (Fraction(254, 10), "millimetres", "inches"),
        (Fraction(10, 254), "inches", "millimetres"),
        (Fraction(10), "millimetres", "centimetres"),
        (Fraction(960, 254), "units of 1/96 in", "millimetres"),
    ],
)
def test_each_unit_taken_for_another_has_its_ratio(factor, meant, taken_for):
    found = misreading_of(float(factor))
    assert (found.factor, found.meant, found.taken_for) == (factor, meant, taken_for)


def test_1152_units_meant_as_12_inches_come_out_as_16_or_12_8():
    # VALUES.md, 1: read at 72, 90 and 96 to the inch
    assert [float(misreading_of(size / 12).factor) * 12 for size in (16.0, 12.8)] == [16.0, 12.8]


def test_no_two_misreadings_could_be_confused():
    factors = sorted(float(kind.factor) for kind in MISREADINGS)
    assert all(b / a > 1.003 for a, b in pairwise(factors))
    assert len({kind.name for kind in MISREADINGS}) == len(MISREADINGS)


@pytest.mark.parametrize("ratio", [1.0, 1.016, 1.0655, 1.068, 0.5, 2.0, 1e-9, 1e9])
def test_other_ratios_are_none(ratio):
    assert misreading_of(ratio) is None
