"""The page that fills a sheet: found by trying, held to sums done by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.book.largest_page import largest_page
from dielines.errors import BookError
from dielines.lengths import Length, inches, millimetres
from dielines.workshop.sizes import Size

INCH = Fraction(254, 10)
LEAST = millimetres(40)


def text_of(
    size: str,
    pages: str = '["2 x side pocket"]',
    units: str = "in",
    more: str = "",
    binding: str = "tab and channel",
) -> str:
    return f'units = "{units}"\nsize = "{size}"\nbinding = "{binding}"\npages = {pages}\n{more}'


def page(book) -> tuple[Fraction, Fraction]:
    unit = INCH if book.units == "in" else Fraction(1)
    return tuple(book.reasons.length(f"page_{side}").mm / unit for side in ("width", "height"))


def least(width: Length, height: Length):
    return lambda size: size.across <= width and size.up <= height


def test_the_largest_page_is_found_in_steps_that_people_measure_with():
    sheet = Size(inches("8 1/2"), inches(11))
    found = largest_page(sheet, LEAST, "in", least(inches("5 1/3"), inches("4 6/7")))
    assert found == Size(inches("5 5/16"), inches("4 13/16"))
    found = largest_page(sheet, LEAST, "mm", least(millimetres("123.4"), millimetres("61.9")))
    assert found == Size(millimetres(123), millimetres(61))


def test_pages_too_small_to_be_made_do_not_hide_the_larger_ones():
    def fits(size: Size) -> bool:
        return size.across >= inches(3) and size.up >= inches(3) and size.up <= inches("4 1/8")

    found = largest_page(Size(inches(12), inches(9)), LEAST, "in", fits)
    assert found == Size(inches(12), inches("4 1/8"))


@pytest.mark.parametrize(("across", "up"), [(12, "1 5/8"), ("1 5/8", 12)])
def test_narrow_pages_are_found_whichever_way_they_lie(across, up):
    fits = least(inches(across), inches(up))
    assert largest_page(Size(inches(12), inches(12)), LEAST, "in", fits) == Size(
        inches(across), inches(up)
    )


@pytest.mark.parametrize("is_wide", [True, False])
def test_pages_are_found_that_can_only_be_wide_or_only_upright(is_wide):
    """At least 4 long, at most 3 on the other side: no square."""

    def fits(size: Size) -> bool:
        long, short = size if is_wide else size.turned
        return long >= inches(4) and short <= inches(3)

    found = largest_page(Size(inches(12), inches(9)), LEAST, "in", fits)
    expected = Size(inches(12), inches(3))
    assert found == (expected if is_wide else expected.turned)


def test_none_is_found_where_none_fits():
    assert largest_page(Size(inches(12), inches(12)), LEAST, "in", lambda _: False) is None


# ------------------------------------------------------------------ in a book


@pytest.mark.parametrize(
    ("size", "units", "expected"),
    [
        # letter less 1/4 on each side: 8 x 10 1/2; two pockets in width + 1/8 + 2,
        # in height 1/2 + 2 x 1/8 + 2 pages
        ("sheet letter", "in", ("47/8", "39/8")),
        (
            "sheet 11 x 8 1/2",
            "in",
            ("47/8", "39/8"),
        ),  # turned; the grain runs along the longer side
        # A4 less 6 mm: 198 x 285; 198 - 3 - 50 wide, (285 - 12 - 6) / 2 high
        ("sheet A4 upright", "mm", (145, 133)),
    ],
)
def test_a_sheet_drives_the_page_whose_largest_part_still_fits(size, units, expected, book_of):
    book = book_of(text_of(size, units=units))
    assert page(book) == tuple(Fraction(side) for side in expected)
    assert not [note for note in book.notes if note.code == "no-sheet" and "page" in note.subject]


def test_only_that_sheet_counts_whatever_else_there_is(book_of):
    """12 x 12 is in the cupboard too, but the book asks for letter."""
    book = book_of(text_of("sheet letter"))
    (sheet,) = book.stocks["pages"].sheets
    assert sheet.size == Size(inches("8 1/2"), inches(11))


def test_kinds_that_cannot_be_small_are_found_as_well(book_of):
    """Doors, frames and pleats that no page of 40 mm can have."""
    pages = '["frame page", "half pocket", "gate doors", "tiered pockets"]'
    width, height = page(book_of(text_of("sheet 12 x 12", pages)))
    # the pleats are the highest: h + 2/3 h + 2/3 h + 1/3 h less two papers, at most 11 1/2
    assert height == Fraction(69, 16)
    # the last page is the widest, nothing stands behind it: w + 1/4 + 2 at most 11 1/2
    assert width == Fraction(37, 4)


def test_strips_of_a_pleated_spine_are_cut_from_that_sheet(book_of):
    book = book_of(text_of("sheet letter", '["6 x plain leaf"]', binding="concertina spine"))
    strips = [entry.part for entry in book.parts if entry.key.startswith("comb")]
    assert len(strips) > 1
    assert all(Fraction(part.width) / INCH <= 8 for part in strips)
    assert page(book) == (8, Fraction(21, 2))


def test_a_sheet_too_small_for_any_page_is_told_at_the_size(book_of):
    with pytest.raises(BookError) as caught:
        book_of(text_of("sheet 3 x 3"))
    (fault,) = caught.value.faults
    assert (fault.line, fault.code, fault.field) == (2, "no-page", "size")


def test_what_else_keeps_every_page_from_being_made_is_told_instead(book_of):
    """A flap of 30 in is too much for any page."""
    with pytest.raises(BookError) as caught:
        book_of(text_of("sheet letter", '["2 x flap"]', more="[page.2]\nflap = 30\n"))
    assert [(fault.line, fault.field) for fault in caught.value.faults] == [(6, "page 2: flap")]
