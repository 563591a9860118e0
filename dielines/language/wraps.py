"""Boards in a wrap: boards side by side, paper turned in around their hull.

Each turn-in ends on the mirror image of the corner's bisector in its own edge,
moved out by the allowance for the board's thickness. Folded in, turn-ins then
meet along the bisector without gap or overlap, whatever the corner's angle.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from ..documents import Place, Refusal, beneath
from ..fields import Field, Kind, checked, name_of_kind
from ..part import FoldKey, LineKind, Purpose, Step, Stroke
from ..paths import Number, Path, Point, bounds_of, distance, polyline, rectangle, translated
from .cellmap import shown
from .custom import point_reader
from .drafts import Draft, borders_between
from .expressions import Scope, size_of
from .folding_keys import Rule
from .insets import clipped
from .points import closed_vertices
from .row_cells import refuse_no_name
from .shapes import Shape, shape_from_path
from .work import Work

BOARD_FIELDS = (
    Field("board", Kind.TEXT, True),
    Field("width", Kind.SIZE),
    Field("height", Kind.SIZE),
    Field("outline", Kind.LIST),
)
GAP_FIELDS = (Field("gap", Kind.SIZE, True),)
TURN_IN = (
    "turn_in"  #: how turn-ins are called, with a number, counter-clockwise from the lower left
)


@dataclass(frozen=True, slots=True)
class Slot:
    """A board or a gap between boards, from *left* to *right*."""

    name: str
    left: Number
    right: Number
    outline: Path | None


def read_wrap(place: Place, table: Mapping[str, Any], scope: Scope, work: Work) -> Draft | None:
    """Return the draft of a wrap: board panels, gaps, turn-ins; None when faults were reported."""
    before = len(place.document.faults)
    slots = _slots(place / "boards", table["boards"], scope)
    turn_in, allowance = (_size(place, table, key, scope) for key in ("turn_in", "mitre"))
    if len(place.document.faults) > before or turn_in is None or allowance is None:
        return None
    with place.collecting():
        work.spend(sum(len(slot.outline.vertices) for slot in slots if slot.outline) * 5)
        return wrap_draft(slots, turn_in, allowance)
    return None


def _size(place: Place, table: Mapping[str, Any], key: str, scope: Scope) -> Fraction | None:
    with place.collecting(), beneath(key):
        return _not_below_zero(table.get(key, 0), scope)
    return None


def _not_below_zero(raw: object, scope: Scope) -> Fraction:
    size = size_of(raw, scope)  # type: ignore[arg-type]
    if size < 0:
        raise Refusal("negative", f"comes out below zero: {shown(size, scope)}")
    return size


def _slots(place: Place, entries: Sequence[object], scope: Scope) -> list[Slot]:
    slots: list[Slot] = []
    left: Number = Fraction(0)
    for index, entry in enumerate(entries):
        here = place / index
        with here.collecting():
            if not isinstance(entry, dict):
                raise Refusal("wrong-kind", f"expected a table, got {name_of_kind(entry)}")
            gaps = sum(slot.outline is None for slot in slots)
            slot = _slot(here, entry, left, scope, gaps)
            if any(slot.name == other.name for other in slots):
                raise Refusal("twice", f"there is a board {slot.name!r} before this one")
            slots.append(slot)
            left = slot.right
    if len(slots) == len(entries):
        _check_ends(place, slots)
    return slots


def _check_ends(place: Place, slots: Sequence[Slot]) -> None:
    """Report a wrap without boards, or one that begins or ends with a gap."""
    if not any(slot.outline for slot in slots):
        place.report("no-board", "a wrap has at least one board")
    elif slots[0].outline is None or slots[-1].outline is None:
        place.report("loose-gap", "a gap lies between two boards")


def _slot(place: Place, entry: dict[str, Any], left: Number, scope: Scope, gaps: int) -> Slot:
    if "gap" in entry:
        fields = checked(place, entry, GAP_FIELDS)
        with beneath("gap"):
            return Slot(
                f"gap{gaps + 1}", left, left + _not_below_zero(fields.get("gap", 0), scope), None
            )
    fields = checked(place, entry, BOARD_FIELDS)
    name = fields.get("board", "board")
    with beneath("board"):
        refuse_no_name(name)
        if name.startswith(TURN_IN):
            raise Refusal("reserved", f"a board cannot be called {name!r}; a turn-in is")
    outline = _board_outline(fields, scope)
    box = bounds_of([outline])
    placed = translated(outline, left - box.left, -box.bottom)
    return Slot(name, left, left + box.width, placed)


def _board_outline(fields: Mapping[str, Any], scope: Scope) -> Path:
    if "outline" in fields:
        with beneath("outline"):
            vertices = closed_vertices(fields["outline"], point_reader(scope))
            if any(vertex.bulge for vertex in vertices):
                raise Refusal("curved-edge", "a wrap turns in along straight edges only")
            return Path(tuple(vertices))
    width, height = (_board_size(fields, key, scope) for key in ("width", "height"))
    return rectangle(Fraction(0), Fraction(0), width, height)


def _board_size(fields: Mapping[str, Any], key: str, scope: Scope) -> Fraction:
    if key not in fields:
        raise Refusal("missing", "a board has a width and a height, or an outline")
    with beneath(key):
        size = size_of(fields[key], scope)
        if size <= 0:
            raise Refusal("negative", f"a board of no size: {shown(size, scope)}")
        return size


def wrap_draft(slots: Sequence[Slot], turn_in: Number, allowance: Number) -> Draft:
    """Return the draft of a wrap around *slots* with its turn-ins; raises Refusal."""
    hull = _hull([point for slot in slots if slot.outline for point in slot.outline.points])
    shapes = {slot.name: _strip(hull, slot) for slot in slots if slot.right > slot.left}
    borders_between_slots = [slot.right for slot in slots[:-1]]
    for i in range(len(hull) if turn_in else 0):
        name = f"{TURN_IN}{i + 1}"
        outline = _turn_in(hull, i, turn_in, allowance, borders_between_slots)
        shapes[name] = shape_from_path(name, outline)
    borders = borders_between(shapes)
    rules = {}
    for contact in borders.contacts:
        turned = [n for n in (contact.first, contact.second) if n.startswith(TURN_IN)]
        key = FoldKey(contact.first, contact.relation, contact.second)
        if len(turned) == 1:
            rules[key] = Rule(LineKind.FOLD, Fraction(180))
        elif not turned:
            rules[key] = Rule(None)  # the wrap bends freely between board and gap
    marks = tuple(_board_marks(slots))
    steps = _steps(hull, rules) if turn_in else ()
    return Draft(shapes, frozenset(shapes), rules, borders, steps, strokes=marks)


def _steps(hull: Sequence[Point], rules: Mapping[FoldKey, Rule]) -> tuple[Step, ...]:
    """Return the turn-ins one after the other, those at the head and at the tail first.

    Head and tail are turned in first so that the folded corners stay hidden at the
    fore-edge (common practice).
    """
    edges = range(len(hull))
    level_first = sorted(edges, key=lambda i: hull[i].y != hull[(i + 1) % len(hull)].y)
    return tuple(_step(f"{TURN_IN}{i + 1}", rules) for i in level_first)


def _step(turn_in: str, rules: Mapping[FoldKey, Rule]) -> Step:
    return Step(
        tuple((key, rule.angle_deg) for key, rule in rules.items() if turn_in in key.panels())
    )


def _board_marks(slots: Sequence[Slot]) -> list[Stroke]:
    return [
        Stroke(slot.name, Purpose.MARK, slot.outline, name=slot.name)
        for slot in slots
        if slot.outline
    ]


def _strip(hull: Sequence[Point], slot: Slot) -> Shape:
    """Return the part of the hull over one board or gap."""
    points = clipped(hull, lambda p: p.x - slot.left)
    points = clipped(points, lambda p: slot.right - p.x)
    return shape_from_path(slot.name, polyline(points, closed=True))


def _hull(points: Sequence[Point]) -> list[Point]:
    """Return the convex hull, counter-clockwise from the lower left (monotone chain)."""
    ordered = sorted(set(points))
    return [*_half_hull(ordered)[:-1], *_half_hull(ordered[::-1])[:-1]]


def _half_hull(points: Sequence[Point]) -> list[Point]:
    half: list[Point] = []
    for point in points:
        while len(half) > 1 and _cross(half[-2], half[-1], point) <= 1e-9:
            half.pop()
        half.append(point)
    return half


def _cross(a: Point, b: Point, c: Point) -> Number:
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)


def _turn_in(
    hull: Sequence[Point],
    i: int,
    depth: Number,
    allowance: Number,
    borders_between_slots: Sequence[Number],
) -> Path:
    """Return the turn-in at hull edge *i*: its fold, and the cuts at both corners."""
    count = len(hull)
    before, a, b, after = hull[i - 1], hull[i], hull[(i + 1) % count], hull[(i + 2) % count]
    first = _corner_points(before, a, b, depth, allowance, right=1)
    last = _corner_points(after, b, a, depth, allowance, right=-1)
    (ux, uy), p, q = _unit(a, b), first[-1], last[-1]
    if (q.x - p.x) * ux + (q.y - p.y) * uy < 0:
        told = "the cuts at both ends of a turn-in would cross"
        raise Refusal("ends-overlap", told, "Make the turn-in less deep.")
    fold = [b, *_between(b, a, borders_between_slots)]
    points = [a, *first, *reversed(last), *fold]
    distinct = [point for j, point in enumerate(points) if point != points[j - 1]]
    return polyline(distinct, closed=True)


def _between(start: Point, end: Point, uprights: Sequence[Number]) -> list[Point]:
    """Return where an oblique edge passes from one board or gap to the next, on its way."""
    if start.x == end.x or start.y == end.y:
        return []
    low, high = sorted((start.x, end.x))
    found = sorted((x for x in uprights if low < x < high), reverse=start.x > end.x)
    slope = (end.y - start.y) / (end.x - start.x)
    return [Point(x, start.y + (x - start.x) * slope) for x in found]


def _corner_points(
    beside: Point, corner: Point, ahead: Point, depth: Number, allowance: Number, right: int
) -> list[Point]:
    """Return the points of a turn-in from the board's *corner* out to its far edge.

    At a corner of the angle 2h the cut makes h with the edge and passes the
    corner at the distance *allowance*, so it runs depth * cot h - allowance /
    sin h in along the far edge. What lies outside the corner is shared by both
    turn-ins along the continued bisector, which the cut meets allowance / sin 2h
    out; at a blunt corner that may be beyond the turn-ins, and nothing is cut.
    *right* is 1 where the outside lies right of the way from corner to ahead.
    """
    direction = _unit(corner, ahead)
    half = _half_angle(beside, corner, ahead)
    run = depth * _cotangent(half)
    if allowance:
        run -= allowance / math.sin(half)
    far = _offset(corner, direction, run, right * depth)
    if not allowance:
        return [far]
    out = float(allowance) / math.sin(2 * half)
    if math.sin(half) * out >= depth:
        return [_offset(corner, direction, -depth * _cotangent(half), right * depth)]
    return [_offset(corner, direction, -math.cos(half) * out, right * math.sin(half) * out), far]


def _offset(corner: Point, direction: tuple[Number, Number], along: Number, right: Number) -> Point:
    """Return the point so far *along* a direction and to the *right* of it."""
    ux, uy = direction
    return Point(corner.x + along * ux + right * uy, corner.y + along * uy - right * ux)


def _unit(a: Point, b: Point) -> tuple[Number, Number]:
    length = distance(a, b)
    return (b.x - a.x) / length, (b.y - a.y) / length


def _half_angle(a: Point, corner: Point, b: Point) -> float:
    first = math.atan2(a.y - corner.y, a.x - corner.x)
    second = math.atan2(b.y - corner.y, b.x - corner.x)
    turn = abs(first - second) % (2 * math.pi)
    return min(turn, 2 * math.pi - turn) / 2


def _cotangent(angle: float) -> Number:
    return Fraction(1) if abs(angle - math.pi / 4) < 1e-12 else 1 / math.tan(angle)
