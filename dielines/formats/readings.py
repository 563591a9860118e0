"""A reading: the drawing that a file holds, and what the file said about itself.

Every reader returns one. The drawing is in millimetres whatever
the file's unit was; the rest is for the person who wants to know whether the
file says what its sender meant.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..drawing import Drawing


@dataclass(frozen=True, order=True, slots=True)
class Remark:
    """Something about a file that is no fault, yet that a careful person would want to know."""

    code: str  #: stable name of the kind of remark, "no-physical-size"; tests hold on to it
    text: str  #: a sentence for people


@dataclass(frozen=True, slots=True)
class Reading:
    """What a reader made of a file.

    A layer of the file that is none of ours becomes MARK, which no machine acts
    on; *source_layers* keeps its own name, one per item of ``drawing.items()``.
    """

    drawing: Drawing
    kind: str  #: "svg", "dxf" or "pdf"
    unit: str  #: what the file says its unit is: "mm", "in", "px", "pt", ..., "unitless"
    units_per_mm: float  #: how many of the file's coordinate units make one millimetre
    source_layers: tuple[str, ...] = ()  #: as the file called them; "" where it named none
    remarks: tuple[Remark, ...] = ()
    version: str = ""  #: of the format, as the file says: "1.1", "AC1015"

    def remark_codes(self) -> frozenset[str]:
        """Return which kinds of remark there are."""
        return frozenset(remark.code for remark in self.remarks)
