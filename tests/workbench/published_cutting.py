"""Published problems of rectangles, as orders; sources: tests/outside/data/rectangles/README.md."""

import csv
from collections import Counter, defaultdict
from pathlib import Path
from typing import NamedTuple

from dielines.packing.order import Bed, Box, Order

FOLDER = Path(__file__).parents[1] / "outside" / "data" / "rectangles"
#: Beasley (1985), table 1: the largest area that can be cut, gcut1 to gcut12
GUILLOTINE_OPTIMA = (
    56460, 60536, 61036, 61698, 246000, 238998, 242567, 246633, 971100, 982025, 980096, 979986,
)  # fmt: skip


class Bins(NamedTuple):
    """One problem of Berkey and Wang (1987), with the best known numbers of bins."""

    name: str
    group: str  #: "class 1" to "class 6"
    order: Order  #: boxes may turn
    best_free: int
    best_guillotine: int  #: in three stages


class Sheet(NamedTuple):
    """One problem of Beasley (1985): boxes with values, fixed as they lie, as often as one likes."""

    name: str
    order: Order
    values: tuple[int, ...]
    optimum: int


def bin_problems():
    """Yield the 300 problems of the six classes."""
    sizes, bins = defaultdict(Counter), {}
    for row in rows("bins_items.csv"):
        bins[row["instance"]] = Bed(int(row["bin_width"]), int(row["bin_height"]))
        box = Box(int(row["item_width"]), int(row["item_height"]), may_turn=True)
        sizes[row["instance"]][box] += 1
    for row in rows("bins_best_known.csv"):
        name = row["instance"]
        order = Order(tuple(sizes[name]), tuple(sizes[name].values()), (bins[name],))
        best = int(row["rotated"]), int(row["guillotine_rotated"])
        yield Bins(name, f"class {int(name[6:8])}", order, *best)


def rows(name):
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def sheet_problems():
    """Yield gcut1 to gcut12."""
    for number, optimum in enumerate(GUILLOTINE_OPTIMA, start=1):
        text = (FOLDER / "gcut" / f"gcut{number}.txt").read_text(encoding="utf-8")
        count, width, height, *sizes = map(int, text.split())
        items = [sizes[3 * i : 3 * i + 3] for i in range(count)]
        boxes = tuple(Box(wide, high) for wide, high, _ in items)
        bed = Bed(width, height)
        enough = tuple(bed.area // box.area for box in boxes)
        values = tuple(value for _, _, value in items)
        yield Sheet(f"gcut{number}", Order(boxes, enough, (bed,)), values, optimum)
