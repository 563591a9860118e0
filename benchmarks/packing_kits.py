"""Kits of many copies and single books on sheets: an album by machine and by trimmer.

Printed: sheets beside those of an earlier program, the proved bound (no layout can need
fewer), different sheets, work and time; single books drawn by lot, and how many of them
take more than the bound; two sizes with prices and offcuts. A figure that misses what
it is held to is marked.
"""

import resource
import sys
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parent.parent / "tests" / "workbench"))

from kit_albums import EARLIER, album, bed, drawn_album
from layout_judge import wrong_in_plan

from dielines.packing.free import free_method
from dielines.packing.guillotine.method import guillotine_method
from dielines.packing.kits import solve
from dielines.packing.order import Work

WORK = 1_000_000
KIT_SECONDS, BOOK_SECONDS, MEGABYTES = 5, 2, 1024
BOOKS = 60


def by_trimmer(order):
    """Return the method of three stages and trims."""
    return guillotine_method(order, 3)


METHODS = (("machine", free_method), ("trimmer", by_trimmer))


def timed(order, method):
    """Return the plan, its steps and its processor time; raises where it is no plan."""
    work, start = Work(WORK), process_time()
    plan = solve(order, method(order), work)
    seconds = process_time() - start
    wrong = wrong_in_plan(order, plan)
    if wrong:
        raise ValueError(f"not a plan: {wrong[:3]}")
    return plan, work.spent, seconds


def kits():
    """Print the album in all sizes, beside what it took before."""
    print(f"{'sheet':>7} {'pages':>5} {'books':>5} {'parts':>6} {'by':>8} {'before':>6} "
          f"{'now':>4} {'bound':>5} {'kinds':>5} {'steps':>8} {'s':>6}")  # fmt: skip
    for (long, pages, copies), both in EARLIER.items():
        order = album(pages, copies, [bed(long=long)])
        for (name, method), before in zip(METHODS, both, strict=True):
            plan, steps, seconds = timed(order, method)
            sheets = plan.sheets()
            late = "" if sheets <= before else "  MORE THAN BEFORE"
            late += "" if sheets - plan.bound <= max(1, plan.bound // 100) else "  OVER 1 %"
            late += "" if seconds <= KIT_SECONDS else f"  OVER {KIT_SECONDS} s"
            print(f"{'12 x ' + str(long):>7} {pages:5} {copies:5} {sum(order.counts):6} {name:>8} "
                  f"{before:6} {sheets:4} {plan.bound:5} {len(plan.runs):5} {steps:8} "
                  f"{seconds:6.2f}{late}")  # fmt: skip


def books():
    """Print how books drawn by lot stand to their bounds."""
    print(f"\n{BOOKS} single books drawn by lot")
    for name, method in METHODS:
        sheets = bound = proved = 0
        times = []
        for seed in range(BOOKS):
            plan, _, seconds = timed(drawn_album(seed), method)
            sheets, bound = sheets + plan.sheets(), bound + plan.bound
            proved += plan.sheets() == plan.bound
            times.append(seconds)
            if plan.sheets() > plan.bound + 1:
                print(f"  book {seed}: {plan.sheets()} OVER {plan.bound} + 1")
        late = "" if max(times) <= BOOK_SECONDS else f"  OVER {BOOK_SECONDS} s"
        print(f"{name:>8}: {sheets} sheets, bound {bound}, {proved} proved best; "
              f"{sum(times) / BOOKS:.2f} s on average, {max(times):.2f} s at most{late}")  # fmt: skip


def prices():
    """Print two sizes with prices, and with offcuts that cost nothing."""
    print("\n24 books of 8 pages; 12 x 12 at 100, 12 x 24 at 190, offcuts 7 x 12 at 0")
    for offcuts in (0, 5, 50):
        beds = [bed(price=100), bed(long=24, price=190), bed(7, 12, price=0, at_most=offcuts)]
        order = album(8, 24, beds)
        for name, method in METHODS:
            plan, steps, seconds = timed(order, method)
            used = [sum(n for p, n in plan.runs if p.bed == number) for number in range(3)]
            print(f"{name:>8}: {offcuts:2} offcuts: price {plan.price(beds)}, bound {plan.bound}, "
                  f"sheets {used}, {steps} steps, {seconds:.2f} s")  # fmt: skip


if __name__ == "__main__":
    kits()
    books()
    prices()
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\nmost memory {peak:.0f} MB{'' if peak <= MEGABYTES else '  TOO MUCH'}")
