"""Two by two cells whose four edges fold. Source: common practice (the trade), geometry."""

import pytest
from folded_parts_of import POCKETS, built_in, drawn, found_by, with_other
from random_books import random_book
from spoiling import with_angle, with_steps

from dielines.checks.finding import Severity
from dielines.checks.rules import crossing_folds as rule
from dielines.checks.rules import flat_folding, loop_open

COLUMNS = "11, 100, 11"
RIGHT = ["11 : . head .", "70 : left page right", "11 : . tail ."]
FOLDS = ['"* | *" = 90', '"* / *" = 90']
STEPS = "* / *, * | *"


def tray(*rows):
    return drawn(COLUMNS, list(rows), FOLDS, STEPS)


def test_samples_and_correct_books_pass(samples, folded_of):
    books = [*samples.values(), *(folded_of(random_book(seed)) for seed in range(9))]
    assert [found_by(rule, book) for book in books if found_by(rule, book)] == []


def test_a_tray_with_its_corners_cut_away_passes(folded_of):
    assert found_by(rule, with_other(folded_of(POCKETS), tray(*RIGHT)), "page-2") == []


@pytest.mark.parametrize(
    ("line", "wrong", "x", "y"),
    [
        (0, "11 : corner head .", 11, 81),
        (0, "11 : . head corner", 111, 81),
        (2, "11 : corner tail .", 11, 11),
        (2, "11 : . tail corner", 111, 11),
    ],
)
def test_one_cell_that_was_not_cut_away_is_told_at_its_corner(folded_of, line, wrong, x, y):
    rows = [wrong if number == line else row for number, row in enumerate(RIGHT)]
    book = with_other(folded_of(POCKETS), tray(*rows))
    (found,) = found_by(rule, book, "page-2")
    assert found.severity is Severity.ERROR
    assert (float(found.spot.point.x), float(found.spot.point.y)) == (x, y)
    assert found.amount.value == 4
    assert found_by(loop_open, book, "page-2")  # such a corner tears
    assert found_by(flat_folding, book, "page-2") == []  # it is not folded flat


def test_all_four_corners_kept_are_told_each(folded_of):
    rows = ("11 : c1 head c2", "70 : left page right", "11 : c3 tail c4")
    assert len(found_by(rule, with_other(folded_of(POCKETS), tray(*rows)), "page-2")) == 4


def test_a_fold_through_the_layers_of_another_is_right_only_in_that_order(folded_of):
    part = built_in("map-fold")
    assert found_by(rule, with_other(folded_of(POCKETS), part), "page-2") == []
    for steps in (("a | b, c | d", "a / c, b / d"), ("a / c, a | b", "b / d, c | d")):
        other = with_other(folded_of(POCKETS), with_steps(part, *steps))
        (found,) = found_by(rule, other, "page-2")
        assert "before the other" in found.remedy


def test_a_sign_that_is_wrong_is_told(folded_of):
    book = with_other(folded_of(POCKETS), with_angle(built_in("map-fold"), "c | d", 180))
    (found,) = found_by(rule, book, "page-2")
    assert "cut one of the four cells away" in found.remedy


def test_folds_that_cross_and_stop_short_of_a_half_turn_are_told_though_in_order(folded_of):
    part = built_in("map-fold")
    for line in part.folds:
        part = with_angle(part, str(line.key), line.angle_deg / 2)
    (found,) = found_by(rule, with_other(folded_of(POCKETS), part), "page-2")
    assert found.amount.value == 4


def test_cutting_the_cell_away_as_advised_mends_it(folded_of):
    wrong = tray("11 : . head corner", *RIGHT[1:])
    assert found_by(rule, with_other(folded_of(POCKETS), wrong), "page-2")
    assert found_by(rule, with_other(folded_of(POCKETS), tray(*RIGHT)), "page-2") == []
