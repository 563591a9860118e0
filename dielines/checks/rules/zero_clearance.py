"""An edge inside a fold ends exactly on that fold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ...book.join_words import listed
from ...folding.bends import NEUTRAL_AXIS, bend_allowance
from ...folding.folded_book import FoldedBook
from ...folding.pockets import GRAFTED
from ...lengths import inches
from ...part import Part
from ...paths import Point
from ..finding import Amount, Finding, Severity, Spot
from ..folded_edges import Inside, Nook, Ruler, inside, nooks, ruler_of
from ..right_sizes import fine
from ..words import DistinctPart, and_others, distinct_parts, panel_words, part_words, shown

#: What an edge is shortened by so that it clears a fold (m).
CLEAR = float(inches("1/32").mm)
BEYOND = 1e-3  #: mm; an edge farther out than this goes through the fold, which is another fault
SHORTEST = 1.0  #: mm of an edge on a fold that are worth a word (m)

NAME = "zero clearance"
WHY = (
    "A panel that is folded in, and ends exactly where the paper around it turns, has no room:"
    " the fold takes up paper itself. Shortened by 1/32 in it lies flat."
)
WORST = Severity.WARNING
SOURCE = (
    "1/32 in is from memory; the bend allowance is pi/180 A (R + K t) with R = 0 and"
    f" K = {NEUTRAL_AXIS:g}, an assumption (sheet-metal texts; none is published for paper)"
)


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield every fold with panels inside whose edge, or own fold, lies on it; channels as one."""
    beside_channels: list[tuple[DistinctPart, Nook, Mapping[str, float]]] = []
    for part in distinct_parts(folded):
        caliper = float(part.entry.stock.caliper.mm)
        for nook in nooks(part.folded):
            ruler = ruler_of(part.part, nook)
            panels = list(inside(part.folded, nook))
            found = {p.panel: c for p in panels if (c := _clearance(ruler, p, caliper)) is not None}
            if found:
                is_tight = any(_turns_there(nook, ruler, p, caliper) for p in panels)
                if nook.wall.startswith(GRAFTED) and not is_tight:
                    beside_channels.append((part, nook, found))
                else:
                    yield _finding(folded, part, nook, found, not nook.wall or is_tight)
    if beside_channels:
        yield _at_channels(folded, beside_channels)


def _at_channels(
    folded: FoldedBook, found: list[tuple[DistinctPart, Nook, Mapping[str, float]]]
) -> Finding:
    """Return what ends exactly at an open channel, told once a book: the first, and how many more."""
    book, (part, nook, clearances) = folded.book, found[0]
    panel, lacking = next(iter(clearances)), CLEAR - min(min(c.values()) for _, _, c in found)
    names = listed([panel_words(book, part.key, name) for name in clearances])
    more = sum(other.number for other, _, _ in found) - 1
    parts = f", and so on {more} more part{'s' if more > 1 else ''}" if more else ""
    return Finding(
        Severity.REMARK,
        Spot(part.key, panel, _spot(part.part, panel)),
        f"the {names} of {part_words(book, part.key)} {'ends' if len(clearances) == 1 else 'end'}"
        f" exactly where the channel turns, and the fold takes up"
        f" {fine(book, _taken_up(part, nook))} of paper{parts}",
        f"nothing to change while it lies flat; if it puckers, trim {shown(book, lacking)} off the"
        f" {names} along the channel",
        Amount(lacking),
    )


def _clearance(ruler: Ruler, panel: Inside, caliper: float) -> float | None:
    """Return how far inside the fold an edge of a panel ends; None where none is too near."""
    found = [
        max(0.0, ruler.depth(segment.start), ruler.depth(segment.end))
        for segment in panel.outline.segments()
        if not segment.bulge and _is_at_fold(ruler, segment.start, segment.end, caliper)
    ]
    return min(found, default=None)


def _is_at_fold(ruler: Ruler, start: Point, end: Point, caliper: float) -> bool:
    is_near = all(-BEYOND <= ruler.depth(p) < caliper - BEYOND for p in (start, end))
    return is_near and ruler.beside(start, end) > SHORTEST


def _turns_there(nook: Nook, ruler: Ruler, panel: Inside, caliper: float) -> bool:
    """Return whether a panel is folded itself where the paper around it turns, as in a tight roll.

    Two folds, or two gussets, then want one place. A channel is open and leaves them some.
    """
    if nook.wall.startswith(GRAFTED):
        return False
    ends = [(piece.points[0], piece.points[-1]) for _, piece in panel.folds]
    return any(_is_at_fold(ruler, Point(*a), Point(*b), caliper) for a, b in ends)


def _finding(
    folded: FoldedBook,
    part: DistinctPart,
    nook: Nook,
    clearances: Mapping[str, float],
    is_tight: bool,
) -> Finding:
    book, key = folded.book, part.key
    first, second = (panel_words(book, key, name) for name in (nook.first, nook.second))
    names = listed([panel_words(book, key, name) for name in clearances])
    verbs = ("lies", "ends") if len(clearances) == 1 else ("lie", "end")
    around = panel_words(book, key, nook.wall) if nook.wall else "the fold"
    lacking = CLEAR - min(clearances.values())
    panel = next(iter(clearances))
    return Finding(
        Severity.WARNING if is_tight else Severity.REMARK,
        Spot(key, panel, _spot(part.part, panel)),
        f"the {names} of {part_words(book, key)} {verbs[0]} between the {first} and {second} and {verbs[1]} exactly at {around}, which"
        f" takes up {fine(book, _taken_up(part, nook))} of paper{and_others(part.number)}",
        f"cut the {names} {shown(book, lacking)} shorter there",
        Amount(lacking),
    )


def _taken_up(part: DistinctPart, nook: Nook) -> float:
    caliper = float(part.entry.stock.caliper.mm)
    return bend_allowance(float(nook.line.angle_deg), caliper)


def _spot(part: Part, panel: str) -> Point:
    box = part.panel(panel).bounds()
    return Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
