"""How long ``dielines --help`` takes from cold, beside a bare ``import typer``."""

import statistics
import subprocess
import sys
import time

TIMES = 11
AT_MOST = 3.0


def seconds(*arguments: str) -> float:
    """Return the median time of a Python process with *arguments*."""
    taken = []
    for _ in range(TIMES):
        start = time.perf_counter()
        subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


if __name__ == "__main__":
    bare = seconds("-c", "import typer")
    help_text = seconds("-m", "dielines_cli", "--help")
    print(
        f"dielines --help: {help_text * 1000:.0f} ms, {help_text / bare:.2f} x a bare import of "
        f"typer ({bare * 1000:.0f} ms); at most {AT_MOST:.0f} x"
    )
