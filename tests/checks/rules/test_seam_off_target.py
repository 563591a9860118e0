"""Seams that miss their target. Amounts of the pocket of 4 1/4 in are those of the notes on folding."""

from fractions import Fraction

import pytest
from seam_spoils import (
    INCH,
    MORE,
    POCKETS,
    correct_books,
    cut_short,
    faults_in,
    found_in,
    speaking,
    spoiled,
    without_zones,
)
from spoiling import longer_panel, with_angle

from dielines.checks.finding import Severity
from dielines.checks.rules import seam_off_target as rule


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def short_back(book, inches):
    """Return the book with the back of its side pocket so long (4 1/4 when right)."""
    by = (Fraction(17, 4) - inches) * INCH
    return spoiled(book, "page-1", lambda part: cut_short(part, "y", 30, by))


def test_samples_and_correct_books_have_no_seam_off_target(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


@pytest.mark.parametrize(
    ("back", "over"),
    [
        (Fraction(67, 16), Fraction(1, 16)),
        (Fraction(65, 16), Fraction(3, 16)),
        (Fraction(7, 2), Fraction(3, 4)),
        (Fraction(17, 4) - Fraction(2, 7), Fraction(2, 7)),
    ],
)
def test_a_short_back_lets_its_seam_stick_over(book, back, over):
    (found,) = found_in(rule, short_back(book, back))
    assert found.amount.value == over * INCH
    assert (found.spot.part, found.spot.panel) == ("page-1", "seam")


def test_a_sixteenth_off_is_a_warning_of_this_rule_alone(book):
    folded = short_back(book, Fraction(67, 16))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.WARNING
    assert speaking(folded) == {"seam_off_target"}


def test_a_seam_whose_tape_misses_is_an_error_of_this_rule_and_of_tape_outside_overlap(book):
    folded = short_back(book, Fraction(65, 16))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.ERROR
    assert speaking(folded) == {"seam_off_target", "tape_outside_overlap", "tape_shows"}


def test_a_back_that_its_seam_does_not_reach_leaves_the_pocket_open_too(book):
    assert speaking(short_back(book, Fraction(7, 2))) == {
        "seam_off_target", "tape_outside_overlap", "tape_shows", "mouth",
    }  # fmt: skip


def test_unequal_gussets_leave_the_seam_off_the_plane_of_its_target(book):
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "tail", "y", INCH / 16))
    (found,) = found_in(rule, folded)
    assert found.amount.value == INCH / 16
    assert found.severity is Severity.WARNING
    assert speaking(folded) == {"seam_off_target"}


def test_a_gusset_that_is_too_small_is_told_by_this_rule_alone_too(book):
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "tail", "y", -INCH / 16))
    assert [f.amount.value for f in found_in(rule, folded)] == [INCH / 16]
    assert speaking(folded) == {"seam_off_target"}


def test_a_seam_at_an_angle_does_not_lie_flat(book):
    folded = spoiled(book, "page-1", lambda p: with_angle(p, "seam / head", -77))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.ERROR
    assert (found.amount.value, found.amount.unit) == (pytest.approx(13), "degrees")


def test_a_seam_of_a_half_pocket_wider_than_its_page_sticks_over(book):
    width = Fraction(25, 4) * INCH
    folded = spoiled(book, "page-3", lambda p: longer_panel(p, "seam1", "x", width))
    found = [f for f in found_in(rule, folded) if f.spot.panel == "seam1"]
    assert found[0].amount.value == pytest.approx(12.7)


def test_a_seam_of_a_flat_pocket_longer_than_its_back_sticks_over(folded_of):
    folded = spoiled(
        folded_of(MORE), "page-4-pocket", lambda p: longer_panel(p, "front", "y", Fraction(190, 7))
    )
    found = found_in(rule, folded)
    back = folded.book.part("page-4-pocket").part.panel("back").bounds().height
    front = folded.book.part("page-4-pocket").part.panel("front").bounds().height
    assert {f.spot.panel for f in found} <= {"seam1", "seam2"}
    assert [f.amount.value for f in found] == ([] if front < back else [front - back] * 2)


def test_a_seam_without_tape_is_no_matter_of_this_rule(book):
    folded = spoiled(book, "page-1", lambda p: without_zones(p, "seam"))
    assert found_in(rule, folded) == []
    assert speaking(folded) == {"mouth"}


def test_a_seam_over_by_less_than_a_hand_errs_is_a_remark(book):
    (found,) = found_in(rule, short_back(book, Fraction(17, 4) - Fraction(1, 35)))
    assert found.severity is Severity.REMARK
    assert found.amount.value == INCH / 35
