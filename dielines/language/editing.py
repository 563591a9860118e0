"""One line of ``edits``: what every verb needs to read it and to work on a draft."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Protocol

from ..documents import Refusal, beneath, suggestion
from ..fields import Field, Kind, is_kind, name_of_kind
from ..paths import Number, Path, Point
from .cellmap import shown
from .drafts import Draft, Flat
from .expressions import Scope, size_of, whole_of
from .points import PointReader, pair_of, read_vertices
from .row_cells import refuse_no_name
from .shapes import CORNERS, SIDES, Shape

MIDDLE = "middle"
THROUGH = Field("through", Kind.LIST, help="panels that lie over the place once folded")


class Verb(Protocol):
    """What a file in ``edits/`` offers: its word, its fields, and what it does."""

    VERB: str
    FIELDS: tuple[Field, ...]

    @staticmethod
    def apply(draft: Draft, edit: Edit) -> Draft:
        """Return *draft* with the edit done on ``edit.panel``; raises Refusal."""


@dataclass(frozen=True)
class Edit:
    """One edit of one panel: its fields, checked for kind, and the names they may use."""

    panel: str
    fields: Mapping[str, Any]
    scope: Scope
    flat: Flat
    index: int = 0  #: which of several panels of the same line this is

    def has(self, key: str) -> bool:
        """Return whether the line has the field."""
        return key in self.fields

    def text(self, key: str, default: str = "") -> str:
        """Return a text field, or the entry for this panel where it is a list."""
        raw = self.fields.get(key, default)
        if isinstance(raw, list):
            if self.index >= len(raw):
                with beneath(key):
                    told = f"{len(raw)} entries, but there are more panels"
                    raise Refusal("list-length", told, "Give one entry for each panel.")
            raw = raw[self.index]
        if not isinstance(raw, str):
            with beneath(key):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
        return raw

    def name(self, key: str, default: str) -> str:
        """Return what the author calls a line or a zone; raises Refusal."""
        name = self.text(key, default)
        if name:
            with beneath(key):
                refuse_no_name(name)
        return name

    def size(self, key: str, default: Fraction | None = None) -> Fraction:
        """Return a size of zero or more, mm; raises Refusal."""
        if key not in self.fields and default is not None:
            return default
        with beneath(key):
            return _not_negative(self._required(key), self.scope)

    def sizes(self, key: str, counts: Sequence[int]) -> list[Fraction]:
        """Return a list of sizes, or one size alone; its length is one of *counts*."""
        raw = self._required(key)
        if not isinstance(raw, list):
            return [self.size(key)]
        if len(raw) not in counts:
            allowed = " or ".join(str(count) for count in counts if count > 1)
            with beneath(key):
                raise Refusal("list-length", f"expected {allowed} sizes, got {len(raw)}")
        return [self._entry(key, i, entry) for i, entry in enumerate(raw)]

    def _entry(self, key: str, index: int, raw: object) -> Fraction:
        with beneath(key, index):
            return _not_negative(raw, self.scope)

    def count(self, key: str, default: int = 1) -> int:
        """Return a whole number from 1 to 200."""
        if key not in self.fields:
            return default
        with beneath(key):
            count = whole_of(self.fields[key], self.scope)
            if not 1 <= count <= 200:
                raise Refusal("out-of-range", f"{count} is outside 1 to 200")
            return count

    def position(self, key: str, length: Number, index: int | None = None) -> Number:
        """Return a distance from the top or left along *length*; ``middle`` is its half."""
        raw = self.fields.get(key, MIDDLE)
        if index is not None:
            raw = raw[index]
        if isinstance(raw, str) and raw.strip() == MIDDLE:
            return length / 2
        with beneath(key) if index is None else beneath(key, index):
            return size_of(_sized(raw), self.scope)

    def _required(self, key: str) -> Any:
        if key not in self.fields:
            raise Refusal("missing", f"{key!r} is missing")
        return self.fields[key]

    def shown_with_unit(self, size: Number) -> str:
        """Return a size as the author would read it."""
        return shown(size, self.scope)

    def shown(self, size: Number) -> str:
        """Return a size as the author would read it, without its unit."""
        return self.shown_with_unit(size).rsplit(" ", 1)[0]


def _sized(raw: object) -> Any:
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
    return raw


def _not_negative(raw: object, scope: Scope) -> Fraction:
    size = size_of(_sized(raw), scope)
    if size < 0:
        raise Refusal("negative", f"comes out below zero: {shown(size, scope)}")
    return size


def side_named(word: str) -> str:
    """Return *word* if it is a side of a panel; raises Refusal."""
    if word not in SIDES:
        hint = suggestion(word, SIDES)
        raise Refusal("unknown-word", f"{word!r} is none of {', '.join(SIDES)}{hint}")
    return word


def corners_named(raw: object) -> list[str]:
    """Return the corners meant by 'top left', 'top', 'all', 'each corner' or a list of these."""
    entries = raw if isinstance(raw, list) else [raw]
    found: list[str] = []
    for entry in entries:
        meant = _corners_of_word(entry) if isinstance(entry, str) else []
        if not meant:
            options = (*CORNERS, *SIDES, "all")
            hint = suggestion(str(entry), options)
            raise Refusal("unknown-word", f"{entry!r} is no corner{hint}")
        found.extend(corner for corner in meant if corner not in found)
    return found


def _corners_of_word(word: str) -> list[str]:
    if word in ("all", "each corner"):
        return list(CORNERS)
    if word in CORNERS:
        return [word]
    return [corner for corner in CORNERS if word in corner.split()] if word in SIDES else []


def origin_of(shape: Shape, start: str) -> tuple[Point, int, int]:
    """Return the corner from which x and y are measured inward, and their signs.

    A side alone measures its own direction from itself, the other from the left
    or the top.
    """
    words = start.split()
    left, bottom, right, top = shape.box
    x_from_right, y_from_bottom = "right" in words, "bottom" in words
    return (
        Point(right if x_from_right else left, bottom if y_from_bottom else top),
        -1 if x_from_right else 1,
        1 if y_from_bottom else -1,
    )


def point_inward(edit: Edit, shape: Shape, start: str, key: str) -> Point:
    """Return the point [x, y] of a field, measured inward from *start*; ``middle`` is half the panel."""
    with beneath(key):
        return pair_of(edit.fields.get(key, [MIDDLE, MIDDLE]), _inward_reader(edit, shape, start))


def path_inward(edit: Edit, shape: Shape, start: str, key: str) -> Path:
    """Return the open path that a field tells: points, and arcs ``{ through, to }``."""
    with beneath(key):
        vertices = read_vertices(edit.fields[key], _inward_reader(edit, shape, start))
    return Path(tuple(vertices), closed=False)


def _inward_reader(edit: Edit, shape: Shape, start: str) -> PointReader:
    origin, sign_x, sign_y = origin_of(shape, start)

    def read(raw: list[object]) -> Point:
        x = _coordinate(edit, 0, raw[0], shape.box.width)
        y = _coordinate(edit, 1, raw[1], shape.box.height)
        return Point(origin.x + sign_x * x, origin.y + sign_y * y)

    return read


def _coordinate(edit: Edit, index: int, raw: object, length: Number) -> Number:
    if isinstance(raw, str) and raw.strip() == MIDDLE:
        return length / 2
    with beneath(index):
        return size_of(_sized(raw), edit.scope)
