"""Panels that stand through each other after a step. All of it is geometry.

That the gusset of what is rolled inside must be the smaller one: FOLDING section 3.
"""

from fractions import Fraction

import pytest
from folded_parts_of import POCKETS, built_in, found_by, with_other
from random_books import random_book
from spoiling import longer_panel
from strips import strip

from dielines.checks.finding import Severity
from dielines.checks.rules import pierced as rule

WALLS = [90] * 4
INNER_FIRST = ("p2 | p3, p3 | p4", "p0 | p1, p1 | p2")


def roll(outer: object, inner: object, leaf: object = 90, last: object = 80):
    """A page of 100, a gusset, a leaf, a gusset, a last leaf that goes inside."""
    return strip([100, outer, leaf, inner, last], WALLS, *INNER_FIRST)


@pytest.fixture
def told(folded_of):
    """What the rule says of a part in the place of the second page."""
    return lambda part: found_by(rule, with_other(folded_of(POCKETS), part), "page-2")


def test_samples_fold_without(samples):
    assert [finding for book in samples.values() for finding in found_by(rule, book)] == []


@pytest.mark.parametrize("seed", range(30))
def test_random_books_fold_without(folded_of, seed):
    assert found_by(rule, folded_of(random_book(seed))) == []


def test_an_inner_gusset_that_is_smaller_is_silent(told):
    assert told(roll("20 / 3", "10 / 3")) == []


def test_an_inner_gusset_larger_than_the_outer_comes_out_through_the_page(told):
    (found,) = told(roll("10 / 3", "20 / 3"))
    assert found.severity is Severity.ERROR
    assert found.amount.value == pytest.approx(10 / 3)
    assert all(words in found.message for words in ("p 0", "p 3"))
    assert "step 2" in found.message


def test_a_leaf_that_is_too_long_reaches_through_the_wall_of_the_channel(told):
    """Leaf 40, last leaf 40 + 20/7: its end stands out of the outer gusset."""
    (found,) = told(roll(8, 4, 40, "40 + 20 / 7"))
    assert (found.spot.panel, found.amount.value) == ("p4", pytest.approx(20 / 7))
    assert told(roll(8, 4, 40, 40)) == []  # it just meets the wall


@pytest.mark.parametrize(
    ("name", "panel", "axis", "by", "amount"),
    [
        ("roll-fold", "gusset2", "x", Fraction(10, 3), Fraction(10, 3) - Fraction(254, 160)),
        ("roll-fold", "gusset1", "x", -Fraction(20, 7), Fraction(20, 7) - Fraction(254, 160)),
        ("roll-fold", "leaf2", "x", Fraction(20, 3), Fraction(20, 3) - Fraction(254, 160)),
        ("bellows-pocket", "inner1", "x", Fraction(20, 3), None),
        ("double-pocket", "inner_wall", "y", Fraction(20, 3), None),
        ("double-pocket", "outer_wall", "y", Fraction(20, 3), None),
        ("slipcase", "head1", "y", Fraction(20, 3), None),
    ],
)
def test_gussets_of_the_wrong_size_are_told(told, name, panel, axis, by, amount):
    part = built_in(name)
    assert told(part) == []
    found = told(longer_panel(part, panel, axis, by))
    assert found
    assert {f.severity for f in found} == {Severity.ERROR}
    if amount is not None:  # there was room for 1/16 in: half of the gusset of 1/8 in
        assert [f.amount.value for f in found] == [pytest.approx(float(amount))]


def test_a_gusset_smaller_by_as_much_as_is_told_mends_it(told):
    part = roll("10 / 3", "20 / 3")
    (found,) = told(part)
    assert told(longer_panel(part, "p3", "x", -found.amount.value)) == []
    assert told(longer_panel(part, "p3", "x", -found.amount.value + 0.1))


def test_the_step_is_the_one_after_which_they_stand_so(told):
    part = strip([100, 8, 90, 4, 80], WALLS, "p0 | p1", "p2 | p3", "p3 | p4", "p1 | p2")
    assert told(part) == []
    wider = longer_panel(part, "p3", "x", 6)
    assert ["step 4" in f.message for f in told(wider)] == [True]
