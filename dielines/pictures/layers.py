"""How far each panel of a part is drawn from where rigid folding puts it, at any stage."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING, Any

from ..folding.folded_part import FoldedPart
from ..models.facets import Placed, placed
from ..models.patches import Patches, patches_of
from ..part import Part
from ..paths import Number
from ..poses import angles_after
from ..rigid import Pose
from .spacing import spread

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

Sides = Mapping[tuple[str, str], int]

PARALLEL = 1e-6  #: sine of the angle up to which two panels count as parallel
LEAST_AREA = 1e-3  #: mm2; panels that share less do not lie over each other
IN_PLANE = 1e-6  #: mm


def placed_at(folded: FoldedPart, stage: Number, gap: float) -> dict[str, Placed]:
    """Return where each panel is drawn at *stage* (0 to 1), layers at least *gap* mm apart.

    Between two finished steps the shifts of both are mixed.
    """
    count = len(angles_after(folded.part.lines, folded.part.steps)) - 1
    done = min(int(stage * count), count - 1)
    share = float(stage * count - done)
    before = _shifts(folded, done, gap) if share < 1 else {}
    after = _shifts(folded, done + 1, gap) if share > 0 else {}
    mixed = {
        name: before.get(name, 0.0) * (1 - share) + after.get(name, 0.0) * share
        for name in folded.outlines
    }
    return {name: placed(pose).shifted(mixed[name]) for name, pose in folded.at(stage).items()}


def _shifts(folded: FoldedPart, step: int, gap: float) -> dict[str, float]:
    """Return the shift of each panel along its normal after *step* steps (0: flat)."""
    if step == 0:
        return {}
    stepped = after_step(folded, step)
    return shifts(patches_of(folded.part), stepped.poses, stepped.layering.sides, gap, folded.root)


def after_step(folded: FoldedPart, step: int) -> FoldedPart:
    """Return the part as it is after its first *step* steps, folded by itself."""
    from ..folding.folded_parts import fold_part

    reached = angles_after(folded.part.lines, folded.part.steps)
    if step == len(reached) - 1:
        return folded
    return fold_part(_so_far(folded.part, step), folded.root)


def _so_far(part: Part, step: int) -> Part:
    """Return *part* with only its first steps, its folds finished where those leave them."""
    angles = angles_after(part.lines, part.steps)[step]
    lines = tuple(replace(line, angle_deg=angles.get(line.key, 0)) for line in part.lines)
    return replace(part, lines=lines, steps=part.steps[:step])


def shifts(
    patches: Patches, poses: Mapping[str, Pose], sides: Sides, gap: float, root: str
) -> dict[str, float]:
    """Return how far to shift each panel along its own normal, so that layers lie *gap* apart."""
    places = {name: placed(pose) for name, pose in poses.items()}
    found: dict[str, float] = {}
    for names in _parallel(places):
        normal = places[names[0]].normal
        heights = {name: float(places[name].translation @ normal) for name in names}
        above = _above(names, patches, places, heights, sides)
        for name, height in spread(heights, ((a, b, gap) for a, b in above), root).items():
            found[name] = (height - heights[name]) * _sign(places[name], normal)
    return found


def _sign(place: Placed, normal: Array) -> int:
    return 1 if float(place.normal @ normal) > 0 else -1


def _parallel(places: Mapping[str, Placed]) -> list[list[str]]:
    """Return the names of panels that are parallel, together."""
    groups: list[list[str]] = []
    for name, place in places.items():
        for group in groups:
            if 1 - abs(float(place.normal @ places[group[0]].normal)) <= PARALLEL**2:
                group.append(name)
                break
        else:
            groups.append([name])
    return groups


def _above(
    names: list[str],
    patches: Patches,
    places: Mapping[str, Placed],
    heights: Mapping[str, float],
    sides: Sides,
) -> Iterator[tuple[str, str]]:
    """Yield (lower, upper) of all panels that lie over each other."""
    import shapely

    first = places[names[0]]
    shapes = {name: _shape(patches, name, places[name], first) for name in names}
    for a, b in combinations(names, 2):
        if shapely.intersects(shapes[a], shapes[b]):
            lower = _lower(a, b, heights, sides, _sign(places[a], first.normal))
            if lower and shapely.intersection(shapes[a], shapes[b]).area > LEAST_AREA:
                yield lower


def _shape(patches: Patches, name: str, place: Placed, frame: Placed) -> Any:
    import shapely

    places = place.at(patches.panels[name].rings[0]) @ frame.rotation[:, :2]
    return shapely.Polygon(places)


def _lower(
    a: str, b: str, heights: Mapping[str, float], sides: Sides, sign: int
) -> tuple[str, str] | None:
    """Return (lower, upper): by their heights, in one plane by the order of layers."""
    rise = heights[b] - heights[a]
    if abs(rise) <= IN_PLANE:
        rise = sides.get((a, b), 0) * sign
    if not rise:
        return None
    return (a, b) if rise > 0 else (b, a)
