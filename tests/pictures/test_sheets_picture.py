"""The picture of all sheets: each is there, with the letters of its parts, at one scale."""

import re
from collections import Counter
from xml.etree import ElementTree

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.packing.order import Work
from dielines.pictures.sheets_picture import WIDTH, sheets_picture
from dielines.sheets.laying_out import lay_out
from dielines.sheets.layout import BookLayout
from dielines.sheets.way_of_cutting import By

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def drawn(request):
    path = request.config.rootpath / "samples" / "first-year" / "first-year.toml"
    source = book_source(book_document(path), ["make.copies=3"])
    book = compose(source.request, source.workshop, source.library)
    layout = lay_out(book, source.workshop, By.MACHINE, new_work=lambda: Work(5_000))
    return layout, ElementTree.fromstring(sheets_picture(book.title, layout))


def group_of(root, number):
    return next(g for g in root.iter(f"{SVG}g") if g.get("id") == f"sheet-{number}")


def test_every_different_sheet_is_there_with_the_letters_of_its_parts(drawn):
    layout, root = drawn
    for _, sheet in layout.sheets():
        words = [text.text for text in group_of(root, sheet.number).iter(f"{SVG}text")]
        assert words[0].startswith(f"sheet {sheet.number}")
        assert (f"{sheet.times} times" in words[0]) == (sheet.times > 1)
        letters = Counter(one.letter for one in sheet.placed)
        assert Counter(words[1:]) <= letters
        assert set(letters) >= set(words[1:])


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
    assert sheets_picture("a", layout) == sheets_picture("a", layout)


def test_no_sheet_is_no_picture():
    with pytest.raises(ValueError, match="no sheet"):
        sheets_picture("a", BookLayout(By.MACHINE, ()))
