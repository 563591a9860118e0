"""Where what a page holds lies, and what it adds."""

from __future__ import annotations

from thick_books import PAPER, book_of, composed, holding, mixed_book

from dielines.folding.contents import CONTENTS, stowed_things
from dielines.part import Side


def coats(folded):
    stack = folded.thickness.stack
    return [(k, c) for k, cs in stack.coats.items() for c in cs if c.kind == CONTENTS]


def stowed(folded, number):
    page = folded.book.request.pages[number - 1]
    return stowed_things(page, folded.parts, folded.thickness.stack.levels)


def test_things_in_a_pocket_stand_on_its_tail_in_the_middle(tmp_path):
    folded = composed(tmp_path, mixed_book(4, holding(3, "5 x 2 1/7", "1/7 mm", 7)))
    ((key, coat),) = coats(folded)
    front = folded.thickness.stack.levels["page-3", "front"].box
    assert key == ("page-3", "front")
    assert coat.thickness == 1.0
    assert coat.box.bottom == front.bottom
    assert abs((coat.box.top - coat.box.bottom) - 15 / 7 * 25.4) < 1e-9
    assert abs(coat.box.left - front.left - (front.right - coat.box.right)) < 1e-9


def test_they_lie_between_front_and_back(tmp_path):
    """Page 3 is in the back half: its pocket opens towards the back cover, so below its front."""
    folded = composed(
        tmp_path, mixed_book(4, holding(3, "5 x 2", "1 mm") + holding(1, "5 x 2", "1 mm"))
    )
    sides = {key: coat.is_above for key, coat in coats(folded)}
    heights = folded.thickness.upright
    for page in ("page-1", "page-3"):
        is_back_above = heights[page, "back"] > heights[page, "front"]
        assert sides[page, "front"] is is_back_above


def test_what_is_larger_than_its_pocket_counts_as_far_as_the_pocket_goes(tmp_path):
    folded = composed(tmp_path, mixed_book(4, holding(3, "9 x 9", "1 mm")))
    ((_, coat),) = coats(folded)
    assert coat.box == folded.thickness.stack.levels["page-3", "front"].box


def test_things_of_a_page_with_a_flap_lie_behind_the_flap(tmp_path):
    folded = composed(tmp_path, mixed_book(4, holding(2, "4 x 3", "1 mm")))
    (found,) = stowed(folded, 2)
    assert found.carrier.key == ("page-2", "page")
    assert found.carrier.pocket is None
    assert found.carrier.side is Side.FACE


def test_things_go_one_by_one_where_the_least_lies(tmp_path):
    text = book_of(["plain leaf", "double pocket", "plain leaf"], holding(2, "3 x 1", "1 mm", 5))
    found = stowed(composed(tmp_path, text), 2)
    assert sorted(s.count for s in found) == [2, 3]
    assert sum(s.thickness for s in found) == 5


def test_what_fits_one_pocket_alone_goes_there(tmp_path):
    """A card too high for either pocket counts in the first, one that fits goes where it fits."""
    text = book_of(["plain leaf", "double pocket", "plain leaf"], holding(2, "3 x 9", "1 mm", 4))
    found = stowed(composed(tmp_path, text), 2)
    assert sum(s.count for s in found) == 4


def test_the_card_of_a_library_pocket_is_one_paper_in_it(tmp_path):
    text = book_of(["plain leaf", "library-card pocket", "plain leaf"])
    ((key, coat),) = coats(composed(tmp_path, text))
    assert key == ("page-2-pocket", "front")
    assert coat.thickness == PAPER


def test_a_page_that_holds_nothing_has_no_contents(tmp_path):
    assert coats(composed(tmp_path, mixed_book(4))) == []
