"""What whoever takes a file may ask of it; each format heeds what concerns it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from ..drawing import Layer


class Grouping(Enum):
    """Which groups hold the paths, or in which order they stand where there are no groups."""

    PART_THEN_LAYER = "part"
    LAYER_THEN_PART = "layer"
    NONE = "none"


class Reader(Enum):
    """Who acts on the file: a machine, or people, who tell layers apart by more than colour."""

    MACHINE = "machine"
    PEOPLE = "people"


@dataclass(frozen=True, slots=True)
class Choices:
    """What is asked of a file; layers that *layer_order* leaves out follow in the usual order."""

    reader: Reader = Reader.MACHINE
    grouping: Grouping = Grouping.PART_THEN_LAYER
    layer_order: tuple[Layer, ...] = ()
    colours: tuple[tuple[Layer, str], ...] = ()  #: "#rrggbb", where not the usual one
    svg_units_per_inch: int = 96
    dxf_version: str = "R2000"
