"""How long templates take to build: all built-in ones, and the longest of many damaged ones."""

import importlib.util
import statistics
import sys
import time
from fractions import Fraction
from pathlib import Path

from dielines.language.building import build
from dielines.language.library import built_in_library

TIMES = 5
SEED, TEXTS = 2026, 3000
AT_MOST = 0.5  # s
CALIPERS = {
    "cardstock": Fraction(24, 100),
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(13, 100),
}
FIXTURES = Path(__file__).parents[1] / "tests" / "language" / "conftest.py"


def building_times() -> dict[str, float]:
    """Return the best time that each built-in template takes, s; warm."""
    found = {}
    for template in built_in_library().templates():
        if template.kind in ("edge", "fold"):
            continue
        taken = []
        for _ in range(TIMES):
            start = time.perf_counter()
            build(template, {}, CALIPERS)
            taken.append(time.perf_counter() - start)
        found[template.name] = min(taken)
    return found


def longest_damaged() -> tuple[float, int]:
    """Return the longest that a damaged text took, s, and how many there were."""
    spec = importlib.util.spec_from_file_location("damaging", FIXTURES)
    assert spec
    assert spec.loader
    damaging = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = damaging
    spec.loader.exec_module(damaging)
    longest = 0.0
    for text in damaging.mutated(damaging.texts(), SEED, TEXTS):
        start = time.process_time()
        damaging.meet(text)
        longest = max(longest, time.process_time() - start)
    return longest, TEXTS


if __name__ == "__main__":
    times = building_times()
    slowest = max(times, key=times.__getitem__)
    print(
        f"{len(times)} templates built warm: median {statistics.median(times.values()) * 1000:.1f} ms,"
        f" slowest {slowest} {times[slowest] * 1000:.1f} ms, together {sum(times.values()):.2f} s"
    )
    seconds, count = longest_damaged()
    print(f"the longest of {count} damaged templates: {seconds:.3f} s; at most {AT_MOST} s")
