"""Tape sticks out of its own panel or of the panel that it lands on."""

from __future__ import annotations

from collections.abc import Iterator

from ...bindings.bound import Join
from ...folding.case_places import spine_key
from ...folding.folded_book import FoldedBook
from ...folding.placing import is_whole, landing_box, lying, middle, quarters_of
from ...landing import Overhang, land, overhang_of
from ...part import Panel, Zone
from ...paths import Path, bounds_of, rectangle
from ...rigid import AT_REST
from ..finding import Amount, Finding, Severity, Spot
from ..right_sizes import made, wider_spine
from ..seams import NEAR, curved_beside, seams_of
from ..words import DistinctPart, and_others, distinct_parts, panel_words, part_words, shown

NAME = "tape outside overlap"
WHY = (
    "Tape holds where both panels are. What sticks out of one of them, or lies over a window, glues"
    " to whatever comes next to it."
)
WORST = Severity.ERROR
SOURCE = "geometry"


def check(folded: FoldedBook) -> Iterator[Finding]:
    """Yield each zone that is not wholly on its panel and on its target."""
    for part in distinct_parts(folded):
        for zone in part.part.zones:
            panel = part.part.panel(zone.panel)
            over = overhang_of(zone.path, panel.outline, panel.holes)
            if over.distance > NEAR:
                yield _outside_own(folded, part, zone, over)
        yield from _seams(folded, part)
    yield from _joins(folded)


def _seams(folded: FoldedBook, part: DistinctPart) -> Iterator[Finding]:
    for seam in seams_of(part.folded):
        over = seam.landing.overhang
        is_bent = over.distance > NEAR and curved_beside(part.part, seam.zone.onto)
        if seam.landed.is_parallel and over.distance > NEAR and not is_bent:
            onto = panel_words(folded.book, part.key, seam.zone.onto)
            yield _finding(folded, part, seam.zone, f"of the {onto}", over)


def _outside_own(folded: FoldedBook, part: DistinctPart, zone: Zone, over: Overhang) -> Finding:
    return _finding(folded, part, zone, "of the panel that it lies on", over)


def _finding(
    folded: FoldedBook, part: DistinctPart, zone: Zone, of_what: str, over: Overhang
) -> Finding:
    book = folded.book
    by = shown(book, over.distance)
    return Finding(
        Severity.ERROR,
        Spot(part.key, zone.panel, middle(bounds_of([zone.path]))),
        f"the tape on the {zone.side.value} of the {panel_words(book, part.key, zone.panel)} sticks"
        f" out {of_what} by {by}{and_others(part.number)}",
        f"make the tape shorter there by {by}, or the panel larger",
        Amount(over.distance),
    )


# ------------------------------------------------------------------ between parts


def _joins(folded: FoldedBook) -> Iterator[Finding]:
    """Yield the joins whose tape comes to lie beside its target or over a hole in it."""
    book, told = folded.book, set()
    crowded: list[tuple[float, Join]] = []
    panels = {(e.key, p.name): p for e in book.parts for p in e.part.panels}
    letters = {entry.key: entry.letter for entry in book.parts}
    for join in book.joins:
        target = panels.get((join.onto_part, join.onto_panel))
        if join.part == join.onto_part or target is None:
            continue
        over = _overhang(folded, join, target)
        kind = (letters[join.part], join.zone, letters[join.onto_part], over.distance)
        if over.distance > NEAR and kind not in told:
            told.add(kind)
            if _is_crowded(folded, join):
                crowded.append((float(over.distance), join))
            else:
                yield _outside_target(folded, join, over)
    if crowded:
        yield _beside_spine(folded, *max(crowded, key=lambda found: found[0]))


def _is_crowded(folded: FoldedBook, join: Join) -> bool:
    """Return whether a channel sticks out of a spine that is too narrow for all of them."""
    is_page = folded.book.part(join.part).role == "pages"
    on_spine = is_page and join.onto_part == spine_key(folded.book)
    return on_spine and bool(wider_spine(folded.book, folded.thickness))


def _beside_spine(folded: FoldedBook, by: float, join: Join) -> Finding:
    """Return the channel that sticks farthest out of a spine too narrow for all of them."""
    book, advice = folded.book, wider_spine(folded.book, folded.thickness)
    return Finding(
        Severity.ERROR,
        Spot(join.onto_part, join.onto_panel, middle(landing_box(join))),
        f"the tape of the {panel_words(book, join.part, join.panel)} of {part_words(book, join.part)}"
        f" sticks out of the spine by {shown(book, by)}: it is too narrow for its channels",
        made(book, advice, "wide", (by, "wider")),
        Amount(by),
        advice,
    )


def _overhang(folded: FoldedBook, join: Join, target: Panel) -> Overhang:
    """Return what of the tape lies beside its target: of its bounds, else of its true outline."""
    box = landing_box(join)
    ring = rectangle(box.left, box.bottom, box.right, box.top)
    over = overhang_of(ring, target.outline, target.holes)
    if over.distance <= NEAR:
        return over
    true = _true_outline(folded, join)
    return overhang_of(true, target.outline, target.holes) if true else over


def _true_outline(folded: FoldedBook, join: Join) -> Path | None:
    """Return where the zone of a join lies on its target; None where only a share of it does."""
    zones = folded.parts[join.part].part.zones
    path = next((zone.path for zone in zones if zone.name == join.zone), None)
    if path is None or not is_whole(join, bounds_of([path])):
        return None
    box = bounds_of([path])
    return land(lying(join, box, 0, quarters_of(join, box)[0]), AT_REST, path).path


def _outside_target(folded: FoldedBook, join: Join, over: Overhang) -> Finding:
    book = folded.book
    by, onto = shown(book, over.distance), panel_words(book, join.onto_part, join.onto_panel)
    return Finding(
        Severity.ERROR,
        Spot(join.onto_part, join.onto_panel, middle(landing_box(join))),
        f"the tape of the {panel_words(book, join.part, join.panel)} of {part_words(book, join.part)}"
        f" sticks out of the {onto} of {part_words(book, join.onto_part)} by {by}",
        f"move it by {by}, or make its tab narrower",
        Amount(over.distance),
    )
