"""Flat pieces in space, which is all that a picture is made of."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from ..paths import Path, flattened
from ..rigid import Pose
from .patches import SAGITTA, Crease, EdgeKind, Flat, Patch, Patches, lies_on

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

FLUSH = 1e-6  #: mm; panels shifted apart by less still touch
LEVEL = 1e-6  #: cosine of an angle that counts as a right one


@dataclass(frozen=True)
class Facet:
    """A flat piece in space: a panel, or what joins two panels along a fold.

    *rings* are places (n x 3, mm), the exterior first; *normal* is where its face looks.
    """

    owner: str  #: key of the part
    panel: str  #: empty for what joins two panels
    rings: tuple[Array, ...]
    kinds: tuple[tuple[EdgeKind, ...], ...]
    normal: Array
    details: tuple[tuple[Array, EdgeKind], ...] = ()

    def moved(self, by: Array) -> Facet:
        """Return the facet *by* so much elsewhere."""
        return Facet(
            self.owner,
            self.panel,
            tuple(ring + by for ring in self.rings),
            self.kinds,
            self.normal,
            tuple((places + by, kind) for places, kind in self.details),
        )


@dataclass(frozen=True)
class Placed:
    """A pose in floats, and how far the panel is shifted along its own normal, mm."""

    rotation: Array
    translation: Array
    shift: float = 0.0

    @property
    def normal(self) -> Array:
        """Where the face looks."""
        normal: Array = self.rotation[:, 2]
        return normal

    def at(self, points: Sequence[Flat]) -> Array:
        """Return the places (n x 3) of flat *points*, shifted."""
        import numpy as np

        flat = np.array(points, float).reshape(-1, 2)
        places: Array = flat @ self.rotation[:, :2].T + self.translation + self.shift * self.normal
        return places

    def shifted(self, by: float) -> Placed:
        """Return the same pose, shifted *by* so much along its normal."""
        return Placed(self.rotation, self.translation, self.shift + by)


def placed(pose: Pose) -> Placed:
    """Return *pose* in floats."""
    import numpy as np

    rotation = np.array([[float(entry) for entry in row] for row in pose.rotation])
    return Placed(rotation, np.array([float(entry) for entry in pose.translation]))


def facets_of(owner: str, patches: Patches, places: Mapping[str, Placed]) -> list[Facet]:
    """Return the panels where they are, and a narrow facet along each fold that gapes.

    A panel that stands on a shifted one is stretched or shortened, corner by
    corner, where that shift lies in its own plane: the wall of a pocket follows
    its front and its back. What then still gapes is a fold of a half turn, whose
    two panels lie apart. Panels that have no place are left out.
    """
    creases = [c for c in patches.creases if c.left in places and c.right in places]
    pulls = list(_pulls(creases, places))
    panels = [
        _panel(owner, patches.panels[name], place, [pull for pull in pulls if pull[0] == name])
        for name, place in places.items()
    ]
    joined = [crease for crease in creases if _gapes(crease, places)]
    ends = Counter(end for crease in joined for end in _ends(crease))
    joints = (_joint(owner, crease, places, ends) for crease in joined)
    return [*panels, *(joint for joint in joints if joint)]


_Pull = tuple[str, Crease, Any]


def _pulls(creases: Iterable[Crease], places: Mapping[str, Placed]) -> Iterator[_Pull]:
    """Yield which panel is moved along which fold, by how much."""
    for crease in creases:
        for name, other in ((crease.left, crease.right), (crease.right, crease.left)):
            by = _gap(places[name], places[other])
            if by is not None and _follows(places[name], places[other], by):
                yield name, crease, by


def _gap(panel: Placed, other: Placed) -> Any:
    """Return how far the other panel's edge lies from this one's, or None where they touch."""
    gap = other.shift * other.normal - panel.shift * panel.normal
    return gap if abs(gap).max() > FLUSH else None


def _follows(panel: Placed, other: Placed, gap: Array) -> bool:
    """Return whether *panel* can follow within its own plane."""
    length = float((gap @ gap) ** 0.5)
    is_in_plane = abs(float(gap @ panel.normal)) <= LEVEL * length
    is_wall = abs(float(panel.normal @ other.normal)) <= LEVEL
    return is_in_plane and is_wall


def _panel(owner: str, patch: Patch, place: Placed, pulls: Sequence[_Pull]) -> Facet:
    rings = [place.at(ring) for ring in patch.rings]
    for _, crease, by in pulls:
        for ring, corners in zip(rings, patch.rings, strict=True):
            for number, corner in enumerate(corners):
                if lies_on(corner, crease):
                    ring[number] += by
    details = tuple((place.at(detail.corners), detail.kind) for detail in patch.details)
    return Facet(owner, patch.panel, tuple(rings), patch.kinds, place.normal, details)


def _gapes(crease: Crease, places: Mapping[str, Placed]) -> bool:
    """Return whether the two panels of a fold lie apart and neither can follow the other."""
    right, left = places[crease.right], places[crease.left]
    gap = _gap(right, left)
    return gap is not None and not (_follows(right, left, gap) or _follows(left, right, gap))


_End = tuple[float, ...]


def _ends(crease: Crease) -> tuple[_End, _End]:
    """Return both ends with the line that they lie on, to find folds that go on in one line."""
    (x0, y0), (x1, y1) = crease.start, crease.end
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    sign = 1 if (x1, y1) > (x0, y0) else -1
    way = round(sign * (x1 - x0) / length, 3) + 0.0, round(sign * (y1 - y0) / length, 3) + 0.0
    return (round(x0, 4), round(y0, 4), *way), (round(x1, 4), round(y1, 4), *way)


def _joint(
    owner: str, crease: Crease, places: Mapping[str, Placed], ends: Mapping[_End, int]
) -> Facet | None:
    """Return what joins two panels whose edges lie apart; where another one goes on it has no end."""
    import numpy as np

    corners = [crease.start, crease.end]
    near, far = places[crease.right].at(corners), places[crease.left].at(corners)
    across = np.cross(near[1] - near[0], far[0] - near[0])
    length = float(np.linalg.norm(across))
    if length < FLUSH:
        return None
    ring = np.array([near[0], near[1], far[1], far[0]])
    start, end = (
        EdgeKind.OUTLINE if ends[place] == 1 else EdgeKind.NONE for place in _ends(crease)
    )
    kinds = (EdgeKind.FOLD, end, EdgeKind.FOLD, start)
    return Facet(owner, "", (ring,), (kinds,), across / length)


def facet_of(owner: str, panel: str, outline: Path, place: Placed) -> Facet:
    """Return an outline on its own, in its place, free all round."""
    ring = place.at(flattened(outline, SAGITTA))
    return Facet(owner, panel, (ring,), ((EdgeKind.OUTLINE,) * len(ring),), place.normal)
