"""Settings from the command line: ``page.2.flap=2 1/2`` in place of what the file says.

A setting stands in a line of its own behind the last line of the file; a fault
there is told by the setting, not by a line that is in no file.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from typing import Any

from ..documents import Document
from ..errors import BookError, Fault
from ..positions import Key, Position

MOST_SETTINGS = 100
MOST_CHARACTERS = 1000
DEEPEST = 8  #: keys of one setting
_KEY = re.compile(r'\s*(?:"([^"]*)"|([^."=]+?))\s*(\.|=)')
_EXAMPLE = "Write it as --set page.2.flap=2"


@dataclass
class ChangedDocument(Document):
    """A document some of whose values were set at the command line."""

    settings: tuple[tuple[str, tuple[str, ...]], ...] = ()  #: as written, and its keys

    @cached_property
    def positions(self) -> dict[tuple[Key, ...], Position]:
        """Where each key and value stands; what was set, in lines after the last."""
        found = Document(self.name, self.text, self.error).positions
        for number, (_, keys) in enumerate(self.settings, start=1):
            found = {path: at for path, at in found.items() if path[: len(keys)] != keys}
            place = (self._last_line + number, 1)
            found[keys] = Position(place, place)
            for length in range(1, len(keys)):  # a table that only the setting makes
                found.setdefault(keys[:length], Position(place, place))
        return found

    @property
    def _last_line(self) -> int:
        return self.text.count("\n") + 1

    def settle(self) -> None:
        """Raise the error of this kind of file when it has faults."""
        if self.faults:
            raise self.error(self._told(fault) for fault in self.faults)

    def _told(self, fault: Fault) -> Fault:
        """Return *fault* with the setting in place of a line behind the last."""
        if fault.line <= self._last_line:
            return fault
        setting, _ = self.settings[fault.line - self._last_line - 1]
        return replace(fault, file=f"--set {setting}", line=0, column=0)


def with_settings(document: Document, settings: Sequence[str]) -> Document:
    """Return *document* with each of *settings*, ``KEY=VALUE``, in place of what it says.

    KEY is dotted, ``every.top pocket.depth``; VALUE is text as it stands, or a
    number, true, false, a list or a table as in the file. Later ones win. Raises
    BookError with all settings that cannot be understood.
    """
    faults = (
        [] if len(settings) <= MOST_SETTINGS else [_fault("", "more settings than anyone needs")]
    )
    data = copy.deepcopy(document.data)
    taken = []
    for setting in settings[:MOST_SETTINGS]:
        try:
            keys, value = _split(setting)
            _put(data, keys, value)
            taken.append((setting, keys))
        except ValueError as problem:
            faults.append(_fault(setting, str(problem)))
    if faults:
        raise BookError(faults)
    return ChangedDocument(
        document.name, document.text, document.error, data, settings=tuple(taken)
    )


def _fault(setting: str, message: str) -> Fault:
    return Fault(f"--set {setting[:80]}", 0, 0, "", "setting", message, _EXAMPLE)


def _split(setting: str) -> tuple[tuple[str, ...], object]:
    """Return the keys and the value of KEY=VALUE; raises ValueError."""
    if len(setting) > MOST_CHARACTERS:
        raise ValueError(f"longer than {MOST_CHARACTERS} characters")
    keys: list[str] = []
    start, sign = 0, "."
    while sign == ".":
        match = _KEY.match(setting, start)
        if match is None or len(keys) == DEEPEST:
            raise ValueError("this is not KEY=VALUE")
        keys.append(match[1] if match[1] is not None else match[2].strip())
        start, sign = match.end(), match[3]
    return tuple(keys), value_of(setting[start:].strip())


def value_of(text: str) -> object:
    """Return what *text* says as a value of TOML, or the text itself.

    >>> value_of("40"), value_of("2 1/2"), value_of('["flap"]'), value_of("true")
    (40, '2 1/2', ['flap'], True)
    """
    try:
        found = tomllib.loads(f"value = {text}", parse_float=Decimal)
    except (ValueError, RecursionError):
        return text
    value = found.get("value")
    is_taken = len(found) == 1 and isinstance(value, bool | int | Decimal | str | list | dict)
    return value if is_taken else text


def _put(data: dict[str, Any], keys: Sequence[str], value: object) -> None:
    """Put *value* into nested tables, made where they are missing; raises ValueError."""
    table = data
    for key in keys[:-1]:
        table = table.setdefault(key, {})
        if not isinstance(table, dict):
            raise ValueError(f"{key!r} is no table in the file")
    table[keys[-1]] = value
