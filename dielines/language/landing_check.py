"""The template check: each tape zone must land wholly on its target once the part is folded.

A fold with the wrong sign hides in the picture and shows here. Plain rigid
folding; order and thickness of layers are not asked.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from ..documents import Place
from ..landing import Landing, landings
from ..part import Part
from ..paths import magnitude
from ..poses import poses

#: mm; farther from its target's plane a zone of tape does not touch it (from memory:
#: tape and paper give about this much)
REACH = Fraction(1)


def check_landings(place: Place, part: Part, lines: Mapping[str, int]) -> None:
    """Report each zone of *part* that misses its target, with the amount, at the edit that made it.

    *place* is that of the edits, *lines* tells which of them made each zone.
    Parts with curved folds are left out: they bend, they do not fold rigidly.
    """
    panels = {panel.name: panel.outline for panel in part.panels}
    if not any(zone.onto in panels for zone in part.zones):
        return
    if not all(line.is_straight for line in part.folds):
        return
    placed = poses(panels, part.lines, part.steps, rigid=part.rigid)
    holes = {panel.name: panel.holes for panel in part.panels}
    for landing in landings(part.zones, panels, placed, holes):
        told = _told(landing)
        if told:
            code, message = told
            (place / lines[landing.zone]).report(code, f"tape {landing.zone!r}: {message}", _REMEDY)


_REMEDY = "Look at the signs of the folds, the sizes, and the side of the tape."


def _told(landing: Landing) -> tuple[str, str] | None:
    """Return code and message of what is wrong with a landing, or None."""
    onto = landing.onto
    if not landing.is_parallel:
        return "off-target", f"stands at an angle to {onto!r} once folded"
    if not landing.overhang.is_inside:
        percent = round(float(landing.share) * 100)
        out = float(landing.overhang.distance)
        return "off-target", f"{percent} % lands on {onto!r}; it sticks out by {out:.2f} mm"
    if magnitude(landing.distance) > REACH:
        return "off-target", f"ends {abs(float(landing.distance)):.2f} mm away from {onto!r}"
    if landing.is_facing is False:
        return "faces-away", f"looks away from {onto!r}"
    return None
