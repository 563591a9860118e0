"""From where a panel is put to where its tape lands: the rows of the table of joins."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from ..landing import land, landing_of
from ..language.joins import TemplateJoin
from ..part import Part, Side, Zone
from ..part_motion import Motion
from ..paths import Bounds, Number, Path, Point, bounds_of, flattened, polyline
from .bound import Join, folded

CHORD = 0.001  #: mm; arcs of a zone are chords no farther off, where a zone is shared


def zone_of(part: Part, name: str) -> Zone:
    """Return the zone of *part* called *name*; raises KeyError."""
    for zone in part.zones:
        if zone.name == name:
            return zone
    raise KeyError(name)


def placed_join(
    key: str,
    part: Part,
    zone_name: str,
    root: str,
    motion: Motion,
    onto: tuple[str, str, Side],
) -> Join:
    """Return the join of a zone, once folded around the panel *root*, onto another part.

    *motion* brings the flat coordinates of *root* to those of the target;
    *onto* is the target's part, panel and side. Its order is still 0.
    """
    zone = zone_of(part, zone_name)
    return _join(key, zone, onto, bounds_of([landed(part, zone, root, motion)]))


def shared_join(
    key: str,
    part: Part,
    zone_name: str,
    root: str,
    motion: Motion,
    onto: tuple[str, str, Side],
    target: Bounds,
) -> Iterator[Join]:
    """Yield the join as in ``placed_join`` for the share of the zone that lies on *target*, if any."""
    zone = zone_of(part, zone_name)
    points = clipped(_corners(landed(part, zone, root, motion)), target)
    if points:
        yield _join(key, zone, onto, bounds_of([polyline(points, closed=True)]))


def landed(part: Part, zone: Zone, root: str, motion: Motion) -> Path:
    """Return where a zone comes to lie on the target that *motion* brings *root* to."""
    poses = folded(part, root)
    return motion.path(land(poses[zone.panel], poses[root], zone.path).path)


def _corners(path: Path) -> Sequence[tuple[Number, Number]]:
    """Return the corners of a path, exact where it has no arcs."""
    has_arcs = any(vertex.bulge for vertex in path.vertices)
    return flattened(path, CHORD) if has_arcs else path.points


def clipped(points: Sequence[tuple[Number, Number]], frame: Bounds) -> list[tuple[Number, Number]]:
    """Return what of a convex polygon lies inside an upright rectangle; empty when nothing does.

    Cut at one side after the other (Sutherland and Hodgman, 1974).
    """
    kept = list(points)
    for axis, limit, sign in (
        (0, frame.left, 1), (0, frame.right, -1), (1, frame.bottom, 1), (1, frame.top, -1)
    ):  # fmt: skip
        kept = list(_cut(kept, axis, limit, sign))
    box = bounds_of([polyline(kept, closed=True)]) if kept else frame
    return kept if kept and box.width and box.height else []


def _cut(
    points: Sequence[tuple[Number, Number]], axis: int, limit: Number, sign: int
) -> Iterator[tuple[Number, Number]]:
    for before, point in zip([*points[-1:], *points], points, strict=False):
        ahead, behind = sign * (point[axis] - limit), sign * (before[axis] - limit)
        if (ahead > 0 and behind < 0) or (ahead < 0 and behind > 0):
            share = behind / (behind - ahead)
            yield (
                before[0] + (point[0] - before[0]) * share,
                before[1] + (point[1] - before[1]) * share,
            )
        if ahead >= 0:
            yield point


def _join(key: str, zone: Zone, onto: tuple[str, str, Side], box: Bounds) -> Join:
    onto_part, onto_panel, onto_side = onto
    return Join(
        order=0,
        part=key,
        zone=zone.name,
        panel=zone.panel,
        side=zone.side,
        onto_part=onto_part,
        onto_panel=onto_panel,
        onto_side=onto_side,
        offset=Point(box.left, box.bottom),
        width=box.width,
        height=box.height,
    )


def own_joins(key: str, part: Part) -> Iterable[Join]:
    """Yield the joins of a part onto itself, in the order in which its zones are declared."""
    panels = {panel.name: panel.outline for panel in part.panels}
    own = [zone for zone in part.zones if zone.onto in panels]
    if not own:
        return
    root = own[0].onto
    poses = folded(part, root)
    for zone in own:
        landing = landing_of(zone, panels, poses)
        box = bounds_of([land(poses[zone.panel], poses[zone.onto], zone.path).path])
        yield _join(key, zone, (key, zone.onto, landing.faces or Side.FACE), box)


def template_join(join: TemplateJoin, keys: Mapping[str, str], parts: Mapping[str, Part]) -> Join:
    """Return a join that a template declares between two of its parts.

    *keys* and *parts* are by the template's own names. Without ``at`` the zone
    lies at the lower left of its target; where both were mirrored, at the lower right.
    """
    zone = zone_of(parts[join.part], join.zone)
    onto = parts[join.onto_part]
    target = onto.panel(join.onto_panel).bounds()
    at = join.at or Point(0, 0)
    box = bounds_of([zone.path])
    x = target.right - at.x - box.width if onto.is_mirrored else target.left + at.x
    low = target.bottom + at.y
    lying = Bounds(x, low, x + box.width, low + box.height)
    onto_side = (keys[join.onto_part], join.onto_panel, join.onto_side)
    return _join(keys[join.part], zone, onto_side, lying)


def numbered(joins: Sequence[Join]) -> tuple[Join, ...]:
    """Return *joins* numbered from 1 in their order."""
    return tuple(replace(join, order=index) for index, join in enumerate(joins, 1))


def hinge_motion(fold_x: Number, side: Side, target_x: Number, onto: Side, rise: Number) -> Motion:
    """Return the motion of a hinge's tab onto the binding edge of a page at *target_x*.

    The fold of the tab, at *fold_x*, comes to lie on that edge. Like sides lie
    turned over on each other, opposite sides do not. *rise* is added to y.
    """
    sign = -1 if side is onto else 1
    return Motion(a=sign, dx=target_x - sign * fold_x, dy=rise)
