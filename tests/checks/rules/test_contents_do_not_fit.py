"""What a page holds against the room for it: geometry. That a flat pocket takes 1 mm is memory."""

import pytest
from random_books import random_book
from spoiling import longer_panel
from thick_books import (
    PAPER,
    TAPE,
    book_of,
    composed,
    found_in,
    holding,
    mixed_book,
    settings_of,
    spoiled,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import channel_too_narrow
from dielines.checks.rules import contents_do_not_fit as rule

INCH = 25.4
CLEAR = 3.175 - PAPER  #: of an inner pocket of 1/8 in


def holds(number: int, *things: str) -> str:
    return f"[page.{number}]\nholds = [{', '.join(things)}]\n"


def thing(size: str, thick: str = "0.1 mm", count: int = 1) -> str:
    return f'{{ what = "card", size = "{size}", thick = "{thick}", count = {count} }}'


def amounts(found):
    return [(f.spot.part, f.severity, round(float(f.amount.value), 4)) for f in found]


def test_correct_books_are_not_blamed(samples, tmp_path):
    for folded in samples.values():
        assert found_in(rule, folded) == []
    for seed in range(2, 20, 4):
        assert found_in(rule, composed(tmp_path, random_book(seed), workshop="")) == []


def test_what_fits_is_not_blamed(tmp_path):
    text = mixed_book(4, holding(2, "5 x 3 1/2", "0.1") + holding(3, "5 x 3 1/2", "0.1"))
    assert found_in(rule, composed(tmp_path, text)) == []


def test_what_is_higher_than_a_pocket_open_at_its_side_does_not_go_in(tmp_path):
    """The pocket is 3 3/4 in high and closed at head and tail."""
    found = found_in(rule, composed(tmp_path, mixed_book(4, holding(3, "4 x 4 1/7", "0.01"))))
    assert amounts(found) == [("page-3", Severity.ERROR, round((4 + 1 / 7 - 3.75) * INCH, 4))]


def test_what_is_longer_than_that_pocket_sticks_out_of_its_mouth_and_of_the_page(tmp_path):
    found = found_in(rule, composed(tmp_path, mixed_book(4, holding(3, "5 1/3 x 3", "0.01"))))
    assert amounts(found) == [("page-3", Severity.WARNING, round((1 / 3 - 0.25) * INCH, 4))]


def test_a_pocket_open_at_its_head_is_closed_across(tmp_path):
    text = book_of(["plain leaf", "top pocket", "plain leaf"], holding(2, "5 1/3 x 3", "0.01"))
    found = found_in(rule, composed(tmp_path, text))
    assert amounts(found) == [("page-2", Severity.ERROR, round((1 / 3 - 0.25) * INCH, 4))]


def test_what_is_larger_than_a_page_with_a_flap_sticks_out(tmp_path):
    found = found_in(rule, composed(tmp_path, mixed_book(4, holding(2, "5 1/3 x 4", "0.01"))))
    assert amounts(found) == [
        ("page-2", Severity.WARNING, round((1 / 3 - 0.25) * INCH, 4)),
        ("page-2", Severity.WARNING, round(0.25 * INCH, 4)),
    ]


def test_what_is_wider_than_a_pocket_closed_at_its_sides_does_not_go_in_however_wide_the_page(
    tmp_path,
):
    """The pocket is half as wide as the page, 2 5/8 in, and open at its foot or head."""
    kinds = ["plain leaf", "library-card pocket", "plain leaf"]
    found = found_in(rule, composed(tmp_path, book_of(kinds, holding(2, "3 x 2", "1/3 mm"))))
    assert amounts(found) == [("page-2-pocket", Severity.ERROR, round(0.375 * INCH, 4))]


def test_what_looks_out_of_a_mouth_but_stays_on_its_page_is_right(tmp_path):
    """A card as high as the page's pocket back stands out of the lower front, as it should."""
    kinds = ["plain leaf", "library-card pocket", "plain leaf"]
    folded = composed(tmp_path, book_of(kinds, holding(2, "2 x 3", "1/3 mm")))
    front = folded.thickness.stack.levels["page-2-pocket", "front"].box
    assert front.top - front.bottom < 3 * INCH
    assert found_in(rule, folded) == []
    found = found_in(rule, composed(tmp_path, book_of(kinds, holding(2, "2 x 4", "1/3 mm"))))
    assert [f.severity for f in found] == [Severity.WARNING]


@pytest.mark.parametrize(
    ("number", "size", "room"),
    [
        (3, "5 x 2 1/2", CLEAR),
        (3, "5 x 3 1/2", CLEAR - PAPER - TAPE),  # it reaches under the seam
        (1, "5 x 2 1/2", CLEAR - PAPER),  # the cover tab lies over the back
    ],
)
def test_bulk_is_held_against_the_clear_depth_where_it_lies(tmp_path, number, size, room):
    text = mixed_book(4, holding(number, size, "0.14"))
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    over = 0.14 * INCH - room
    assert amounts(found) == [(f"page-{number}", Severity.WARNING, round(over, 4))]
    settings = settings_of(folded, found[0])
    assert settings[0].startswith(f"page.{number}.depth=")
    assert found_in(rule, composed(tmp_path, text, *settings)) == []


def test_things_in_one_pocket_count_together(tmp_path):
    text = mixed_book(4, holds(3, thing("5 x 2", "1/7 mm", 12), thing("4 x 2 1/2", "8/5 mm")))
    found = found_in(rule, composed(tmp_path, text))
    over = 12 / 7 + 1.6 - CLEAR
    assert amounts(found) == [("page-3", Severity.WARNING, round(over, 4))]


def test_things_are_shared_out_among_the_pockets_of_a_page(tmp_path):
    """Two cards of 2 mm: together too thick for one pocket, but the page has two."""
    kinds = ["plain leaf", "double pocket", "plain leaf"]
    fits = holds(2, thing("4 x 1 1/2", "2 mm", 2))
    assert found_in(rule, composed(tmp_path, book_of(kinds, fits))) == []
    full = holds(2, thing("4 x 1 1/2", "2 mm", 3))
    (found,) = found_in(rule, composed(tmp_path, book_of(kinds, full)))
    assert found.severity is Severity.WARNING


def test_what_lies_behind_a_flap_has_the_room_of_its_gusset(tmp_path):
    text = mixed_book(4, holding(2, "4 x 3", "1/7"))
    folded = composed(tmp_path, text)
    found = found_in(rule, folded)
    over = INCH / 7 - CLEAR
    assert amounts(found) == [("page-2", Severity.WARNING, round(over, 4))]
    assert found_in(rule, composed(tmp_path, text, *settings_of(folded, found[0]))) == []


def test_a_pocket_without_depth_takes_a_millimetre(tmp_path):
    kinds = ["plain leaf", "tiered pockets", "plain leaf"]
    thin, thick = (holding(2, "3 x 1", t) for t in ("6/7 mm", "9/7 mm"))
    assert found_in(rule, composed(tmp_path, book_of(kinds, thin))) == []
    found = found_in(rule, composed(tmp_path, book_of(kinds, thick)))
    assert amounts(found) == [("page-2", Severity.WARNING, round(2 / 7, 4))]


def test_a_gusset_scored_narrower_no_longer_takes_what_it_was_made_for(tmp_path):
    folded = composed(tmp_path, mixed_book(4, holding(2, "4 x 3", "0.1")))
    assert found_in(rule, folded) == []
    spoilt = spoiled(folded, "page-2", lambda p: longer_panel(p, "gusset", "x", -5 / 3))
    found = found_in(rule, spoilt)
    over = 0.1 * INCH - (CLEAR - 5 / 3)
    assert amounts(found) == [("page-2", Severity.WARNING, round(over, 4))]


def test_a_front_cut_lower_no_longer_takes_what_it_was_made_for(tmp_path):
    folded = composed(tmp_path, mixed_book(4, holding(3, "5 x 3 1/2", "0.05")))
    assert found_in(rule, folded) == []

    def change(part):
        return longer_panel(longer_panel(part, "front", "y", -10), "back", "y", -10)

    found = found_in(rule, spoiled(folded, "page-3", change))
    assert ("page-3", Severity.ERROR, round(3.5 * INCH - (3.75 * INCH - 10), 4)) in amounts(found)


def test_things_that_say_no_thickness_are_held_to_their_size_alone(tmp_path):
    text = mixed_book(4, '[page.3]\nholds = { what = "letter", size = "5 x 3", count = 50 }\n')
    assert found_in(rule, composed(tmp_path, text)) == []


@pytest.mark.parametrize("mats", ["none", "outer side", "both sides"])
def test_a_depth_to_fit_holds_the_contents_with_mats_or_without(folded_of, mats):
    text = f"""
    title = "Seeds"
    units = "mm"
    size = "page 95 x 135"
    binding = "tab and channel"
    pages = ["6 x top pocket"]
    mats = "{mats}"
    [every."top pocket"]
    holds = {{ what = "seed packet", size = "80 x 115", thick = 2, count = 2 }}
    depth = "to fit"
    """
    folded = folded_of(text)
    assert list(rule.check(folded)) == []
    assert list(channel_too_narrow.check(folded)) == []
