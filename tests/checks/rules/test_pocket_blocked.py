"""Pockets whose mouth, depth or notch is not free. Lengths are geometry, shares from memory."""

from fractions import Fraction

import pytest
from seam_spoils import (
    MORE,
    POCKETS,
    correct_books,
    faults_in,
    found_in,
    speaking,
    spoiled,
    with_zone,
)
from spoiling import longer_panel

from dielines.checks.finding import Severity
from dielines.checks.rules import pocket_blocked as rule
from dielines.part import Side


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def taped(book, *box):
    """Return the book with more tape between the first tier and its back, from its mouth up."""

    def change(part):
        return with_zone(part, "front1", Side.REVERSE, "back1", box)

    return spoiled(book, "page-4", change)


def test_samples_and_correct_books_have_free_pockets(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


def test_tape_in_the_middle_of_the_mouth_blocks_it(book):
    folded = taped(book, 70, 0, 90, 10)
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.ERROR
    assert found.spot.panel == "front1"
    assert found.amount.value == pytest.approx(20 + 2 * 7.9 + 4 * 0.3, abs=1.5)
    assert "pocket_blocked" in speaking(folded)


def test_tape_that_divides_the_mouth_blocks_it_wherever_it_is(book):
    (found,) = found_in(rule, taped(book, 30, 0, 37, 10))
    assert found.amount.value == pytest.approx(7 + 2 * 7.9 + 4 * 0.3, abs=1.5)


def test_tape_over_most_of_the_mouth_from_one_side_blocks_it(book):
    (found,) = found_in(rule, taped(book, 0, 0, 110, 10))
    assert found.amount.value == pytest.approx(110 + 7.9 + 2 * 0.3, abs=1.5)


def test_tape_across_the_pocket_halfway_in_blocks_its_depth(book):
    folded = taped(book, 0, 45, 158, 51)
    (found,) = found_in(rule, folded)
    front = folded.book.part("page-4").part.panel("front1").bounds()
    assert found.amount.value == pytest.approx(float(front.height) - 45 + 0.3, abs=0.5)


def test_tape_along_the_bottom_takes_little_and_is_no_fault(book):
    height = float(book.book.part("page-4").part.panel("front1").bounds().height)
    assert found_in(rule, taped(book, 10, height - 8, 140, height - 1)) == []


def test_tape_in_the_mouth_of_a_deep_pocket_blocks_it(book):
    def change(part):
        box = part.panel("front").bounds()
        side = (
            (0, 40, 9, 70) if part.mouths[0].side == "left" else (box.width - 9, 40, box.width, 70)
        )
        return with_zone(part, "front", Side.REVERSE, "back", side)

    (found,) = found_in(rule, spoiled(book, "page-1", change))
    assert found.severity is Severity.ERROR
    assert found.amount.value == pytest.approx(30 + 4 * 0.3, abs=1.5)


def test_a_seam_that_reaches_into_the_thumb_notch_is_told(book):
    seam, front = (book.book.part("page-1").part.panel(n).bounds() for n in ("seam", "front"))
    notch = Fraction(3, 4) * Fraction(127, 5)
    more = (front.height - notch) / 2 - seam.height + Fraction(22, 7)
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "seam", "y", more))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.WARNING
    assert found.amount.value == pytest.approx(22 / 7 - 0.54, abs=0.06)  # the seam tapers by 1/8 in
    assert speaking(folded) == {"pocket_blocked", "seam_off_target", "tape_outside_overlap"}


NARROW = """
title = "Wide seams"
units = "{units}"
size = "photo {photo}"
binding = "tab and channel"
mats = "none"
pages = ["plain leaf", "library-card pocket"]
[usual]
seam_tab = "{seam}"
"""


@pytest.mark.parametrize(
    ("units", "photo", "seam"), [("in", "3 1/2 x 5", "5/8"), ("mm", "90 x 130", "17")]
)
def test_seams_narrower_as_advised_leave_the_notch_free(folded_of, units, photo, seam):
    text = NARROW.format(units=units, photo=photo, seam=seam)
    found = found_in(rule, folded_of(text))
    assert {(f.severity, f.spot.panel) for f in found} == {
        (Severity.WARNING, "seam1"), (Severity.WARNING, "seam2"),
    }  # fmt: skip
    settings = {f"{a.setting}={float(a.value.mm):.3f} mm" for f in found for a in f.advice}
    assert len(settings) == 1
    assert found_in(rule, folded_of(text, *settings)) == []


def test_a_seam_of_the_other_pocket_behind_the_page_is_not_in_this_one(folded_of):
    assert faults_in(rule, folded_of(MORE)) == []
