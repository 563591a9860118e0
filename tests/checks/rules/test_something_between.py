"""Things between joined panels. Areas are geometry; the lining of the samples as composed."""

from dataclasses import replace
from fractions import Fraction

import pytest
from seam_spoils import (
    INCH,
    MORE,
    POCKETS,
    correct_books,
    faults_in,
    found_in,
    spoiled,
    with_zone,
)
from spoiling import changed_zone, with_steps

from dielines.checks.finding import Severity
from dielines.checks.rules import something_between as rule
from dielines.folding.folded_book import FoldedBook
from dielines.part import Side
from dielines.paths import Point, bounds_of


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def faults(folded):
    return faults_in(rule, folded)


def same(path):
    return path


def test_samples_and_correct_books_have_nothing_between(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults(folded) == [], folded.book.title


def test_how_much_of_the_channels_tape_lands_on_the_lining_is_told_once(samples):
    (found,) = found_in(rule, samples["lakeside"])
    assert found.severity is Severity.REMARK
    assert found.amount.value == 3 * INCH
    (found,) = found_in(rule, samples["seed-swap"])
    assert found.amount.value == 110


def test_a_flap_taped_to_the_page_over_another_flap_is_caught(folded_of):
    def change(part):
        return with_zone(part, "flap", Side.FACE, "page", (1, 10, 25, 40))

    folded = spoiled(folded_of(MORE), "page-5", change)
    found = faults(folded)
    assert {f.spot.panel for f in found} == {"flap"}
    assert found[0].severity is Severity.ERROR
    assert max(f.amount.value for f in found) == pytest.approx(24 * 30, rel=0.05)


def test_a_tier_taped_past_its_own_back_is_caught(book):
    folded = spoiled(book, "page-4", lambda p: changed_zone(p, "left2", same, onto="back1"))
    assert {f.spot.panel for f in faults(folded)} == {"front2"}


def test_a_seam_under_a_back_that_is_taped_beyond_it_is_caught(book):
    def change(part):
        part = with_steps(part, "front / tail, tail / back", "seam / head, head / front")
        return changed_zone(part, "seam", same, onto="front", side=Side.REVERSE)

    folded = spoiled(book, "page-1", change)
    (found,) = faults(folded)
    box = bounds_of([next(z.path for z in book.book.part("page-1").part.zones if z.name == "seam")])
    assert found.amount.value == pytest.approx(float(box.width * box.height), rel=0.04)
    within = spoiled(
        book, "page-5", lambda p: with_zone(p, "head_door", Side.FACE, "page", (20, 5, 60, 17))
    )
    assert faults(within) == []


def two_tabs_in_one_place(book, dx=0):
    """Return the book with a tab moved to the place where another one is taped."""
    first, second = [j for j in book.book.joins if j.zone == "binding.tab"][:2]
    offset = Point(first.offset.x + dx, first.offset.y)
    moved = replace(
        second,
        onto_part=first.onto_part,
        onto_panel=first.onto_panel,
        onto_side=first.onto_side,
        offset=offset,
    )
    joins = [moved if j is second else j for j in book.book.joins]
    return FoldedBook(replace(book.book, joins=tuple(joins)), book.workshop), first


def test_two_tabs_in_one_place_are_told(book):
    folded, first = two_tabs_in_one_place(book)
    found = faults(folded)
    assert [f.severity for f in found] == [Severity.WARNING]
    assert found[0].amount.value == pytest.approx(float(first.width * first.height))


def test_two_tabs_that_overlap_by_a_third_are_a_remark(book):
    folded, first = two_tabs_in_one_place(book)
    folded, first = two_tabs_in_one_place(book, dx=first.width * Fraction(2, 3))
    found = [f for f in found_in(rule, folded) if f.spot.part != "spine-board"]
    assert [f.severity for f in found] == [Severity.REMARK]
    assert found[0].amount.value == pytest.approx(float(first.width * first.height) / 3)


def test_a_tab_onto_a_panel_that_is_taped_over_is_told(book):
    (join,) = [j for j in book.book.joins if j.onto_part == "page-4" and j.zone == "back_tab"]
    side = Side.REVERSE
    box = book.book.part("page-4").part.panel("back1").bounds()
    moved = replace(join, onto_side=side, offset=Point(join.offset.x, box.bottom + 1), height=50)
    joins = [moved if j is join else j for j in book.book.joins]
    folded = FoldedBook(replace(book.book, joins=tuple(joins)), book.workshop)
    found = faults(folded)
    assert [f.spot.part for f in found] == ["page-4"]
    assert found[0].amount.value == pytest.approx(float(join.width * 50), rel=0.01)


def test_a_seam_of_an_inner_pocket_under_the_next_tab_does_no_harm(folded_of):
    found = found_in(rule, folded_of(MORE))
    assert {f.spot.part for f in found} == {"spine-board"}


TURNED = """
title = "Turned"
units = "in"
size = "photo 6 x 4"
binding = "{binding}"
mats = "none"
pages = ["flap", "side pocket", "tiered pockets", "flap"]
[page.3]
looks = "cover"
"""


@pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])
def test_a_turned_page_is_held_at_its_taped_pockets_until_the_advice_is_followed(
    folded_of, binding
):
    text = TURNED.format(binding=binding)
    (found,) = faults(folded_of(text))
    assert (found.severity, found.spot.part) == (Severity.WARNING, "page-3")
    settings = [f"{advice.setting}={advice.value}" for advice in found.advice]
    assert settings == ["page.3.looks=middle"]
    assert faults(folded_of(text, *settings)) == []
