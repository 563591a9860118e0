"""Keeping quiet what a foreign library prints past Python's own output."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

_OUTPUT = 1  #: the number that standard output has for every library of a process


@contextmanager
def muted() -> Iterator[None]:
    """Within it nothing reaches standard output, whoever prints it.

    The solver prints a line of its own where it mends an answer, whatever its options
    say, and prints through C, so that Python's ``sys.stdout`` knows nothing of it.
    """
    try:
        kept = os.dup(_OUTPUT)
    except OSError:  # there is no output to spoil
        kept = None
    try:
        if kept is not None:
            _lead_nowhere()
        yield
    finally:
        if kept is not None:
            _write_out()
            os.dup2(kept, _OUTPUT)
            os.close(kept)


def _lead_nowhere() -> None:
    """Throw away from now on what is printed; what C still holds back goes out before."""
    _write_out()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, _OUTPUT)
    os.close(nowhere)


def _write_out() -> None:
    """Write out what C holds back: it would come later, where it is not muted."""
    import ctypes

    ctypes.CDLL("ucrtbase" if os.name == "nt" else None).fflush(None)
