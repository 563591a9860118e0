from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.lengths import ZERO, Length, inches, millimetres
from dielines.workshop.fits import best_fit, fit_on, fits, larger_sheet
from dielines.workshop.loading import typical_workshop
from dielines.workshop.reach import BY_KNIFE, Reach
from dielines.workshop.sizes import Size, parse_size
from dielines.workshop.stock import Grain, Sheet

A4 = Sheet(parse_size("A4", None), Grain.UP)
MACHINE = Reach(parse_size("12 x 24 in", None), inches("1/4"))
CARDSTOCK = typical_workshop("mm").stock_for("pages")


def size(text: str) -> Size:
    return parse_size(text, "mm")


def test_the_cutting_area_is_the_sheet_less_its_margins_and_no_more_than_the_machine():
    assert Reach(None, millimetres("1/3")).within(A4) == size("209 1/3 x 296 1/3")
    assert Reach(size("200 x 999"), millimetres(6)).within(A4) == size("198 x 285")
    assert Reach(size("150 x 280"), millimetres(6)).within(A4) == size("150 x 280")
    assert BY_KNIFE.within(A4) == A4.size
    assert Reach(None, millimetres(150)).within(A4).across == ZERO


@pytest.mark.parametrize(
    ("part", "grain", "is_good", "is_turned"),
    [
        ("210 x 297", "up", True, False), ("297 x 210", "across", True, True),
        ("297 x 210", "up", False, False), ("210 x 297", "across", False, True),
        ("297 x 210", "free", True, True), ("210 x 297", "free", True, False),
        ("100 x 100", "up", True, False), ("100 x 100", "across", True, True),
        ("100 x 100", "free", True, False), ("298 x 298", "free", False, False),
    ],
)  # fmt: skip
def test_a_part_lies_so_that_its_grain_runs_along_the_sheets(part, grain, is_good, is_turned):
    fit = fit_on(size(part), grain, A4, False, BY_KNIFE)
    assert (fit.is_good, fit.is_turned) == (is_good, is_turned)
    assert fit.follows_grain


def test_a_part_that_is_too_large_says_by_how_much_in_its_own_directions():
    fit = fit_on(size("297 1/7 x 211"), "across", A4, False, Reach(None, millimetres("1/3")))
    assert not fit.is_good
    assert fit.short_across == millimetres("1/7") + millimetres("2/3")
    assert fit.short_up == millimetres(1) + millimetres("2/3")


def test_an_a6_upright_side_pocket_at_the_end_of_a_book_does_not_fit_a4():
    # Seam 12 + two depths of 3 + two heights of 148 up: the grain is the spine's, so it cannot turn.
    part = size("164 x 314")
    verdicts = fits(part, "up", CARDSTOCK, MACHINE)
    assert [fit.is_good for fit in verdicts] == [False]
    assert verdicts[0].short_up == millimetres(314) - (millimetres(297) - inches("1/2"))
    assert larger_sheet(part, "up", CARDSTOCK, MACHINE, "mm") == parse_size("A3", None)


def test_the_worked_check_fits_twelve_inch_sheets_and_not_letter_with_the_grain():
    cardstock = typical_workshop("in").stock_for("pages")
    verdicts = fits(parse_size("8 3/8 x 9 1/4", "in"), "up", cardstock, MACHINE)
    assert [fit.is_good for fit in verdicts] == [True, False]
    assert verdicts[1].short_across == inches("3/8")
    assert best_fit(verdicts) == verdicts[0]


def test_a_stock_without_grain_lies_either_way():
    sheet = replace(A4, grain=Grain.NONE)
    for grain in ("up", "across", "free"):
        fit = fit_on(size("297 x 210"), grain, sheet, False, BY_KNIFE)
        assert fit.is_good
        assert fit.is_turned


def test_a_print_with_a_top_is_never_turned_and_says_when_the_grain_runs_wrong():
    fit = fit_on(size("297 x 210"), "free", A4, True, BY_KNIFE)
    assert not fit.is_turned
    assert fit.short_across == millimetres(87)
    across = fit_on(size("100 x 50"), "across", A4, True, BY_KNIFE)
    assert across.is_large_enough
    assert not across.follows_grain
    assert not across.is_good
    assert fit_on(size("100 x 50"), "up", A4, True, BY_KNIFE).is_good


def test_a_stock_with_such_a_print_turns_no_part():
    printed = replace(CARDSTOCK, is_striped=True)
    assert not fits(size("280 x 100"), "free", printed, BY_KNIFE)[0].is_good
    assert fits(size("280 x 100"), "free", CARDSTOCK, BY_KNIFE)[0].is_good


def test_a_machine_takes_the_sheet_either_way_round():
    wide = Sheet(parse_size("24 x 12 in", None), Grain.ACROSS)
    assert fit_on(parse_size("23 x 11 in", None), "across", wide, False, MACHINE).is_good
    assert fit_on(parse_size("11 x 23 in", None), "up", wide, False, MACHINE).is_good
    assert not fit_on(parse_size("13 x 12 in", None), "across", wide, False, MACHINE).is_good


def test_the_best_fit_is_the_first_good_one_else_the_nearest_miss():
    small, large = A4, Sheet(parse_size("A3", None), Grain.UP)
    stock = replace(CARDSTOCK, sheets=(small, large))
    assert best_fit(fits(size("100 x 100"), "up", stock, BY_KNIFE)).sheet is small
    assert best_fit(fits(size("250 x 400"), "up", stock, BY_KNIFE)).sheet is large
    assert best_fit(fits(size("250 x 500"), "up", stock, BY_KNIFE)).sheet is large
    assert best_fit(()) is None
    stock = replace(CARDSTOCK, sheets=(small.turned, small))
    assert best_fit(fits(size("100 x 100"), "up", stock, BY_KNIFE)).sheet is stock.sheets[0]


def test_a_large_enough_sheet_with_the_wrong_grain_is_no_better_than_a_near_miss():
    stock = replace(CARDSTOCK, is_one_way_up=True, sheets=(replace(A4, grain=Grain.ACROSS), A4))
    fit = best_fit(fits(size("211 x 100"), "up", stock, BY_KNIFE))
    assert fit.sheet is A4
    assert fit.short_across == millimetres(1)


def test_no_usual_sheet_is_offered_for_what_no_machine_can_cut():
    assert larger_sheet(size("999 x 999"), "free", CARDSTOCK, BY_KNIFE, "mm") is None


def test_a_larger_sheet_is_none_that_is_owned_and_has_the_grain_of_the_stock():
    part = size("280 x 200")
    short = replace(CARDSTOCK, sheets=(replace(A4, grain=Grain.ACROSS),))
    assert larger_sheet(part, "across", CARDSTOCK, MACHINE, "mm") == parse_size("A3", None)
    assert larger_sheet(part, "up", CARDSTOCK, MACHINE, "mm") == parse_size("A3", None)
    assert larger_sheet(size("290 x 200"), "up", short, BY_KNIFE, "mm") == parse_size("A3", None)
    wide = replace(CARDSTOCK, sheets=(A4.turned,))
    assert larger_sheet(size("200 x 400"), "up", wide, BY_KNIFE, "mm") == parse_size("A3", None)


sides = st.integers(1, 16 * 40).map(lambda n: Length(Fraction(n, 16) * Fraction(254, 10)))
rectangles = st.builds(Size, sides, sides)
grains = st.sampled_from(["up", "across", "free"])
sheets = st.builds(Sheet, rectangles, st.sampled_from(list(Grain)))
reaches = st.builds(Reach, st.none() | rectangles, st.integers(0, 9).map(millimetres))


@given(rectangles, grains, sheets, reaches)
def test_a_part_and_its_sheet_turned_together_fit_alike(part, grain, sheet, reach):
    other = {"up": "across", "across": "up", "free": "free"}[grain]
    here = fit_on(part, grain, sheet, False, reach)
    there = fit_on(part.turned, other, sheet.turned, False, reach)
    assert here.is_good == there.is_good
    assert here.short_across + here.short_up == there.short_across + there.short_up


@given(rectangles, grains, sheets, reaches)
def test_a_part_that_is_less_by_what_it_is_short_of_fits(part, grain, sheet, reach):
    fit = fit_on(part, grain, sheet, False, reach)
    smaller = Size(part.across - fit.short_across, part.up - fit.short_up)
    if min(smaller) > ZERO:
        assert fit_on(smaller, grain, sheet, False, reach).is_good


@given(rectangles, grains, sheets, reaches)
def test_what_fits_in_the_machine_fits_under_the_knife(part, grain, sheet, reach):
    if fit_on(part, grain, sheet, False, reach).is_good:
        assert fit_on(part, grain, sheet, False, BY_KNIFE).is_good
