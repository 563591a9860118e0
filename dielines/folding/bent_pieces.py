"""Panels that bend where they have no fold: given in pieces, each on one board or in a joint."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..bindings.bound import Join
from ..bindings.joining import clipped
from ..part import Panel, Side
from ..paths import Bounds, Path, polyline
from ..rigid import Pose
from .case_places import Case
from .placing import Bench, landing_box, lying, middle

Places = Mapping[str, Mapping[str, Pose]]


@dataclass(frozen=True, slots=True)
class BentPiece:
    """A share of a panel without folds of its own that bends where what it lies on does.

    *outline* is in flat coordinates of its part, *pose* takes it into the book.
    """

    panel: str
    outline: Path
    pose: Pose


def cut_out(panel: Panel, frame: Bounds) -> Path | None:
    """Return what of a panel lies in an upright rectangle; None when nothing does."""
    points = clipped(panel.outline.points, frame)
    return polyline(points, closed=True) if points else None


def laid_over(
    bench: Bench, joins: Sequence[Join], case: Case, places: Places
) -> Iterator[BentPiece]:
    """Yield the pieces of panels of which each join holds a share, on the spread-out cover."""
    by_zone: dict[str, list[Join]] = {}
    for join in joins:
        by_zone.setdefault(join.zone, []).append(join)
    for shares in by_zone.values():
        spread = _spread(bench, shares, case)
        panel = bench.parts[shares[0].part].part.panel(shares[0].panel)
        for join in shares:
            yield from _share(bench, panel, spread, join, case, places)


def _spread(bench: Bench, joins: Sequence[Join], case: Case) -> Pose:
    """Return where a panel lies on the spread-out cover: where all shares together lie."""
    boxes = [_moved_box(case.flat[join.onto_part], landing_box(join)) for join in joins]
    whole = Bounds(
        min(b.left for b in boxes),
        min(b.bottom for b in boxes),
        max(b.right for b in boxes),
        max(b.top for b in boxes),
    )
    first, zone = joins[0], bench.zone_box(joins[0])
    turned = case.flat[first.onto_part].compose(lying(first, zone, 0))
    at, (x, y) = turned.at(middle(zone)), middle(whole)
    a, b, c = turned.translation
    return Pose(turned.rotation, (a + x - at[0], b + y - at[1], c))


def _moved_box(pose: Pose, box: Bounds) -> Bounds:
    corners = [pose.at((x, y)) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    xs, ys = [corner[0] for corner in corners], [corner[1] for corner in corners]
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _share(
    bench: Bench, panel: Panel, spread: Pose, join: Join, case: Case, places: Places
) -> Iterator[BentPiece]:
    there = case.flat[join.onto_part].inverse().compose(spread)
    target = bench.parts[join.onto_part].part.panel(join.onto_panel).bounds()
    piece = cut_out(panel, _moved_box(there.inverse(), target))
    if piece is not None:
        height = bench.height(join)
        x, y, _ = there.translation
        z = height if join.onto_side is Side.FACE else -height
        lying_there = Pose(there.rotation, (x, y, z))
        yield BentPiece(
            panel.name, piece, places[join.onto_part][join.onto_panel].compose(lying_there)
        )
