"""Data files that come with the program."""

from __future__ import annotations

from pathlib import Path

from ..documents import Document, read_book_document

FOLDER = Path(__file__).parent.parent / "data"


def shipped_document(name: str) -> Document:
    """Return the data file called *name*, for example ``sheets.toml``."""
    return read_book_document(FOLDER / name)
