"""Fresh processes, as a person starts them: nothing loaded yet, but modules compiled."""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass


@dataclass(frozen=True)
class Run:
    """What one process took; other programs lengthen *seconds*, hardly *processor_seconds*."""

    seconds: float
    processor_seconds: float
    megabytes: float  #: the largest memory
    output: str


def run(*arguments: str) -> Run:
    """Return what a Python process with *arguments* took and printed; raises where it failed."""
    with tempfile.TemporaryFile() as output:
        start = time.perf_counter()
        process = subprocess.Popen([sys.executable, *arguments], stdout=output)
        _, status, used = os.wait4(process.pid, 0)
        seconds = time.perf_counter() - start
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise subprocess.CalledProcessError(process.returncode, process.args)
        output.seek(0)
        text = output.read().decode()
    kilobytes = used.ru_maxrss / (1024 if sys.platform == "darwin" else 1)
    return Run(seconds, used.ru_utime + used.ru_stime, kilobytes / 1024, text)


def median(values: Iterable[float]) -> float:
    """Return the value in the middle."""
    return statistics.median(values)


@contextmanager
def comparable_processes() -> Iterator[None]:
    """Let the processes that are run meanwhile find the bytecode of all modules, once compiled.

    An installed program has it; a checkout may be set up to write none. Threads of
    the library of arrays, which wait by turning in circles, would count as work.
    """
    with tempfile.TemporaryDirectory() as folder:
        wanted = {"PYTHONPYCACHEPREFIX": folder, "OPENBLAS_NUM_THREADS": "1"}
        kept = dict(os.environ)
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.environ.update(wanted)
        try:
            yield
        finally:
            os.environ.clear()
            os.environ.update(kept)
