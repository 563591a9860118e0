"""Folds that close round a layer that reaches through them. All of it is geometry."""

import pytest
from folded_parts_of import POCKETS, built_in, found_by, with_other
from random_books import random_book
from spoiling import longer_panel, with_steps
from strips import rolled, strip

from dielines.checks.finding import Severity
from dielines.checks.rules import crease_inside as rule
from dielines.checks.rules import through_each_other

THIRD = 20 / 3
VALLEYS = [180] * 3
SHRINKING = ["100", "100 - 20 / 3", "100 - 40 / 3", 80]  #: each less by 20/3


@pytest.fixture
def told(folded_of):
    """What the rule says of a part in the place of the second page."""
    return lambda part: found_by(rule, with_other(folded_of(POCKETS), part), "page-2")


def test_samples_fold_without(samples):
    assert [finding for book in samples.values() for finding in found_by(rule, book)] == []


@pytest.mark.parametrize("seed", range(30))
def test_random_books_fold_without(folded_of, seed):
    assert found_by(rule, folded_of(random_book(seed))) == []


def test_shrinking_panels_rolled_from_their_narrow_end_are_silent(told):
    assert told(rolled(SHRINKING, VALLEYS)) == []


def test_rolling_from_the_wide_end_is_told_at_each_fold_that_closes_round_what_is_wider(told):
    found = told(strip(SHRINKING, VALLEYS, "p0 | p1", "p1 | p2", "p2 | p3"))
    assert [(f.severity, f.spot.panel) for f in found] == [(Severity.ERROR, "p0")] * 2
    assert [f.amount.value for f in found] == pytest.approx([THIRD, THIRD])
    assert ["step 3" in f.message for f in found] == [False, True]


def test_of_several_layers_that_are_caught_the_one_that_reaches_farthest_counts(told):
    widths = [100, "100 - 20 / 3", "100 - 40 / 3", 80, "80 - 20 / 3"]
    found = told(strip(widths, [180] * 4, *(f"p{i} | p{i + 1}" for i in range(4))))
    assert [f.amount.value for f in found] == pytest.approx([THIRD, THIRD, 2 * THIRD])


def test_growing_panels_rolled_from_their_wide_end_are_told_with_the_layer_that_is_caught(told):
    found = told(rolled([*reversed(SHRINKING)], VALLEYS))
    assert [(f.spot.panel, f.amount.value) for f in found] == [
        ("p2", pytest.approx(THIRD)),
        ("p3", pytest.approx(THIRD)),
    ]
    assert ["step 3" in f.message for f in found] == [True, False]
    assert ["p 3" in f.message for f in found] == [True, True]


def test_shrinking_panels_begun_in_the_middle_are_told(told):
    (found,) = told(strip(SHRINKING, VALLEYS, "p1 | p2", "p0 | p1", "p2 | p3"))
    assert found.amount.value == pytest.approx(THIRD)
    assert found.spot.panel == "p1"
    assert float(found.spot.point.x) == pytest.approx(280)  # on the fold between p2 and p3


def test_equal_panels_begun_in_the_middle_would_pass_through_a_fold_in_the_same_place(told):
    (found,) = told(strip(["100 / 7"] * 4, VALLEYS, "p1 | p2", "p0 | p1", "p2 | p3"))
    assert found.severity is Severity.ERROR
    assert found.amount is None
    assert float(found.spot.point.x) == pytest.approx(100 / 7)


@pytest.mark.parametrize("order", [range(3), range(2, -1, -1)])
def test_equal_panels_rolled_from_either_end_are_silent(told, order):
    assert told(strip(["100 / 7"] * 4, VALLEYS, *(f"p{i} | p{i + 1}" for i in order))) == []


def test_a_map_folded_across_first_is_told(told):
    part = built_in("map-fold")
    assert told(part) == []
    steps = [", ".join(str(key) for key, _ in step.angles_deg) for step in part.steps]
    (found,) = told(with_steps(part, *reversed(steps)))
    assert found.spot.panel == "b"


def test_a_zigzag_with_a_page_that_is_longer_than_the_one_it_lies_in_is_told(told):
    """Valley, mountain, valley; the second step shuts p1 and p2 upon each other round p0."""
    widths = ["60 + 20 / 7", 60, 60, 60]
    part = strip(widths, [180, 180, -180], "p0 | p1", "p1 | p2", "p2 | p3")
    (found,) = told(part)
    assert (found.spot.panel, found.amount.value) == ("p0", pytest.approx(20 / 7))
    assert told(longer_panel(part, "p0", "x", -found.amount.value)) == []
    assert told(longer_panel(part, "p0", "x", 0.1 - found.amount.value))


def test_a_booklet_with_one_longer_page_is_told(told):
    found = told(longer_panel(built_in("one-slit-booklet"), "a3", "x", THIRD))
    assert [f.amount.value for f in found] == [pytest.approx(THIRD)]


def test_it_alone_speaks_of_a_roll_begun_at_the_wrong_end(folded_of):
    part = strip(SHRINKING, VALLEYS, "p0 | p1", "p1 | p2", "p2 | p3")
    assert found_by(through_each_other, with_other(folded_of(POCKETS), part), "page-2") == []
