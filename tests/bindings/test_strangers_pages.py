"""Pages that the tool has never seen: bound by what their template says, never by their name."""

from __future__ import annotations

from fractions import Fraction

import pytest

INCH = Fraction(254, 10)
BINDINGS = pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])


def text_of(pages: str, binding: str = "tab and channel") -> str:
    return f'units = "in"\nsize = "page 6 1/4 x 4 1/4"\nbinding = "{binding}"\npages = {pages}\n'


#: a leaf drawn for the front half: bound at its right, its flap at the left
LEFT_HANDED = """
template = "left-handed"
kind = "page"
units = "in"
[parameters]
width = { type = "length", default = 6 }
height = { type = "length", default = 4 }
[parts.page]
bound = "page right"
columns = ["5/2", "1/7", "width"]
rows = ["height : flap gusset page"]
folds = { "* | *" = 90 }
"""


@BINDINGS
def test_a_page_drawn_with_its_spine_at_the_right_is_mirrored_in_the_back_half(
    binding, book_beside, prove
):
    book = book_beside(text_of('["4 x left handed"]', binding), left_handed=LEFT_HANDED)
    handed = [
        (book.part(f"page-{n}").part.bound.side, book.part(f"page-{n}").part.is_mirrored)
        for n in (1, 2, 3, 4)
    ]
    assert handed == [("right", False), ("right", False), ("left", True), ("left", True)]
    prove(book)
    assert book.reasons.length("page_1_towards_back").mm == INCH / 7  # its flap folds to the middle


def test_its_reinforcement_has_the_hand_of_its_tab(book_beside):
    """Tapered at the side where the tab is: right in front, left at the back."""
    book = book_beside(text_of('["2 x left handed"]'), left_handed=LEFT_HANDED)
    for key, is_right in (("page-1", True), ("page-2", False)):
        part = book.part(f"{key}-reinforcement").part
        tab, lap = part.panel("tab").bounds(), part.panel("lap_page").bounds()
        assert (tab.left > lap.left) == is_right
        assert part.is_mirrored == is_right


BOARDED = """
template = "boarded"
kind = "page"
units = "in"
[parameters]
width = { type = "length", default = 6 }
height = { type = "length", default = 4 }
[parts.page]
bound = "page left"
columns = ["width"]
rows = ["height : page"]
[parts.stiffener]
stock = "board"
columns = ["width / 2"]
rows = ["height / 2 : stiffener"]
[parts.reinforcement]
stock = "reinforcing"
columns = [1]
rows = [1]
"""


def test_parts_of_a_page_are_cut_from_the_stock_that_they_name(book_beside):
    template = BOARDED.replace("rows = [1]", 'rows = ["1 : patch"]')
    book = book_beside(text_of('["2 x boarded"]'), boarded=template)
    roles = {e.key: (e.role, e.stock.name) for e in book.parts if e.key.startswith("page-1")}
    assert roles == {
        "page-1": ("pages", "cardstock"),
        "page-1-stiffener": ("boards", "grey board"),
        "page-1-reinforcement": ("reinforcement", "non-tearing synthetic sheet"),
        "page-1-binding-reinforcement": ("reinforcement", "non-tearing synthetic sheet"),
    }
    assert book.part("page-1-reinforcement").part.panel("patch").bounds().width == INCH
    lapped = book.part("page-1-binding-reinforcement").part
    assert Fraction(lapped.width) / INCH == 2 + Fraction(1, 4) + Fraction(3, 8)


COVERED = """
template = "holed"
kind = "page"
units = "in"
[parameters]
width = { type = "length", default = 6 }
height = { type = "length", default = 4 }
at = { type = "length", default = "1/2" }
[parts.page]
bound = "page left"
columns = ["width"]
rows = ["height : page"]
edits = [{ hole = "page", from = "left", at = ["at", "middle"], diameter = "1/4" }]
"""


@BINDINGS
def test_a_hole_under_what_is_glued_over_the_binding_edge_is_told(binding, book_beside):
    """Tabs cover 1/2, fins 3/4: a hole of 1/4 whose middle is 5/8 or 7/8 from the spine just clears."""
    clear = "5/8" if binding == "tab and channel" else "7/8"
    covered = "3/5" if binding == "tab and channel" else "6/7"
    text = text_of('["plain leaf", "holed", "holed"]', binding)
    book = book_beside(
        text + f'[page.2]\nat = "{covered}"\n[page.3]\nat = "{clear}"\n', holed=COVERED
    )
    assert [n.subject for n in book.notes if n.code == "covered-cut"] == ["holed, page 2"]


def test_slits_for_the_corners_of_a_photo_are_told_where_the_tab_covers_them(book_of):
    book = book_of(text_of('["2 x photo slits"]'))
    assert [n.subject for n in book.notes if n.code == "covered-cut"] == ["photo slits, pages 1, 2"]
    narrow = text_of('["2 x photo slits"]') + '[every."photo slits"]\nphoto = "4 1/2 x 3"\n'
    assert not [n for n in book_of(narrow).notes if n.code == "covered-cut"]
