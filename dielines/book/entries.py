"""Entries of a book file: each value with its place, and how a value is taken from there."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, ParamSpec, TypeVar

from ..documents import Place, suggestion
from ..fields import name_of_kind

P = ParamSpec("P")
T = TypeVar("T")

#: keys that stand without a header
BOOK_KEYS = ("title", "units", "size", "binding", "pages", "mats", "extra_page")
SHOWN = 60  #: characters of a stranger's word that a message shows


@dataclass(frozen=True)
class Given:
    """A value as the person wrote it, with its place for whatever is said against it.

    *value* is what TOML makes of it: a whole number, ``Decimal``, text, true or
    false, a list or a table. A bare number counts in the units of the book.
    """

    value: object
    place: Place = field(compare=False, repr=False)


Entries = Mapping[str, Given]


def entries_of(place: Place, table: Mapping[str, Any], label: str = "") -> dict[str, Given]:
    """Return the entries of *table*, called "label: key"."""
    front = f"{label}: " if label else ""
    return {
        key: Given(value, (place / key).called(f"{front}{key[:SHOWN]}"))
        for key, value in table.items()
    }


def read(place: Place, reader: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T | None:
    """Return what *reader* returns, or None with the Refusal that it raised reported at *place*."""
    with place.collecting():
        return reader(*args, **kwargs)
    return None


def taken(entries: Entries, key: str, otherwise: T, reader: Callable[[object], T]) -> T:
    """Return what *reader* makes of the entry *key*; *otherwise* where it is missing or refused."""
    if key not in entries:
        return otherwise
    value = read(entries[key].place, reader, entries[key].value)
    return otherwise if value is None else value


def above_headers(key: str) -> str:
    """Return what to do about a key of the whole book that stands below a header, or nothing."""
    if key not in BOOK_KEYS:
        return ""
    return f"{key} is said of the whole book: write it above the first [header]."


def check_keys(entries: Entries, known: Collection[str]) -> None:
    """Report every entry whose key is none of *known*."""
    for key, given in entries.items():
        if key not in known:
            is_below = len(given.place.keys) > 1 and key in BOOK_KEYS
            hint = "" if is_below else suggestion(key, known)
            remedy = "" if hint else f"There are: {', '.join(known)}."
            remedy = above_headers(key) if is_below else remedy
            given.place.report_key("unknown-key", f"unknown key {key[:SHOWN]!r}{hint}", remedy)


def check_present(place: Place, entries: Entries, required: Collection[str]) -> None:
    """Report every key of *required* that is missing."""
    for key in required:
        if key not in entries:
            place.report_key("missing", f"{key!r} is missing")


def tables_of(place: Place, value: object, example: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the tables in *value* by key; report whatever is none. *example* is a header."""
    if not isinstance(value, dict):
        message = f"expected tables such as {example}, got {name_of_kind(value)}"
        at = (place / 0).called(place.field) if isinstance(value, list) else place
        at.report("wrong-kind", message)
        return
    for key, table in value.items():
        if isinstance(table, dict):
            yield key, table
        else:
            message = f"{key[:SHOWN]!r} stands outside such a table"
            remedy = f"Put it under a header such as {example}."
            (place / key).report_key("not-a-table", message, remedy)


def table_of(place: Place, value: object, label: str) -> dict[str, Given]:
    """Return the entries of the table *value*; report anything else and return none."""
    if isinstance(value, dict):
        return entries_of(place, value, label)
    place.called(label).report("wrong-kind", f"expected a table, got {name_of_kind(value)}")
    return {}
