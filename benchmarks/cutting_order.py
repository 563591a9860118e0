"""Travel between the paths of full sheets: beside a long run, and beside what no order is below.

The bound (Held and Karp, 1970) is asked for lines and for openings on sheets of up to
25 parts; it says nothing about outlines that lie side by side and can each be entered
at every corner, since their nearest points nearly touch. ``python cutting_order.py long``
prints the long runs anew.
"""

import sys
import time
from pathlib import Path

from dielines.cutting.entries import ways_of
from dielines.cutting.in_cutting_order import STEPS_PER_PATH, in_cutting_order
from dielines.cutting.precedence import stages
from dielines.cutting.travel import travel, travel_between
from dielines.drawing import Drawing, Item, Layer

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "workbench"))
from least_travel import held_karp
from random_sheets import random_sheet

LONG = 100_000  #: steps for each path in a long run
OVERALL, GROUP = 1.03, 1.05  #: ratios to the long run that are meant to be met
MOST_BOUNDED = 25  #: parts of a sheet
#: (seed, rows, columns): what a long run travels between scores, inner cuts, and outlines, mm.
LONG_RUNS: dict[tuple[int, int, int], tuple[float, ...]] = {
    (1, 4, 5): (1052.5, 1085.5, 673.7),
    (2, 4, 5): (1013.0, 1022.1, 670.2),
    (1, 5, 5): (1169.3, 1144.0, 815.2),
    (2, 5, 5): (1116.6, 1173.3, 734.6),
    (3, 5, 5): (1165.2, 1368.3, 840.1),
    (1, 5, 10): (1670.7, 1629.6, 1051.7),
    (1, 10, 10): (2268.7, 2376.9, 1668.1),
}
ROW = "{:<8} {:<10} {:>6} {:>9} {:>9} {:>7} {:>9} {:>7} {:>7}"


def groups_of(ordered: Drawing) -> list[tuple[str, list[Item]]]:
    """Return the paths of an ordered sheet by what has no order of its own."""
    found = []
    for group in ordered.groups:
        if group.items[0].layer is not Layer.CUT:
            found.append(("scores", list(group.items)))
            continue
        for number, stage in enumerate(stages(group.items)):
            items = [group.items[i] for i in stage]
            found.append(("outlines" if number else "inner", items))
    return found


def lengths_of(ordered: Drawing) -> tuple[float, ...]:
    """Return the travel within each group, mm."""
    return tuple(travel_between(item.path for item in items) for _, items in groups_of(ordered))


def print_long_runs() -> None:
    """Print LONG_RUNS as it stands above."""
    for seed, rows, columns in LONG_RUNS:
        sheet = in_cutting_order(random_sheet(seed, rows, columns), LONG)
        lengths = ", ".join(f"{length:.1f}" for length in lengths_of(sheet))
        print(f"    ({seed}, {rows}, {columns}): ({lengths}),", flush=True)


def measure(key: tuple[int, int, int]) -> tuple[float, float, float]:
    """Print one sheet; return its travel, that of the long run, and the worst ratio of a group."""
    seed, rows, columns = key
    parts = rows * columns
    drawing = random_sheet(seed, rows, columns)
    start = time.process_time()
    ordered = in_cutting_order(drawing)
    seconds = time.process_time() - start
    worst = 0.0
    for (name, items), length, long in zip(
        groups_of(ordered), lengths_of(ordered), LONG_RUNS[key], strict=True
    ):
        is_bounded = name != "outlines" and parts <= MOST_BOUNDED
        bound = held_karp([ways_of(item.path) for item in items]) if is_bounded else 0.0
        beside = (f"{bound:.0f}", f"{length / bound:.3f}") if bound else ("-", "-")
        ratio = length / long
        worst = max(worst, ratio)
        row = (f"{parts} {seed}", name, len(items), f"{length:.0f}", f"{long:.0f}", f"{ratio:.3f}")
        print("  " + ROW.format(*row, *beside, f"{seconds:.2f}"), flush=True)
    return sum(lengths_of(ordered)), sum(LONG_RUNS[key]), worst


def print_samples() -> None:
    """Print what the machine travels on all sheets of each sample."""
    for name in ("lakeside", "seed-swap", "first-year"):
        drawings = sample_sheets(name)
        start = time.process_time()
        ordered = [in_cutting_order(drawing) for drawing in drawings]
        seconds = time.process_time() - start
        long = [in_cutting_order(drawing, 10 * STEPS_PER_PATH) for drawing in drawings]
        drawn, short, longer = (sum(map(travel, each)) for each in (drawings, ordered, long))
        print(
            f"  {name}, {len(drawings)} sheets: {drawn:.0f} mm as drawn, {short:.0f} in order, "
            f"{longer:.0f} with ten times the steps; {seconds:.2f} s"
        )


def sample_sheets(name: str) -> list[Drawing]:
    """Return the sheets of a sample as they are laid out for a machine."""
    from dielines.book.composing import compose
    from dielines.book.from_file import book_source
    from dielines.book.reading import book_document
    from dielines.drawing import in_floats
    from dielines.sheets.laying_out import lay_out
    from dielines.sheets.sheet_drawing import sheet_drawing
    from dielines.sheets.way_of_cutting import By

    samples = Path(__file__).parent.parent / "samples"
    source = book_source(book_document(samples / name / f"{name}.toml"), ())
    book = compose(source.request, source.workshop, source.library)
    layout = lay_out(book, source.workshop, By.MACHINE)
    return [in_floats(sheet_drawing(sheet, name)) for _, sheet in layout.sheets()]


def main() -> None:
    """Print all figures."""
    print("travel between paths, mm")
    head = ("parts", "group", "paths", "travel", "long run", "ratio", "bound", "ratio", "s")
    print("  " + ROW.format(*head))
    rows = [measure(key) for key in LONG_RUNS]
    ratio = sum(row[0] for row in rows) / sum(row[1] for row in rows)
    worst = max(row[2] for row in rows)
    print(f"  all: {ratio:.4f} (at most {OVERALL}), worst group {worst:.3f} (at most {GROUP})")
    print_samples()
    print()


if __name__ == "__main__":
    print_long_runs() if "long" in sys.argv else main()
