"""Parts with cut-away corners on sheets as they are: an album in kits and as one book.

Printed: sheets beside those that an earlier program needed for outlines and for the
boxes around them (for 24 copies of 8 pages the boxes were proved to need 336),
the least distance between two parts of any sheet, measured by polygons, and the time.
What no layout could need fewer than is open here. Then how long it takes to lay one
part down, by the cells of the sheet.
"""

import resource
import sys
from itertools import combinations
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "workbench"))

from notched_album import EARLIER, GAP, notched_album, parts
from outline_judge import laid

from dielines.packing.kits import solve
from dielines.packing.order import Bed, Order, Work
from dielines.packing.outlines.filler import outline_filler
from dielines.packing.outlines.foresight import foreseeing_filler
from dielines.packing.outlines.method import outline_method

WORK = 1_000_000
SECONDS, MEGABYTES = 5, 1024
RINGS = [[[(x * 16, y * 16) for x, y in ring]] for ring, _, _ in parts(8)]


def least_distance(plan):
    """Return the least distance between two parts on one sheet, in sixteenths."""
    found = []
    for pattern, _ in plan.runs:
        polygons = [laid(RINGS[placed.kind], placed, 1) for placed in pattern.placed]
        found += [one.distance(other) for one, other in combinations(polygons, 2)]
    return min(found, default=float(GAP))


def kits():
    print(f"\n{'sheets':>8} {'pages':>5} {'books':>5} {'parts':>6} {'boxes':>6} {'before':>6} "
          f"{'now':>4} {'kinds':>5} {'apart':>7} {'steps':>8} {'s':>6}")  # fmt: skip
    for (long, pages, copies), (outlines, boxes) in EARLIER.items():
        order, shapes = notched_album(pages, copies, long)
        work, start = Work(WORK), process_time()
        plan = solve(order, outline_method(order, shapes), work)
        seconds = process_time() - start
        late = "" if plan.sheets() <= outlines else "  MORE THAN BEFORE"
        late += "" if seconds <= SECONDS else f"  OVER {SECONDS} s"
        print(f"12 x {long} in {pages:>5} {copies:>5} {sum(order.counts):>6} {boxes:>6} {outlines:>6} "
              f"{plan.sheets():>4} {len(plan.runs):>5} {least_distance(plan):>4.2f}/16 "
              f"{work.spent:>8} {seconds:>6.2f}{late}")  # fmt: skip


def laying_down():
    print(f"\n{'cells':>11} {'filler':>9} {'parts':>6} {'ms a part':>10} {'steps a ms':>11}")
    for times in (1, 2, 4):
        order, shapes = notched_album(8, 24, 24)
        bed = Bed(order.beds[0].width * times, order.beds[0].height * times)
        order = Order(order.boxes, order.counts, (bed,))
        kinds = [kind for kind in range(6) for _ in range(6 * times * times)]
        for name, filler in (("lowest", outline_filler), ("foresight", foreseeing_filler)):
            fill, work = filler(order, shapes), Work(0)
            fill(kinds, 0, work)
            start, before = process_time(), work.spent
            laid_down = len(fill(kinds, 0, work).placed)
            ms = (process_time() - start) * 1000
            print(f"{bed.width:>4} x {bed.height:>4} {name:>9} {laid_down:>6} "
                  f"{ms / laid_down:>10.3f} {(work.spent - before) / ms:>11.0f}")  # fmt: skip


if __name__ == "__main__":
    print("Outlines on sheets; sizes of the parts: common practice, no source.")
    kits()
    laying_down()
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\nmemory {used:.0f} MB of at most {MEGABYTES}")
