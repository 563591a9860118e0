"""From where a picture is seen: parallel projection, so that equal lengths stay comparable."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]


@dataclass(frozen=True, slots=True)
class Viewpoint:
    """Where the viewer is, in degrees: *turn* to the right of straight ahead, *rise* above the table.

    *is_from_below* is whether the thing was first turned over, left to right.
    """

    turn_deg: float = 24
    rise_deg: float = 48
    is_from_below: bool = False


class Camera:
    """A view as a matrix: rows to the right, up, and towards the viewer."""

    def __init__(self, view: Viewpoint) -> None:
        import numpy as np

        turn, rise = math.radians(view.turn_deg), math.radians(view.rise_deg)
        right = (math.cos(turn), math.sin(turn), 0)
        ahead = (-math.sin(turn), math.cos(turn), 0)
        up = (ahead[0] * math.sin(rise), ahead[1] * math.sin(rise), math.cos(rise))
        towards = (-ahead[0] * math.cos(rise), -ahead[1] * math.cos(rise), math.sin(rise))
        rows = np.array([right, up, towards])
        over = np.diag([-1.0, 1.0, -1.0]) if view.is_from_below else np.eye(3)
        self.rows: Array = rows @ over

    def seen(self, places: Array) -> Array:
        """Return places (n x 3, mm) as they are seen: across, up, and how near."""
        seen: Array = places @ self.rows.T
        return seen
