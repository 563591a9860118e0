"""Squares at head and tail as handbooks have them."""

from fractions import Fraction

import pytest
from case_books import (
    COMB,
    INCHES,
    MILLIMETRES,
    SEEDS,
    amounts,
    found,
    in_book,
    settings_of,
    shorter,
)
from random_books import random_book

from dielines.checks.finding import Severity
from dielines.checks.rules import square_range as rule

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


@pytest.mark.parametrize(
    ("setting", "is_silent"),
    [
        # Bailey: 1/8 in; Vaughn: 1/8 to 3/16 in; Bean & Brodhead: to 1/4 in
        ("usual.square=1/8 in", True),
        ("usual.square=3/16 in", True),
        ("usual.square=1/4 in", True),
        ("usual.square=3", True),
        ("usual.square=5/2 mm", False),
        ("usual.square=7", False),
        ("usual.square=0", False),
    ],
)
def test_from_an_eighth_to_a_quarter_inch_it_is_silent(folded_of, setting, is_silent):
    assert (found(rule, folded_of(MILLIMETRES, setting)) == []) == is_silent


# pages are 135 high, boards 141
SPOILS = {
    "boards 4 lower": (lambda b: shorter(b, "front-board", "y", 70, -4), [2.175]),
    "boards as low as the pages": (lambda b: shorter(b, "front-board", "y", 70, -6), [3.175]),
    "boards lower than the pages": (lambda b: shorter(b, "front-board", "y", 70, -9), [4.675]),
    "boards 10 higher": (lambda b: shorter(b, "front-board", "y", 70, 10), [1.65]),
    "the back board 25/3 higher": (
        lambda b: shorter(b, "back-board", "y", 70, F(25, 3)),
        [3 + 25 / 6 - 6.35],
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_how_far_it_is_out_of_the_range_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {Severity.REMARK}
    assert findings[0].advice == ()


@pytest.mark.parametrize(
    ("text", "setting"),
    [
        (INCHES, "usual.square=1/16"),
        (INCHES, "usual.square=3/8"),
        (MILLIMETRES, "usual.square=4/3 mm"),
        (COMB, "usual.square=8"),
    ],
)
def test_with_the_square_that_it_advises_it_is_silent(folded_of, text, setting):
    findings = found(rule, folded_of(text, setting))
    assert len(findings) == 1
    assert found(rule, folded_of(text, *settings_of(findings))) == []
