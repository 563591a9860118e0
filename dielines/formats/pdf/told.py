"""What a page has no place for: the texts of a drawing and its parts, in a property list.

A marked point at the head of the content names it (ISO 32000-1, 14.6.2).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ...drawing import Drawing
from .texts import from_text_string, text_string

DRAWING = "XXDrawing"  #: tag of the marked point, and name of the property list
MOST_TEXTS = 20_000
_REVERSE = b"reverse"


@dataclass(frozen=True)
class Told:
    """What a file of ours tells of a drawing."""

    title: str = ""
    description: str = ""
    metadata: tuple[tuple[str, str], ...] = ()
    parts: Mapping[str, str] = field(default_factory=dict)  #: titles by key
    is_face_up: bool = True


def told_of(drawing: Drawing) -> Any:
    """Return the property list of *drawing*."""
    from pikepdf import Array, Dictionary, String

    def texts(*words: str) -> Any:
        return Array([String(text_string(word)) for word in words])

    return Dictionary(
        {
            "/Title": String(text_string(drawing.title)),
            "/Description": String(text_string(drawing.description)),
            "/Up": String(b"face" if drawing.face_up else _REVERSE),
            "/Metadata": Array([texts(*pair) for pair in drawing.metadata]),
            "/Parts": Array([texts(group.key, group.title) for group in drawing.groups]),
        }
    )


def told_by(resources: Any) -> Told:
    """Return what the property list among the *resources* of a page tells, if there is one."""
    lists = None if resources is None else resources.get("/Properties")
    told = None if lists is None else lists.get(f"/{DRAWING}")
    if told is None:
        return Told()
    title, description = (_text(told.get(key)) for key in ("/Title", "/Description"))
    pairs = (tuple(_pairs(told.get(key))) for key in ("/Metadata", "/Parts"))
    metadata, parts = pairs
    return Told(title, description, metadata, dict(parts), _bytes(told.get("/Up")) != _REVERSE)


def _pairs(array: Any) -> Iterable[tuple[str, str]]:
    entries = [] if array is None else list(array)[:MOST_TEXTS]
    for entry in entries:
        texts = [_text(word) for word in entry]
        if len(texts) == 2:
            yield texts[0], texts[1]


def _text(word: Any) -> str:
    return from_text_string(_bytes(word))


def _bytes(word: Any) -> bytes:
    return b"" if word is None else bytes(word)
