"""Finding a person's workshop file, and the typical workshop for those who have none."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from ..documents import Document, read_book_document
from ..errors import BookError
from ..lengths import Unit
from .reading import Typical, read_workshop
from .shipped import shipped_document
from .workshop import Workshop

FILE_NAME = "workshop.toml"
TYPICAL_FILES: Mapping[Unit, str] = {
    "in": "workshop-inches.toml",
    "mm": "workshop-millimetres.toml",
}


def load_workshop(path: Path | None, near: Path, units: Unit = "in") -> Workshop:
    """Return the workshop at *path*, or the one that is found, or the typical one.

    Without a path, a ``workshop.toml`` in the folder *near* (or beside the file
    *near*) comes first, then one in the person's own folder. *units* are those
    of the book: they choose which typical values stand in for what is missing,
    unless the workshop file has units of its own. Raises BookError.
    """
    found = path or find_workshop(near, own_folder(os.environ, sys.platform, Path.home()))
    if found is None:
        return typical_workshop(units)
    document = read_book_document(found)
    own_units: Unit = "mm" if document.data.get("units", units) == "mm" else "in"
    return read_workshop(document, _typical(own_units))


def typical_workshop(units: Unit = "in") -> Workshop:
    """Return what is assumed of a workshop that nobody has described."""
    return read_workshop(Document("", "", BookError), _typical(units))


@cache
def _typical(units: Unit) -> Typical:
    document = shipped_document(TYPICAL_FILES[units])
    return Typical(read_workshop(document, None), document)


def find_workshop(near: Path, own: Path) -> Path | None:
    """Return the workshop file in the folder *near*, else in the folder *own*, if any; raises BookError."""
    folder = near if near.is_dir() else near.parent
    candidates = (folder / FILE_NAME, own / FILE_NAME)
    try:
        return next((file for file in candidates if file.is_file()), None)
    except OSError as problem:  # a folder that may not be looked into
        reason = problem.strerror or "cannot be read"
        remedy = "Name another workshop file with --workshop."
        raise BookError.of(str(problem.filename), "unreadable", reason, remedy) from problem


def own_folder(environment: Mapping[str, str], platform: str, home: Path) -> Path:
    """Return the folder in which the person keeps what holds for all books.

    As each system has it: %APPDATA% on Windows, Application Support on macOS,
    elsewhere $XDG_CONFIG_HOME (XDG Base Directory Specification), which must be
    absolute to count, or ~/.config.
    """
    if platform == "win32":
        return Path(environment.get("APPDATA") or home / "AppData" / "Roaming") / "dielines"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "dielines"
    configured = Path(environment.get("XDG_CONFIG_HOME") or "")
    return (configured if configured.is_absolute() else home / ".config") / "dielines"
