"""Notes: what a DXF file has no place for, kept as lines of text that programs pass over.

A note is a row of texts: ``["page", "304.8", "304.8"]``, ``["group", "page-1", "Page 1"]``.
It is written as JSON in ASCII, so that no encoding can hurt it, and cut into lines
short enough for every version. R12 files carry the lines as comments (DXF
Reference, group 999) before the first section, later versions in a record of
their own (XRECORD) that programs keep when they save the file again.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from ...drawing import Drawing

Note = tuple[str, ...]

FIRST, NEXT = "dielines: ", "dielines+ "
LINE_LENGTH = 200  #: characters; strings of 255 are safe in every version
MAX_CHARACTERS = 2_000_000


def notes_of(drawing: Drawing, unit: str) -> list[Note]:
    """Return what the notes of *drawing*, written in *unit*, say; lengths in mm."""
    return [
        ("unit", unit),
        ("page", repr(float(drawing.width)), repr(float(drawing.height))),
        ("face up", "face" if drawing.face_up else "reverse"),
        ("title", drawing.title),
        ("description", drawing.description),
        *(("metadata", key, value) for key, value in drawing.metadata),
        *(("group", group.key, group.title) for group in drawing.groups),
    ]


def to_lines(notes: Iterable[Note]) -> list[str]:
    """Return the lines of text that hold *notes*.

    >>> to_lines([("page", "304.8", "304.8")])
    ['dielines: ["page", "304.8", "304.8"]']
    """
    return [line for note in notes for line in _lines(note)]


def _lines(note: Note) -> list[str]:
    # A doubled backslash before U+ would be taken for a character code by readers of DXF.
    text = json.dumps(note, ensure_ascii=True).replace("\\\\", "\\u005c").replace("\x7f", "\\u007f")
    pieces = [text[i : i + LINE_LENGTH] for i in range(0, len(text), LINE_LENGTH)]
    return [FIRST + pieces[0], *(NEXT + piece for piece in pieces[1:])]


def from_lines(lines: Iterable[str]) -> list[Note]:
    """Return the notes among *lines*; whatever is no well-formed note is passed over.

    >>> from_lines(["made by hand", 'dielines: ["title", ', 'dielines+ "Lake"]', "dielines: [1]"])
    [('title', 'Lake')]
    """
    texts: list[list[str]] = []
    left = MAX_CHARACTERS
    for line in lines:
        left -= len(line)
        if left < 0:
            break
        if line.startswith(FIRST):
            texts.append([line.removeprefix(FIRST)])
        elif line.startswith(NEXT) and texts:
            texts[-1].append(line.removeprefix(NEXT))
    return [note for text in texts for note in _note("".join(text))]


def _note(text: str) -> Sequence[Note]:
    try:
        values = json.loads(text)
    except (ValueError, RecursionError):
        return ()
    if not isinstance(values, list) or not values or len(values) > 9:
        return ()
    if not all(isinstance(value, str) for value in values):
        return ()
    return (tuple(value.encode("utf-8", "replace").decode() for value in values),)


def value_of(notes: Iterable[Note], key: str, default: str = "") -> str:
    """Return the text of the first note called *key*."""
    return next((note[1] for note in notes if note[0] == key and len(note) == 2), default)


def pairs_of(notes: Iterable[Note], key: str) -> tuple[tuple[str, str], ...]:
    """Return the two texts of every note called *key*, in order."""
    return tuple((note[1], note[2]) for note in notes if note[0] == key and len(note) == 3)
