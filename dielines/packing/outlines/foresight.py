"""Outlines laid down with an eye on what is still to come.

Each part may go towards any corner in any of its turns; it takes the place after
which most of the kinds that are still wanted find one. A page whose notch has to hold
a mat then lies at the edge where the notch opens far enough.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..cells import Shape
from ..order import Filled, Filler, Order, Work
from .lying import Sheet
from .raster import Corner, Raster, Rasters, rasters_of


def foreseeing_filler(order: Order, shapes: tuple[Shape, ...], cell: int = 1) -> Filler:
    """Return a filler that is slower than ``outline_filler`` and leaves room for what is large."""
    return foreseeing_filler_on(rasters_of(order, shapes, cell))


def foreseeing_filler_on(rasters: Rasters) -> Filler:
    """Return the filler of ``foreseeing_filler`` on rasters that others use too."""

    def fill(kinds: Sequence[int], bed: int, work: Work) -> Filled:
        raster = rasters(bed)
        return foreseen(raster, kinds, raster.areas(), work)

    return fill


def foreseen(raster: Raster, kinds: Sequence[int], worth: Sequence[int], work: Work) -> Filled:
    """Return what comes to lie on a sheet; *worth* of each kind says which rather find room."""
    sheet = Sheet(raster, work)
    wanted = [0] * len(raster.of_kind)
    for kind in kinds:
        wanted[kind] += 1
    left = []
    for position, kind in enumerate(kinds):
        is_laid = wanted[kind] > 0
        wanted[kind] = max(0, wanted[kind] - 1)
        is_laid = is_laid and _laid(sheet, kind, wanted, worth)
        if not is_laid:
            wanted[kind] = 0
            left.append(position)
    work.spend(1 + len(kinds))
    return Filled(sheet.placed(), tuple(left))


class _Choice(NamedTuple):
    """A stance at a place; the least is the best."""

    lost: int  #: what the kinds are worth that would find no place any more
    reach: tuple[int, int]
    corner: int
    stance: int
    place: int


def _laid(sheet: Sheet, kind: int, wanted: Sequence[int], worth: Sequence[int]) -> bool:
    """Lay a part where most of what is *wanted* still finds room; return whether it fits."""
    others = [other for other, count in enumerate(wanted) if count]
    judged = (_judged(sheet, choice, others, worth) for choice in _choices(sheet, kind))
    best = min(judged, default=None)
    if best is None:
        return False
    sheet.put(best.stance, best.place)
    return True


def _choices(sheet: Sheet, kind: int) -> Iterator[_Choice]:
    """Yield the places of a kind in every corner, each once."""
    seen: list[tuple[int, int]] = []
    for stance in sheet.raster.of_kind[kind]:
        for number, corner in enumerate(Corner):
            place = sheet.free_place(stance, corner)
            if place is not None and (stance, place) not in seen:
                seen.append((stance, place))
                yield _Choice(0, sheet.raster.reach(stance, place, corner), number, stance, place)


def _judged(sheet: Sheet, choice: _Choice, others: Sequence[int], worth: Sequence[int]) -> _Choice:
    """Return the choice with what it would lose."""
    return choice._replace(
        lost=sum(
            worth[other]
            for other in others
            if not any(
                sheet.has_place_after(stance, choice.stance, choice.place)
                for stance in sheet.raster.of_kind[other]
            )
        )
    )
