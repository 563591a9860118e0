"""Cuts from edge to edge on published problems: our figure, the bound, the best known, the time.

Bins of classes 1 to 6 (Berkey and Wang 1987), boxes may turn, in three and in two
stages and trims; each layout is followed cut by cut. gcut1 to gcut12 (Beasley 1985):
the most valuable sheet, any number of stages. Steps of work: about a microsecond.

    packing_guillotine.py [each so-many-th problem] [work for each]
"""

import sys
import time
from collections import defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "workbench"))
from layout_judge import wrong_in_plan
from published_cutting import bin_problems, sheet_problems
from trimmer import wrong_when_cut

from dielines.packing.bounds import dff_bound
from dielines.packing.guillotine.method import guillotine_patterns
from dielines.packing.guillotine.pricing import guillotine_pricer
from dielines.packing.order import Plan, Work

WORK = 1_200_000
TARGET, SECONDS = 2900, 2.0


class Row:
    """The figures of one class."""

    def __init__(self) -> None:
        self.found = self.bound = self.best = self.wrong = 0
        self.seconds: list[float] = []

    def add(self, problem, stages: int, work: int) -> None:
        """Lay out one problem and judge it."""
        start = time.process_time()
        patterns = guillotine_patterns(problem.order, stages, Work(work))
        self.seconds.append(time.process_time() - start)
        self.found += len(patterns)
        self.bound += dff_bound(problem.order)
        self.best += problem.best_guillotine
        plan = Plan(tuple((pattern, 1) for pattern in patterns), 0)
        self.wrong += len(wrong_in_plan(problem.order, plan))
        self.wrong += sum(len(wrong_when_cut(problem.order, one, stages)) for one in patterns)

    def line(self, name: str) -> str:
        """Return the figures in one line."""
        mean, most = sum(self.seconds) / len(self.seconds), max(self.seconds)
        return (
            f"{name:10} {self.found:5} {self.bound:6} {self.best:6} "
            f"{self.found / self.best:7.4f} {mean:7.2f} {most:6.2f} {self.wrong:6}"
        )


def bins(stages: int, each: int, work: int) -> None:
    """Print the bins of every class."""
    print(f"\nbins, {stages} stages and trim; best known: 3 stages\n")
    print(
        f"{'':10} {'ours':>5} {'bound':>6} {'best':>6} {'ratio':>7} {'mean s':>7} {'max s':>6} {'wrong':>6}"
    )
    rows: dict[str, Row] = defaultdict(Row)
    whole = Row()
    for problem in list(bin_problems())[::each]:
        rows[problem.group].add(problem, stages, work)
    for name, row in rows.items():
        print(row.line(name))
        for figure in ("found", "bound", "best", "wrong"):
            setattr(whole, figure, getattr(whole, figure) + getattr(row, figure))
        whole.seconds += row.seconds
    print(whole.line("all"))
    if stages == 3 and each == 1:
        print(f"target: at most {TARGET} bins, each in less than {SECONDS:g} s")


def sheets() -> None:
    """Print the most valuable sheets."""
    print(f"\n{'':10} {'ours':>8} {'optimum':>8} {'s':>6}")
    for problem in sheet_problems():
        order, start = problem.order, time.process_time()
        found = guillotine_pricer(order)(problem.values, order.counts, 0, Work(10**9))
        taken = time.process_time() - start
        print(f"{problem.name:10} {found.value:8} {problem.optimum:8} {taken:6.2f}")


if __name__ == "__main__":
    each = int(sys.argv[1]) if len(sys.argv) > 1 else 1
    work = int(sys.argv[2]) if len(sys.argv) > 2 else WORK
    sheets()
    for stages in (3, 2):
        bins(stages, each, work)
