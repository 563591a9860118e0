"""Parts that should be alike, or mirror images of each other, are not."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from ...book.book import BookPart
from ...folding.folded_book import FoldedBook
from ...part import Part
from ...part_motion import mirrored
from ...paths import Path, flattened
from ..finding import Amount, Finding, Severity, Spot
from ..words import part_words, shown

NAME = "halves differ"
WHY = (
    "Pages of the front half are the mirror images of the same pages in the back half; one that"
    " differs has its notch, its tape or a fold where its fellow has none."
)
WORST = Severity.WARNING
SOURCE = "geometry: parts of one kind and size, those of one half mirrored, laid on each other"

LEAST = 0.001  #: mm; what differs by less is alike
CHORD = 0.01  #: mm; arcs are chords no farther off

Drawn = Mapping[str, Sequence[tuple[float, float]]]
"""Everything on a part: what it is, and the points where it is."""


class Kind(NamedTuple):
    """One way in which fellows are cut: all parts that are cut so, and what is on them."""

    entries: list[BookPart]
    drawn: Drawn


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each kind of parts that differs from most of its fellows."""
    for fellows in _fellows(folded.book.parts):
        kinds: list[Kind] = []
        for alike in _by_shape(fellows):
            _add(kinds, alike)
        if len(kinds) > 1:
            common = max(kinds, key=lambda kind: len(kind.entries))
            for kind in kinds:
                if kind is not common:
                    yield _finding(folded, kind, common)


def _fellows(parts: Iterable[BookPart]) -> Iterator[list[BookPart]]:
    """Yield parts that were made from the same template with the same sizes."""
    found: dict[object, list[BookPart]] = {}
    for entry in parts:
        part, graft = entry.part, entry.part.graft
        if part.parameters:
            given = (graft.template, _sorted(graft.parameters)) if graft else ()
            made = (part.name, part.template, entry.role, _sorted(part.parameters), given)
            found.setdefault(made, []).append(entry)
    yield from (fellows for fellows in found.values() if len(fellows) > 1)


def _sorted(parameters: Mapping[str, object]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted((name, repr(value)) for name, value in parameters.items()))


def _by_shape(fellows: Iterable[BookPart]) -> list[list[BookPart]]:
    """Return the same parts, those that are one object or equal together."""
    found: list[list[BookPart]] = []
    for entry in fellows:
        for alike in found:
            if entry.part is alike[0].part or entry.part == alike[0].part:
                alike.append(entry)
                break
        else:
            found.append([entry])
    return found


def _add(kinds: list[Kind], alike: list[BookPart]) -> None:
    drawn = drawn_of(alike[0].part)
    for kind in kinds:
        if set(drawn) == set(kind.drawn) and _distance(drawn, kind.drawn) <= LEAST:
            kind.entries.extend(alike)
            return
    kinds.append(Kind(alike, drawn))


def drawn_of(part: Part) -> Drawn:
    """Return all that is on a part; of a mirrored part, mirrored back."""
    part = mirrored(part) if part.is_mirrored else part
    found: dict[str, list[tuple[float, float]]] = {}
    for name, paths in _things(part):
        places = [(float(x), float(y)) for path in paths for x, y in flattened(path, CHORD)]
        found.setdefault(name, []).extend(places)
    return found


def _things(part: Part) -> Iterator[tuple[str, Sequence[Path]]]:
    for panel in part.panels:
        yield f"outline of {panel.name}", (panel.outline, *panel.holes)
    for zone in part.zones:
        yield f"tape {zone.name} on the {zone.side.value}", (zone.path,)
    for line in part.lines:
        beside = " and ".join(sorted(line.key.panels()))
        yield f"{line.kind.value} between {beside} at {float(line.angle_deg):g}", line.pieces
    for stroke in part.strokes:
        yield f"{stroke.purpose.value} on {stroke.panel}", (stroke.path,)


def _distance(one: Drawn, other: Drawn) -> float:
    """Return how far the points of two parts are apart at most, what both have alone."""
    pairs = [(one[name], other[name]) for name in one if name in other]
    return max((_apart(a, b) for a, b in pairs), default=0.0)


def _apart(one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]) -> float:
    """Return the distance of Hausdorff of two sets of points; points in equal order are quick."""
    if len(one) == len(other) and all(
        abs(a[0] - b[0]) + abs(a[1] - b[1]) <= LEAST for a, b in zip(one, other, strict=True)
    ):
        return 0.0
    return max(_farthest(one, other), _farthest(other, one))


def _farthest(one: Sequence[tuple[float, float]], other: Sequence[tuple[float, float]]) -> float:
    return max(min(math.dist(a, b) for b in other) for a in one) if one and other else 0.0


def _finding(folded: FoldedBook, kind: Kind, common: Kind) -> Finding:
    book, by = folded.book, _distance(kind.drawn, common.drawn)
    odd = sorted(set(kind.drawn) ^ set(common.drawn))
    words = [part_words(book, entry.key) for entry in (kind.entries[0], common.entries[0])]
    how = f"by up to {shown(book, by)}" if by > LEAST else f"in the {odd[0]}"
    more = len(kind.entries) - 1
    alone = f" (and {more} more like it)" if more else ""
    return Finding(
        Severity.WARNING,
        Spot(kind.entries[0].key),
        f"{words[0]}{alone} should be {_fellow(kind, common)} of {words[1]}, and differs {how}",
        f"cut {words[0]} like {words[1]}, turned over where it goes into the other half",
        Amount(by) if by > LEAST else Amount(len(odd), "places"),
    )


def _fellow(kind: Kind, common: Kind) -> str:
    parts = kind.entries[0].part, common.entries[0].part
    return "the mirror image" if parts[0].is_mirrored != parts[1].is_mirrored else "the like"
