"""Random sheets full of parts for tests and benchmarks: outlines, openings, slits, scores."""

from __future__ import annotations

import random

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.paths import Path, circle, line, polyline, rectangle

GAP = 3.0  #: mm, between cells


def random_sheet(seed: int, rows: int, columns: int, side: float = 304.8) -> Drawing:
    """Return a square sheet with one part in each cell of a grid, none of them nested."""
    lots = random.Random(seed)
    width, height = side / columns, side / rows
    groups = [
        _part(lots, column * width + GAP / 2, row * height + GAP / 2, width - GAP, height - GAP)
        for row in range(rows)
        for column in range(columns)
    ]
    return Drawing(
        side,
        side,
        tuple(Group(f"p{i}", f"Part {i}", tuple(items)) for i, items in enumerate(groups)),
    )


def _part(lots: random.Random, x: float, y: float, room: float, height: float) -> list[Item]:
    w, h = room * lots.uniform(0.55, 1), height * lots.uniform(0.55, 1)
    taper = min(w, h) * lots.uniform(0.05, 0.2)
    items = [_score(lots, x, y, w, h, taper) for _ in range(lots.randrange(1, 4))]
    if lots.random() < 0.4:
        slit = line((x + w * 0.3, y + h / 2), (x + w * 0.5, y + h / 2))
        items.append(Item(Layer.CUT, slit, "slit"))
    items += [_hole(lots, x, y, w, h) for _ in range(lots.randrange(3))]
    return [Item(Layer.CUT, _outline(lots, x, y, w, h, taper), "outline"), *items]


def _score(lots: random.Random, x: float, y: float, w: float, h: float, taper: float) -> Item:
    if lots.random() < 0.5:
        level = y + h * lots.uniform(0.2, 0.8)
        return Item(Layer.SCORE_VALLEY, line((x + taper, level), (x + w - taper, level)), "score")
    across = x + w * lots.uniform(0.3, 0.7)
    return Item(Layer.SCORE_VALLEY, line((across, y), (across, y + h)), "score")


def _hole(lots: random.Random, x: float, y: float, w: float, h: float) -> Item:
    middle = x + w * lots.uniform(0.3, 0.7), y + h * lots.uniform(0.3, 0.7)
    return Item(Layer.CUT, circle(middle, min(w, h) * 0.05), "hole")


def _outline(lots: random.Random, x: float, y: float, w: float, h: float, taper: float) -> Path:
    r, t, c = x + w, y + h, taper
    shape = lots.randrange(3)
    if shape == 0:
        return rectangle(x, y, r, t)
    if shape == 1:
        return polyline([(x, y), (r, y), (r - c, t), (x + c, t)], closed=True)
    corners = [
        (x + c, y), (r - c, y), (r, y + c), (r, t - c),
        (r - c, t), (x + c, t), (x, t - c), (x, y + c),
    ]  # fmt: skip
    return polyline(corners, closed=True)


def nested_sheet(seed: int, deep: int) -> Drawing:
    """Return a sheet of frames within frames: parts in the openings of parts, *deep* times."""
    lots = random.Random(seed)
    groups = []
    for column in range(3):
        left, right, bottom, top = 100.0 * column + 1, 100.0 * column + 98, 1.0, 98.0
        for level in range(deep):
            outline = rectangle(left, bottom, right, top)
            step = (right - left) * lots.uniform(0.03, 0.06)
            left, right, bottom, top = left + step, right - step, bottom + step, top - step
            opening = rectangle(left, bottom, right, top)
            slit = line((left - step / 2, bottom), (left - step / 2, top))
            left, right, bottom, top = left + step, right - step, bottom + step, top - step
            names = [("outline", outline), ("opening", opening), ("slit", slit)]
            items = [Item(Layer.CUT, path, name) for name, path in names]
            lots.shuffle(items)
            groups.append(Group(f"f{column}-{level}", f"Frame {column}, {level}", tuple(items)))
    lots.shuffle(groups)
    return Drawing(300.0, 100.0, tuple(groups))
