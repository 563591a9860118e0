"""From parts to drawings: which line of a part goes on which layer."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from .drawing import Caption, Drawing, Group, Item, Layer
from .part import Lettering, Line, LineKind, Part, Purpose, Side, Stroke
from .paths import Bounds, Number, Point, bounds_of, translated
from .strokes import in_one_stroke

ORIGIN = Point(Fraction(0), Fraction(0))
GAP = Fraction(10)  #: mm, between parts of a drawing
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
    items = (*scores_of(part), *_inner_cuts(part), *_outline(part), *_zones(part), *_marks(part))
    group = Group(key, title, items, tuple(_caption(text) for text in part.lettering))
    return moved_group(group, at)


def scores_of(part: Part) -> list[Item]:
    """Return what is scored or perforated on *part*, each line in one stroke."""
    return in_one_stroke(_score_pieces(part))


def _score_pieces(part: Part) -> Iterator[Item]:
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


def _caption(text: Lettering) -> Caption:
    return Caption(Layer.LABEL, text.text, text.at, float(text.height))


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
    gap: Fraction = GAP,
    metadata: Sequence[tuple[str, str]] = (),
) -> Drawing:
    """Return the drawing of many parts (key, title, part) in rows, *gap* mm apart."""
    groups = [part_group(part, key, name) for key, name, part in parts]
    return rows_drawing(groups, title, gap, metadata)


def rows_drawing(
    groups: Sequence[Group],
    title: str,
    gap: Fraction = GAP,
    metadata: Sequence[tuple[str, str]] = (),
) -> Drawing:
    """Return the drawing of *groups*, each with its lower left at the origin, in rows.

    A plain arrangement in the order in which one reads, the first at the upper
    left; sheets are laid out elsewhere.
    """
    boxes = [bounds_of(item.path for item in group.items) for group in groups]
    rows = _rows(boxes, gap)
    heights = [max(boxes[i].height for i in row) for row in rows]
    top = sum(heights, Fraction(0)) + gap * max(len(rows) - 1, 0)
    width: Number = Fraction(0)
    placed = []
    page_height = top
    for row, height in zip(rows, heights, strict=True):
        left: Number = Fraction(0)
        for i in row:
            placed.append(moved_group(groups[i], Point(left, top - boxes[i].height)))
            width = max(width, left + boxes[i].width)
            left += boxes[i].width + gap
        top -= height + gap
    return Drawing(
        float(width), float(page_height), tuple(placed), title=title, metadata=tuple(metadata)
    )


def _rows(boxes: Sequence[Bounds], gap: Number) -> list[list[int]]:
    """Return the indices of *boxes* in rows, together a good deal wider than high."""
    total = sum(float(box.width * box.height) for box in boxes)
    row_width = max([*(box.width for box in boxes), 1.6 * total**0.5])
    rows: list[list[int]] = [[]] if boxes else []
    filled: Number = Fraction(0)
    for i, box in enumerate(boxes):
        if rows[-1] and filled + box.width > row_width:
            rows.append([])
            filled = Fraction(0)
        rows[-1].append(i)
        filled += box.width + gap
    return rows


def moved_group(group: Group, by: Point) -> Group:
    """Return *group* with its paths and captions moved."""
    if not (by.x or by.y):
        return group
    return replace(
        group,
        items=tuple(replace(i, path=translated(i.path, by.x, by.y)) for i in group.items),
        captions=tuple(replace(c, at=Point(c.at.x + by.x, c.at.y + by.y)) for c in group.captions),
    )


def key_from(name: str) -> str:
    """Return *name* as a valid XML name."""
    word = re.sub(r"[^A-Za-z0-9_.-]+", "-", name).strip("-")
    return word if re.match(r"[A-Za-z_]", word) else f"part-{word}"
