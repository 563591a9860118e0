"""Sums of errors: rows, variances, the chance that a normal value is below 0."""

import math

import pytest

from dielines.lengths import millimetres
from dielines.tolerance.hand_error import (
    ErrorKind,
    HandError,
    below_zero,
    deviations,
    total,
    variance,
)
from dielines.workshop.hand_tools import HandErrors
from dielines.workshop.loading import load_workshop

HAND = HandErrors(millimetres("0.3"), millimetres("0.25"), millimetres("0.4"))
CUT = HandError(ErrorKind.CUT, "page-1", "right edge at 12.700")
SCORE = HandError(ErrorKind.SCORE, "page-1", "front / back")
TAPE = HandError(ErrorKind.TAPE, "page-2", "binding.tab", "x")


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_typical_hand_cuts_scores_and_tapes_with_the_stated_assumption(tmp_path, units):
    hand = load_workshop(None, tmp_path / "garden.toml", units).hand
    assert deviations(hand) == {ErrorKind.CUT: 0.3, ErrorKind.SCORE: 0.25, ErrorKind.TAPE: 0.4}


def test_rows_add_up_and_what_cancels_is_left_out():
    row = total([(2, {CUT: 0.5, SCORE: 1.0}), (-1, {CUT: 1.0, TAPE: 1 / 3}), (1, {SCORE: 0.25})])
    assert row == {SCORE: 2.25, TAPE: pytest.approx(-1 / 3)}


def test_the_variance_is_the_sum_of_squares():
    row = {CUT: 1.0, SCORE: -2.0, TAPE: 1 / 7}
    wanted = 0.3**2 + (2 * 0.25) ** 2 + (0.4 / 7) ** 2
    assert variance(row, HAND) == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize(
    ("deviations_away", "chance"),
    # the normal distribution: published tables (NIST/SEMATECH e-Handbook, 1.3.6.7.1)
    [(0.0, 0.5), (1.0, 0.158655), (1.644854, 0.05), (2.326348, 0.01), (-1.0, 0.841345)],
)
def test_the_chance_below_zero_is_that_of_the_normal_distribution(deviations_away, chance):
    assert below_zero(deviations_away * 0.7, 0.7) == pytest.approx(chance, abs=1e-6)


def test_without_errors_only_what_is_drawn_counts():
    assert (below_zero(-0.001, 0), below_zero(0.001, 0)) == (1.0, 0.0)
    assert math.isclose(below_zero(0.0, 1e-9), 0.5)
