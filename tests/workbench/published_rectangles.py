"""Published problems of rectangles as orders; sources and licences stand beside the data."""

import csv
from collections import Counter, defaultdict
from pathlib import Path

from dielines.packing.order import Bed, Box, Order

FOLDER = Path(__file__).parents[1] / "outside/data/rectangles"


def rows(name):
    with (FOLDER / name).open() as file:
        return list(csv.DictReader(file))


def as_order(sizes, bed):
    kinds = Counter(sizes)
    return Order(tuple(Box(*size, True) for size in kinds), tuple(kinds.values()), (Bed(*bed),))


def bin_packing():
    """Return (name, order, best known number of bins), boxes may turn: Berkey and Wang (1987)."""
    sizes, bed = defaultdict(list), {}
    for row in rows("bins_items.csv"):
        sizes[row["instance"]].append((int(row["item_width"]), int(row["item_height"])))
        bed[row["instance"]] = (int(row["bin_width"]), int(row["bin_height"]))
    best = {row["instance"]: int(row["rotated"]) for row in rows("bins_best_known.csv")}
    return [(name, as_order(sizes[name], bed[name]), best[name]) for name in sizes]


def perfect_packings():
    """Return (name, order): boxes that fill a sheet without waste, Hopper and Turton (2001)."""
    sizes, bed = defaultdict(list), {}
    for row in rows("hopper_t_n.csv"):
        sizes[row["instance"]].append((int(row["width"]), int(row["height"])))
        bed[row["instance"]] = (int(row["strip_width"]), int(row["optimal_height"]))
    return [(name, as_order(sizes[name], bed[name])) for name in sizes]
