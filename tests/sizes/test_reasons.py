"""Formulas are those of the table of usual sizes (common practice, no source)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.errors import Defect, UsageError
from dielines.language.expressions import Scope, size_of
from dielines.language.values import length
from dielines.lengths import Length, inches, millimetres
from dielines.sizes.explaining import why
from dielines.sizes.reasons import Sizes
from dielines.sizes.usual import usual_sizes


def inch_sizes() -> Sizes:
    sizes = Sizes("in")
    sizes.take_usual(usual_sizes("in", {"square": inches("3/16")}))
    return sizes


def test_a_spine_explains_itself_with_formula_and_numbers():
    sizes = inch_sizes()
    sizes.take("end_channel", inches("1/8"), "page 1: depth")
    spine = sizes.derive("spine", "4 * channel + 2 * end_channel + spine_allowance")
    assert spine == inches("1 5/8")
    assert why(sizes.reasons(), "spine").split("\n") == [
        "spine = 4 x channel + 2 x end_channel + spine_allowance"
        " = 4 x 1/4 + 2 x 1/8 + 3/8 = 1 5/8 in",
        "  channel = 1/4 in (usual)",
        "  end_channel = 1/8 in (page 1: depth)",
        "  spine_allowance = 3/8 in (usual)",
    ]


def test_reasons_go_down_to_what_was_given_and_tell_each_size_once():
    sizes = inch_sizes()
    sizes.take("photo_width", inches("16/3"), "size")
    sizes.derive("page_width", "photo_width + 2 * margin")
    sizes.derive("flap", "photo_width / 2 + 2 * margin")
    sizes.derive("board_width", "page_width + fore_edge - flap * 0")
    assert why(sizes.reasons(), "board-width").split("\n") == [
        "board_width = page_width + fore_edge - flap x 0 = 5 7/12 + 1/4 - 2 11/12 x 0"
        " = 5 5/6 in ≈ 5 53/64 in",
        "  page_width = photo_width + 2 x margin = 5 1/3 + 2 x 1/8 = 5 7/12 in ≈ 5 37/64 in",
        "    photo_width = 5 1/3 in (size)",
        "    margin = 1/8 in (usual)",
        "  fore_edge = 1/4 in (usual)",
        "  flap = photo_width / 2 + 2 x margin = 5 1/3 / 2 + 2 x 1/8 = 2 11/12 in ≈ 2 59/64 in",
    ]


def test_a_size_of_this_book_says_so():
    assert why(inch_sizes().reasons(), "square") == "square = 3/16 in (this book)"


def test_the_larger_governs_and_is_named():
    sizes = Sizes("mm")
    sizes.count("junctions", 17, "pages")
    sizes.take("paper", millimetres("0.24"), "cream cardstock")
    sizes.derive("by_junctions", "junctions * (paper + 1/7 mm) + 3")
    sizes.take("by_channels", millimetres(9), "x")
    assert sizes.largest("spine", ["by_channels", "by_junctions"]) == millimetres("1664/175")
    first, *rest = why(sizes.reasons(), "spine").split("\n")
    assert first == (
        "spine = max(by_channels, by_junctions) = max(9, 9 89/175)"
        " = 9 89/175 mm ≈ 9.5 mm (by_junctions governs)"
    )
    assert "    junctions = 17 (pages)" in rest


def test_sizes_with_one_reason_share_a_line():
    sizes = inch_sizes()
    for number in range(1, 12):
        sizes.derive(f"channel_{number}", "channel")
    sizes.derive("channel_12", "channel + 1/7")
    total = sizes.total("channels", [f"channel_{number}" for number in range(1, 13)])
    assert total == inches("22/7")
    assert why(sizes.reasons(), "channels").split("\n") == [
        "channels = channel_1 + channel_2 + .. + channel_12 = 11 x 1/4 + 11/28"
        " = 3 1/7 in ≈ 3 9/64 in",
        "  channel_1 .. channel_11 = channel = 1/4 in",
        "    channel = 1/4 in (usual)",
        "  channel_12 = channel + 1/7 = 1/4 + 1/7 = 11/28 in ≈ 25/64 in",
    ]


def test_a_total_may_have_more_terms_than_a_formula_can():
    sizes = inch_sizes()
    for number in range(1, 401):
        sizes.derive(f"channel_{number}", "channel / 3")
    total = sizes.total("channels", [f"channel_{number}" for number in range(1, 401)])
    assert total == inches(Fraction(100, 3))
    assert len(why(sizes.reasons(), "channels").split("\n")) == 3


def test_a_long_chain_of_reasons_is_told_to_its_end():
    sizes = Sizes("mm")
    sizes.take("step_0", millimetres("1/3"), "start")
    for number in range(1, 3001):
        sizes.derive(f"step_{number}", f"step_{number - 1} + 1/3")
    lines = why(sizes.reasons(), "step_3000").split("\n")
    assert len(lines) == 3001
    assert lines[0].endswith("= 1000 1/3 mm ≈ 1000.3 mm")


def test_a_metric_book_shows_millimetres_and_a_foreign_unit_as_such():
    sizes = Sizes("mm")
    sizes.take("a", inches("1/8"), "tape")
    sizes.take("b", millimetres("0.1"), "x")
    sizes.derive("c", "a - 2 * b - 1/3 in")
    line = why(sizes.reasons(), "c").split("\n")[0]
    assert line == "c = a - 2 x b - 1/3 in = 3.175 - 2 x 0.1 - 1/3 in = -5 59/120 mm ≈ -5.5 mm"


def test_a_negative_size_stands_in_brackets():
    sizes = Sizes("in")
    sizes.derive("a", "-1/8")
    sizes.derive("b", "1 - a")
    assert why(sizes.reasons(), "b").split("\n")[0] == "b = 1 - a = 1 - (-1/8) = 1 1/8 in"


def test_a_size_that_nobody_knows_gets_a_suggestion():
    with pytest.raises(UsageError, match="'channel'"):
        why(inch_sizes().reasons(), "chanel")


def test_a_size_is_found_once():
    sizes = inch_sizes()
    with pytest.raises(Defect):
        sizes.derive("margin", "1/8")


@pytest.mark.parametrize(
    "formula", ["widht", "margin * margin", "1 / (margin - margin)", "2 +", ""]
)
def test_a_formula_that_gives_no_size_is_a_fault_of_ours(formula):
    with pytest.raises(Defect):
        inch_sizes().derive("x", formula)


def test_a_number_is_no_size():
    sizes = inch_sizes()
    assert sizes.count("pages", 7, "pages") == 7
    assert sizes.derive_number("openings", "pages - 1") == 6
    assert sizes.derive("all", "openings * channel") == inches("3/2")
    with pytest.raises(KeyError):
        sizes.length("pages")
    with pytest.raises(KeyError):
        sizes.reasons().length("openings")
    with pytest.raises(Defect):
        sizes.derive_number("y", "margin")


amounts = st.fractions(min_value=-50, max_value=50, max_denominator=997).map(Length)


@given(st.lists(amounts, min_size=2, max_size=7))
def test_formula_and_number_never_disagree(values):
    sizes = Sizes("mm")
    for number, value in enumerate(values):
        sizes.take(f"a{number}", value, "given")
    names = [f"a{number}" for number in range(len(values))]
    sizes.derive("first", f"({names[0]} - {names[1]} * 2) / 3")
    sizes.total("all", [*names, "first"])
    sizes.largest("most", [*names, "all"])
    known = {name: length(reason.value.mm) for name, reason in sizes.reasons().by_name.items()}
    for reason in sizes.reasons().by_name.values():
        if reason.formula:
            assert size_of(reason.formula, Scope(known, "mm")) == reason.value.mm
