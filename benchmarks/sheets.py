"""Books on sheets: a book of 60 parts, the samples, and a class of 24 of each.

Printed for each stock: sheets, what no layout can need fewer than, how many different
ones, and the same of the rectangles around the parts (by price, where sizes differ); then processor seconds for the whole book, and the memory of the process.
"""

import resource
import time
from pathlib import Path

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.sheets.laying_out import lay_out
from dielines.sheets.sheets_text import least_sheets
from dielines.sheets.way_of_cutting import By

SAMPLES = Path(__file__).parent.parent / "samples"
ONE, CLASS = 2.0, 5.0  #: seconds that a book, and a class of 24, may take
ROW = "{:<34} {:>7} {:>9} {:>7} {:>7} {:>12} {:>9}"


def measure(name: str, copies: int, by: By) -> None:
    """Print the sheets of so many copies of a sample."""
    settings = [f"make.copies={copies}", "make.spares=0"]
    source = book_source(book_document(SAMPLES / name / f"{name}.toml"), settings)
    book = compose(source.request, source.workshop, source.library)
    start = time.process_time()
    layout = lay_out(book, source.workshop, by)
    seconds = time.process_time() - start
    parts = copies * len(book.parts)
    print(f"{name}, {copies} of {len(book.parts)} parts ({parts}), by {by.value}")
    for stock in layout.stocks:
        least = least_sheets(stock)
        share = f"{stock.count / least:.3f}" if least else "-"
        boxes = stock.as_boxes
        beds = stock.order.beds
        row = (
            *(stock.stock.name[:34], stock.count, least, share, len(stock.sheets)),
            *(boxes.price(beds), boxes.bound),
        )
        print("  " + ROW.format(*map(str, row)))
    limit = ONE if copies == 1 else CLASS
    print(f"  {seconds:.2f} s (at most {limit:g})")


def main() -> None:
    """Print all figures."""
    print(
        "  " + ROW.format("stock", "sheets", "at least", "ratio", "differ", "as boxes", "at least")
    )
    for copies in (1, 24):
        for by in (By.MACHINE, By.TRIMMER):
            for name in ("lakeside", "seed-swap", "first-year"):
                measure(name, copies, by)
    kilobytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"memory: {kilobytes / 1024:.0f} MB (at most 1024)\n")


if __name__ == "__main__":
    main()
