"""Which layer and which part an element of an SVG file belongs to.

Our own files say it in data attributes. In others a group, or the innermost
one, lends its label, id or title as the name of a layer; where that is the
name of one of ours it is that layer, and everything else is a mark.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...drawing import Layer
from ..layer_words import layer_named
from .tree import Element


@dataclass(frozen=True, slots=True)
class Naming:
    """What the groups around an element say of it."""

    layer: Layer | None = None
    source: str = ""  #: the layer as the file calls it
    part: str = ""  #: key of the part
    part_title: str = ""


UNNAMED = Naming()


def of_group(outer: Naming, group: Element) -> Naming:
    """Return what holds within *group*, itself within *outer*."""
    naming = of_shape(outer, group)
    if "data-layer" in group.attributes or naming.layer is not None:
        return naming
    names = [
        name for name in (group.get("label"), group.get("id"), group.child_text("title")) if name
    ]
    ours = [name for name in names if layer_named(name)]
    if ours:
        return replace(naming, layer=layer_named(ours[0]), source=ours[0])
    return replace(naming, source=names[0]) if names and not group.get("data-part") else naming


def of_shape(outer: Naming, element: Element) -> Naming:
    """Return what holds for *element* by its own data attributes, within *outer*."""
    naming = outer
    if "data-layer" in element.attributes:
        name = element.attributes["data-layer"]
        naming = replace(naming, layer=layer_named(name), source=name)
    if element.get("data-part"):
        title = element.get("data-part-title")
        naming = replace(naming, part=element.attributes["data-part"], part_title=title)
    return naming
