"""Tables of what a table in a file may hold; every field is checked before it is used."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from typing import Any

from .documents import Place, suggestion


class Kind(Enum):
    """What a value must be, in the words that a message uses."""

    TEXT = "text"
    SIZE = "a size"  # a number, or text that says one
    WHOLE = "a whole number"
    NUMBER = "a number"
    FLAG = "true or false"
    LIST = "a list"
    TABLE = "a table"
    TEXT_OR_LIST = "text or a list"
    SIZE_OR_LIST = "a size or a list of sizes"
    ANY = "a value"


_TYPES: dict[Kind, tuple[type, ...]] = {
    Kind.TEXT: (str,),
    Kind.SIZE: (int, Decimal, str),
    Kind.WHOLE: (int,),
    Kind.NUMBER: (int, Decimal),
    Kind.FLAG: (bool,),
    Kind.LIST: (list,),
    Kind.TABLE: (dict,),
    Kind.TEXT_OR_LIST: (str, list),
    Kind.SIZE_OR_LIST: (int, Decimal, str, list),
    Kind.ANY: (object,),
}

_NAMES: tuple[tuple[type, str], ...] = (
    (bool, "true or false"),
    (int, "a number"),
    (Decimal, "a number"),
    (str, "text"),
    (list, "a list"),
    (dict, "a table"),
    (datetime.date, "a date"),
    (datetime.time, "a time"),
)


@dataclass(frozen=True, slots=True)
class Field:
    """One key that a table may hold."""

    name: str
    kind: Kind
    required: bool = False
    words: tuple[str, ...] = ()  #: the only texts allowed, if any
    help: str = ""


def name_of_kind(value: object) -> str:
    """Return what *value* is, for a message."""
    return next((name for kind, name in _NAMES if isinstance(value, kind)), "something else")


def is_kind(value: object, kind: Kind) -> bool:
    """Return whether *value* is of *kind*; true and false are no numbers."""
    if isinstance(value, bool) and kind not in (Kind.FLAG, Kind.ANY):
        return False
    if isinstance(value, Decimal) and not value.is_finite():
        return False
    return isinstance(value, _TYPES[kind])


def take(place: Place, value: object, kind: Kind) -> Any:
    """Return *value*, or report that it is not of *kind* and return None."""
    if is_kind(value, kind):
        return value
    if isinstance(value, Decimal) and not value.is_finite():
        place.report("not-finite", f"{value} is not a finite number")
    else:
        place.report("wrong-kind", f"expected {kind.value}, got {name_of_kind(value)}")
    return None


def checked(place: Place, table: Mapping[str, Any], fields: Sequence[Field]) -> dict[str, Any]:
    """Return the entries of *table* that are known and of the right kind.

    Unknown keys, wrong kinds, words that are not allowed and missing entries are
    reported; what is reported is left out.
    """
    known = {field.name: field for field in fields}
    good: dict[str, Any] = {}
    for key, value in table.items():
        if key not in known:
            hint = suggestion(key, known)
            (place / key).report_key("unknown-key", f"unknown key {key[:40]!r}{hint}")
        elif _is_good(place / key, value, known[key]):
            good[key] = value
    for field in fields:
        if field.required and field.name not in table:
            place.report_key("missing", f"{field.name!r} is missing", field.help)
    return good


def _is_good(place: Place, value: object, field: Field) -> bool:
    if take(place, value, field.kind) is None:
        return False
    if field.words and value not in field.words:
        hint = suggestion(str(value), field.words)
        place.report(
            "unknown-word", f"{str(value)[:40]!r} is none of {', '.join(field.words)}{hint}"
        )
        return False
    return True
