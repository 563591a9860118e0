"""Lengths against definitions made outside this project."""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.errors import LengthError
from dielines.lengths import Length, caliper_points, inches, millimetres, parse_length

#: Published: International Yard and Pound Agreement 1959 (1 yd = 0.9144 m).
INTERNATIONAL_YARD_MM = Fraction("914.4")
#: Published, and not to be used (deprecated at the end of 2022): US survey foot = 1200/3937 m.
SURVEY_INCH_MM = Fraction(100_000, 3937)


def test_thirty_six_inches_are_the_international_yard() -> None:
    assert inches(36).mm == INTERNATIONAL_YARD_MM


def test_the_inch_is_not_the_survey_inch() -> None:
    assert inches(1).mm != SURVEY_INCH_MM
    assert inches(1).mm == Fraction("25.4")


@pytest.mark.parametrize(
    ("text", "mm"),
    [  # computed from the definition (VALUES.md, section 1)
        ("1/16", "1.5875"), ("1/32", "0.79375"), ("1/64", "0.396875"), ("1/8", "3.175"),
        ("3/16", "4.7625"), ("1/4", "6.35"), ("3/8", "9.525"), ("12", "304.8"),
        ("8 1/2", "215.9"), ("11", "279.4"), ("17", "431.8"),
    ],
)  # fmt: skip
def test_fractions_of_an_inch_are_exact_decimals_of_millimetres(text: str, mm: str) -> None:
    assert parse_length(text, "in").mm == Fraction(mm)


def test_a_centimetre_is_ten_millimetres_and_an_inch_2_54_of_them() -> None:
    # Published: CSS Values and Units, absolute lengths, 1in = 2.54cm.
    assert parse_length("2.54 cm", None) == inches(1)


@pytest.mark.parametrize(("points", "mm"), [(1, "0.0254"), (10, "0.254"), (60, "1.524")])
def test_a_point_of_caliper_is_a_thousandth_of_an_inch(points: int, mm: str) -> None:
    # Three paper trade pages (VALUES.md, section 3).
    assert caliper_points(points) == Length(Fraction(mm))


def test_a_point_of_caliper_is_not_the_typographic_point() -> None:
    # Published: CSS, 1pt = 1/72 in; fourteen times a caliper point.
    assert caliper_points(72) != inches(1)
    with pytest.raises(LengthError):
        parse_length("72 pt", None)


def test_a_gross_of_millimetres_stays_whole() -> None:
    assert millimetres(144) / inches(1) == Fraction(720, 127)
