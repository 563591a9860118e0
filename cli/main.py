"""The command ``dielines``: what it runs, and what an error means to whoever called it."""

from __future__ import annotations

import errno
import gc
import os
import sys
import traceback
from collections.abc import Sequence
from typing import Annotated

import typer

from dielines import __version__
from dielines.errors import Defect, DielinesError, DoesNotHold

from .folder import CommandFolder

FAILURE = 1  #: we did not keep a promise, or what was made in thought does not hold
MISUSE = 2  #: what we were given cannot be used
#: What a full disk, quota or device answers to what is printed.
NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
#: When Python looks for garbage in cycles. At its usual 700, 10, 10 that takes an eighth of the
#: time of a book of 60 parts and a fifth of one of 1,800, which needs 12 MB more this way.
RARE_COLLECTIONS = (10_000, 20, 5)
TRACEBACK = "DIELINES_TRACEBACK"  #: set in the environment, shows where an unexpected error rose

application = typer.Typer(
    cls=CommandFolder,
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def show_version(wanted: bool) -> None:
    """Print the version and stop, when *wanted*."""
    if wanted:
        typer.echo(f"dielines {__version__}")
        raise typer.Exit


@application.callback()
def describe(
    version: Annotated[
        bool,
        typer.Option("--version", help="Show the version.", callback=show_version, is_eager=True),
    ] = False,
) -> None:
    """From one page of text about a hand-made book to proved cut files."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line (by default this process's own) and return the exit code.

    0: done; 1: a book that does not hold, or a promise of ours not kept; 2: what was given cannot be used;
    130: interrupted. Messages go to standard error, never with a traceback.
    """
    _print_anything()
    gc.set_threshold(*RARE_COLLECTIONS)
    try:
        typer.main.get_command(application).main(arguments, prog_name="dielines")
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else FAILURE
    except Exception as problem:
        return report(problem)
    return 0


def report(problem: Exception) -> int:
    """Say on standard error what went wrong, and return the exit code that it means."""
    if isinstance(problem, OSError) and problem.errno in NO_ROOM:
        typer.echo(f"the output cannot be written: {problem.strerror}", err=True)
        return MISUSE
    if not isinstance(problem, DielinesError):
        return _apologise(problem)
    typer.echo(str(problem), err=True)
    return FAILURE if isinstance(problem, Defect | DoesNotHold) else MISUSE


def _apologise(problem: Exception) -> int:
    typer.echo(
        f"Sorry, this is a fault of dielines {__version__}, not yours: "
        f"{type(problem).__name__}: {problem}\n"
        f"To report it, run the same again with {TRACEBACK}=1 in the environment "
        "and send what it prints.",
        err=True,
    )
    if os.environ.get(TRACEBACK):
        traceback.print_exception(problem)
    return FAILURE


def _print_anything() -> None:
    """Let a terminal without a sign such as ≈ show a question mark for it."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
