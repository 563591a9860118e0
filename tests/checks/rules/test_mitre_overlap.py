"""Mitres that lie over each other."""

import math
from fractions import Fraction

import pytest
from case_books import (
    COMB,
    MILLIMETRES,
    SEEDS,
    all_boards,
    amounts,
    bent,
    found,
    in_book,
    pushed,
    shorter,
    with_wrap,
)  # fmt: skip
from random_books import random_book
from spoiling import changed_join

from dielines.checks.finding import Severity
from dielines.checks.rules import mitre_overlap as rule
from dielines.checks.wrap_corners import wrap_corners
from dielines.paths import Point

F = Fraction
REMARK, WARNING = Severity.REMARK, Severity.WARNING


@pytest.mark.parametrize("seed", SEEDS)
def test_it_is_silent_on_correct_books(folded_of, seed):
    assert found(rule, folded_of(random_book(seed))) == []


def test_it_is_silent_on_the_samples(samples):
    assert [found(rule, folded) for folded in samples.values()] == [[], [], []]


@pytest.mark.parametrize("corners", ["mitred", "overlapped"])
@pytest.mark.parametrize("scores", ["once", "twice"])
def test_it_is_silent_however_strips_meet_and_are_scored(folded_of, corners, scores):
    settings = f"usual.edge_corners={corners}", f"usual.edge_scores={scores}"
    assert found(rule, folded_of(MILLIMETRES, *settings)) == []


@pytest.mark.parametrize("template", ["wrapped-case", "three-sided-case", "five-sided-case"])
def test_it_is_silent_on_wraps_cut_as_the_handbook_has_it(folded_of, template):
    # University of Brighton worksheet: 3 mm from the corner for a board of 2 mm
    folded = folded_of(MILLIMETRES)
    assert in_book(rule, folded, with_wrap(folded.book, template)) == []


def moved(key, dx, dy):
    def change(book):
        join = next(j for j in book.joins if (j.part, j.zone) == (key, "outside"))
        return changed_join(
            book, key, "outside", offset=Point(join.offset.x + dx, join.offset.y + dy)
        )

    return change


def five_sided(cut, thick):
    """Return (d - t cos h) / sin h at the points of a case and at its four shoulders.

    Each board stands out by 1 1/2 in over half of its height, 2 1/4 in.
    """
    half_point = math.atan2(2.25, 1.5)
    half_shoulder = (math.pi - half_point) / 2
    halves = [half_point] * 2 + [half_shoulder] * 4
    return sorted(((cut - thick * math.cos(h)) / math.sin(h) for h in halves), reverse=True)


# Outside the strips meet over 12.5, inside over 10.5 mm; boards of 2 mm.
SPOILS = {
    "a head strip laid 3 beyond its corner": (moved("edge-front-head", 3, 0), [3, 3], REMARK),
    "a tail strip laid 5 beyond its corner": (moved("edge-back-tail", -5, 0), [5, 5], WARNING),
    "a fore-edge strip 7 longer": (
        lambda b: shorter(b, "edge-front-fore-edge", "y", 70, 7),
        [3.5, 3.5, 3.5, 3.5],
        REMARK,
    ),
    "the outside of a mitre 4 too long": (
        lambda b: bent(b, "edge-front-head", pushed((0, 63.5), dy=4)),
        [12.5 - math.sqrt(12.5**2 - 4 * 12.5)],
        REMARK,
    ),
    # overlap sqrt 2 d - t (VALUES.md, derived)
    "a wrap cut at 3 thicknesses": (
        lambda b: with_wrap(b, "wrapped-case", mitre="6 mm"),
        [6 * math.sqrt(2) - 2] * 4,
        WARNING,
    ),
    "a wrap cut at 3/4 of a thickness": (
        lambda b: with_wrap(b, "wrapped-case", mitre="3/2 mm"),
        [1.5 * math.sqrt(2) - 2] * 4,
        REMARK,
    ),
    "a wrap for 2 mm around boards of 1": (
        lambda b: with_wrap(all_boards(b, 1), "wrapped-case"),
        [3 * math.sqrt(2) - 1] * 4,
        WARNING,
    ),
    "a five-sided wrap cut at 5 mm": (
        lambda b: with_wrap(b, "five-sided-case", mitre="5 mm"),
        five_sided(5, 2),
        WARNING,
    ),
}


@pytest.mark.parametrize("text", [MILLIMETRES, COMB], ids=["tabs", "comb"])
@pytest.mark.parametrize("spoil", SPOILS, ids=list(SPOILS))
def test_the_overlap_is_told_along_the_edge(folded_of, text, spoil):
    folded = folded_of(text)
    change, wanted, severity = SPOILS[spoil]
    findings = in_book(rule, folded, change(folded.book))
    of_wrap = [f for f in findings if f.spot.part == "wrapped"]
    assert amounts(of_wrap or findings) == pytest.approx(wanted, abs=0.001)
    assert {finding.severity for finding in of_wrap or findings} == {severity}


def test_the_handbook_overlap_of_a_board_of_2_mm_is_2_243(folded_of):
    # VALUES.md, derived: t = 2, cut at 3 mm: overlap 2.243 mm
    folded = folded_of(MILLIMETRES)
    part = with_wrap(folded.book, "wrapped-case").part("wrapped").part
    corners = list(wrap_corners(part, 2.0))
    assert [corner.overlap for corner in corners] == pytest.approx([2.243] * 4, abs=0.001)
    assert [corner.allowance for corner in corners] == pytest.approx([3] * 4)
    assert [corner.gap for corner in corners] == [0] * 4
