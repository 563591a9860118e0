"""``sizes.toml``: every resolved size of a book, so that one spoiled part can be made again.

Sizes are written exactly, in mm, with a comment for people beside each. What
is read back is equal to what was written.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path as FilePath
from types import MappingProxyType
from typing import Any, TypeAlias

from ..documents import Document, Place, read_book_document
from ..errors import Defect
from ..fields import Field, Kind, checked, name_of_kind
from ..lengths import Length, Unit, show
from .exact import FINEST_FRACTION, is_millimetres, millimetres_text, read_millimetres
from .explaining import formula_words
from .reasons import Amount, Reasons

#: What a part was made from: a size, a plain number, yes or no, a word, or a table of such.
Setting: TypeAlias = "Length | Fraction | int | bool | str | Mapping[str, Setting]"

_HEAD = """\
# Every size of this book, exactly, and what each part was made from.
# Keep this file: with it, one spoiled part can be made again.
"""
_FIELDS = (
    Field("title", Kind.TEXT, required=True),
    Field("units", Kind.TEXT, required=True, words=("in", "mm")),
    Field("sizes", Kind.TABLE, required=True),
    Field("parts", Kind.TABLE),
    Field("made", Kind.TABLE),
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+", re.ASCII)
_FRACTION = re.compile(r"-?[0-9]{1,80}/[1-9][0-9]{0,79}", re.ASCII)


@dataclass(frozen=True)
class SizesFile:
    """All sizes of a book by name, and what each part was made from, by the part's letter.

    *made* is what making any part again needs beside that.
    """

    title: str
    units: Unit
    sizes: Mapping[str, Amount]
    parts: Mapping[str, Mapping[str, Setting]] = field(default_factory=dict)
    made: Mapping[str, Setting] = field(default_factory=dict)


def sizes_text(
    title: str,
    reasons: Reasons,
    parts: Mapping[str, Mapping[str, Setting]],
    made: Mapping[str, Setting] = MappingProxyType({}),
) -> str:
    """Return the text of ``sizes.toml``; the same sizes give the same text.

    Raises Defect for a word that would read back as a size.
    """
    lines = [
        _HEAD,
        f"title = {toml_text(title)}",
        f"units = {toml_text(reasons.units)}",
        "",
        "[sizes]",
    ]
    for name, reason in reasons.by_name.items():
        remark = " = ".join(filter(None, [_for_people(reason.value), formula_words(reason)]))
        lines.append(f"{_key(name)} = {_value(reason.value)}" + (f"  # {remark}" if remark else ""))
    if made:
        lines += _table_lines(("made",), made)
    for letter, settings in parts.items():
        lines += _table_lines(("parts", letter), settings)
    return "\n".join(lines) + "\n"


def _for_people(value: Amount) -> str:
    return show(value, "in", FINEST_FRACTION) if isinstance(value, Length) else ""


def _table_lines(header: tuple[str, ...], settings: Mapping[str, Setting]) -> Iterator[str]:
    yield ""
    yield f"[{'.'.join(map(_key, header))}]"
    for key, value in settings.items():
        if not isinstance(value, Mapping):
            yield f"{_key(key)} = {_value(value)}"
    for key, value in settings.items():
        if isinstance(value, Mapping):
            yield from _table_lines((*header, key), value)


def _key(name: str) -> str:
    return name if _BARE_KEY.fullmatch(name) else toml_text(name)


def _value(value: Setting) -> str:
    if isinstance(value, Length):
        return toml_text(millimetres_text(value))
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | Fraction):
        return str(value) if Fraction(value).denominator == 1 else toml_text(str(value))
    if not isinstance(value, str) or is_millimetres(value) or _FRACTION.fullmatch(value):
        raise Defect(f"{value!r} cannot be written as a word")
    return toml_text(value)


def toml_text(text: str) -> str:
    """Return *text* as a basic string of TOML 1.0."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def read_sizes(path: FilePath) -> SizesFile:
    """Return what the ``sizes.toml`` at *path* says; raises BookError with all its faults."""
    document = read_book_document(path)
    sizes = sizes_of(document)
    document.settle()
    return sizes


def sizes_of(document: Document) -> SizesFile:
    """Return what *document* says; its faults stay there."""
    good = checked(document.root, document.data, _FIELDS)
    sizes = _settings(document.root / "sizes", good.get("sizes", {}))
    parts = _settings(document.root / "parts", good.get("parts", {}))
    for key, value in sizes.items():
        if not isinstance(value, Length | Fraction):
            (document.root / "sizes" / key).report("wrong-kind", "expected a size or a number")
    for key, value in parts.items():
        if not isinstance(value, Mapping):
            (document.root / "parts" / key).report("wrong-kind", "expected a table")
    return SizesFile(
        good.get("title", ""),
        good.get("units", "mm"),
        {key: size for key, size in sizes.items() if isinstance(size, Length | Fraction)},
        {key: part for key, part in parts.items() if isinstance(part, Mapping)},
        _settings(document.root / "made", good.get("made", {})),
    )


def _settings(place: Place, table: Mapping[str, Any]) -> dict[str, Setting]:
    found: dict[str, Setting] = {}
    for key, value in table.items():
        setting = _setting(place / key, value)
        if setting is not None:
            found[key] = setting
    return found


def _setting(place: Place, value: object) -> Setting | None:
    """Return the setting that *value* was written for; report what was never written."""
    if isinstance(value, dict):
        return _settings(place, value)
    if isinstance(value, bool):
        return value
    if isinstance(value, int):
        return Fraction(value)
    if not isinstance(value, str):
        place.report("wrong-kind", f"{name_of_kind(value)} is never written here")
        return None
    if is_millimetres(value):
        return read_millimetres(value)
    return Fraction(value) if _FRACTION.fullmatch(value) else value
