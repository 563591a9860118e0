"""The kinds of file, found in this folder: each format is a package that names itself FORMAT."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath

from ..drawing import Drawing
from ..errors import ForeignFileError, UsageError
from .choices import Choices
from .readings import Reading

READ_AT_MOST = 100_000_000  #: bytes; every reader refuses far less, and says so


@dataclass(frozen=True, slots=True)
class Format:
    """A kind of file: how a drawing becomes one, and how it comes back."""

    name: str  #: as people say it: "SVG"
    suffix: str  #: of its files: ".svg"
    write: Callable[[Drawing, Choices], bytes]
    read: Callable[[bytes, str], Reading]  #: content, and the name that messages use
    is_for_machines: bool = True  #: whether machines cut from such a file; people print the others
    read_pages: Callable[[bytes, str], Sequence[Reading]] | None = None  #: where there may be many


def formats() -> tuple[Format, ...]:
    """Return every format, by suffix. A package here that names none is an error."""
    package = importlib.import_module(__package__)
    names = [module.name for module in pkgutil.iter_modules(package.__path__) if module.ispkg]
    found = [importlib.import_module(f"{__package__}.{name}").FORMAT for name in names]
    return tuple(sorted(found, key=lambda kind: kind.suffix))


def machine_formats() -> tuple[Format, ...]:
    """Return the formats that machines cut from, by suffix."""
    return tuple(kind for kind in formats() if kind.is_for_machines)


def format_of(path: FilePath) -> Format:
    """Return the format that the suffix of *path* says; raises UsageError."""
    known = {kind.suffix: kind for kind in formats()}
    if path.suffix.lower() not in known:
        raise UsageError(f"{path}: the name of a file to read ends in {' or '.join(known)}")
    return known[path.suffix.lower()]


def read_file(path: FilePath) -> Reading:
    """Return what the file at *path* holds, on its first page where it has several.

    Raises UsageError for a suffix that is of no format, ForeignFileError for a
    file that cannot be read.
    """
    kind = format_of(path)
    return kind.read(_content(path), str(path))


def read_page(path: FilePath, number: int) -> Reading:
    """Return what page *number* (from 1) of the file at *path* holds.

    Raises UsageError for a page that is not there, and what read_file raises.
    """
    kind = format_of(path)
    if kind.read_pages is None or number == 1:
        pages: Sequence[Reading] = [read_file(path)]
    else:
        pages = kind.read_pages(_content(path), str(path))
    if not 1 <= number <= len(pages):
        count = f"{len(pages)} page{'s' if len(pages) > 1 else ''}"
        raise UsageError(f"{path}: there is no page {number}; it has {count}")
    return pages[number - 1]


def _content(path: FilePath) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(READ_AT_MOST)
    except OSError as problem:
        reason = problem.strerror or "cannot be read"
        raise ForeignFileError.of(str(path), "unreadable", reason, "Check the name.") from problem
