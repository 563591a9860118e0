"""Words of messages, and the parts that a rule looks at once."""

from dataclasses import replace
from fractions import Fraction

import pytest
from spoiling import changed_part, longer_panel

from dielines.checks.words import and_others, distinct_parts, panel_words, part_words, shown
from dielines.folding.folded_book import FoldedBook

BOOK = """\
title = "Seven"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["flap", "flap", "plain leaf", "flap"]
"""


@pytest.fixture
def inches(folded_of):
    return folded_of(f'units = "in"\n{BOOK}')


def test_an_amount_is_shown_in_the_units_of_the_book(inches):
    assert shown(inches.book, Fraction(127, 80)) == "1/16 in"
    in_mm = replace(inches.book, request=replace(inches.book.request, units="mm"))
    assert shown(in_mm, Fraction(127, 80)) == "≈ 1.6 mm"


@pytest.mark.parametrize("amount", [Fraction(1, 7), -Fraction(1, 7), 0.7])
def test_what_is_too_little_to_show_is_not_shown_as_nothing(inches, amount):
    assert shown(inches.book, amount) == "less than 1/32 in"


def test_nothing_is_nothing(inches):
    assert shown(inches.book, Fraction(0)) == "0 in"


def test_parts_that_are_alike_are_looked_at_once(inches):
    found = list(distinct_parts(inches))
    assert sum(part.number for part in found) == len(inches.book.parts)
    assert len(found) < len(inches.book.parts)
    assert len({part.key for part in found}) == len(found)
    boards = next(part for part in found if part.key == "front-board")
    assert boards.number == 2


def test_a_part_that_was_changed_is_not_taken_for_the_others_of_its_letter(inches):
    longer = changed_part(
        inches.book, "back-board", lambda part: longer_panel(part, "board", "x", 3)
    )
    found = [part.key for part in distinct_parts(FoldedBook(longer, inches.workshop))]
    assert {"front-board", "back-board"} <= set(found)


def test_parts_and_panels_are_called_by_the_words_of_the_trade(inches):
    assert part_words(inches.book, "page-1") == f"page 1 ({inches.book.part('page-1').letter})"
    assert panel_words(inches.book, "page-2", "binding.tab") == "hinge tab"


def test_others_that_are_alike_are_counted():
    assert [and_others(n) for n in (1, 2, 5)] == [
        "",
        " (and 1 more part that is cut alike)",
        " (and 4 more parts that are cut alike)",
    ]


def test_what_belongs_to_a_page_is_not_taken_for_the_page(inches):
    (sheet, *_) = [e for e in inches.book.parts if e.title == "page 1: reinforcement"]
    assert part_words(inches.book, sheet.key) == f"page 1: reinforcement ({sheet.letter})"


def test_a_number_stands_apart_from_the_name_of_a_panel(folded_of):
    tiers = folded_of('units = "in"\n' + BOOK.replace('"plain leaf"', '"tiered pockets"'))
    assert panel_words(tiers.book, "page-3", "front2") == "front 2"
