"""A long layout, and what Ctrl-C does to it: end everything, or keep the best so far."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import typer

from .output import stage

if TYPE_CHECKING:
    from dielines.book.book import Book
    from dielines.lengths import Length
    from dielines.packing.order import Work
    from dielines.sheets.layout import BookLayout
    from dielines.workshop.workshop import Workshop


class Efforts:
    """The work given to each stock, so that all of it can be ended at once."""

    def __init__(self, steps: int) -> None:
        self.steps = steps
        self.given: list[Work] = []
        self.is_stopped = False

    def new(self) -> Work:
        """Return work for one more stock; none is left once it was stopped."""
        from dielines.packing.order import Work

        self.given.append(Work(0 if self.is_stopped else self.steps))
        return self.given[-1]

    def stop(self, number: int, frame: Any) -> None:
        """Let nothing more be tried: what Ctrl-C calls."""
        self.is_stopped = True
        for work in self.given:
            work.stop()
        typer.echo("Stopped; going on with the best layout so far.", err=True)


@dataclass(frozen=True)
class Cutting:
    """What a person says on the command line of the layout and its prints."""

    by: str
    effort: int = 1
    keeps_best: bool = False  #: after Ctrl-C
    gap: Length | None = None
    print_on: str | None = None  #: the paper of a printer


def laid_out(book: Book, workshop: Workshop, cutting: Cutting) -> BookLayout:
    """Return the sheets of *book*; Ctrl-C ends the command, or only the search where so wished."""
    from dielines.sheets.laying_out import WORK, lay_out

    wish = wish_called(cutting.by)
    efforts = Efforts(WORK * cutting.effort)
    stage("Laying out")
    with _calling(efforts) if cutting.keeps_best else nullcontext():
        return lay_out(book, workshop, wish, cutting.gap, efforts.new)


def gap_said(text: str | None, book: Book, workshop: Workshop, by: str) -> Length | None:
    """Return the gap that the person asks for; raises UsageError, also where the kerf would eat it."""
    from dielines.errors import LengthError, UsageError
    from dielines.lengths import ZERO, millimetres, parse_length, show

    if text is None:
        return None
    try:
        gap = parse_length(text, book.units)
    except LengthError as problem:
        raise UsageError(f"--gap {text[:40]!r}: {problem.message}") from None
    if not ZERO <= gap <= millimetres(100):
        raise UsageError(f"--gap {text[:40]!r}: a gap is from nothing to 100 mm")
    kerf = workshop.machine.kerf
    if by == "machine" and gap < kerf:
        least = show(kerf, "mm")
        raise UsageError(
            f"--gap {text[:40]!r}: the machine burns away {least} at every cut; no less"
        )
    return gap


def wish_called(word: str) -> Any:
    """Return the way of cutting of that name; raises UsageError."""
    from dielines.errors import UsageError
    from dielines.sheets.way_of_cutting import By

    if word not in (By.MACHINE.value, By.TRIMMER.value):
        raise UsageError(f"--by {word[:40]}: there are machine and trimmer")
    return By(word)


@contextmanager
def _calling(efforts: Efforts) -> Iterator[None]:
    before = signal.signal(signal.SIGINT, efforts.stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
