"""The letters of single strokes, read from data/letters."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path as FilePath
from types import MappingProxyType

FILE = FilePath(__file__).parent.parent / "data" / "letters" / "letters.txt"
CAPITAL = 21  #: units in the height of a capital
DEEPEST = 7  #: units by which a letter reaches below the base line
#: Signs for which the alphabet has none of its own.
INSTEAD = MappingProxyType(
    {"–": "-", "—": "-", "×": "x", "·": "-", "≈": "~", "’": "'", "‘": "'", "“": '"', "”": '"',
     "″": '"', "′": "'", "⁄": "/", "ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "œ": "oe"}
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Letter:
    """Strokes in units, y up from the base line, and how far the next letter stands to the right."""

    advance: int
    strokes: tuple[tuple[tuple[int, int], ...], ...]


@cache
def alphabet() -> Mapping[str, Letter]:
    """Return every letter by its sign."""
    rows = FILE.read_text(encoding="utf-8").splitlines()
    return MappingProxyType(dict(_letter(row) for row in rows if row[:2] != "##"))


def _letter(row: str) -> tuple[str, Letter]:
    sign, advance, *points = row.split(maxsplit=2)
    strokes = "".join(points).split(" | ") if points else []
    return (
        " " if sign == "space" else sign,
        Letter(int(advance), tuple(_stroke(stroke) for stroke in strokes)),
    )


def _stroke(text: str) -> tuple[tuple[int, int], ...]:
    return tuple((int(x), int(y)) for x, y in (point.split(",") for point in text.split()))


def signs_of(text: str) -> str:
    """Return *text* in signs that there are: without accents, what is unknown as "?".

    >>> signs_of("Été ½ “lac” 水")
    'Ete 1/2 "lac" ?'
    """
    plain = "".join(INSTEAD.get(sign, sign) for sign in text)
    apart = unicodedata.normalize("NFKD", plain).replace("⁄", "/")
    kept = (sign for sign in apart if not unicodedata.combining(sign))
    return "".join(sign if sign in alphabet() else "?" for sign in kept)
