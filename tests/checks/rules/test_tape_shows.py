"""Bare tape, and tape near edges that show (1/16 in: from memory). Shares are geometry."""

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
    with_zone,
)
from spoiling import changed_join, changed_zone, without_join

from dielines.checks.finding import Severity
from dielines.checks.rules import tape_shows as rule
from dielines.folding.folded_book import FoldedBook
from dielines.part import Side
from dielines.paths import bounds_of, rectangle

MEAN = '[usual]\ntape_margin = "1/20"\n'


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def test_samples_show_no_tape_nor_does_any_correct_book(folded_of, samples):
    for folded in samples.values():
        assert found_in(rule, folded) == []
    for folded in correct_books(folded_of):
        assert faults_in(rule, folded) == [], folded.book.title


@pytest.mark.parametrize(
    ("part", "zone"),
    [("page-2", "binding.tab"), ("hinge-strip", "back_tab"), ("page-5", "binding.channel")],
)
def test_a_join_left_out_leaves_its_tape_bare(book, part, zone):
    folded = FoldedBook(without_join(book.book, part, zone), book.workshop)
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.ERROR
    assert (found.spot.part, found.spot.panel) == (part, zone)
    assert (found.amount.value, found.amount.unit) == (1, "1")
    assert speaking(folded) == {"tape_shows"}


def test_a_zone_for_nothing_stays_bare(book):
    folded = spoiled(
        book, "page-5", lambda p: with_zone(p, "page", Side.REVERSE, "", (9, 9, 30, 20))
    )
    (found,) = found_in(rule, folded)
    assert (found.spot.part, found.amount.value) == ("page-5", 1)


def test_the_share_of_a_seam_that_passes_its_target_stays_bare(book):
    folded = spoiled(book, "page-1", lambda p: cut_short(p, "y", 30, INCH * Fraction(3, 16)))
    (found,) = found_in(rule, folded)
    assert 0.28 < found.amount.value < 1 / 3  # the cover tab lies on the rest of that third


def test_the_share_of_a_tab_that_no_join_covers_stays_bare(book):
    (join,) = [j for j in book.book.joins if (j.part, j.zone) == ("page-2", "binding.tab")]
    changed = changed_join(book.book, "page-2", "binding.tab", height=join.height * Fraction(5, 7))
    (found,) = found_in(rule, FoldedBook(changed, book.workshop))
    assert found.amount.value == pytest.approx(2 / 7)


def test_tape_at_the_edge_of_its_seam_is_a_remark(folded_of):
    def wide(path):
        box = bounds_of([path])
        return rectangle(box.left, box.bottom - 1, box.right, box.top)

    folded = spoiled(folded_of(MORE), "page-4-pocket", lambda p: changed_zone(p, "seam1", wide))
    (found,) = [f for f in found_in(rule, folded) if f.spot.part == "page-4-pocket"]
    assert found.severity is Severity.REMARK
    assert 0 < found.amount.value <= 1.5


def test_a_margin_smaller_than_usual_is_a_remark_until_the_advice_is_followed(folded_of):
    found = found_in(rule, folded_of(POCKETS + MEAN))
    assert {f.severity for f in found} == {Severity.REMARK}
    assert max(f.amount.value for f in found) == pytest.approx(1.5 - 25.4 / 40)
    settings = {f"{a.setting}={a.value.mm / INCH} in" for f in found for a in f.advice}
    assert settings == {"usual.tape_margin=1/8 in"}
    assert found_in(rule, folded_of(POCKETS + MEAN, *settings)) == []


def test_tape_may_end_at_the_fold_of_its_tab(book):
    tab, zone = (
        bounds_of([path])
        for path in (
            book.book.part("page-2").part.panel("binding.tab").outline,
            next(z.path for z in book.book.part("page-2").part.zones if z.name == "binding.tab"),
        )
    )
    channel = book.book.part("page-2").part.panel("binding.channel").bounds()
    left = tab.left if channel.right <= tab.left else zone.left
    right = tab.right if channel.left >= tab.right else zone.right
    wide = rectangle(left, zone.bottom, right, zone.top)
    folded = spoiled(book, "page-2", lambda p: changed_zone(p, "binding.tab", lambda _: wide))
    joins = changed_join(folded.book, "page-2", "binding.tab", width=right - left)
    assert right - left > zone.width
    assert found_in(rule, FoldedBook(joins, book.workshop)) == []
