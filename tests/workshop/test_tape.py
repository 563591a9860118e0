from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from dielines.errors import LengthError
from dielines.lengths import Length, inches, millimetres
from dielines.workshop.tape import Roll, roll_length

WHOLE = """
units = "in"
[tapes.tissue]
thickness = "0.12 mm"
rolls = ["1/2", { width = 0.125, length = "25 yd", price = 2.4 }, { width = "9 mm" }]
"""


def test_a_tape_says_all_that_its_table_says(load):
    tape = load(WHOLE).tape_named("tissue")
    assert tape.thickness == millimetres("0.12")
    assert not tape.thickness_is_typical
    assert tape.notes == ()
    assert tape.rolls == (
        Roll(inches("1/8"), millimetres(22860), Decimal("2.4")),
        Roll(millimetres(9)),
        Roll(inches("1/2")),
    )


def test_the_widest_tape_that_fits_is_found(load):
    tape = load(WHOLE).tape
    assert tape.widest_within(inches("1/8") - Length(Fraction(1, 7))) is None
    for room, width in [("1/8", inches("1/8")), ("3/8", millimetres(9)), ("7", inches("1/2"))]:
        roll = tape.widest_within(inches(room))
        assert roll is not None
        assert roll.width == width


def test_what_a_tape_leaves_out_is_typical_and_said_so(load):
    tape = load('units = "mm"\n[tapes.a]').tape
    assert tape.thickness == millimetres("0.13")
    assert tape.thickness_is_typical
    assert millimetres(6) in tape.widths
    assert len(tape.notes) == 2


def test_the_first_tape_is_the_usual_one(load):
    text = '[tapes.b]\nrolls = ["3 mm"]\n[tapes.a]\nrolls = ["4 mm"]'
    assert load(text).tape.name == "b"


@pytest.mark.parametrize(
    ("text", "mm"),
    [("25 m", 25000), ("10 yd", 9144), ("30 ft", 9144), ("8 1/2 in", "215.9"), ("500 cm", 5000)],
)
def test_rolls_are_measured_in_long_units(text, mm):
    assert roll_length(text, "in") == Length(Fraction(mm))


@pytest.mark.parametrize("text", ["25", "", "0 m", "-3 m", "3 miles", "9999 m", "nan m"])
def test_a_roll_without_a_sensible_length_is_refused(text):
    with pytest.raises(LengthError):
        roll_length(text, "in")


def test_a_bare_length_of_a_roll_is_refused_with_the_units_of_rolls():
    with pytest.raises(LengthError, match="25 yd"):
        roll_length("25", "in")


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("thickness = 1", "not-a-length"), ('thickness = "4 mm"', "out-of-range"),
        ('thickness = "0 mm"', "out-of-range"), ('rolls = "3 mm"', "wrong-kind"),
        ('rolls = ["1/0 in"]', "not-a-length"), ('rolls = ["0 mm"]', "out-of-range"),
        ('rolls = ["201 mm"]', "out-of-range"), ("rolls = [true]", "wrong-kind"),
        ('rolls = [{ length = "3 m" }]', "missing"),
        ('rolls = [{ width = "3 mm", length = 3 }]', "wrong-kind"),
        ('rolls = [{ width = "3 mm", length = "25" }]', "not-a-length"),
        ('rolls = [{ width = "3 mm", price = -0.5 }]', "out-of-range"),
        ('rolls = [{ width = "3 mm", colour = "red" }]', "unknown-key"),
        ("widths = [3]", "unknown-key"),
    ],
)  # fmt: skip
def test_a_wrong_entry_of_a_tape_is_one_fault_at_its_line(faults, line, code):
    assert [(fault[0], fault[2]) for fault in faults(f"[tapes.a]\n{line}")] == [(2, code)]
