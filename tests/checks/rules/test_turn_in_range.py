"""Turn-ins as handbooks have them."""

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
from dielines.checks.rules import turn_in_range as rule

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


@pytest.mark.parametrize(
    ("setting", "is_silent"),
    [
        # Bean & Brodhead: 1/2 in; Vaughn: 3/4 in; Cockerell p. 154: about 1 in
        ("usual.turn_in=1/2 in", True),
        ("usual.turn_in=3/4 in", True),
        ("usual.turn_in=1 in", True),
        ("usual.turn_in=25", True),
        ("usual.turn_in=12", True),
        ("usual.turn_in=11", False),
        ("usual.turn_in=27", False),
    ],
)
def test_from_half_an_inch_to_an_inch_it_is_silent(folded_of, setting, is_silent):
    assert (found(rule, folded_of(MILLIMETRES, setting)) == []) == is_silent


# turn-ins of 20 at head and tail; the worse of them is told
SPOILS = {
    "the turn-in at the tail 9 shorter": (lambda b: shorter(b, "joint-wrap", "y", 3, -9), [1.7]),
    "the turn-in at the tail 15 shorter": (lambda b: shorter(b, "joint-wrap", "y", 3, -15), [7.7]),
    "the turn-in at the tail 25/3 longer": (
        lambda b: shorter(b, "joint-wrap", "y", 3, F(25, 3)),
        [20 + 25 / 3 - 25.4],
    ),
    "the turn-in at the head 10 longer": (lambda b: shorter(b, "joint-wrap", "y", 175, 10), [4.6]),
    "the turn-in at the head 9 shorter": (lambda b: shorter(b, "joint-wrap", "y", 175, -9), [1.7]),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_how_far_it_is_out_of_the_range_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {Severity.REMARK}


@pytest.mark.parametrize(
    ("text", "setting"),
    [
        (INCHES, "usual.turn_in=3/8"),
        (INCHES, "usual.turn_in=1 1/2"),
        (MILLIMETRES, "usual.turn_in=32/3 mm"),
        (COMB, "usual.turn_in=40"),
    ],
)
def test_with_the_turn_in_that_it_advises_it_is_silent(folded_of, text, setting):
    findings = found(rule, folded_of(text, setting))
    assert len(findings) == 1
    advice = settings_of(findings)
    assert [a.partition("=")[0] for a in advice] == ["usual.turn_in"]
    assert found(rule, folded_of(text, *advice)) == []
