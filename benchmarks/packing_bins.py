"""Boxes on sheets as a machine cuts them: published problems, our figures and the best known.

Berkey and Wang, classes 1 to 6 (1987), boxes may turn: the proved bound, the best known,
what the first answer needs and what is needed after the work; then how much of a sheet
is filled that could be filled without waste (Hopper and Turton, T and N, 2001). Seconds
are those of the processor.
"""

import sys
import time
from collections import defaultdict
from functools import partial
from itertools import chain
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests/workbench"))
from published_rectangles import bin_packing, perfect_packings

from dielines.packing.bounds import dff_bound
from dielines.packing.free import first_patterns, free_patterns
from dielines.packing.order import Work
from dielines.packing.order_search import fullest
from dielines.packing.skyline import skyline_filler

WORK, PERFECT_WORK = 800_000, 600_000
MOST_BINS, MOST_FIRST, MET, SECONDS, FILLED = 2870, 2891, 282, 2.0, 0.98  #: what is aimed at


def timed(job):
    """Return what a job returns, and how long it took."""
    start = time.process_time()
    found = job()
    return found, time.process_time() - start


def bins():
    print(f"bins, boxes may turn: work {WORK}")
    print("class    bound    best   first    ours   mean s    max s")
    classes = defaultdict(list)
    for name, order, best in bin_packing():
        bound = dff_bound(order)
        first = first_patterns(order, bound, Work(WORK))
        found, seconds = timed(partial(free_patterns, order, Work(WORK)))
        row = (bound, best, len(first), len(found), seconds)
        classes[name[7:8]].append(row)
    for name, found in [
        *sorted(classes.items()),
        ("all", [*chain.from_iterable(classes.values())]),
    ]:
        bound, best, first, ours = (sum(row[i] for row in found) for i in range(4))
        seconds = [row[4] for row in found]
        mean = sum(seconds) / len(seconds)
        print(
            f"{name:5} {bound:8} {best:7} {first:7} {ours:7} {mean:8.2f} {max(seconds):8.2f}",
            flush=True,
        )
    met = sum(row[0] == row[1] for row in found)
    over = sum(row[0] > row[1] for row in found)
    print(f"bound equal to the best known in {met} (aim {MET}), above it in {over} (aim 0)")
    print(f"aim: {MOST_BINS} bins, {MOST_FIRST} at first, {SECONDS} s each")


def perfect():
    print(f"sheets that can be filled without waste: work {PERFECT_WORK}")
    filled, times = defaultdict(list), defaultdict(list)
    for name, order in perfect_packings():
        kinds = [kind for kind, count in enumerate(order.counts) for _ in range(count)]
        filler, work = skyline_filler(order), Work(PERFECT_WORK)
        sheet, seconds = timed(partial(fullest, order, filler, kinds, 0, work))
        area = sum(order.boxes[box.kind].area for box in sheet.placed)
        filled[name[0]].append(area / order.beds[0].area)
        times[name[0]].append(seconds)
    for name, shares in sorted(filled.items()):
        mean = sum(shares) / len(shares)
        aim = f" (aim {FILLED:.1%})" if name == "T" else ""
        print(f"{name}: mean {mean:.1%}{aim}, least {min(shares):.1%}, {max(times[name]):.2f} s")


if __name__ == "__main__":
    bins()
    perfect()
