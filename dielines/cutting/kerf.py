"""Paths moved by half the width that the cut takes away, so that parts keep their size.

A beam burns half its width on either side of the middle line. So an outline is cut
that much farther out, and an opening that much farther in; corners stay sharp
(mitred) and arcs stay true arcs. A blade takes nothing away.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..drawing import Drawing, Group, Item
from ..errors import UsageError
from ..offsets import NothingLeft, inset_past_short_edges
from ..paths import Path, reversed_path, signed_area
from .contours import outlines_and_openings


def with_kerf(drawing: Drawing, kerf: float) -> Drawing:
    """Return *drawing* with closed cuts moved by half of *kerf*, mm, away from what stays.

    Within its group a contour in an even number of others is an outline, else an
    opening. Open cuts stay: the beam widens them evenly. Raises UsageError, with
    all that is too narrow for such a cut.
    """
    if not kerf:
        return drawing
    faults: list[str] = []
    groups = tuple(_group_with_kerf(group, kerf, faults) for group in drawing.groups)
    if faults:
        raise UsageError("\n".join(faults))
    return replace(drawing, groups=groups)


def _group_with_kerf(group: Group, kerf: float, faults: list[str]) -> Group:
    moved = dict(_moved_items(group, kerf, faults))
    return replace(group, items=tuple(moved.get(i, item) for i, item in enumerate(group.items)))


def _moved_items(group: Group, kerf: float, faults: list[str]) -> Iterator[tuple[int, Item]]:
    """Yield each closed cut with its place in the group; what cannot be moved is noted."""
    for i, is_outline in outlines_and_openings(group.items).items():
        item = group.items[i]
        move = outwards if is_outline else inwards
        try:
            yield i, replace(item, path=move(item.path, kerf / 2))
        except NothingLeft:
            faults.append(_too_narrow(group, item, kerf))


def _too_narrow(group: Group, item: Item, kerf: float) -> str:
    return (
        f"{group.title or group.key}: {item.name or 'cut'}: narrower in a place than the cut of "
        f"{kerf:g} mm. Make it wider, or cut it by hand; correct the kerf of the machine if it "
        "is another."
    )


def outwards(path: Path, by: float) -> Path:
    """Return the closed *path* grown by *by*, mm, run the same way round; raises NothingLeft.

    >>> from dielines.paths import bounds_of, rectangle
    >>> bounds_of([outwards(rectangle(1, 1, 5, 4), 0.25)])
    Bounds(left=0.75, bottom=0.75, right=5.25, top=4.25)
    """
    if signed_area(path) < 0:
        return inset_past_short_edges(path, by)
    return reversed_path(inset_past_short_edges(reversed_path(path), by))


def inwards(path: Path, by: float) -> Path:
    """Return the closed *path* shrunk by *by*, mm, run the same way round; raises NothingLeft."""
    if signed_area(path) > 0:
        return inset_past_short_edges(path, by)
    return reversed_path(inset_past_short_edges(reversed_path(path), by))
