"""The lap of a reinforcement is longer than the tab that comes to cover it, and shows beside it."""

from __future__ import annotations

from collections.abc import Iterator

from ...bindings.bound import Join
from ...book.book import Book, BookPart
from ...book.working_steps import LAP, strengthened
from ...folding.folded_book import FoldedBook
from ...part import Edge, Part, exact_length
from ...paths import Bounds, Number, bounds_of
from ..finding import Advice, Amount, Finding, Severity, Spot
from ..flat_shapes import SAME
from ..words import DistinctPart, and_others, distinct_parts, panel_words, part_words, shown

NAME = "lap shows"
WHY = (
    "A reinforcement that laps onto the page is covered by the tab of the neighbour; what is longer"
    " than that tab shows on the finished page."
)
WORST = Severity.WARNING
SOURCE = "common practice"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each reinforcement whose lap shows beside the tab that covers it.

    A lap that nothing covers is left to the maker's taste.
    """
    for part in distinct_parts(folded):
        host = strengthened(folded.book, part.entry)
        lap = _lap(part.part)
        if host is not None and host.part.bound is not None and lap:
            covers = list(_covers(folded.book, part.part, host, host.part.bound))
            if covers and lap > max(covers)[0] + SAME:
                yield _finding(folded.book, part, host, lap, *max(covers))


def _lap(part: Part) -> Number:
    """Return how far a reinforcement laps onto the page; 0 where it does not."""
    boxes = [panel.bounds() for panel in part.panels if panel.name.startswith(LAP)]
    return max((min(box.width, box.height) for box in boxes), default=0.0)


def _covers(
    book: Book, part: Part, host: BookPart, bound: Edge
) -> Iterator[tuple[Number, str, str]]:
    """Yield how far each tab reaches from the binding edge over the lapped side: part and panel too."""
    page = bound.panel.split(" ")[0]
    box = host.part.panel(page).bounds()
    for join in book.joins:
        if (join.onto_part, join.onto_panel, join.onto_side) == (host.key, page, part.covers_side):
            beyond = _beyond_tape(book.part(join.part).part, join)
            yield _taped(join, box, bound.side) + beyond, join.part, join.panel


def _taped(join: Join, page: Bounds, side: str) -> Number:
    """Return how far the tape of a join reaches over the page from its binding edge."""
    left, bottom = join.offset
    return {
        "left": left + join.width - page.left,
        "right": page.right - left,
        "bottom": bottom + join.height - page.bottom,
        "top": page.top - bottom,
    }[side]


def _beyond_tape(part: Part, join: Join) -> Number:
    """Return how far a tab reaches beyond its tape, at its far edge: the one away from its fold."""
    tab = part.panel(join.panel).bounds()
    tape = next(zone.path for zone in part.zones if zone.name == join.zone)
    folds = [
        piece for line in part.folds if join.panel in line.key.panels() for piece in line.pieces
    ]
    if not folds:
        return 0.0
    fold, zone = bounds_of(folds), bounds_of([tape])
    if fold.height >= fold.width:
        is_at_left = fold.left - tab.left < tab.right - fold.left
        return tab.right - zone.right if is_at_left else zone.left - tab.left
    is_below = fold.bottom - tab.bottom < tab.top - fold.bottom
    return tab.top - zone.top if is_below else zone.bottom - tab.bottom


def _finding(
    book: Book, part: DistinctPart, host: BookPart, lap: Number, reach: Number, tab: str, panel: str
) -> Finding:
    over = lap - reach
    return Finding(
        Severity.WARNING,
        Spot(part.key),
        f"its lap of {shown(book, lap)} shows by {shown(book, over)} beside the"
        f" {panel_words(book, tab, panel)} of {part_words(book, tab)}{and_others(part.number)}",
        f"make the lap {shown(book, reach)}, or the tab wider by {shown(book, over)}",
        Amount(over),
        (Advice("usual.reinforcement_lap", exact_length(reach)),),
    )
