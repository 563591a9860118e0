"""What can go wrong, sorted by who can mend it.

    DielinesError
    ├── LengthError        a text that is no length; whoever reads the file adds where
    ├── TemplateError      the template's author
    ├── BookError          the person with the book file or the workshop file
    ├── ForeignFileError   whoever sent the SVG, DXF or PDF file
    ├── DoesNotHold        the person with the book file: it would not fold, fit or hold
    ├── UsageError         the person at the command line
    ├── MissingLibrary     whoever looks after this machine
    └── Defect             us: a file that we wrote did not read back as it should

The three kinds that are about a file carry *faults*: every fault of it at once,
each with its place. Only the command line turns them into exit codes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Self


@dataclass(frozen=True, order=True, slots=True)
class Fault:
    """One thing that is wrong in a file, with its place and the way out."""

    file: str
    line: int  #: from 1; 0 when the fault is of the file as a whole
    column: int  #: from 1; 0 when only the line is known
    field: str  #: "page 2: depth", "parts.page.rows"; may be empty
    code: str  #: stable name of the kind of fault, "unknown-key"; tests hold on to it
    message: str  #: what is wrong, without a full stop
    remedy: str = ""  #: what to do, a sentence of its own

    def __str__(self) -> str:
        place = ":".join([self.file, *(str(n) for n in (self.line, self.column) if n)])
        words = ": ".join(piece for piece in (place, self.field, self.message) if piece)
        stop = "" if words.endswith("?") else "."
        return f"{words}{stop} {self.remedy}" if self.remedy else words


class DielinesError(Exception):
    """Base of everything that this package raises on purpose."""


class LengthError(DielinesError):
    """A text that is not a length."""

    def __init__(self, message: str, offset: int = 0) -> None:
        """Keep what is wrong and, as *offset*, at which character of the text."""
        super().__init__(message)
        self.message = message
        self.offset = offset


class FaultyFile(DielinesError):
    """A file with faults; the kinds below say who can mend it."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Keep the *faults*, sorted by place."""
        self.faults = tuple(sorted(set(faults)))
        super().__init__("\n".join(str(fault) for fault in self.faults))

    @classmethod
    def of(cls, file: str, code: str, message: str, remedy: str = "") -> Self:
        """Return the error for one fault of *file* as a whole."""
        return cls([Fault(file, 0, 0, "", code, message, remedy)])


class TemplateError(FaultyFile):
    """A template that its author can mend."""


class BookError(FaultyFile):
    """A book file or a workshop file that the person can mend."""


class ForeignFileError(FaultyFile):
    """An SVG, DXF or PDF file that cannot be read as what it claims to be."""


class DoesNotHold(DielinesError):
    """A book that can be read and drawn, and would not fold, fit or hold once it is cut."""


class UsageError(DielinesError):
    """A call that makes no sense; the message says what would."""


class MissingLibrary(DielinesError):
    """A system library that PNG needs is not on this machine."""


class Defect(DielinesError):
    """A promise of ours that was not kept, such as a file that reads back differently."""
