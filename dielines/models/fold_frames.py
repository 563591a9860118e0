"""What a FOLD file holds, as plain values: frames of vertices, edges and faces.

Source: FOLD specification 1.2 (github.com/edemaine/fold, doc/spec.md).
"""

from __future__ import annotations

from dataclasses import dataclass

SPEC = 1.2
CREATOR = "dielines"
CREASE_PATTERN = "creasePattern"
FOLDED_FORM = "foldedForm"

BORDER, MOUNTAIN, VALLEY, FLAT, CUT, JOIN, UNKNOWN = "B", "M", "V", "F", "C", "J", "U"
ASSIGNMENTS = (BORDER, MOUNTAIN, VALLEY, FLAT, UNKNOWN, CUT, JOIN)

Corner = tuple[float, ...]


@dataclass(frozen=True)
class FoldFrame:
    """One state of one sheet: *faces* run counter-clockwise; angles in degrees, valley positive.

    *panels* names each face and *lines* each edge, in keys of our own; both are
    empty in files of others. *orders* are triples (f, g, side): side +1 where
    face f lies on the side to which the face of g looks.
    """

    vertices: tuple[Corner, ...]
    edges: tuple[tuple[int, int], ...]
    assignments: tuple[str, ...]
    angles_deg: tuple[float, ...]
    faces: tuple[tuple[int, ...], ...]
    orders: tuple[tuple[int, int, int], ...] = ()
    title: str = ""
    classes: tuple[str, ...] = ()
    attributes: tuple[str, ...] = ()
    unit: str = "unit"
    panels: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class FoldFile:
    """All frames of a file, the key frame first."""

    title: str
    frames: tuple[FoldFrame, ...]
    description: str = ""
    classes: tuple[str, ...] = ()
    creator: str = CREATOR
    spec: float = SPEC
