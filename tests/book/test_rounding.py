"""Rounding: panels are rounded, and then they add up."""

from fractions import Fraction
from pathlib import Path

import pytest

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.paths import bounds_of

BOOK = """units = "mm"
size = "photo 100.3 x 150.7"
binding = "tab and channel"
pages = ["flap", "half pocket", "plain leaf", "flap"]
[usual]
rounding = {rounding}
"""
STEP = Fraction(1, 2)


def composed(folder: Path, rounding: str):
    file = folder / "book.toml"
    file.write_text(BOOK.format(rounding=rounding), encoding="utf-8")
    (folder / "workshop.toml").write_text('units = "mm"\n', encoding="utf-8")
    source = book_source(book_document(file))
    return compose(source.request, source.workshop, source.library)


def test_every_panel_of_every_page_is_a_multiple_of_the_step_and_so_are_their_sums(tmp_path):
    book = composed(tmp_path, "0.5")
    pages = [entry.part for entry in book.parts if entry.key in ("page-1", "page-3", "page-4")]
    for part in pages:
        sides = [side for panel in part.panels for side in panel.bounds()[:2]]
        assert all((Fraction(side) / STEP).denominator == 1 for side in sides)
        assert (part.width / STEP).denominator == 1


def test_equal_panels_stay_equal(tmp_path):
    book = composed(tmp_path, "0.5")
    widths = {
        bounds_of([book.part(key).part.panel("page").outline]).width for key in ("page-1", "page-4")
    }
    assert widths == {Fraction(213, 2)}  # 100.3 + 2 x 3 = 106.3


@pytest.mark.parametrize("rounding", ['"off"', "0.1"])
def test_sizes_stay_exact_where_nothing_is_to_be_rounded(tmp_path, rounding):
    book = composed(tmp_path, rounding)
    assert book.part("page-1").part.panel("page").bounds().width == Fraction(1063, 10)
