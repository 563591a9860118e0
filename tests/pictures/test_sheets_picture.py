"""The picture of all sheets: each is there, with the letters of its parts, at one scale."""

import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.lengths import millimetres
from dielines.packing.order import Work
from dielines.pictures.sheets_picture import REACH, WIDTH, sheets_picture
from dielines.pictures.svg_page import text_width
from dielines.sheets.laying_out import lay_out
from dielines.sheets.layout import BookLayout
from dielines.sheets.sheets_text import sheet_words
from dielines.sheets.way_of_cutting import By
from dielines.workshop.sizes import Size

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def sample_book(request):
    path = request.config.rootpath / "samples" / "first-year" / "first-year.toml"
    source = book_source(book_document(path), ["make.copies=3"])
    return compose(source.request, source.workshop, source.library), source.workshop


@pytest.fixture(scope="module")
def drawn(sample_book):
    book, workshop = sample_book
    layout = lay_out(book, workshop, By.MACHINE, new_work=lambda: Work(5_000))
    return layout, ElementTree.fromstring(sheets_picture(book.title, layout, "in"))


def group_of(root, number):
    return next(g for g in root.iter(f"{SVG}g") if g.get("id") == f"sheet-{number}")


def test_every_different_sheet_is_there_with_the_letters_of_its_parts(drawn):
    layout, root = drawn
    for _, sheet in layout.sheets():
        words = [text.text for text in group_of(root, sheet.number).iter(f"{SVG}text")]
        assert words[0].startswith(f"sheet {sheet.number}")
        assert (f"{sheet.times} times" in words[0]) == (sheet.times > 1)
        assert words[1] == sheet_words(sheet.room.sheet.size, "in")
        letters = Counter(one.letter for one in sheet.placed)
        assert Counter(words[2:]) <= letters
        assert set(letters) >= set(words[2:])


def test_each_stock_has_its_name_once(drawn):
    layout, root = drawn
    words = [text.text for text in root.iter(f"{SVG}text")]
    for stock in layout.stocks:
        assert sum(word.startswith(f"{stock.stock.name}, ") for word in words) == 1


def test_all_sheets_have_one_scale_and_stay_on_the_page(drawn):
    layout, root = drawn
    _, _, wide, high = map(float, root.get("viewBox").split())
    assert wide == WIDTH
    scales = []
    for _, sheet in layout.sheets():
        frame = next(group_of(root, sheet.number).iter(f"{SVG}path")).get("d")
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", frame)]
        xs, ys = numbers[::2], numbers[1::2]
        assert 0 <= min(xs) < max(xs) <= wide
        assert 0 <= min(ys) < max(ys) <= high
        size = sheet.room.sheet.size
        scales.append((max(xs) - min(xs)) / float(size.across.mm))
        scales.append((max(ys) - min(ys)) / float(size.up.mm))
    assert max(scales) - min(scales) < 0.0005


def test_the_same_layout_is_drawn_the_same(drawn):
    layout, _ = drawn
    assert sheets_picture("a", layout, "mm") == sheets_picture("a", layout, "mm")


def test_no_sheet_is_no_picture():
    with pytest.raises(ValueError, match="no sheet"):
        sheets_picture("a", BookLayout(By.MACHINE, ()), "in")


def test_words_of_neighbours_keep_clear_of_each_other(drawn):
    _, root = drawn
    lines = {}
    for text in root.iter(f"{SVG}text"):
        if text.get("text-anchor") is None:
            size, left = float(text.get("font-size")), float(text.get("x"))
            lines.setdefault(text.get("y"), []).append(
                (left, left + text_width(text.text, size), text.text)
            )
    assert len(lines) > 3
    for row in lines.values():
        for (_, end, before), (start, _, after) in pairwise(sorted(row)):
            assert end < start, (before, after)
        assert max(end for _, end, _ in row) <= WIDTH


@pytest.mark.parametrize("across", [150, 900])
def test_what_the_machine_does_not_reach_is_shown_and_explained(sample_book, across):
    book, workshop = sample_book
    area = Size(millimetres(across), millimetres(900))
    small = replace(workshop, machine=replace(workshop.machine, area=area))
    layout = lay_out(book, small, By.MACHINE, new_work=lambda: Work(0))
    root = ElementTree.fromstring(sheets_picture(book.title, layout, "mm"))
    for _, sheet in layout.sheets():
        dashed = [p for p in group_of(root, sheet.number) if p.get("stroke-dasharray") == REACH]
        assert len(dashed) == sheet.room.is_only_a_part
    words = [text.text for text in root.iter(f"{SVG}text")]
    assert any("reaches" in word for word in words) == (across == 150)
    assert any("grain" in word for word in words)
