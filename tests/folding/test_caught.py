"""By how much a panel is in the way of another, and since when. All of it is geometry."""

from dataclasses import replace
from fractions import Fraction

import pytest
from spoiling import with_angle
from strips import rolled, strip

from dielines.folding.caught import beyond_crease, last_moved, stands_through
from dielines.folding.folded_parts import fold_part
from dielines.part import FoldKey, Step
from dielines.paths import Point, polyline

VALLEYS = [180] * 3
CREASE = FoldKey("p1", "|", "p2")


def reshaped(part, panel, *corners):
    outline = polyline([Point(Fraction(x), Fraction(y)) for x, y in corners], closed=True)
    panels = [replace(p, outline=outline) if p.name == panel else p for p in part.panels]
    return replace(part, panels=tuple(panels))


def with_crease(part, key, *ends):
    piece = polyline([Point(Fraction(x), Fraction(y)) for x, y in ends], closed=False)
    lines = [replace(x, pieces=(piece,)) if x.key == key else x for x in part.lines]
    return replace(part, lines=tuple(lines))


def test_a_layer_reaches_past_a_crease_by_what_lies_on_the_other_side():
    folded = fold_part(rolled([100, "100 - 20 / 7", 80], [180, 180]))
    assert beyond_crease(folded, CREASE, "p0") == pytest.approx(20 / 7)


def test_what_reaches_past_beside_a_short_crease_does_not_count():
    """An L that reaches 3 past the crease where that is, and 15 where it is not."""
    part = rolled([100, 95, 80], [180, 180])
    part = reshaped(part, "p0", (2, 0), (100, 0), (100, 40), (-10, 40), (-10, 20), (2, 20))
    part = with_crease(part, CREASE, (195, 0), (195, 20))
    assert beyond_crease(fold_part(part, "p0"), CREASE, "p0") == pytest.approx(3)


def test_a_layer_that_ends_before_the_crease_does_not_reach_past_it():
    folded = fold_part(rolled([60, 95, 80], [180, 180]))
    assert beyond_crease(folded, CREASE, "p0") == 0


def test_how_far_a_panel_stands_through_is_measured_after_the_step_that_is_meant():
    """A gusset of 8 in a channel of 4, folded, and then the channel opened again."""
    part = strip([100, 4, 90, 8, 80], [90] * 4, "p2 | p3, p3 | p4, p0 | p1, p1 | p2")
    steps = part.steps
    part = replace(with_angle(part, "p0 | p1", 0), steps=steps)
    folded = fold_part(part, "p0")
    assert stands_through(folded, "p0", "p3", 1) == pytest.approx(4)
    assert stands_through(folded, "p0", "p3", 2) != pytest.approx(4)


def test_the_last_step_in_which_panels_moved_against_each_other():
    folded = fold_part(strip([100, 95, 90, 85], VALLEYS, "p2 | p3", "p0 | p1", "p1 | p2"))
    assert last_moved(folded, ["p2", "p3"]) == 1
    assert last_moved(folded, ["p0", "p1"]) == 2
    assert last_moved(folded, ["p0", "p1", "p3"]) == 3
    assert last_moved(folded, ["p3", "p1"]) == 3


def test_without_declared_steps_none_can_be_blamed():
    assert last_moved(fold_part(strip([100, 95, 90], [180, 180])), ["p0", "p2"]) == 0


def test_a_fold_that_is_reached_in_two_steps_moved_last_in_the_second():
    part = strip([100, 95, 90], [180, 180], "p1 | p2", "p0 | p1")
    first, second = part.steps
    half = Step(((CREASE, Fraction(60)),))
    folded = fold_part(replace(part, steps=(half, second, first)))
    assert last_moved(folded, ["p1", "p2"]) == 3
