"""Places measured from opposite edges: they add up exactly, and each is rounded by itself."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.book.spans import (
    Span,
    measured,
    shown_from_edges,
    shown_reach,
    shown_sides,
    spans,
)
from dielines.lengths import ZERO, Length, inches, millimetres, parse_length
from dielines.paths import bounds_of, rectangle

HALF_STEPS = {"in": Fraction(254, 640), "mm": Fraction(1, 20)}
lengths = st.fractions(min_value=0, max_value=400, max_denominator=700).map(Length)


def read(text: str, unit) -> Length:
    return parse_length(text.removeprefix("≈ "), unit)


@given(lengths, lengths, st.sampled_from(["in", "mm"]))
def test_each_distance_is_rounded_by_itself_and_shown_alike_wherever_it_stands(near, far, unit):
    first, second = shown_from_edges(Span(near, ZERO, far), unit)
    assert (second, first) == shown_from_edges(Span(far, ZERO, near), unit)
    for text, exact in ((first, near), (second, far)):
        off = abs(read(text, unit).mm - exact.mm)
        assert off <= HALF_STEPS[unit]
        assert text.startswith("≈") == (off != 0)


def test_a_third_of_an_inch_and_the_rest_of_two_inches():
    span = Span(inches("1/3"), ZERO, inches("5/3"))
    assert shown_from_edges(span, "in") == ("≈ 11/32", "≈ 1 21/32")
    assert shown_from_edges(span, "mm") == ("≈ 8.5", "≈ 42.3")


@given(*[st.fractions(0, 100, max_denominator=64)] * 4)
def test_spans_of_a_box_are_exact(left, width, right, bottom):
    page = bounds_of([rectangle(7, 3, 7 + left + width + right, 203)])
    box = bounds_of([rectangle(7 + left, 3 + bottom, 7 + left + width, 3 + bottom + 50)])
    across, up = spans(box, page)
    assert across == Span(Length(left), Length(width), Length(right))
    assert up == Span(Length(150 - bottom), millimetres(50), Length(bottom))
    assert across.total == Length(left + width + right)


@pytest.mark.parametrize("sixty_fourths", [1, 3, 64, 311])
def test_a_float_that_a_ruler_shows_is_what_the_ruler_shows(sixty_fourths):
    exact = Fraction(254, 640) * sixty_fourths
    assert measured(float(exact) + 4e-13).mm == exact
    assert measured(float(exact) + 2e-3).mm != exact
    assert measured(exact + Fraction(1, 10**9)).mm == exact + Fraction(1, 10**9)


def test_one_sign_stands_before_sides_of_which_any_was_rounded():
    assert shown_sides(inches("1/3"), inches("1/4"), "in") == "≈ 11/32 x 1/4"
    assert shown_sides(inches("3/32"), inches("1/4"), "in") == "3/32 x 1/4"
    assert shown_reach(Span(inches(1), inches("1/7"), ZERO), "in") == "≈ 1 to 1 5/32"
