"""What fits no sheet, by how much, and what would fit: sums done by hand.

The typical workshop in mm has cardstock on A4, grain along the longer side, and a
machine that leaves 6 mm on each side: 198 x 285 mm can be cut (ISO 216: 210 x 297).
In inches: 12 x 12 and 8 1/2 x 11, a quarter less on each side.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.book.sheets_fit import longest_strip, sheet_alone
from dielines.lengths import inches, millimetres
from dielines.workshop.sizes import Size
from dielines.workshop.stock import Grain


def text_of(pages: str, size: str, units: str = "mm", more: str = "") -> str:
    return (
        f'units = "{units}"\nsize = "{size}"\nbinding = "tab and channel"\npages = {pages}\n{more}'
    )


def told(book) -> dict[str, str]:
    """The first note of each part that fits no sheet, by what it is of."""
    notes = [note for note in reversed(book.notes) if note.code == "no-sheet"]
    return {note.subject: note.text for note in reversed(notes)} | {
        note.subject: note.text for note in notes if "fits no sheet" in note.text
    }


def test_an_a6_upright_side_pocket_at_the_end_of_a_book_does_not_fit_a4(book_of):
    """105 + 3 + 50 = 158 wide; 12 + 3 + 148 + 3 + 148 = 314 high, 29 more than 285."""
    book = book_of(text_of('["2 x side pocket"]', "page A6 upright"))
    text = told(book)["page 1: side pocket"]
    assert "158 x 314" in text.replace(" mm", "")
    assert "29 mm too high" in text
    assert "too wide" not in text


def test_a_larger_sheet_that_would_do_is_named(book_of):
    book = book_of(text_of('["2 x side pocket"]', "page A6 upright"))
    assert "297 x 420" in told(book)["page 1: side pocket"]


def test_a_shorter_cover_tab_that_would_fit_is_named_where_it_still_holds(book_of):
    """150 + 6 + 50 = 206, 8 more than 198: a tab of 42 would fit, and reaches 42 - 5 - 8 - 4 = 25."""
    book = book_of(text_of('["2 x plain leaf"]', "page 150 x 100"))
    text = told(book)["page 1: plain leaf"]
    assert "8 mm too wide" in text
    assert "42 mm" in text
    # 170 would leave a tab of 22, which reaches 5: less than a hinge tab
    none = told(book_of(text_of('["2 x plain leaf"]', "page 170 x 100")))["page 1: plain leaf"]
    assert "28 mm too wide" in none
    assert "22 mm" not in none


def test_the_shorter_tab_does_fit(book_of):
    book = book_of(
        text_of('["2 x plain leaf"]', "page 150 x 100", more="[usual]\ncover_tab = 42\n")
    )
    assert not told(book)
    more = "[usual]\ncover_tab = 43\n"
    assert told(book_of(text_of('["2 x plain leaf"]', "page 150 x 100", more=more)))


def test_pages_of_a_cut_are_told_once_and_mirror_images_by_themselves(book_of):
    book = book_of(text_of('["4 x side pocket"]', "page A6 upright"))
    subjects = [n.subject for n in book.notes if "fits no sheet" in n.text]
    assert subjects == [f"page {n}: side pocket" for n in (1, 2, 3, 4)]
    same = book_of(text_of('["8 x side pocket"]', "page A6 upright"))
    subjects = [n.subject for n in same.notes if "fits no sheet" in n.text]
    assert subjects == [f"page {n}: side pocket" for n in (1, 2, 5, 8)]


def test_what_fits_exactly_fits(book_of):
    """(285 - 12 - 6) / 2 = 133.5 high is the highest side pocket on A4."""
    fits = book_of(text_of('["2 x side pocket"]', "page 100 x 133.5"))
    assert not told(fits)
    over = told(book_of(text_of('["2 x side pocket"]', "page 100 x 133.6")))
    assert "0.2 mm too high" in over["page 1: side pocket"]


def test_boards_and_wraps_are_held_against_their_own_stock(book_of):
    """Boards of A3 at most, cut by knife: 297 x 420, grain along the longer side."""
    book = book_of(text_of('["2 x plain leaf"]', "page 292 x 150"))
    subjects = {n.subject for n in book.notes if "fits no sheet" in n.text}
    assert "front board" in subjects  # 298 wide with the grain up
    assert "spine board" not in subjects


def test_the_grain_of_a_page_runs_along_the_spine(book_of):
    """A wide page of 190 x 205: turned it would fit 198 x 285, but not with its grain up."""
    book = book_of(
        text_of('["3 x plain leaf"]', "page 205 x 150", more='[usual]\ncover_tab = "50"\n')
    )
    assert "page 2: plain leaf" in told(book)  # 205 + 6 + 12 = 223 over 198 across the grain


# ------------------------------------------------------------------ strips and sheets alone


@pytest.fixture
def cardstock(book_of):
    return book_of(text_of('["2 x plain leaf"]', "page 100 x 90")).stocks["pages"]


@pytest.fixture
def workshop(tmp_path):
    from dielines.workshop.loading import load_workshop

    return load_workshop(None, tmp_path / "b.toml", "mm")


def test_the_longest_strip_lies_across_the_grain(cardstock, workshop):
    """As high as 285 along the grain: 198 long; higher ones fit no sheet."""
    assert longest_strip(cardstock, millimetres(285), workshop) == millimetres(198)
    assert longest_strip(cardstock, millimetres(286), workshop) is None


@pytest.mark.parametrize(
    ("grain", "size", "expected"),
    [
        (Grain.UP, (200, 300), Grain.UP),
        (Grain.UP, (300, 200), Grain.ACROSS),
        (Grain.ACROSS, (200, 300), Grain.ACROSS),
        (Grain.NONE, (300, 200), Grain.NONE),
    ],
)
def test_another_sheet_has_its_grain_along_the_same_side(grain, size, expected, cardstock):
    """A4 upright with the grain up has it along the longer side."""
    from dataclasses import replace

    stock = replace(cardstock, sheets=(replace(cardstock.sheets[0], grain=grain),))
    (sheet,) = sheet_alone(stock, Size(*map(millimetres, size))).sheets
    assert (sheet.size, sheet.grain) == (Size(*map(millimetres, size)), expected)


def test_a_stock_without_sheets_has_the_grain_along_the_longer_side(cardstock):
    from dataclasses import replace

    stock = sheet_alone(replace(cardstock, sheets=()), Size(inches(9), inches(6)))
    assert stock.sheets[0].grain is Grain.ACROSS
    assert Fraction(stock.sheets[0].size.across.mm) == Fraction("228.6")
