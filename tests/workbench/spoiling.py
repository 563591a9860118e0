"""Ways of spoiling a composed book: sizes, places and joins changed after composing.

All return a new book; the one given stays as it is. Sizes are millimetres.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from dielines.book.book import Book
from dielines.part import Edge, Part
from dielines.paths import Number, Path, Point, mapped

Place = Callable[[Point], Point]


def with_part(book: Book, key: str, part: Part) -> Book:
    """Return *book* with another part in the place of the one called *key*."""
    changed = [replace(e, part=part) if e.key == key else e for e in book.parts]
    assert any(entry.key == key for entry in book.parts), key
    return replace(book, parts=tuple(changed))


def changed_part(book: Book, key: str, change: Callable[[Part], Part]) -> Book:
    """Return *book* with *change* made to the part called *key*."""
    return with_part(book, key, change(book.part(key).part))


def without_part(book: Book, key: str) -> Book:
    """Return *book* without a part, and without the joins that name it."""
    joins = [join for join in book.joins if key not in (join.part, join.onto_part)]
    return replace(book, parts=tuple(e for e in book.parts if e.key != key), joins=tuple(joins))


def changed_join(book: Book, part: str, zone: str, onto: str = "", **changes: object) -> Book:
    """Return *book* with the fields of a join changed: offset, width, height, onto_side, ..."""
    is_meant = [
        j.part == part and j.zone == zone and (not onto or j.onto_part == onto) for j in book.joins
    ]
    assert any(is_meant), (part, zone)
    joins = [
        replace(join, **changes) if meant else join
        for join, meant in zip(book.joins, is_meant, strict=True)
    ]
    return replace(book, joins=tuple(joins))


def without_join(book: Book, part: str, zone: str) -> Book:
    """Return *book* without the joins of a zone."""
    return replace(book, joins=tuple(j for j in book.joins if (j.part, j.zone) != (part, zone)))


def warped(part: Part, place: Place) -> Part:
    """Return *part* with every coordinate moved by *place*; arcs keep their bulge."""

    def path(old: Path) -> Path:
        return mapped(old, place, turns_over=False)

    def edge(old: Edge) -> Edge:
        return replace(old, start=place(old.start), end=place(old.end))

    return replace(
        part,
        panels=tuple(
            replace(p, outline=path(p.outline), holes=tuple(map(path, p.holes)))
            for p in part.panels
        ),
        lines=tuple(replace(line, pieces=tuple(map(path, line.pieces))) for line in part.lines),
        outline=tuple(map(path, part.outline)),
        strokes=tuple(replace(s, path=path(s.path)) for s in part.strokes),
        zones=tuple(replace(z, path=path(z.path)) for z in part.zones),
        lettering=tuple(replace(text, at=place(text.at)) for text in part.lettering),
        bound=part.bound and edge(part.bound),
        mouths=tuple(map(edge, part.mouths)),
    )


def stretched(part: Part, axis: str, beyond: Number, by: Number) -> Part:
    """Return *part* longer by *by*: all that lies beyond a line moves, the line itself does not.

    *axis* is "x" or "y", *beyond* the place of the line across it. A negative *by*
    shortens. What the line crosses is stretched; arcs that it crosses are bent.
    """
    shift = Fraction(by) if not isinstance(by, float) else by

    def place(point: Point) -> Point:
        x, y = point
        if axis == "x":
            return Point(x + shift if x > beyond else x, y)
        return Point(x, y + shift if y > beyond else y)

    return warped(part, place)


def longer_panel(part: Part, panel: str, axis: str, by: Number) -> Part:
    """Return *part* with one panel longer by *by* along an axis; what lies beyond it moves."""
    box = part.panel(panel).bounds()
    low, high = (box.left, box.right) if axis == "x" else (box.bottom, box.top)
    return stretched(part, axis, (low + high) / 2, by)


def moved_zone(part: Part, zone: str, dx: Number = 0, dy: Number = 0) -> Part:
    """Return *part* with a zone of tape moved on its panel."""
    return changed_zone(
        part,
        zone,
        lambda path: mapped(path, lambda p: Point(p.x + dx, p.y + dy), turns_over=False),
    )


def changed_zone(part: Part, zone: str, change: Callable[[Path], Path], **others: object) -> Part:
    """Return *part* with the path of a zone changed, and others of its fields (side, onto)."""
    assert any(z.name == zone for z in part.zones), zone
    zones = [replace(z, path=change(z.path), **others) if z.name == zone else z for z in part.zones]
    return replace(part, zones=tuple(zones))


def without_zone(part: Part, zone: str) -> Part:
    """Return *part* without a zone of tape."""
    assert any(z.name == zone for z in part.zones), zone
    return replace(part, zones=tuple(z for z in part.zones if z.name != zone))


def with_angle(part: Part, line: str, angle_deg: Number) -> Part:
    """Return *part* with another finished angle at a fold (``"front / back"``), in its steps too."""
    assert any(str(old.key) == line for old in part.lines), line
    lines = [replace(x, angle_deg=angle_deg) if str(x.key) == line else x for x in part.lines]
    steps = [
        replace(
            step,
            angles_deg=tuple(
                (key, angle_deg if str(key) == line else angle) for key, angle in step.angles_deg
            ),
        )
        for step in part.steps
    ]
    return replace(part, lines=tuple(lines), steps=tuple(steps))


def with_steps(part: Part, *steps: str) -> Part:
    """Return *part* folded in other steps, each naming lines: ``"seam / head, head / front"``."""
    by_name = {str(line.key): line for line in part.folds}
    made = []
    for step in steps:
        lines = [by_name[name.strip()] for name in step.split(",")]
        made.append(type(part.steps[0])(tuple((line.key, line.angle_deg) for line in lines)))
    return replace(part, steps=tuple(made))
