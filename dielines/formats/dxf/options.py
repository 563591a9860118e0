"""What can be chosen when a DXF file is written."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from ...drawing import Layer
from ...errors import UsageError
from ...lengths import Unit
from ..choices import Grouping
from ..svg.options import USUAL_ORDER, USUAL_STYLES


class Version(Enum):
    """Versions of the format, by the year's name that programs show."""

    R12 = "R12"
    R2000 = "R2000"
    R2004 = "R2004"
    R2007 = "R2007"
    R2010 = "R2010"
    R2013 = "R2013"
    R2018 = "R2018"


def version_called(name: str) -> Version:
    """Return the version of that name, in any case; raises UsageError.

    >>> version_called("r12")
    <Version.R12: 'R12'>
    """
    known = [version.value for version in Version]
    if name.upper() not in known:
        raise UsageError(f"{name!r} is not a version of DXF; there are {', '.join(known)}")
    return Version(name.upper())


class Curves(Enum):
    """How an arc is written."""

    ARCS = "arcs"  # as a bulge, exactly
    CHORDS = "chords"  # as straight lines no farther off than the sagitta


def usual_colours() -> dict[Layer, str]:
    """Return the colours that SVG files have as well."""
    return {layer: style.colour for layer, style in USUAL_STYLES.items()}


@dataclass(frozen=True)
class DxfOptions:
    """What can be chosen; the *sagitta* (mm) counts for chords only.

    The file has no groups: *grouping* is the order of its paths. *layer_order*
    says which layers come first; those it leaves out follow in the usual order.
    Raises UsageError for a sagitta that is no positive number.
    """

    version: Version = Version.R2000
    unit: Unit = "mm"
    curves: Curves = Curves.ARCS
    sagitta: float = 0.01
    grouping: Grouping = Grouping.PART_THEN_LAYER
    layer_order: tuple[Layer, ...] = USUAL_ORDER
    colours: Mapping[Layer, str] = field(default_factory=usual_colours)

    def __post_init__(self) -> None:
        if not (math.isfinite(self.sagitta) and self.sagitta > 0):
            raise UsageError(f"a sagitta of {self.sagitta} mm; it must be more than 0")

    @property
    def layers(self) -> tuple[Layer, ...]:
        """Every layer once, in the order of the file."""
        return tuple(dict.fromkeys((*self.layer_order, *USUAL_ORDER)))
