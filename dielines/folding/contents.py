"""Where what a page holds lies: in its pockets, behind its flap, or on its inner side."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..book.book import Book
from ..book.request import Holds, PageRequest
from ..part import Side
from .folded_part import FoldedPart
from .levels import (
    STACKED,
    Box,
    Coat,
    Level,
    PanelKey,
    Places,
    held_parts,
    is_above,
    is_layer,
    is_level,
    placed_box,
)
from .pockets import GRAFTED, Pocket, pockets_of

CONTENTS = "contents"


@dataclass(frozen=True, slots=True)
class Carrier:
    """A side of a panel on which things lie; *pocket* is the one that they are in, if any."""

    key: PanelKey
    side: Side
    pocket: Pocket | None


@dataclass(frozen=True, slots=True)
class Stowed:
    """So many pieces of a thing in one place."""

    thing: Holds
    count: int
    carrier: Carrier

    @property
    def thickness(self) -> Fraction:
        """How thick the pieces are together, mm; 0 where the book does not say."""
        return self.thing.thick.mm * self.count if self.thing.thick else Fraction(0)


def contents_coats(
    book: Book, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> Iterator[tuple[PanelKey, Coat]]:
    """Yield what each page holds, as a layer on the panel that carries it.

    Things in a pocket stand on its tail, in the middle between its sides; others lie
    in the middle of the page.
    """
    for page in book.request.pages:
        for stowed in stowed_things(page, parts, levels):
            level, is_in_pocket = levels[stowed.carrier.key], stowed.carrier.pocket is not None
            box = _lying(level.box, stowed.thing, is_in_pocket)
            side = is_above(level, stowed.carrier.side)
            yield level.key, Coat(side, box, float(stowed.thickness), CONTENTS)


def insert_coats(
    book: Book,
    parts: Mapping[str, FoldedPart],
    levels: Mapping[PanelKey, Level],
    places: Places,
) -> Iterator[tuple[PanelKey, Coat]]:
    """Yield the inserts that nothing holds, each panel as a layer in the first place of its page."""
    held = held_parts(book)
    for entry in book.parts:
        number = _page_of_insert(entry.key)
        if number is None or entry.role not in STACKED or entry.key not in places:
            continue
        if is_layer(entry, held):
            continue
        for carrier in _carriers(number, parts, levels)[:1]:
            is_up = is_above(levels[carrier.key], carrier.side)
            for name, pose in places[entry.key].items():
                if is_level(pose):
                    box = placed_box(pose, [parts[entry.key].outlines[name]])
                    yield carrier.key, Coat(is_up, box, float(entry.stock.caliper.mm), CONTENTS)


def _page_of_insert(key: str) -> int | None:
    """Return the number of the page that an insert, or a loose part of a page, belongs to."""
    found = re.match(r"(?:page|insert)-(\d+)-", key)
    return int(found.group(1)) if found else None


def _lying(frame: Box, thing: Holds, is_in_pocket: bool) -> Box:
    """Return where a thing lies on a panel; what is larger than the panel ends at its edges."""
    across, up = float(thing.size.across.mm), float(thing.size.up.mm)
    x, y = (frame.left + frame.right) / 2, (frame.bottom + frame.top) / 2
    low = frame.bottom if is_in_pocket else max(frame.bottom, y - up / 2)
    return Box(
        max(frame.left, x - across / 2),
        low,
        min(frame.right, x + across / 2),
        min(frame.top, low + up),
    )


def stowed_things(
    page: PageRequest, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> list[Stowed]:
    """Return what a page holds, each piece where the least lies so far among the places it fits."""
    carriers = _carriers(page.number, parts, levels) if page.holds else []
    if not carriers:
        return []
    filled = dict.fromkeys(carriers, Fraction(0))
    counts: dict[tuple[Holds, Carrier], int] = {}
    for thing in page.holds:
        fitting = [c for c in carriers if _has_room(levels[c.key].box, thing)] or carriers
        share = max(Fraction(1, 1000), thing.thick.mm if thing.thick else Fraction(0))
        for _ in range(thing.count):
            carrier = min(fitting, key=filled.__getitem__)
            filled[carrier] += share
            counts[thing, carrier] = counts.get((thing, carrier), 0) + 1
    return [Stowed(thing, count, carrier) for (thing, carrier), count in counts.items()]


def _has_room(box: Box, thing: Holds) -> bool:
    across, up = float(thing.size.across.mm), float(thing.size.up.mm)
    return across <= box.right - box.left + 1e-3 and up <= box.top - box.bottom + 1e-3


def page_keys(parts: Mapping[str, FoldedPart], number: int) -> list[str]:
    """Return the keys of the parts of a page, the bound one first."""
    key = f"page-{number}"
    return [k for k in parts if k == key] + [k for k in parts if k.startswith(f"{key}-")]


def _carriers(
    number: int, parts: Mapping[str, FoldedPart], levels: Mapping[PanelKey, Level]
) -> Sequence[Carrier]:
    """Return the pockets of a page; where it has none, the side of it over which flaps fold."""
    found = [
        Carrier((key, pocket.front), pocket.inside, pocket)
        for key in page_keys(parts, number)
        for pocket in pockets_of(parts[key])
        if (key, pocket.front) in levels
    ]
    key = f"page-{number}"
    bound = parts[key].part.bound if key in parts else None
    panel = (key, bound.panel.split(" ")[0]) if bound else ("", "")
    if found or panel not in levels:
        return found
    return [Carrier(panel, _open_side(parts[key], panel[1]), None)]


def _open_side(folded: FoldedPart, panel: str) -> Side:
    """Return the side of a page over which its flaps fold: its reverse where they only do there."""
    own = [name for name in folded.outlines if name != panel and not name.startswith(GRAFTED)]
    sides = {folded.side_of(panel, other) for other in own}
    return Side.REVERSE if sides & {1, -1} == {-1} else Side.FACE
