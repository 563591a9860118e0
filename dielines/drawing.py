"""The neutral drawing: what every writer takes and every reader returns.

Millimetres, x right, y up. Paths lie on layers and are grouped by part; their
order is the order in which they are meant to be drawn or cut. Writers know
drawings only, never parts, so that ``compare(drawing, read(write(drawing)))``
proves a file.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from .paths import Bounds, Path, Point, path_in_floats


class Layer(Enum):
    """What a path means to whoever makes the part."""

    CUT = "CUT"
    PERFORATE = "PERFORATE"
    SCORE_VALLEY = "SCORE_VALLEY"
    SCORE_MOUNTAIN = "SCORE_MOUNTAIN"
    TAPE_FACE = "TAPE_FACE"
    TAPE_REVERSE = "TAPE_REVERSE"
    MARK = "MARK"
    LABEL = "LABEL"


#: Group and type of each layer's processing step (ISO 19593-1, as modelled in the
#: Arlington PDF Model; marks and labels belong to the group Legend, which has no types).
PROCESSING_STEPS: dict[Layer, tuple[str, str | None]] = {
    Layer.CUT: ("Structural", "Cutting"),
    Layer.PERFORATE: ("Structural", "Perforating"),
    Layer.SCORE_VALLEY: ("Structural", "Creasing"),
    Layer.SCORE_MOUNTAIN: ("Structural", "ReverseCreasing"),
    Layer.TAPE_FACE: ("Structural", "Gluing"),
    Layer.TAPE_REVERSE: ("Structural", "Gluing"),
    Layer.MARK: ("Legend", None),
    Layer.LABEL: ("Legend", None),
}


@dataclass(frozen=True, slots=True)
class Item:
    """One path on its layer; *name* tells people what it is and may be empty."""

    layer: Layer
    path: Path
    name: str = ""


@dataclass(frozen=True, slots=True)
class Caption:
    """A line of text on a layer, set from *at* (left end of its base line)."""

    layer: Layer
    text: str
    at: Point
    height: float  #: of a capital letter, mm
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Group:
    """What belongs to one part; *key* is unique in the drawing and a valid XML name."""

    key: str
    title: str
    items: tuple[Item, ...]
    captions: tuple[Caption, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """A sheet-sized picture of paths.

    *width* and *height* are the true size of the page, mm, with its lower left
    corner at the origin. *metadata* (template, version, parameters, ...) travels
    with the file as ordered pairs of texts. *face_up* tells which side of the
    paper lies up: the face, or the reverse.
    """

    width: float
    height: float
    groups: tuple[Group, ...]
    title: str = ""
    description: str = ""
    metadata: tuple[tuple[str, str], ...] = ()
    face_up: bool = True

    def items(self) -> tuple[Item, ...]:
        """Return all paths in order."""
        return tuple(item for group in self.groups for item in group.items)

    def bounds(self) -> Bounds:
        """Return the page's rectangle."""
        return Bounds(0.0, 0.0, self.width, self.height)


def in_floats(drawing: Drawing) -> Drawing:
    """Return *drawing* with floats in place of fractions: as files carry it, and fast to work with."""
    groups = (
        replace(
            group,
            items=tuple(Item(i.layer, path_in_floats(i.path), i.name) for i in group.items),
            captions=tuple(replace(c, at=Point(*map(float, c.at))) for c in group.captions),
        )
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(groups))


def only_layers(drawing: Drawing, layers: frozenset[Layer]) -> Drawing:
    """Return *drawing* with the paths and captions on *layers*; empty groups go."""
    groups = (
        replace(
            group,
            items=tuple(item for item in group.items if item.layer in layers),
            captions=tuple(text for text in group.captions if text.layer in layers),
        )
        for group in drawing.groups
    )
    return replace(drawing, groups=tuple(g for g in groups if g.items or g.captions))
