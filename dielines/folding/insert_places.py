"""Where inserts are, and other parts that lie loose in a pocket: pushed in as far as they go."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from ..book.book import Book, BookPart
from ..paths import Bounds, Number, bounds_of
from ..rigid import Pose
from .folded_part import FoldedPart
from .placing import middle, shifted

Flats = Mapping[str, Pose]


def insert_places(
    book: Book, parts: Mapping[str, FoldedPart], places: Mapping[str, Flats]
) -> Iterator[tuple[str, dict[str, Pose]]]:
    """Yield the places of inserts: in the pocket of the page that their key names, else on it.

    Those of one page share its room evenly, in the middle of the pocket's front.
    """
    by_page: dict[str, list[BookPart]] = {}
    for entry in book.parts:
        if _lies_loose(entry, places):
            by_page.setdefault(f"page-{entry.key.split('-')[1]}", []).append(entry)
    for page, inserts in by_page.items():
        if page not in places:
            continue
        front, depth = _pocket(page, parts, places)
        for number, entry in enumerate(inserts, 1):
            yield (
                entry.key,
                _in_pocket(parts[entry.key], front, depth * Fraction(number, len(inserts) + 1)),
            )


def _lies_loose(entry: BookPart, places: Mapping[str, Flats]) -> bool:
    """Return whether a part belongs to a page that its key names, and nothing holds it there."""
    beginning, _, rest = entry.key.partition("-")
    is_named = beginning in ("insert", "page") and "-" in rest and not entry.part.covers
    return is_named and entry.key not in places


class _Front(NamedTuple):
    """The front of a pocket, or a bare page: where its middle is, in the frame of the book."""

    pose: Pose
    folded: FoldedPart
    panel: str


def _pocket(
    page: str, parts: Mapping[str, FoldedPart], places: Mapping[str, Flats]
) -> tuple[_Front, Number]:
    """Return the front of the first pocket of a page and its depth, signed by the page's face."""
    ours = [key for key in places if key == page or key.startswith(f"{page}-")]
    with_mouth = [key for key in ours if parts[key].part.mouths]
    key = with_mouth[0] if with_mouth else page
    folded = parts[key]
    panel = folded.part.mouths[0].panel if with_mouth else folded.root
    return _Front(places[key][folded.root], folded, panel), _depth(folded, panel)


def _depth(folded: FoldedPart, panel: str) -> Number:
    """Return how far the next layer over a panel is, towards which a pocket opens; 0 for none."""
    front = folded.poses[panel]
    heights = [
        folded.poses[other].at((0, 0))[2] - front.at((0, 0))[2]
        for other in folded.outlines
        if other != panel and abs(float(folded.poses[other].normal[2])) > 0.999
    ]
    apart = [height for height in heights if abs(float(height)) > 1e-6]
    return min(apart, key=lambda height: abs(float(height)), default=Fraction(0))


def _in_pocket(insert: FoldedPart, front: _Front, height: Number) -> dict[str, Pose]:
    """Return the places of an insert upright on the page, pushed in as far as it goes."""
    pose = front.folded.poses[front.panel]
    room = _box_of(front.folded, front.panel, pose)
    own = bounds_of([insert.outlines[insert.root]])
    x, y = middle(room)
    own_x, own_y = middle(own)
    out_x, out_y = _way_out(front, room)
    x -= out_x * (room.width - own.width) / 2
    y -= out_y * (room.height - own.height) / 2
    lift = pose.at((0, 0))[2] + height
    lying = front.pose.compose(shifted(x - own_x, y - own_y, lift))
    return {name: lying.compose(pose) for name, pose in insert.poses.items()}


def _box_of(folded: FoldedPart, panel: str, pose: Pose) -> Bounds:
    """Return the rectangle around a panel in the drawing of the root of its part."""
    places = [pose.at(point) for point in folded.outlines[panel].points]
    xs, ys = [place[0] for place in places], [place[1] for place in places]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _way_out(front: _Front, room: Bounds) -> tuple[int, int]:
    """Return in which direction the mouth of a pocket lies from its middle; (0, 0) without one."""
    for mouth in front.folded.part.mouths:
        if mouth.panel == front.panel:
            pose = front.folded.poses[front.panel]
            at = pose.at(((mouth.start.x + mouth.end.x) / 2, (mouth.start.y + mouth.end.y) / 2))
            dx, dy = (float(a - b) for a, b in zip(at[:2], middle(room), strict=True))
            is_across = abs(dx) > abs(dy)
            return (1 if dx > 0 else -1, 0) if is_across else (0, 1 if dy > 0 else -1)
    return 0, 0
