"""Advice on paper economy: an album of eight pages in each binding, and a class of the samples.

Printed for each: sheets, the sheets after the best change, how many changes are told, and
processor seconds for all of the advice.
"""

import time
from pathlib import Path

from dielines.bindings.registry import bindings
from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks.checking import check_book
from dielines.folding.folded_book import FoldedBook
from dielines.sheets.again import AsCut
from dielines.sheets.economy import savings
from dielines.sheets.forcing import forcing_parts
from dielines.sheets.laying_out import lay_out
from dielines.sheets.other_sheets import other_sheets
from dielines.sheets.way_of_cutting import By

LAKE = Path(__file__).parent.parent / "samples" / "lakeside" / "lakeside.toml"
EIGHT = (
    'pages=["side pocket", "flap", "plain leaf", "top pocket",'
    ' "plain leaf", "flap", "side pocket", "plain leaf"]'
)
SIZES = ('size="photo 5 x 3 1/2"', 'size="photo 4 x 4"')
AT_MOST = 5.0  #: seconds for a book of eight pages
ROW = "{:<46} {:>8} {:>6} {:>6} {:>5} {:>8}"


def measure(words: str, settings: list[str], by: By) -> None:
    """Print a row of the table."""
    document = book_document(LAKE)
    source = book_source(document, settings)
    book = compose(source.request, source.workshop, source.library)
    layout = lay_out(book, source.workshop, by)
    cut = AsCut(book, source.workshop, by, None)
    start = time.process_time()
    found = savings(document, settings, cut, layout, is_sound)
    forcing = list(forcing_parts(layout.stocks, book.units))
    others = other_sheets(layout, book.units)
    seconds = time.process_time() - start
    count = sum(stock.count for stock in layout.stocks)
    after = min((saving.after for saving in found), default=count)
    told = f"{len(found)}+{len(forcing)}+{len(others)}"
    print("  " + ROW.format(words, by.value, count, after, told, f"{seconds:.2f}"))


def is_sound(changed: AsCut) -> bool:
    """Return whether the checks find no error."""
    return check_book(FoldedBook(changed.book, changed.workshop)).holds


def main() -> None:
    """Print all figures."""
    print("  " + ROW.format("album", "by", "sheets", "after", "told", "s"))
    for by in (By.MACHINE, By.TRIMMER):
        for binding in bindings():
            for size in SIZES:
                settings = [f"binding={binding}", "page.2.flap=2 1/2", EIGHT, size]
                words = f"8 pages, {binding}, {size.partition('=')[2]}"
                measure(words, settings, by)
                if size is SIZES[0]:
                    measure("the same, a class of 24", [*settings, "make.copies=24"], by)
    print(f"(a book of eight pages: at most {AT_MOST:g} s)\n")


if __name__ == "__main__":
    main()
