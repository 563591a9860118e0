"""How much of a sheet a way of cutting can get at."""

from __future__ import annotations

from dataclasses import dataclass

from ..lengths import ZERO, Length
from .sizes import Size
from .stock import Sheet


@dataclass(frozen=True, slots=True)
class Reach:
    """The largest area that can be cut at once, and what stays bare along each edge."""

    area: Size | None = None  #: None: as large as the sheet
    margin: Length = ZERO

    def within(self, sheet: Sheet) -> Size:
        """Return the part of *sheet*, lying as it does, that can be cut."""
        across, up = (side - self.margin * 2 for side in sheet.size)
        if self.area is not None:
            across, up = min(across, self.area.across), min(up, self.area.up)
        return Size(max(across, ZERO), max(up, ZERO))


#: A knife and a rule get everywhere.
BY_KNIFE = Reach()
