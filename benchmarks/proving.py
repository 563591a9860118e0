"""How long it takes to prove a book before paper is cut, and to draw what was proved.

A book of 24 pages of six kinds: all checks, the slowest rules, the books drawn by lot
for its tolerance, its pictures; then books of 6 to 48 pages. Everything is warm: the
libraries are loaded and another book was checked before; the book itself is new every
time, so that nothing of it is kept from the run before.
"""

import gc
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks.checking import check_book
from dielines.checks.registry import rules
from dielines.folding.folded_book import FoldedBook
from dielines.pictures.book_picture import View, book_picture
from dielines.pictures.part_picture import part_picture
from dielines.tolerance.tolerance import DRAWS, tolerance_of

TIMES = 5
PAGES, GROWING = 24, (6, 12, 24, 48)
CHECKS, SIMULATION, PART, WHOLE = 0.5, 2.0, 0.1, 1.0  #: s, at most
SLOWEST = 5
KINDS = ("side pocket", "flap", "gate doors", "plain leaf", "roll fold", "half pocket")
TEXT = """
title   = "To be proved"
units   = "in"
size    = "photo 5 x 3 1/2"
binding = "tab and channel"
pages   = [{pages}]
mats    = "inner side"
"""
#: narrow channels, for the spine board of all books has to stay below its largest width
NARROW = """
[usual]
channel = "1/8"
depth   = "1/16"
"""
#: what a book is folded into before any rule looks at it, in this order
FOLDED = ("parts", "assembly", "thickness")


def composed(folder: Path, pages: int, more: str = "") -> Callable[[], FoldedBook]:
    """Return what makes a book of so many pages anew, composed and not yet folded."""
    file = folder / f"{pages}.toml"
    kinds = ", ".join(f'"{KINDS[i % len(KINDS)]}"' for i in range(pages))
    file.write_text(TEXT.format(pages=kinds) + more)

    def anew() -> FoldedBook:
        source = book_source(book_document(file), [])
        return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)

    return anew


def seconds(work: Callable[[], object]) -> float:
    """Return the processor seconds that *work* takes."""
    start = time.process_time()
    work()
    return time.process_time() - start


def stages(folded: FoldedBook) -> Iterator[tuple[str, float]]:
    """Yield how long each stage and each rule takes in a new book, one after the other."""
    for name in FOLDED:
        yield name, seconds(lambda name=name: getattr(folded, name))
    for name, rule in rules().items():
        yield f"rule: {name}", seconds(lambda rule=rule: list(rule.check(folded)))


def typical(anew: Callable[[], FoldedBook]) -> dict[str, float]:
    """Return the median of each stage and rule over several new books."""
    runs = []
    for _ in range(TIMES):
        folded = anew()
        gc.collect()
        runs.append(dict(stages(folded)))
    return {name: median(one[name] for one in runs) for name in runs[0]}


def print_checks(anew: Callable[[], FoldedBook]) -> None:
    """Print what all checks take, what folding has of it, and the slowest rules."""
    taken = median(checking(anew) for _ in range(TIMES))
    print(
        f"all {len(rules())} checks of {PAGES} pages, {len(anew().book.parts)} parts, warm: "
        f"{taken * 1000:.0f} ms of a processor; at most {CHECKS * 1000:.0f} ms"
    )
    found = typical(anew)
    told = ", ".join(f"{name} {found[name] * 1000:.0f} ms" for name in FOLDED)
    print(f"  of that folding: {told}")
    rest = {name: found[name] for name in found if name not in FOLDED}
    for name in sorted(rest, key=rest.__getitem__, reverse=True)[:SLOWEST]:
        print(f"  {name}: {rest[name] * 1000:.1f} ms")
    print(f"  all rules together: {sum(rest.values()) * 1000:.0f} ms")


def print_tolerance(anew: Callable[[], FoldedBook]) -> None:
    """Print what it takes to draw books by lot for three ways of aligning pages."""
    taken = median(drawing_lots(anew) for _ in range(TIMES))
    rows = tolerance_of(anew()).clearances
    errors = {error for row in rows for error in row.row}
    print(
        f"tolerance of {PAGES} pages, {len(errors)} errors, {len(rows)} clearances, {DRAWS} books,"
        f" aligned in three ways: {taken * 1000:.0f} ms; at most {SIMULATION * 1000:.0f} ms"
    )


def print_pictures(anew: Callable[[], FoldedBook]) -> None:
    """Print what pictures of parts and of the whole book take."""
    folded = anew()
    folded.thickness  # noqa: B018
    pages = [f"page-{number + 1}" for number in range(len(KINDS))]
    taken = [
        seconds(lambda key=key, stage=stage: part_picture(folded.parts[key], stage))
        for key in pages
        for stage in (0, 0.25, 0.5, 0.75, 1)
    ]
    print(
        f"picture of a part: {median(taken) * 1000:.0f} ms, the slowest {max(taken) * 1000:.0f} ms;"
        f" at most {PART * 1000:.0f} ms"
    )
    for view, opening in ((View.CLOSED, 0), (View.OPEN, PAGES // 2), (View.EXPLODED, 0)):
        taken = [seconds(lambda v=view, k=opening: book_picture(folded, v, k)) for _ in range(3)]
        print(
            f"picture of the book, {view.value}: {median(taken) * 1000:.0f} ms;"
            f" at most {WHOLE * 1000:.0f} ms"
        )


def checking(anew: Callable[[], FoldedBook]) -> float:
    """Return what all checks of a new book take."""
    folded = anew()
    return seconds(lambda: check_book(folded))


def drawing_lots(anew: Callable[[], FoldedBook]) -> float:
    """Return what the tolerance of a new, folded book takes."""
    folded = anew()
    folded.thickness  # noqa: B018
    return seconds(lambda: tolerance_of(folded))


def print_growth(folder: Path) -> None:
    """Print what growing books take for each page."""
    print("growing books, processor time for each page:")
    for pages in GROWING:
        anew = composed(folder, pages, NARROW)
        checks = median(checking(anew) for _ in range(3)) / pages * 1000
        lots = median(drawing_lots(anew) for _ in range(3)) / pages * 1000
        print(f"  {pages} pages: checks {checks:.1f} ms, tolerance {lots:.1f} ms")


def main() -> None:
    """Print all figures."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        check_book(composed(folder, 3)())
        anew = composed(folder, PAGES)
        print_checks(anew)
        print_tolerance(anew)
        print_pictures(anew)
        print_growth(folder)


if __name__ == "__main__":
    main()
