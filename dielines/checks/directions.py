"""Where the side of a panel is in the closed book: head, tail, fore-edge or binding edge."""

from __future__ import annotations

from ..folding.folded_book import FoldedBook
from ..paths import Point
from .words import panel_words

#: Which way each side of a flat panel looks.
WAYS = {"left": (-1, 0), "right": (1, 0), "bottom": (0, -1), "top": (0, 1)}

_PLAIN = {"left": "left edge", "right": "right edge", "bottom": "bottom edge", "top": "top edge"}


def side_words(folded: FoldedBook, key: str, panel: str, side: str) -> str:
    """Return what a reader calls a side of a panel; as it lies on the flat part if it has no place."""
    return way_words(folded, key, panel, WAYS[side]) or _PLAIN[side]


def pocket_words(folded: FoldedBook, key: str, front: str) -> str:
    """Return what a pocket is called by its front: "the pocket behind the front", or "the pocket"."""
    words = panel_words(folded.book, key, front)
    return "the pocket" if words == "pocket" else f"the pocket behind the {words}"


def way_words(folded: FoldedBook, key: str, panel: str, way: tuple[float, float]) -> str:
    """Return the edge of the book to which a direction on a panel looks; empty without a place."""
    pose = folded.assembly.places.get(key, {}).get(panel)
    if pose is None:
        return ""
    x, y = (float(row[0] * way[0] + row[1] * way[1]) for row in pose.rotation[:2])
    if max(abs(x), abs(y)) < 0.5:
        return ""
    if abs(x) > abs(y):
        return "fore-edge" if x > 0 else "binding edge"
    return "head" if y > 0 else "tail"


def side_of_way(dx: float, dy: float) -> str:
    """Return the side of a flat panel to which a direction looks most."""
    if abs(dx) > abs(dy):
        return "right" if dx > 0 else "left"
    return "top" if dy > 0 else "bottom"


def middle_of(start: Point, end: Point) -> Point:
    """Return the point halfway between two."""
    return Point((start.x + end.x) / 2, (start.y + end.y) / 2)
