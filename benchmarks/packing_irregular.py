"""Published problems of irregular shapes on a strip, beside their records.

Printed: the length over that of the record, after the first strip, after little
work and after all of it, with the processor time; the bound is the area of the parts.
"""

import sys
import time
from pathlib import Path

sys.path.append(str(Path(__file__).parent.parent / "tests" / "workbench"))

from irregular import RECORDS, UNIT, problem

from dielines.packing.order import Work
from dielines.packing.strips.outline import length_bound
from dielines.packing.strips.shortening import short_strip

LIMITS = (0, 1_000_000_000, 14_000_000_000)
MEAN, WORST, SECONDS = 1.12, 1.15, 20


def main() -> None:
    """Print a row for each problem, and the targets."""
    print("strip      parts  record  bound |" + " first    s | little    s |    all    s")
    ratios, slowest = [], 0.0
    for name, (record, _) in RECORDS.items():
        order = problem(name)
        columns = [measured(order, limit, record * UNIT) for limit in LIMITS]
        ratios.append(columns[-1][0])
        slowest = max(slowest, columns[-1][1])
        row = " | ".join(f"{ratio:6.4f} {seconds:4.1f}" for ratio, seconds in columns)
        bound = length_bound(order) / UNIT / record
        print(f"{name:10} {sum(order.counts):5} {record:7.3f} {bound:6.3f} | {row}", flush=True)
    print(
        f"mean {sum(ratios) / len(ratios):.4f} (target {MEAN}), worst {max(ratios):.4f} "
        f"(target {WORST}), slowest {slowest:.1f} s (target {SECONDS})"
    )


def measured(order, limit: int, record: float) -> tuple[float, float]:
    """Return length over record, and processor seconds."""
    start = time.process_time()
    strip = short_strip(order, Work(limit))
    return strip.length / record, time.process_time() - start


if __name__ == "__main__":
    main()
