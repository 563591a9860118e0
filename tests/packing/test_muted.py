"""What a solver prints through C does not come between the lines of a command."""

import ctypes
import os
import sys

import numpy as np
import pytest
import scipy.optimize

from dielines.packing.muted import muted
from dielines.packing.order import Work
from dielines.packing.programmes import Programme, solved, solved_whole

C = ctypes.CDLL("ucrtbase" if os.name == "nt" else None)


def printed(capfd) -> str:
    C.fflush(None)
    return capfd.readouterr().out


def test_what_is_printed_before_and_after_stays_and_what_is_printed_within_goes(capfd):
    C.printf(b"before ")
    with muted():
        C.printf(b"within ")
        os.write(1, b"within too ")
    C.printf(b"after")
    assert printed(capfd) == "before after"


def test_an_interruption_leaves_the_output_as_it_was(capfd):
    with pytest.raises(KeyboardInterrupt), muted():
        raise KeyboardInterrupt
    C.printf(b"after")
    assert printed(capfd) == "after"


def test_no_files_stay_open(capfd):
    before = os.dup(2)
    os.close(before)
    for _ in range(7):
        with muted():
            pass
    after = os.dup(2)
    os.close(after)
    assert after == before


def test_without_an_output_there_is_nothing_to_mute():
    kept = os.dup(1)
    sys.stdout.flush()
    try:
        os.close(1)
        with muted():
            pass
        with pytest.raises(OSError, match="descriptor"):
            os.fstat(1)
    finally:
        os.dup2(kept, 1)
        os.close(kept)


@pytest.mark.parametrize(("solver", "name"), [(solved, "linprog"), (solved_whole, "milp")])
def test_a_solver_that_prints_is_not_heard(capfd, monkeypatch, solver, name):
    ours = getattr(scipy.optimize, name)

    def talking(*arguments, **more):
        C.printf(b"a solver's own words\n")
        return ours(*arguments, **more)

    monkeypatch.setattr(scipy.optimize, name, talking)
    programme = Programme((-3, -7), np.array([[2.0, 5.0]]), (11,))
    more = (Work(10**6),) if solver is solved else (5, Work(10**6))
    assert sum(solver(programme, *more).numbers) > 0
    assert printed(capfd) == ""
