"""From parts to drawings: which line of a part goes on which layer."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from .drawing import Caption, Drawing, Group, Item, Layer
from .part import Lettering, Line, LineKind, Part, Purpose, Side, Stroke
from .paths import Number, Point, bounds_of, translated

ORIGIN = Point(Fraction(0), Fraction(0))
_STROKE_LAYERS = {
    Purpose.CUT: Layer.CUT,
    Purpose.PERFORATE: Layer.PERFORATE,
    Purpose.MARK: Layer.MARK,
}
_ZONE_LAYERS = {Side.FACE: Layer.TAPE_FACE, Side.REVERSE: Layer.TAPE_REVERSE}


def score_layer(angle_deg: Number) -> Layer:
    """Return the layer of a score: a valley, also where it is at rest flat, or a mountain."""
    return Layer.SCORE_MOUNTAIN if angle_deg < 0 else Layer.SCORE_VALLEY


def part_group(part: Part, key: str, title: str, at: Point = ORIGIN) -> Group:
    """Return the group of paths of *part* with its lower left corner *at*.

    Inner cuts and scores come before the outline that holds them.
    """
    items = (*_scores(part), *_inner_cuts(part), *_outline(part), *_zones(part), *_marks(part))
    return Group(
        key,
        title,
        tuple(replace(item, path=translated(item.path, at.x, at.y)) for item in items),
        tuple(_caption(text, at) for text in part.lettering),
    )


def _scores(part: Part) -> Iterator[Item]:
    for line in part.lines:
        if line.kind is not LineKind.SLIT:
            yield from (Item(_line_layer(line), piece, str(line.key)) for piece in line.pieces)
    for stroke in part.strokes:
        if stroke.purpose is Purpose.SCORE:
            yield Item(score_layer(stroke.angle_deg), stroke.path, stroke.name)
        elif stroke.purpose is Purpose.PERFORATE:
            yield Item(Layer.PERFORATE, stroke.path, stroke.name)


def _line_layer(line: Line) -> Layer:
    return Layer.PERFORATE if line.kind is LineKind.PERFORATE else score_layer(line.angle_deg)


def _inner_cuts(part: Part) -> Iterator[Item]:
    yield from _strokes(part, Purpose.CUT)
    for line in part.lines:
        if line.kind is LineKind.SLIT:
            yield from (Item(Layer.CUT, piece, str(line.key)) for piece in line.pieces)


def _outline(part: Part) -> Iterator[Item]:
    yield from (Item(Layer.CUT, ring, "opening") for ring in part.outline[1:])
    yield Item(Layer.CUT, part.outline[0], "outline")


def _zones(part: Part) -> Iterator[Item]:
    for zone in part.zones:
        yield Item(_ZONE_LAYERS[zone.side], zone.path, zone.name)


def _marks(part: Part) -> Iterator[Item]:
    yield from _strokes(part, Purpose.MARK)


def _strokes(part: Part, purpose: Purpose) -> Iterator[Item]:
    strokes: Iterable[Stroke] = (s for s in part.strokes if s.purpose is purpose)
    yield from (Item(_STROKE_LAYERS[purpose], stroke.path, stroke.name) for stroke in strokes)


def _caption(text: Lettering, at: Point) -> Caption:
    place = Point(text.at.x + at.x, text.at.y + at.y)
    return Caption(Layer.LABEL, text.text, place, float(text.height))


def part_drawing(part: Part, title: str, metadata: Sequence[tuple[str, str]] = ()) -> Drawing:
    """Return the drawing of one part alone, its page as large as the part."""
    return Drawing(
        width=float(part.width),
        height=float(part.height),
        groups=(part_group(part, key_from(part.name), title),),
        title=title,
        metadata=tuple(metadata),
    )


def parts_drawing(
    parts: Sequence[tuple[str, str, Part]],
    title: str,
    gap: Fraction = Fraction(10),
    metadata: Sequence[tuple[str, str]] = (),
) -> Drawing:
    """Return the drawing of many parts (key, title, part) in rows, *gap* mm apart.

    A plain arrangement in the order given, to look at; sheets are laid out elsewhere.
    """
    groups, place = [], Point(Fraction(0), Fraction(0))
    total = sum(part.width * part.height for _, _, part in parts)
    row_width = max([*(part.width for _, _, part in parts), 1.6 * float(total) ** 0.5])
    row_height: Number = Fraction(0)
    for key, name, part in parts:
        if place.x and place.x + part.width > row_width:
            place, row_height = Point(Fraction(0), place.y + row_height + gap), Fraction(0)
        groups.append(part_group(part, key, name, place))
        place = Point(place.x + part.width + gap, place.y)
        row_height = max(row_height, part.height)
    box = bounds_of(item.path for group in groups for item in group.items)
    return Drawing(
        float(box.right), float(box.top), tuple(groups), title=title, metadata=tuple(metadata)
    )


def key_from(name: str) -> str:
    """Return *name* as a valid XML name."""
    word = re.sub(r"[^A-Za-z0-9_.-]+", "-", name).strip("-")
    return word if re.match(r"[A-Za-z_]", word) else f"part-{word}"
