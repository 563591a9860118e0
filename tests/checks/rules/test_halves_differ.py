"""Pages that should be mirror images of each other. Geometry; amounts are those of the spoiling."""

from dataclasses import replace
from fractions import Fraction

import pytest
from composed import album, composed, correct_books, found_in
from spoiling import changed_part, longer_panel, moved_zone, stretched, with_angle, without_zone

from dielines.checks.finding import Severity
from dielines.checks.rules import halves_differ as rule

#: left and right of the same kind, three flaps so that one alone is the odd one
SIX = '"side pocket", "flap", "flap", "flap", "flap", "side pocket"'
THIRD = Fraction(5, 3)


@pytest.fixture(scope="module")
def book():
    return composed(album(SIX))


def told(book):
    return {f.spot.part: round(float(f.amount.value), 4) for f in found_in(rule, book)}


def test_pages_of_correct_books_are_mirror_images(samples):
    for whole in (*samples.values(), *correct_books()):
        assert list(rule.check(whole)) == []


def test_a_gusset_that_is_wider_on_one_page(book):
    wide = changed_part(book, "page-3", lambda p: longer_panel(p, "gusset", "x", THIRD))
    assert told(wide) == {"page-3": round(5 / 3, 4)}
    assert {f.severity for f in found_in(rule, wide)} == {Severity.WARNING}


def test_tape_that_lies_elsewhere_on_one_page(book):
    shifted = changed_part(book, "page-4", lambda p: moved_zone(p, "binding.tab", dy=THIRD))
    assert told(shifted) == {"page-4": round(5 / 3, 4)}


def test_tape_that_one_page_lacks(book):
    bare = changed_part(book, "page-4", lambda p: without_zone(p, "binding.channel"))
    assert told(bare) == {"page-4": 1}


def test_a_fold_that_goes_the_other_way_on_one_page(book):
    fold = next(str(x.key) for x in book.part("page-2").part.folds if "gusset" in x.key.panels())
    wrong = changed_part(book, "page-2", lambda p: with_angle(p, fold, -90))
    assert told(wrong) == {"page-2": 2}


def test_a_page_that_was_cut_for_the_other_half_but_is_not_marked_so(book):
    wrong = changed_part(book, "page-5", lambda p: replace(p, is_mirrored=not p.is_mirrored))
    assert set(told(wrong)) == {"page-5"}
    assert found_in(rule, wrong)[0].amount.value > 10


def test_an_end_page_and_its_fellow_at_the_other_cover(book):
    head = book.part("page-6").part.panel("front").bounds().top
    higher = changed_part(book, "page-6", lambda p: stretched(p, "y", head - 1, THIRD))
    assert told(higher) == {"page-6": round(5 / 3, 4)}


def test_reinforcement_that_is_wider_on_one_page(book):
    wide = changed_part(book, "page-3-reinforcement", lambda p: longer_panel(p, "tab", "x", THIRD))
    assert told(wide) == {"page-3-reinforcement": round(5 / 3, 4)}


def test_pages_of_other_sizes_are_no_fellows():
    book = composed(album('"flap", "flap"', "[page.2]", 'flap = "2 1/3"'))
    assert told(book) == {}
