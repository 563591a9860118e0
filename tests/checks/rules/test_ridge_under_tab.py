"""The end of a cover tab on the end of a turn-in."""

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
)  # fmt: skip
from random_books import random_book
from spoiling import changed_join

from dielines.checks.finding import Severity
from dielines.checks.rules import ridge_under_tab as rule
from dielines.paths import Point

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


def tab(book, cover):
    """The join of the cover tab onto a board."""
    onto = f"{cover}-board"
    return next(
        j for j in book.joins if j.onto_part == onto and j.onto_side.value == "reverse"
        and book.part(j.part).role == "pages"
    )  # fmt: skip


def tab_moved(cover, dx):
    """A cover tab whose end comes farther from the spine by *dx*."""

    def change(book):
        join = tab(book, cover)
        out = dx if cover == "front" else -dx
        offset = Point(join.offset.x + out, join.offset.y)
        return changed_join(book, join.part, join.zone, join.onto_part, offset=offset)

    return change


def end_of(book, cover):
    """How far from the spine edge of its board a tab ends."""
    join = tab(book, cover)
    margin = 1.5  # from the tape to the end of the tab
    board = float(book.part("front-board").part.width)
    if cover == "front":
        return float(join.offset.x + join.width) + margin
    return board - float(join.offset.x) + margin


#: The turn-in at head and tail is 25 wide at its fold and tapers by 1/16 in over its 20 mm.
SLOPE = 1.5875 / 20


def ridge_at(up):
    """Where the turn-in ends, so far up from the edge of the board (which takes 2 mm of it)."""
    return 25 - SLOPE * (up + 2)


@pytest.mark.parametrize("cover", ["front", "back"])
@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("aim", [25.5, 24, 26, 22.4, F(70, 3)])
def test_a_tab_that_ends_less_than_2_mm_from_the_ridge_is_told(folded_of, text, cover, aim):
    folded = folded_of(text)
    book = tab_moved(cover, float(aim) - end_of(folded.book, cover))(folded.book)
    (finding,) = in_book(rule, folded, book)
    # the tab begins 3 from the edge of the board and tapers by 6; the turn-in reaches 18 onto the board
    low, high = ridge_at(18), ridge_at(3 + 6)
    nearest = max(low - float(aim), float(aim) - high, 0)
    join = tab(book, cover)
    assert amounts([finding])[0] == pytest.approx(2 - nearest, abs=0.001)
    assert finding.severity is Severity.WARNING
    assert finding.spot.part == join.part


def test_farther_than_2_mm_from_the_ridge_it_is_silent(folded_of):
    folded = folded_of(MILLIMETRES)
    for aim in (27.1, 20.9):
        book = tab_moved("front", aim - end_of(folded.book, "front"))(folded.book)
        assert in_book(rule, folded, book) == []


@pytest.mark.parametrize(
    ("name", "change"),
    [
        (
            "a hold 16 wider, which reaches 8 farther",
            lambda b: shorter(b, "joint-wrap", "x", 12, 16),
        ),
        (
            "a strip that reaches in from the fore-edge",
            lambda b: shorter(b, "edge-front-fore-edge", "x", 20, 57),
        ),
    ],
)
def test_what_is_turned_in_may_be_at_fault_as_well(folded_of, name, change):
    folded = folded_of(MILLIMETRES)
    findings = in_book(rule, folded, change(folded.book))
    assert [f.severity for f in findings] == [Severity.WARNING], name


@pytest.mark.parametrize(
    ("text", "setting"),
    [
        (INCHES, "usual.hold=1 3/8"),
        (MILLIMETRES, "usual.hold=33"),
        (MILLIMETRES, "usual.hold=35"),
        (COMB, "usual.hold=98/3 mm"),
        (COMB, "usual.hold=32"),
    ],
)
def test_with_the_tab_that_it_advises_it_is_silent(folded_of, text, setting):
    findings = found(rule, folded_of(text, setting))
    assert len(findings) == 2
    advice = settings_of(findings)
    assert [a.partition("=")[0] for a in advice] == ["usual.cover_tab"]
    assert found(rule, folded_of(text, setting, *advice)) == []
