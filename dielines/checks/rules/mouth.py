"""A pocket is not open where it should be, or is open where it should not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from ...folding.cavities import SIDES, Cavity, CavitySide
from ...folding.cavity_walls import Closing
from ...folding.folded_book import FoldedBook
from ...folding.pockets_in_book import book_cavities
from ...part import Edge
from ...paths import Number, distance
from ..directions import middle_of, pocket_words, side_words
from ..finding import Amount, Finding, Severity, Spot
from ..words import and_others, shown

NAME = "mouth"
WHY = (
    "A pocket holds things only if it is open at its mouth and nowhere else: each other side needs a"
    " fold, tape, a wall that is fastened at front and back, or what binds the page standing there."
)
WORST = Severity.ERROR
SOURCE = (
    "geometry; openings of less than 0.2 in, and walls nearer than 1.6 mm, hold (both from memory)"
)


class _Place(NamedTuple):
    folded: FoldedBook
    key: str
    alike: int
    cavity: Cavity

    @property
    def mouth(self) -> Edge:
        return self.cavity.mouth

    def side(self, name: str) -> str:
        return side_words(self.folded, self.key, self.mouth.panel, name)

    @property
    def pocket(self) -> str:
        return pocket_words(self.folded, self.key, self.mouth.panel)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each pocket without a back, closed at its mouth, or open or loose elsewhere."""
    for key, alike, cavities in distinct_cavities(folded):
        for cavity in cavities:
            yield from _faults(_Place(folded, key, alike, cavity))


def distinct_cavities(folded: FoldedBook) -> Iterator[tuple[str, int, tuple[Cavity, ...]]]:
    """Yield the pockets of the first of the parts that are alike, and how many there are."""
    found: dict[tuple[str, int], list[str]] = {}
    cavities = book_cavities(folded)
    for key in cavities:
        found.setdefault((folded.book.part(key).letter, id(cavities[key])), []).append(key)
    for keys in found.values():
        yield keys[0], len(keys), cavities[keys[0]]


def _faults(place: _Place) -> Iterator[Finding]:
    if not place.cavity.sides:
        yield _without_room(place)
        return
    for name in SIDES:
        side = place.cavity.sides[name]
        if name == place.mouth.side:
            if side.closing is not Closing.OPEN:
                yield _closed(place)
        elif side.closing is Closing.OPEN:
            yield from _open(place, side)
        elif side.closing is Closing.LOOSE:
            yield _loose(place, side)


def _finding(place: _Place, words: str, remedy: str, amount: Number) -> Finding:
    return Finding(
        Severity.ERROR,
        Spot(place.key, place.mouth.panel, middle_of(place.mouth.start, place.mouth.end)),
        f"{place.pocket} {words}{and_others(place.alike)}",
        remedy,
        Amount(amount),
    )


def _without_room(place: _Place) -> Finding:
    return _finding(
        place,
        "has no back: no panel comes to lie over its front",
        "fold a panel over it, or declare no mouth there",
        distance(place.mouth.start, place.mouth.end),
    )


def _closed(place: _Place) -> Finding:
    mouth = place.side(place.mouth.side)
    return _finding(
        place,
        f"is closed at its mouth, the {mouth}",
        f"keep the {mouth} free of tape and walls",
        distance(place.mouth.start, place.mouth.end),
    )


def _open(place: _Place, side: CavitySide) -> Iterator[Finding]:
    for opening in side.openings:
        words = place.side(side.side)
        found = _finding(
            place,
            f"is also open at its {words}, for {shown(place.folded.book, opening.length)}",
            f"close its {words} with a gusset and a seam",
            opening.length,
        )
        spot = Spot(place.key, place.mouth.panel, opening.middle)
        yield replace(found, spot=spot)


def _loose(place: _Place, side: CavitySide) -> Finding:
    words = place.side(side.side)
    return _finding(
        place,
        f"has a wall at its {words} that is fastened on one side only",
        f"tape the seam of that wall to the back, {shown(place.folded.book, side.length)} long",
        side.length,
    )
