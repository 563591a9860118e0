"""Vertices that cannot be folded flat. Source: theorems of Kawasaki-Justin and Maekawa-Justin."""

from dataclasses import replace
from fractions import Fraction

import pytest
from folded_parts_of import POCKETS, built_in, drawn, found_by, with_other
from random_books import random_book
from spoiling import with_angle

from dielines.checks.finding import Severity
from dielines.checks.rules import crossing_folds
from dielines.checks.rules import flat_folding as rule
from dielines.folding.vertices import inner_vertices
from dielines.paths import Point, line


def test_samples_and_correct_books_pass(samples, folded_of):
    books = [*samples.values(), *(folded_of(random_book(seed)) for seed in range(9))]
    assert [found_by(rule, book) for book in books if found_by(rule, book)] == []


def leaning(fold):
    """Return the upper upright fold of a map with its far end moved by a tenth of its height."""
    if str(fold.key) != "a | b":
        return fold
    low, high = sorted((fold.pieces[0].points[0], fold.pieces[0].points[-1]), key=lambda p: p.y)
    end = Point(high.x + (high.y - low.y) / 10, high.y)
    return replace(fold, pieces=(line(low, end),))


@pytest.mark.parametrize("fold", ["a / c", "b / d", "a | b", "c | d"])
def test_two_valleys_and_two_mountains_are_told(folded_of, fold):
    part = built_in("map-fold")
    angle = next(line.angle_deg for line in part.lines if str(line.key) == fold)
    book = with_other(folded_of(POCKETS), with_angle(part, fold, -angle))
    (found,) = found_by(rule, book, "page-2")
    assert found.severity is Severity.ERROR
    assert (found.amount.value, found.amount.unit) in ((1, "folds"),)
    assert float(found.spot.point.x) == pytest.approx(float(part.width) / 2)
    assert found_by(crossing_folds, book, "page-2")


def test_sectors_that_do_not_alternate_are_told_by_the_angle(folded_of):
    part = built_in("map-fold")
    lean = replace(part, lines=tuple(leaning(fold) for fold in part.lines))
    (found,) = found_by(rule, with_other(folded_of(POCKETS), lean), "page-2")
    assert found.amount.unit == "degrees"
    assert found.amount.value == pytest.approx(5.7106, abs=1e-3)  # arc tangent of 0.1, computed


def test_a_fold_that_ends_in_the_paper_is_told(folded_of):
    part = built_in("folio")
    (fold,) = part.folds
    (piece,) = fold.pieces
    half = Point(piece.points[0].x, (piece.points[0].y + piece.points[-1].y) / 2)
    short = replace(part, lines=(replace(fold, pieces=(line(piece.points[0], half),)),))
    (found,) = found_by(rule, with_other(folded_of(POCKETS), short), "page-2")
    assert (found.amount.value, found.amount.unit) == (1, "folds")
    assert found.spot.point == pytest.approx((float(half.x), float(half.y)))


def test_a_fold_that_changes_its_sign_on_its_way_is_told(folded_of):
    part = built_in("folio")
    (fold,) = part.folds
    (piece,) = fold.pieces
    half = Point(piece.points[0].x, piece.points[0].y + Fraction(100, 7))
    lower = replace(fold, pieces=(line(piece.points[0], half),))
    upper = replace(fold, pieces=(line(half, piece.points[-1]),), angle_deg=-fold.angle_deg)
    (found,) = found_by(
        rule, with_other(folded_of(POCKETS), replace(part, lines=(lower, upper))), "page-2"
    )
    assert found.spot.point == pytest.approx((float(half.x), float(half.y)))


def test_folds_that_stand_upright_are_not_its_matter(folded_of):
    rows = ["11 : . head corner", "70 : left page right", "11 : . tail ."]
    part = drawn("11, 100, 11", rows, ['"* | *" = 90', '"* / *" = 90'], "* / *, * | *")
    assert [len(vertex.rays) for vertex in inner_vertices(part)] == [4]
    assert found_by(rule, with_other(folded_of(POCKETS), part), "page-2") == []


@pytest.mark.parametrize("name", ["wrapped-case", "five-sided-case", "three-sided-case"])
def test_what_is_nipped_in_at_the_corners_of_boards_is_not_its_matter(folded_of, name):
    part = built_in(name)
    assert not all(vertex.can_fold_flat for vertex in inner_vertices(part))
    assert found_by(rule, with_other(folded_of(POCKETS), part), "page-2") == []


def test_giving_the_other_way_as_advised_mends_it(folded_of):
    wrong = with_angle(built_in("map-fold"), "c | d", 180)
    right = with_angle(wrong, "c | d", -180)
    assert found_by(rule, with_other(folded_of(POCKETS), wrong), "page-2")
    assert found_by(rule, with_other(folded_of(POCKETS), right), "page-2") == []
