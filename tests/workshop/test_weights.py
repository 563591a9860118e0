from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.errors import LengthError
from dielines.lengths import Length, millimetres
from dielines.workshop.weights import (
    basic_sizes,
    bulk_of,
    grammage_of,
    parse_weight,
    pounds_of,
    thickness_of,
)


@pytest.mark.parametrize(
    "text", ["176 g/m2", "176 g/m²", "176gsm", "176 g / m2", "176 GSM", "176.0 gsm"]
)
def test_grammage_is_read_as_it_is_written(text: str) -> None:
    assert parse_weight(text) == 176


@pytest.mark.parametrize(
    "text", ["65 lb cover", "65lb Cover", "65# cover", "65 lbs. cover", "65 pounds cover"]
)
def test_basis_weight_is_read_with_its_sort(text: str) -> None:
    assert parse_weight(text) == grammage_of(65, "cover")


@pytest.mark.parametrize(
    "text",
    ["", "heavy", "176", "65 lb", "65 lb covr", "65 kg", "0 gsm", "-3 gsm", "9999 lb cover", "6000 gsm",
     "nan gsm", "65 lb cover cover", "65 oz/yd2", "1e3 gsm", "65 cover", "65 lb text/book"],
)  # fmt: skip
def test_what_is_no_weight_is_refused(text: str) -> None:
    with pytest.raises(LengthError):
        parse_weight(text)


def test_a_pound_without_its_sort_is_refused_with_the_sorts() -> None:
    with pytest.raises(LengthError) as error:
        parse_weight("65 lb")
    assert all(name in error.value.message for name in basic_sizes())


pounds = st.fractions(min_value=1, max_value=300, max_denominator=7)
sorts = st.sampled_from(["bond", "cover", "bristol", "index", "tag", "text"])


@given(pounds, sorts)
def test_pounds_and_grammes_are_each_others_reverse(weight: Fraction, basic: str) -> None:
    assert pounds_of(grammage_of(weight, basic), basic) == weight


@given(st.fractions(min_value="1/2", max_value=3, max_denominator=9), pounds)
def test_bulk_and_thickness_are_each_others_reverse(bulk: Fraction, grammage: Fraction) -> None:
    assert bulk_of(thickness_of(bulk, grammage), grammage) == bulk


def test_a_bulk_of_one_makes_micrometres_of_grammes() -> None:
    assert thickness_of(Fraction(1), Fraction(240)) == millimetres("0.24")
    assert bulk_of(Length(Fraction("0.24")), Fraction(200)) == Fraction("1.2")
