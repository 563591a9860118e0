"""One line of ``edits``: what every verb needs to read it and to work on a draft."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any, Protocol

from ..documents import Place, Refusal, beneath, suggestion
from ..fields import Field, Kind, checked, is_kind, name_of_kind
from ..paths import Number, Path, Point, Vertex, bulge_through
from .cellmap import repeat_count, scope_with, shown
from .drafts import Draft, Flat, names_of
from .expressions import Scope, condition_of, size_of, whole_of
from .shapes import CORNERS, SIDES, Shape

MIDDLE = "middle"
EVERYWHERE = (
    Field("when", Kind.ANY, help="a condition"),
    Field("repeat", Kind.SIZE, help="how often, with i counting from 1"),
)
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
    place: Place
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
            raw = raw[self.index] if self.index < len(raw) else None
        if not isinstance(raw, str):
            with beneath(key):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(raw)}")
        return raw

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

    def shown(self, size: Number) -> str:
        """Return a size as the author would read it, without its unit."""
        return shown(size, self.scope).rsplit(" ", 1)[0]


def _sized(raw: object) -> Any:
    if not is_kind(raw, Kind.SIZE):
        raise Refusal("wrong-kind", f"expected a size, got {name_of_kind(raw)}")
    return raw


def _not_negative(raw: object, scope: Scope) -> Fraction:
    size = size_of(_sized(raw), scope)
    if size < 0:
        raise Refusal("negative", f"comes out below zero: {shown(size, scope)}")
    return size


@cache
def verbs() -> Mapping[str, Verb]:
    """Return all edit verbs, by their word: one file each in ``edits/``."""
    from . import edits

    names = sorted(module.name for module in pkgutil.iter_modules(edits.__path__))
    modules: list[Any] = [importlib.import_module(f"{edits.__name__}.{name}") for name in names]
    return {module.VERB: module for module in modules}


def apply_edits(draft: Draft, place: Place, entries: Sequence[object], scope: Scope) -> Draft:
    """Return *draft* with all edits done in order, tape zones last; faults are reported."""
    flat = Flat(draft)
    for is_last in (False, True):
        for index, entry in enumerate(entries):
            here = place / index
            if not isinstance(entry, dict):
                if not is_last:
                    here.report("wrong-kind", f"expected a table, got {name_of_kind(entry)}")
            elif ("tape" in entry) == is_last:
                draft = _apply_line(draft, here, entry, scope, flat)
    return draft


def _apply_line(
    draft: Draft, place: Place, entry: dict[str, Any], scope: Scope, flat: Flat
) -> Draft:
    words = [key for key in entry if key in verbs()]
    if len(words) != 1:
        _report_no_verb(place, entry)
        return draft
    verb = verbs()[words[0]]
    fields = (Field(verb.VERB, Kind.TEXT_OR_LIST), *verb.FIELDS, *EVERYWHERE)
    before = len(place.document.faults)
    good = checked(place, entry, fields)
    if len(place.document.faults) > before:
        return draft
    with place.collecting():
        for inner in _turns(place, good, scope):
            for edit in _edits(draft, place, good, inner, flat, verb):
                draft = verb.apply(draft, edit)
    return draft


def _report_no_verb(place: Place, entry: dict[str, Any]) -> None:
    hints = [suggestion(key, verbs()) for key in entry]
    hint = next((hint for hint in hints if hint), "")
    words = ", ".join(verbs())
    place.report("no-verb", f"an edit needs exactly one of: {words}{hint}")


def _turns(place: Place, fields: Mapping[str, Any], scope: Scope) -> Iterable[Scope]:
    """Return a scope for each turn of ``repeat`` in which ``when`` holds."""
    if "repeat" in fields:
        with beneath("repeat"):
            count = repeat_count(place, fields["repeat"], scope)
        scopes = [scope_with(scope, i=turn) for turn in range(1, count + 1)]
    else:
        scopes = [scope]
    return [inner for inner in scopes if holds(fields.get("when", True), inner)]


def holds(raw: object, scope: Scope) -> bool:
    """Return whether the condition holds; raises Refusal at ``when``."""
    with beneath("when"):
        if not isinstance(raw, bool | str):
            raise Refusal("wrong-kind", f"expected yes or no, got {name_of_kind(raw)}")
        return condition_of(raw, scope)


def _edits(
    draft: Draft, place: Place, fields: Mapping[str, Any], scope: Scope, flat: Flat, verb: Verb
) -> Iterable[Edit]:
    """Return one edit for each panel that the line names; vanished panels fall silent."""
    raw = fields[verb.VERB]
    entries = raw if isinstance(raw, list) else [raw]
    counted = numbered(fields, scope)
    with beneath(verb.VERB):
        for index, name in enumerate(entries):
            if not isinstance(name, str):
                raise Refusal("wrong-kind", f"expected text, got {name_of_kind(name)}")
            for panel in _panels_named(draft, numbered_text(name, scope)):
                yield Edit(panel, place, counted, scope, flat, index)


def _panels_named(draft: Draft, name: str) -> list[str]:
    """Return the panels, or the line itself where the verb works on a line."""
    if any(sign in name for sign in "|/") or " - " in name or name == "bound":
        return [name]
    return names_of(draft, name)


def numbered(fields: Mapping[str, Any], scope: Scope) -> dict[str, Any]:
    """Return *fields* with ``#`` in names replaced by the index of the repeat."""
    return {key: _numbered_value(value, scope) for key, value in fields.items()}


def _numbered_value(value: Any, scope: Scope) -> Any:
    if isinstance(value, str):
        return numbered_text(value, scope)
    return [_numbered_value(v, scope) for v in value] if isinstance(value, list) else value


def numbered_text(text: str, scope: Scope) -> str:
    """Return *text* with ``#`` replaced by the index of the repeat, if one runs."""
    if "#" not in text or "i" not in scope.names:
        return text
    return text.replace("#", str(whole_of("i", scope)))


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


def point_inward(edit: Edit, shape: Shape, start: str, key: str, raw: object, index: int) -> Point:
    """Return the point [x, y] measured inward from *start*; ``middle`` is half the panel."""
    origin, sign_x, sign_y = origin_of(shape, start)
    if not isinstance(raw, list) or len(raw) != 2:
        with beneath(key, *([index] if index >= 0 else [])):
            raise Refusal("bad-point", "a point is written [x, y]")
    lengths = (shape.box.width, shape.box.height)
    x, y = (_coordinate(edit, key, index, i, raw[i], lengths[i]) for i in (0, 1))
    return Point(origin.x + sign_x * x, origin.y + sign_y * y)


def _coordinate(edit: Edit, key: str, index: int, i: int, raw: object, length: Number) -> Number:
    if isinstance(raw, str) and raw.strip() == MIDDLE:
        return length / 2
    with beneath(key, *([index] if index >= 0 else []), i):
        return size_of(_sized(raw), edit.scope)


def path_inward(edit: Edit, shape: Shape, start: str, key: str) -> Path:
    """Return the open path that a field tells: points, and arcs ``{ through, to }``."""
    entries = edit.fields[key]
    if len(entries) < 2:
        with beneath(key):
            raise Refusal("bad-point", "a line has at least two points")
    points: list[tuple[Point, Number]] = []
    for index, raw in enumerate(entries):
        if isinstance(raw, dict):
            points = _with_arc(edit, shape, start, key, raw, index, points)
        else:
            points.append((point_inward(edit, shape, start, key, raw, index), Fraction(0)))
    return Path(tuple(Vertex(p.x, p.y, b) for p, b in points), closed=False)


def _with_arc(
    edit: Edit,
    shape: Shape,
    start: str,
    key: str,
    raw: dict[str, Any],
    index: int,
    points: list[tuple[Point, Number]],
) -> list[tuple[Point, Number]]:
    with beneath(key, index):
        if set(raw) != {"through", "to"} or not points:
            raise Refusal("bad-point", "an arc is written { through = [x, y], to = [x, y] }")
        middle = point_inward(edit, shape, start, key, raw["through"], -1)
        end = point_inward(edit, shape, start, key, raw["to"], -1)
    begin, _ = points[-1]
    return [*points[:-1], (begin, bulge_through(begin, middle, end)), (end, Fraction(0))]
