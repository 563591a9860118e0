"""Rings of panels that do not close. All of it is geometry."""

import pytest
from folded_parts_of import POCKETS, built_in, found_by, with_other
from random_books import random_book
from spoiling import longer_panel, with_angle, with_steps

from dielines.checks.finding import Severity
from dielines.checks.rules import loop_open as rule

MAP = ("a / c", "b / d", "a | b", "c | d")


def test_samples_and_correct_books_close(samples, folded_of):
    books = [*samples.values(), *(folded_of(random_book(seed)) for seed in range(9))]
    assert [found_by(rule, book) for book in books if found_by(rule, book)] == []


@pytest.mark.parametrize(
    "name", ["map-fold", "one-slit-booklet", "box-step", "maze-booklet", "tray"]
)
def test_what_hands_can_fold_closes(folded_of, name):
    assert found_by(rule, with_other(folded_of(POCKETS), built_in(name)), "page-2") == []


@pytest.mark.parametrize("fold", MAP)
def test_a_wrong_sign_closes_at_the_end_and_is_told_all_the_same(folded_of, fold):
    part = built_in("map-fold")
    angle = next(line.angle_deg for line in part.lines if str(line.key) == fold)
    (found,) = found_by(
        rule, with_other(folded_of(POCKETS), with_angle(part, fold, -angle)), "page-2"
    )
    width, height = float(part.width), float(part.height)
    assert found.severity is Severity.ERROR
    assert min(width, height) <= found.amount.value <= 2 * max(width, height)


def test_a_booklet_folded_at_once_is_told_to_tear(folded_of):
    part = built_in("one-slit-booklet")
    together = with_steps(part, ", ".join(str(line.key) for line in part.folds))
    (found,) = found_by(rule, with_other(folded_of(POCKETS), together), "page-2")
    assert found.amount.value > 10


def test_a_map_folded_at_once_is_told_to_tear(folded_of):
    together = with_steps(built_in("map-fold"), ", ".join(MAP))
    (found,) = found_by(rule, with_other(folded_of(POCKETS), together), "page-2")
    assert "steps" in found.remedy  # it closes at the end, so that no slit is needed


def test_a_fold_that_stops_short_is_told(folded_of):
    part = with_angle(built_in("map-fold"), "a / c", 170)
    (found,) = found_by(rule, with_other(folded_of(POCKETS), part), "page-2")
    assert "slit" in found.remedy
    assert found.amount.value > 1


def test_a_box_step_whose_ridge_is_off_is_told_by_how_much(folded_of):
    part = built_in("box-step")
    panels = [panel.name for panel in part.panels]
    found = [
        f
        for name in panels
        for f in found_by(rule, with_other(folded_of(POCKETS), longer_panel(part, name, "y", 3)))
        if f.spot.part == "page-2"
    ]
    assert found
    assert all(f.amount.value <= 3 * 2**0.5 + 1e-6 for f in found)
