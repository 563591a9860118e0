"""The usual sizes: read from data, changed by what a book says.

Source of every number: common practice, no source (``data/usual.toml``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from typing import Any

from ..documents import Refusal, suggestion
from ..lengths import Length, Unit, parse_length
from ..workshop.shipped import shipped_document
from .values import none_of, size_said, text_of, within


class Origin(Enum):
    """Who says a size."""

    USUAL = "usual"
    BOOK = "book"


@dataclass(frozen=True)
class UsualSize:
    """One usual size: a length, or a word that stands for how it is found."""

    name: str
    help: str
    length: Length | None
    word: str  #: empty where there is a length
    formula: str  #: what the word stands for, where other sizes say it
    words: Mapping[str, str]  #: the words that may stand for it -> what they mean
    least: Length | None  #: None where only words may stand for it
    most: Length | None
    below: tuple[str, ...]  #: names of sizes that it has to stay below
    origin: Origin = Origin.USUAL


@dataclass(frozen=True)
class UsualSizes:
    """All usual sizes of a book, in the order of the table."""

    units: Unit
    rows: Mapping[str, UsualSize]

    def __getitem__(self, name: str) -> UsualSize:
        return self.rows[name]

    def length(self, name: str) -> Length:
        """Return the size called *name*; raises KeyError where a word stands for it."""
        length = self.rows[name].length
        if length is None:
            raise KeyError(f"{name} has no length of its own")
        return length

    def word(self, name: str) -> str:
        """Return the word that stands for *name*, empty where it has a length."""
        return self.rows[name].word

    def lengths(self) -> dict[str, Length]:
        """Return all that are lengths."""
        return {name: row.length for name, row in self.rows.items() if row.length is not None}


def usual_sizes(units: Unit, overrides: Mapping[str, Length | str] | None = None) -> UsualSizes:
    """Return the usual sizes of a book in *units*, with *overrides* in place of some.

    Overrides are taken as they are; ``usual_override`` checks one.
    """
    rows = dict(_table(units))
    for name, value in (overrides or {}).items():
        rows[name] = _overridden(rows[name], value)
    return UsualSizes(units, rows)


def usual_override(name: str, value: object, units: Unit) -> Length | str:
    """Return what a book may set the usual size *name* to; raises Refusal."""
    table = _table(units)
    if name not in table:
        hint = suggestion(name.replace("-", "_").replace(" ", "_"), table)
        raise Refusal("unknown-usual", f"no usual size is called {name[:60]!r}{hint}")
    row = table[name]
    if isinstance(value, str) and value.strip() in row.words:
        return value.strip()
    if row.least is None or row.most is None:
        raise Refusal("unknown-word", none_of(text_of(value), row.words))
    return within(size_said(value, units), row.least, row.most, units)


def conflicts(sizes: UsualSizes) -> list[tuple[str, str]]:
    """Return pairs of names where the first is not below the second, as it has to be."""
    lengths = sizes.lengths()
    return [
        (name, other)
        for name in lengths
        for other in sizes[name].below
        if other in lengths and lengths[name] >= lengths[other]
    ]


def _overridden(row: UsualSize, value: Length | str) -> UsualSize:
    if not isinstance(value, str):
        return replace(row, length=value, word="", formula="", origin=Origin.BOOK)
    formula = row.formula if value == row.word else ""
    return replace(row, length=None, word=value, formula=formula, origin=Origin.BOOK)


@cache
def _table(units: Unit) -> dict[str, UsualSize]:
    table = shipped_document("usual.toml").data
    return {name: _row(name, row, units) for name, row in table.items()}


def _row(name: str, row: Mapping[str, Any], units: Unit) -> UsualSize:
    amounts = row.get("inches" if units == "in" else "mm", {})
    lengths = {key: parse_length(str(value), units) for key, value in amounts.items()}
    return UsualSize(
        name,
        row["help"],
        lengths.get("usual"),
        row.get("usual", ""),
        row.get("formula", ""),
        row.get("words", {}),
        lengths.get("least"),
        lengths.get("most"),
        tuple(row.get("below", ())),
    )
