"""The spine lining over the ends of the turn-ins."""

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
    thicker,
)  # fmt: skip
from random_books import random_book
from spoiling import changed_join

from dielines.checks.finding import Severity
from dielines.checks.rules import turn_in_over_lining as rule
from dielines.paths import Point

F = Fraction
BOARD = 2.032  #: 80 caliper points, the board of a book in inches


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


def moved(dx, dy):
    def change(book):
        join = next(
            j for j in book.joins if (j.part, j.onto_part) == ("spine-lining", "spine-board")
        )
        offset = Point(join.offset.x + dx, join.offset.y + dy)
        return changed_join(book, "spine-lining", "lining", "spine-board", offset=offset)

    return change


WARNING, ERROR = Severity.WARNING, Severity.ERROR
# The lining, 113 up, lies on turn-ins of 20 by 6, flat; by 4 once 2 have gone over the edge.
# It is 40 wide on a spine board of 34.
SPOILS = {
    "9 shorter": (lambda b: shorter(b, "spine-lining", "y", 50, -9), [0.5, 0.5], WARNING),
    "4 shorter, it covers still": (
        lambda b: shorter(b, "spine-lining", "y", 50, -4),
        [2, 2],
        WARNING,
    ),
    "laid 7 too high": (moved(0, 7), [3], WARNING),
    "laid 10/3 too low": (moved(0, -F(10, 3)), [3.333], WARNING),
    "30 longer": (lambda b: shorter(b, "spine-lining", "y", 50, 30), [1, 1], ERROR),
    "turn-in at the head 5 shorter": (
        lambda b: shorter(b, "joint-wrap", "y", 175, -5),
        [1],
        WARNING,
    ),
    "spine board 13/2 thick": (lambda b: thicker(b, "spine-board", F(13, 2)), [0.5, 0.5], WARNING),
    "8 narrower": (lambda b: shorter(b, "spine-lining", "x", 20, -8), [1, 1], WARNING),
    "laid 5 too far to the back": (moved(-5, 0), [2], WARNING),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_what_is_bare_or_sticks_out_is_told(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted, severity = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in findings} == {severity}
    assert any(finding.advice for finding in findings) == ("thick" in spoil)


@pytest.mark.parametrize(
    ("text", "setting", "bare"),
    [
        (MILLIMETRES, "usual.lining_end=0", 2),
        (MILLIMETRES, "usual.lining_end=1/3 mm", 2 - 1 / 3),
        (COMB, "usual.lining_end=2 mm", 0),
        (INCHES, "usual.lining_end=1/16", BOARD - 1.5875),
    ],
)
def test_with_the_lining_that_it_advises_it_is_silent(folded_of, text, setting, bare):
    findings = found(rule, folded_of(text, setting))
    assert amounts(findings) == pytest.approx([bare, bare], abs=0.001)
    assert found(rule, folded_of(text, *settings_of(findings))) == []
