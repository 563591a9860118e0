from __future__ import annotations

import re
from dataclasses import replace

import pytest

from dielines.book.new_book import new_book_text, page_kinds
from dielines.book.request import Mats, Rule, SizeKind
from dielines.errors import UsageError
from dielines.lengths import inches, millimetres
from dielines.sizes.usual import Origin, usual_sizes
from dielines.workshop.sizes import Size

LAKE = ('Lake "one" \\ é', "photo 5 x 3 1/2", 6, "in", "tab and channel")


@pytest.mark.parametrize("pages", [1, 2, 3, 5, 6, 24, 200])
def test_a_new_book_reads_back_without_faults(read, pages):
    book = read(new_book_text("Lake", "page 133 1/3 mm x 5 in", pages, "mm", "concertina spine"))
    assert book.size.sides == Size(millimetres("400/3"), inches(5))
    assert (book.size.kind, book.units, book.binding) == (SizeKind.PAGE, "mm", "concertina-spine")
    assert [page.number for page in book.pages] == list(range(1, pages + 1))
    assert [page.kind.replace("-", " ") for page in book.pages] == page_kinds(pages)


def test_a_new_book_is_the_usual_one(read):
    book = read(new_book_text(*LAKE))
    assert book.title == 'Lake "one" \\ é'
    assert book.size.sides == Size(inches(5), inches("3 1/2"))
    assert {page.mats for page in book.pages} == {Mats.NONE}
    assert (book.spine, book.copies, book.spares, dict(book.paper)) == (Rule.USUAL, 1, 0, {})
    assert book.usual == usual_sizes("in")
    kinds = [page.kind for page in book.pages]
    assert (kinds[0], kinds[-1], len(set(kinds))) == ("side-pocket", "side-pocket", 4)
    assert '# margin            = "1/8" ' in new_book_text(*LAKE)


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_usual_size_stands_there_and_changes_nothing_when_it_is_used(read, units):
    text = new_book_text("Lake", "photo 130 x 90 mm", 6, units, "tab and channel")
    head, tail = text.split("[usual]\n")
    usual = read(f"{head}[usual]\n{re.sub('^# ', '', tail, flags=re.MULTILINE)}").usual
    assert {row.origin for row in usual.rows.values()} == {Origin.BOOK}
    rows = {name: replace(row, origin=Origin.USUAL) for name, row in usual.rows.items()}
    assert rows == usual_sizes(units).rows


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_remark_that_shows_an_entry_can_be_used(read, units):
    text = new_book_text("Lake", "photo 130 x 90 mm", 6, units, "tab and channel")
    used = re.sub(r"^# (\[|[a-z_]+ +=)", r"\1", text, flags=re.MULTILINE)
    book = read(used)
    assert book.pages[1].given["flap"].value in ("2 1/2", 60)
    assert [thing.count for thing in book.pages[0].holds] == [3]
    assert set(book.paper) == {"pages", "boards"}


def test_no_line_is_longer_than_a_screen():
    lines = new_book_text(*LAKE).split("\n")
    assert max(map(len, lines)) <= 130


@pytest.mark.parametrize(
    "changed",
    [
        {2: 0},
        {2: 201},
        {1: "5 x 7"},
        {1: "photo 5"},
        {1: "photo 5000 x 7"},
        {0: "two\nlines"},
        {0: " "},
        {4: ""},
    ],
)
def test_a_book_that_cannot_be_is_refused(changed):
    arguments = [changed.get(index, value) for index, value in enumerate(LAKE)]
    with pytest.raises(UsageError):
        new_book_text(*arguments)
