from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.errors import LengthError
from dielines.lengths import (
    MAX_CHARACTERS,
    MAX_DIGITS,
    ZERO,
    Length,
    caliper_points,
    inches,
    length_of,
    millimetres,
    parse_caliper,
    parse_length,
    show,
    split_number,
)

FOUR_SEVEN_EIGHTHS = Length(Fraction("123.825"))


@pytest.mark.parametrize(
    "text",
    [
        "4 7/8", "4-7/8", "4-7/8 in", "4 7/8in", '4 7/8"', "4 7/8″", "4 7/8”", "4 7/8''",
        "4 7/8 inches", "4 7/8 IN", '4.875"', "123.825 mm", "123.825mm", "12.3825 cm",
        "4⅞", "4 ⅞", "4-⅞", "4⅞″", "4 7⁄8", "4⁷⁄₈ in", "4 14/16", " 4  7/8 ", "4 7 / 8",
        "4\u00a07/8\u00a0in", "4\u202f⅞", "4\u20117/8", "4–7/8", "39/8", "4\t7/8", "04 7/8",
    ],
)  # fmt: skip
def test_every_way_of_writing_four_and_seven_eighths_is_the_same_length(text: str) -> None:
    assert parse_length(text, "in") == FOUR_SEVEN_EIGHTHS


@pytest.mark.parametrize(
    ("text", "sixteenths"),
    [("1/16", 1), (".5", 8), ("4.", 64), ("0", 0), ("½", 8), ("½ in", 8), ("1½", 24), ("24⅜", 390)],
)
def test_short_ways_of_writing_are_read(text: str, sixteenths: int) -> None:
    assert parse_length(text, "in") == inches(Fraction(sixteenths, 16))


@pytest.mark.parametrize("text", ["-3/8", "−3/8", "- 3/8", "-⅜", "-0.375 in", "-9.525 mm"])
def test_a_sign_in_front_makes_a_length_negative(text: str) -> None:
    assert parse_length(text, "in") == -inches("3/8")


def test_the_sign_of_a_mixed_fraction_covers_all_of_it() -> None:
    assert parse_length("-4-7/8", "in") == -FOUR_SEVEN_EIGHTHS
    assert parse_length("-4⅞", "in") == -FOUR_SEVEN_EIGHTHS


@pytest.mark.parametrize("text", ["4 - 7/8", "4 -7/8", "4- 7/8", "4 − 7/8", "4 -⅞", "5-4", "5+1/8"])
def test_a_hyphen_that_could_be_a_minus_is_refused(text: str) -> None:
    with pytest.raises(LengthError):
        parse_length(text, "in")


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "ten", "in", "/", "1/", "/8", "1/0", "0/0", "4 1/0", "4 7/8 7/8", "4 8", "4½½",
        "½½", "½8", "4½8", "1/½", "4.5½", "4.5 1/2", "1/2/3", "1.5.2", "..5", "4 in 7/8", "4 x 5",
        "12 px", "12px", "3 m", "4'", "4 ft", "5 pt", "5 mil", "12 mm²", "12 mm2", "4²", "²", "٣ mm",
        "nan", "inf", "-inf", "1e5", "1E-5 mm", "0x10", "1_000", "4,5 mm", "1,000", "+3", "--3",
        "4 9/8", "4 8/8", "9" * (MAX_DIGITS + 1), "1/" + "9" * 13, "0." + "1" * 13, "9" * 5000,
        "4 7/8" + " " * MAX_CHARACTERS, "4\x007/8", "4\u200b7/8", "$4", "4%", "e", "½½½",
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_in_words(text: str) -> None:
    with pytest.raises(LengthError) as error:
        parse_length(text, "in")
    assert "\n" not in error.value.message
    assert len(error.value.message) < 160


@pytest.mark.parametrize("text", ["4 7/8", "0", "½", "123.825"])
def test_a_bare_number_needs_a_unit_from_its_file(text: str) -> None:
    with pytest.raises(LengthError):
        parse_length(text, None)


def test_a_unit_in_the_text_goes_before_that_of_the_file() -> None:
    assert parse_length("3 mm", "in") == parse_length("3", "mm") == millimetres(3)
    assert parse_length('3"', "mm") == parse_length("3", "in") == inches(3)


def test_a_wrong_unit_is_pointed_at() -> None:
    with pytest.raises(LengthError) as error:
        parse_length("4 7/8 px", "in")
    assert error.value.offset == 6


@pytest.mark.parametrize(
    ("text", "mm"), [("60 pt", "1.524"), ("9.5 PT", "0.2413"), ("281 µm", ".281")]
)
def test_a_caliper_is_read_in_points_and_micrometres(text: str, mm: str) -> None:
    assert parse_caliper(text, None) == Length(Fraction(mm))


@pytest.mark.parametrize("text", ["60 pt", "281 µm", "281 um"])
def test_units_of_caliper_measure_nothing_else(text: str) -> None:
    with pytest.raises(LengthError):
        parse_length(text, "mm")


def test_a_caliper_takes_lengths_as_well() -> None:
    assert parse_caliper("0.24 mm", None) == parse_caliper("0.24", "mm") == Length(Fraction(6, 25))
    assert caliper_points("9 1/2") == caliper_points(Fraction(19, 2)) == millimetres("0.2413")
    with pytest.raises(LengthError):
        parse_caliper("8", None)


@pytest.mark.parametrize("text", ["1/0", "ten", "5 pt", "nan"])
def test_caliper_points_as_text_are_refused_like_lengths(text: str) -> None:
    with pytest.raises(LengthError):
        caliper_points(text)


def test_numbers_of_a_file_are_lengths_in_its_unit() -> None:
    assert length_of(Decimal("0.1"), "in") == Length(Fraction("2.54"))
    assert length_of(7, "mm") == Length(Fraction(7))
    assert length_of("1/3", "in") == Length(Fraction(127, 15))


@pytest.mark.parametrize(
    "value",
    [Decimal("1e999999999"), Decimal("1e-999999999"), Decimal("1e12"), Decimal("nan"),
     Decimal("-inf"), 10**12, -(10**4000), Decimal("0." + "3" * 13)],
)  # fmt: skip
def test_numbers_beyond_all_paper_are_refused_at_once(value: Decimal | int) -> None:
    with pytest.raises(LengthError):
        length_of(value, "in")


def test_a_float_is_never_taken_for_exact() -> None:
    with pytest.raises(TypeError):
        length_of(0.1, "mm")  # type: ignore[arg-type]


def test_a_bare_number_of_a_file_without_a_unit_is_refused() -> None:
    with pytest.raises(LengthError):
        length_of(3, None)


def test_lengths_add_subtract_scale_and_compare_exactly() -> None:
    third = inches(Fraction(1, 3))
    assert third + third + third == inches(1)
    assert inches(1) - third == third * 2 == 2 * third
    assert inches(1) / third == 3
    assert inches(1) / 3 == third
    assert -third < ZERO < third
    assert not ZERO
    assert third


@pytest.mark.parametrize(
    ("text", "denominator", "shown"),
    [
        ("4 14/16", 16, "4 7/8 in"), ("4 7/8", 32, "4 7/8 in"), ("5", 16, "5 in"), ("0", 16, "0 in"),
        ("1/32", 32, "1/32 in"), ("-3/8", 16, "-3/8 in"), ("-4 7/8", 16, "-4 7/8 in"),
        ("1/32", 16, "≈ 0 in"), ("3/32", 16, "≈ 1/8 in"),  # halves go to the even neighbour
        ("1/3", 16, "≈ 5/16 in"), ("1/3", 32, "≈ 11/32 in"), ("2/7", 16, "≈ 5/16 in"),
        ("10 mm", 16, "≈ 3/8 in"), ("10 mm", 32, "≈ 13/32 in"), ("25.4 mm", 16, "1 in"),
        ("15.99", 16, "≈ 16 in"), ("15/16", 8, "≈ 1 in"),
    ],
)  # fmt: skip
def test_inches_show_as_a_reduced_fraction_and_say_where_they_were_rounded(
    text: str, denominator: int, shown: str
) -> None:
    assert show(parse_length(text, "in"), "in", denominator) == shown


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("95", "95 mm"), ("0.1", "0.1 mm"), ("0.05", "≈ 0 mm"), ("0.15", "≈ 0.2 mm"),
        ("-0.25", "≈ -0.2 mm"), ("1/3", "≈ 0.3 mm"), ("4 7/8 in", "≈ 123.8 mm"),
        ("-12.5", "-12.5 mm"), ("-0.7", "-0.7 mm"), ("999999999999.9", "999999999999.9 mm"),
    ],
)  # fmt: skip
def test_millimetres_show_to_one_decimal_and_say_where_they_were_rounded(
    text: str, shown: str
) -> None:
    assert show(parse_length(text, "mm"), "mm") == shown


lengths = st.fractions(min_value=-3000, max_value=3000, max_denominator=10_000).map(Length)
sixteenths = st.integers(-16 * 40, 16 * 40).map(lambda n: inches(Fraction(n, 16)))


@given(lengths, st.sampled_from([1, 2, 4, 8, 16, 32]))
def test_a_shown_length_is_never_off_by_more_than_half_a_step(
    length: Length, denominator: int
) -> None:
    shown = show(length, "in", denominator)
    read = parse_length(shown.removeprefix("≈ "), None)
    assert abs((read - length).mm) <= inches(Fraction(1, 2 * denominator)).mm
    assert shown.startswith("≈") == (read != length)


@given(lengths)
def test_shown_millimetres_are_never_off_by_more_than_a_twentieth(length: Length) -> None:
    shown = show(length, "mm")
    read = parse_length(shown.removeprefix("≈ "), None)
    assert abs((read - length).mm) <= Fraction(1, 20)
    assert shown.startswith("≈") == (read != length)


@given(sixteenths)
def test_what_is_shown_of_a_ruler_length_reads_back_exactly(length: Length) -> None:
    assert parse_length(show(length, "in"), None) == length


@given(st.integers(0, 10_000), st.integers(0, 99), st.integers(1, 100))
def test_a_mixed_fraction_is_the_sum_of_its_pieces(whole: int, top: int, bottom: int) -> None:
    top = min(top, bottom - 1)
    number, word = split_number(f"{whole}-{top}/{bottom} in")
    assert (number, word) == (whole + Fraction(top, bottom), "in")


@given(lengths, lengths, st.fractions(min_value="1/7", max_value=9, max_denominator=7))
def test_arithmetic_of_lengths_is_that_of_fractions(a: Length, b: Length, times: Fraction) -> None:
    assert (a + b) - b == a
    assert (a * times) / times == a
    assert (a < b) == (a.mm < b.mm)


@given(st.text(max_size=MAX_CHARACTERS + 5))
def test_any_text_is_a_length_or_a_refusal(text: str) -> None:
    try:
        length = parse_length(text, "in")
    except LengthError:
        return
    assert isinstance(length.mm, Fraction)


@given(st.text(alphabet="0123456789 /-.½⅞⁷⁄₈−\u00a0\"″'inmc", max_size=14))
def test_any_text_of_the_signs_of_lengths_is_a_length_or_a_refusal(text: str) -> None:
    try:
        number, word = split_number(text)
    except LengthError:
        return
    assert abs(number) < 10**MAX_DIGITS + 1
    assert not word[:1].isdigit()
