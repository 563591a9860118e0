from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.errors import LengthError
from dielines.lengths import Length, Unit, inches, millimetres
from dielines.workshop.sizes import Size, iso_size, named_sizes, parse_size


@pytest.mark.parametrize(
    ("text", "across", "up"),
    [
        ("5 x 3 1/2", "5", "3 1/2"), ("5x3 1/2", "5", "3 1/2"), ("5 X 3½", "5", "3 1/2"),
        ("5 × 3-1/2", "5", "3 1/2"), ('5" x 3 1/2"', "5", "3 1/2"), ("5 in x 3 1/2 in", "5", "3 1/2"),
        ("5 x 3 1/2 in", "5", "3 1/2"), ("127 x 88.9 mm", "5", "3 1/2"), ("½ x .5", "1/2", "1/2"),
        ("5 in x 3 1/2", "5", "3 1/2"), (" 12 x 24 ", "12", "24"), ("12.7 cm x 3.5", "", ""),
        ("2/3 x 1/7", "2/3", "1/7"),
    ],
)  # fmt: skip
def test_sizes_are_written_across_x_up(text: str, across: str, up: str) -> None:
    if not across:  # a unit of the first side only, and not that of the file
        with pytest.raises(LengthError):
            parse_size(text, "in")
        return
    assert parse_size(text, "in") == (inches(across), inches(up))


def test_a_unit_behind_the_second_side_holds_for_both() -> None:
    assert parse_size("12 x 18 in", "mm") == (inches(12), inches(18))
    assert parse_size("95 x 135 mm", "in") == (millimetres(95), millimetres(135))


def test_each_side_may_have_a_unit_of_its_own() -> None:
    assert parse_size("5 in x 95 mm", None) == (inches(5), millimetres(95))


@pytest.mark.parametrize(
    ("text", "across", "up"),
    [
        ("A5 upright", 148, 210), ("A5 wide", 210, 148), ("a5  WIDE", 210, 148), ("A5", 148, 210),
        ("B6 wide", 176, 125), ("A10", 26, 37),
    ],
)  # fmt: skip
def test_names_stand_upright_or_lie_wide(text: str, across: int, up: int) -> None:
    for units in ("in", "mm", None):
        assert parse_size(text, units) == (millimetres(across), millimetres(up))


def test_letter_and_tabloid_are_names_too() -> None:
    assert parse_size("letter", "mm") == (inches("8 1/2"), inches(11))
    assert parse_size("Tabloid wide", "mm") == (inches(17), inches(11))


@pytest.mark.parametrize(
    "text",
    [
        "", " ", "x", "5", "5 x", "x 5", "5 x 7 x 9", "0 x 3", "3 x 0", "-3 x 4", "5 by 7", "nan x nan",
        "1e5 x 4", "12 px x 3 px", "12 x 3 px", "A11", "A-1", "A", "A5 portrait", "letter letter",
        "upright", "wide", "lettr", "A5 x 3", "11000 mm x 3 mm", "1/0 x 3", "12 x 12 in upright",
        "C5", "9" * 13 + " x 3", "5 x 7;", "x" * 200, "5" + " x 5" * 40, "5 y 7", "5*7",
    ],
)  # fmt: skip
@pytest.mark.parametrize("units", ["in", "mm"])
def test_what_is_no_size_is_refused(text: str, units: Unit) -> None:
    with pytest.raises(LengthError):
        parse_size(text, units)


def test_a_bare_size_needs_a_unit_from_its_file() -> None:
    with pytest.raises(LengthError):
        parse_size("5 x 7", None)


def test_a_slip_of_the_pen_gets_a_suggestion() -> None:
    with pytest.raises(LengthError, match="letter'"):
        parse_size("lettr", "in")


@pytest.mark.parametrize("number", range(10))
@pytest.mark.parametrize("series", ["A", "B"])
def test_each_iso_sheet_is_half_of_the_one_before(series: str, number: int) -> None:
    larger, smaller = iso_size(series, number), iso_size(series, number + 1)
    assert smaller.up == larger.across
    assert millimetres(0) <= larger.up - smaller.across * 2 <= millimetres(1)


@pytest.mark.parametrize(("series", "number"), [("A", 11), ("A", -1), ("D", 3), ("a", 4)])
def test_no_other_iso_sheet_exists(series: str, number: int) -> None:
    with pytest.raises(ValueError, match="ISO 216"):
        iso_size(series, number)


def test_every_named_size_stands_upright() -> None:
    assert len(named_sizes()) == 2 * 11 + 3
    assert all(size.across < size.up for size in named_sizes().values())


def test_sizes_are_shown_with_their_unit_once_and_rounding_marked_once() -> None:
    assert parse_size("letter", None).words("in") == "8 1/2 x 11 in"
    assert parse_size("A4", None).words("mm") == "210 x 297 mm"
    assert parse_size("A4", None).words("in") == "≈ 8 1/4 x 11 11/16 in"
    assert Size(inches(5), millimetres(100)).words("in") == "≈ 5 x 3 15/16 in"
    assert Size(millimetres(100), inches(5)).words("in") == "≈ 3 15/16 x 5 in"


def test_a_size_turned_twice_is_itself() -> None:
    size = Size(inches("1/3"), inches("2/7"))
    assert size.turned == (inches("2/7"), inches("1/3"))
    assert size.turned.turned == size


sixteenths = st.integers(1, 16 * 30).map(lambda n: inches(1) * n / 16)


@given(sixteenths, sixteenths)
def test_a_shown_size_reads_back(across: Length, up: Length) -> None:
    size = Size(across, up)
    assert parse_size(size.words("in"), None) == size


@given(st.text(alphabet='0123456789 x×./½inm"ABupwide', max_size=18))
def test_any_text_is_a_size_or_a_refusal(text: str) -> None:
    try:
        size = parse_size(text, "in")
    except LengthError:
        return
    assert all(side > millimetres(0) for side in size)
