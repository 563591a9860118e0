"""Turn-ins that do not reach the inside, or too little of it."""

from dataclasses import replace
from fractions import Fraction

import pytest
from case_books import (
    COMB,
    INCHES,
    MILLIMETRES,
    SEEDS,
    all_boards,
    amounts,
    found,
    in_book,
    settings_of,
    shorter,
    thicker,
    with_wrap,
)  # fmt: skip
from random_books import random_book
from spoiling import changed_join

from dielines.checks.finding import Severity
from dielines.checks.rules import turn_in_short as rule
from dielines.paths import Point

F = Fraction


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


def strip_farther_out(book):
    """The head strip of the front board laid 5 mm farther onto the outside."""
    join = next(j for j in book.joins if (j.part, j.zone) == ("edge-front-head", "outside"))
    offset = Point(join.offset.x, join.offset.y - 5)
    return changed_join(book, "edge-front-head", "outside", offset=offset)


# boards are 2 mm thick: of a turn-in of 20 and of half a strip, 12.5, so much goes over the edge
SPOILS = {
    "the turn-in at the head is 13 shorter": (
        lambda b: shorter(b, "joint-wrap", "y", 175, -13),
        1.0,
    ),
    "the turn-in at the tail is 13 shorter": (
        lambda b: shorter(b, "joint-wrap", "y", 3, -F(13)),
        1.0,
    ),
    "the inside of a strip is 22/3 shorter": (
        lambda b: shorter(b, "edge-front-head", "x", 20, -F(22, 3)),
        2.833,
    ),
    "a strip is laid too far out": (strip_farther_out, 0.5),
    "a board is 7 thick": (lambda b: thicker(b, "front-board", 7), 0.5),
    "the spine board is 15 thick": (lambda b: thicker(b, "spine-board", 15), 1.0),
    "a wrap of its own turns in 1/4 in": (
        lambda b: with_wrap(b, "wrapped-case", turn_in="1/4"),
        1.65,
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_what_is_too_short_is_told_with_what_it_lacks(folded_of, text, spoil):
    folded = folded_of(text)
    change, short = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    assert amounts(findings)[0] == pytest.approx(short, abs=0.001)
    assert {finding.severity for finding in findings} == {Severity.WARNING}
    # the sizes of the book are large enough; only for boards so thick they are not
    is_thick = "thick" in spoil
    assert any(finding.advice for finding in findings) == is_thick


@pytest.mark.parametrize(
    ("change", "lacks"),
    [
        (lambda b: shorter(b, "joint-wrap", "y", 175, -F(37, 2)), 6.5),
        (lambda b: all_boards(b, 13), 6.5),
        (lambda b: shorter(b, "edge-back-fore-edge", "x", 20, -F(21, 2)), 6),
    ],
)
def test_what_does_not_reach_the_inside_at_all_is_an_error(folded_of, change, lacks):
    folded = folded_of(MILLIMETRES)
    findings = in_book(rule, folded, change(folded.book))
    errors = [f for f in findings if f.severity is Severity.ERROR]
    assert amounts(errors)[0] == pytest.approx(lacks)


NARROW = "usual.tape_margin=1 mm"  # on narrow strips


@pytest.mark.parametrize(
    ("text", "setting"),
    [
        (INCHES, "usual.edge_strip=1/2 in"),
        (MILLIMETRES, "usual.edge_strip=15 mm"),
        (MILLIMETRES, "usual.edge_strip=12 mm"),
        (COMB, "usual.edge_strip=40/3 mm"),
    ],
)
def test_with_the_strip_that_it_advises_it_is_silent(folded_of, text, setting):
    findings = found(rule, folded_of(text, setting, NARROW))
    assert {f.spot.part[:5] for f in findings} == {"edge-"}
    advice = settings_of(findings)
    assert [a.partition("=")[0] for a in advice] == ["usual.edge_strip"]
    assert found(rule, folded_of(text, *advice, NARROW)) == []


THICK = 'units = "mm"\n[boards."slab"]\ncaliper = "5 mm"\nsheets = ["500 x 700"]\n'


def test_with_the_turn_in_that_it_advises_for_thick_boards_it_is_silent(folded_of):
    findings = found(rule, folded_of(MILLIMETRES, "usual.turn_in=10 mm", workshop=THICK))
    assert "joint-wrap" in {f.spot.part for f in findings}
    advice = settings_of(findings)
    assert "usual.turn_in=11 mm" in advice
    assert found(rule, folded_of(MILLIMETRES, *advice, workshop=THICK)) == []


def test_a_book_without_boards_has_no_turn_ins(folded_of):
    folded = folded_of(MILLIMETRES)
    parts = tuple(e for e in folded.book.parts if e.role != "boards")
    joins = tuple(j for j in folded.book.joins if "board" not in j.onto_part)
    assert in_book(rule, folded, replace(folded.book, parts=parts, joins=joins)) == []
