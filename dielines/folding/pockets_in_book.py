"""The pockets of a bound book: what binds the pages stands at their open edges."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from ..landing import Flat
from ..paths import Bounds, bounds_of, flattened
from ..rigid import Pose
from .cavities import LEAK, Cavity, cavities_of
from .cavity_walls import Ring
from .folded_book import FoldedBook
from .keeping import kept_with
from .lids import SAGITTA, part_pockets
from .pockets import GRAFTED, Pocket

BINDING = "pages"  #: the role of what is folded from the stock of the pages

STEEP = 0.5  #: upright share of a normal below which a panel stands on the pages
BESIDE = 2.0  #: mm; what is farther from a pocket closes none of its sides


class StandingPanel(NamedTuple):
    """A panel that stands on the pages, by its corners in the frame of the book, mm."""

    part: str
    corners: Ring
    low: float
    high: float


def book_cavities(folded: FoldedBook) -> Mapping[str, tuple[Cavity, ...]]:
    """Return the cavities of each part with pockets, by key; worked out once for parts that are alike.

    Parts without a place in the book stand alone.
    """
    return kept_with(folded, "cavities", lambda: _book_cavities(folded))


def _book_cavities(folded: FoldedBook) -> dict[str, tuple[Cavity, ...]]:
    found: dict[str, tuple[Cavity, ...]] = {}
    seen: dict[object, tuple[Cavity, ...]] = {}
    keys = [entry.key for entry in folded.book.parts if entry.part.mouths]
    standing = list(_standing(folded)) if keys else []
    for key in keys:
        part = folded.parts[key]
        around = {
            pocket.front: tuple(sorted(_around(folded, key, pocket, standing)))
            for pocket in part_pockets(part)
        }
        alike = (id(part), tuple(sorted(around.items())))
        if alike not in seen:
            seen[alike] = cavities_of(part, around)
        found[key] = seen[alike]
    return found


def _standing(folded: FoldedBook) -> Iterator[StandingPanel]:
    """Yield the panels of what binds the pages that stand upright on them: channels and rooms.

    The walls of the next page's pockets stay outside of this one.
    """
    for entry in folded.book.parts:
        if entry.role != BINDING:
            continue
        outlines, is_page = folded.parts[entry.key].outlines, entry.key.startswith("page-")
        for name, pose in folded.assembly.places.get(entry.key, {}).items():
            binds = name.startswith(GRAFTED) or not is_page
            if binds and abs(float(pose.normal[2])) < STEEP:
                corners = tuple(_placed(pose, p) for p in flattened(outlines[name], SAGITTA))
                yield _taller(entry.key, corners)


def _taller(part: str, corners: Ring) -> StandingPanel:
    """Return a standing panel as high as it keeps things in: beyond its ends by the width of a leak.

    Papers and tape lie there, the layers of a fin, between it and the page.
    """
    heights = [z for _, _, z in corners]
    low, high = min(heights), max(heights)
    middle = (low + high) / 2
    raised = ((x, y, z + (LEAK if z > middle else -LEAK)) for x, y, z in corners)
    return StandingPanel(part, tuple(raised), low - LEAK, high + LEAK)


def _placed(pose: Pose, point: Flat) -> tuple[float, float, float]:
    x, y, z = pose.at(point)
    return float(x), float(y), float(z)


def _around(
    folded: FoldedBook, key: str, pocket: Pocket, standing: list[StandingPanel]
) -> Iterator[Ring]:
    """Yield what other parts have standing beside a pocket, in the flat coordinates of its front."""
    places = folded.assembly.places.get(key, {})
    if pocket.front not in places or pocket.back not in places:
        return
    heights = [float(places[name].translation[2]) for name in (pocket.front, pocket.back)]
    back = places[pocket.front].inverse()
    frame = bounds_of([folded.parts[key].outlines[pocket.front]])
    for panel in standing:
        if panel.part != key and panel.low < max(heights) and panel.high > min(heights):
            ring = tuple(_rounded(back, corner) for corner in panel.corners)
            if _is_beside(ring, frame):
                yield ring


def _rounded(back: Pose, corner: tuple[float, float, float]) -> tuple[float, float, float]:
    """Return a place of the book in a front's coordinates; to a nanometre, so that like equals like."""
    x, y, z = back.at(corner[:2], corner[2])
    return round(float(x), 6), round(float(y), 6), round(float(z), 6)


def _is_beside(ring: Ring, frame: Bounds) -> bool:
    xs, ys = [x for x, _, _ in ring], [y for _, y, _ in ring]
    return (
        min(xs) < frame.right + BESIDE
        and max(xs) > frame.left - BESIDE
        and min(ys) < frame.top + BESIDE
        and max(ys) > frame.bottom - BESIDE
    )
