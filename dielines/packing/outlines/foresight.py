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
    """A stance at a place, and how far it reaches from its corner."""

    reach: tuple[int, int]
    corner: int
    stance: int
    place: int


def _laid(sheet: Sheet, kind: int, wanted: Sequence[int], worth: Sequence[int]) -> bool:
    """Lay a part where most of what is *wanted* still finds room; return whether it fits."""
    choices = sorted(_choices(sheet, kind))
    if not choices:
        return False
    others = [other for other, count in enumerate(wanted) if count and _has_place(sheet, other)]
    best, least = choices[0], sum(worth[other] for other in others) + 1
    for choice in choices if others else ():
        lost = _lost(sheet, choice, others, worth, least)
        if lost < least:
            best, least = choice, lost
    sheet.put(best.stance, best.place)
    return True


def _has_place(sheet: Sheet, kind: int) -> bool:
    return any(sheet.has_place(stance) for stance in sheet.raster.of_kind[kind])


def _choices(sheet: Sheet, kind: int) -> Iterator[_Choice]:
    """Yield the places of a kind in every corner, each once."""
    seen: list[tuple[int, int]] = []
    for stance in sheet.raster.of_kind[kind]:
        for number, corner in enumerate(Corner):
            place = sheet.free_place(stance, corner)
            if place is not None and (stance, place) not in seen:
                seen.append((stance, place))
                yield _Choice(sheet.raster.reach(stance, place, corner), number, stance, place)


def _lost(
    sheet: Sheet, choice: _Choice, others: Sequence[int], worth: Sequence[int], enough: int
) -> int:
    """Return what the kinds are worth that find no place after a choice, up to *enough*."""
    lost = 0
    for other in others:
        stances = sheet.raster.of_kind[other]
        if not any(sheet.has_place_after(s, choice.stance, choice.place) for s in stances):
            lost += worth[other]
        if lost >= enough:
            break
    return lost
