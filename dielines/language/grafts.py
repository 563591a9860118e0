"""Grafting what a binding adds onto the bound edge of a finished part.

The fragment is written for an edge bound at the left; it is mirrored or turned
to the side where the page is bound, its place-holder ``page`` becomes the bound
panel, and its other panels are called ``binding.tab`` and so on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from ..documents import Place, Refusal
from ..part import Edge, FoldKey, Line, LineKind, Panel, Part, Step
from ..part_motion import LEFT_EDGE_TO, at_origin, moved
from ..paths import (
    Number,
    Path,
    bounds_of,
    distance,
    flattened,
    line,
    magnitude,
    reversed_path,
    signed_area,
)
from .borders import Borders, Contact, borders_of, merged_pieces, piece_path, rings_of
from .rings import TOUCH

PLACE_HOLDER = "page"
PREFIX = "binding."

Rename = Callable[[str], str]


def grafted(page: Part, fragment: Part) -> Part:
    """Return *page* with *fragment* grafted onto its bound edge; raises Refusal."""
    if page.bound is None:
        raise Refusal("not-bound", f"part {page.name!r} says no bound edge")
    placed = renamed(_placed(fragment, page.bound), _rename_to(page.bound.panel))
    panels = (*page.panels, *(p for p in placed.panels if p.name != page.bound.panel))
    _refuse_overlap(page.panels, panels[len(page.panels) :])
    borders = borders_of({panel.name: _rings(panel) for panel in panels})
    joined = replace(
        page,
        panels=panels,
        lines=(
            *page.lines,
            *_cross_lines(placed, page.bound.panel, borders),
            *_slits(page, placed, borders),
        ),
        outline=rings_of(borders.free),
        strokes=(*page.strokes, *placed.strokes),
        zones=(*page.zones, *placed.zones),
        lettering=(*page.lettering, *placed.lettering),
        steps=(*page.steps, *placed.steps),
        rigid=(*page.rigid, *placed.rigid),
    )
    return at_origin(joined)


def _rename_to(bound_panel: str) -> Rename:
    return lambda name: bound_panel if name == PLACE_HOLDER else PREFIX + name


def _placed(fragment: Part, bound: Edge) -> Part:
    """Return *fragment* turned to the bound side, its place-holder's edge on the bound edge."""
    motion = LEFT_EDGE_TO[bound.side]
    holder = fragment.panel(PLACE_HOLDER).bounds()
    edge = motion.path(line((holder.left, holder.bottom), (holder.left, holder.top)))
    box, target = bounds_of([edge]), bounds_of([line(bound.start, bound.end)])
    return moved(
        fragment, replace(motion, dx=target.left - box.left, dy=target.bottom - box.bottom)
    )


def renamed(part: Part, rename: Rename) -> Part:
    """Return *part* with its panels called by other names."""

    def key(k: FoldKey) -> FoldKey:
        return FoldKey(rename(k.first), k.relation, rename(k.second))

    def step(s: Step) -> Step:
        angles = tuple((key(k), angle) for k, angle in s.angles_deg)
        return Step(angles, tuple((rename(a), rename(b)) for a, b in s.under))

    names = {panel.name for panel in part.panels}
    return replace(
        part,
        panels=tuple(replace(panel, name=rename(panel.name)) for panel in part.panels),
        lines=tuple(replace(fold, key=key(fold.key)) for fold in part.lines),
        strokes=tuple(replace(s, panel=rename(s.panel)) for s in part.strokes),
        zones=tuple(
            replace(
                zone,
                name=PREFIX + zone.name,
                panel=rename(zone.panel),
                onto=rename(zone.onto) if zone.onto in names else zone.onto,
            )
            for zone in part.zones
        ),
        lettering=tuple(replace(text, panel=rename(text.panel)) for text in part.lettering),
        steps=tuple(step(s) for s in part.steps),
        rigid=tuple((rename(a), rename(b)) for a, b in part.rigid),
        covers=tuple(rename(name) for name in part.covers),
    )


def _cross_lines(fragment: Part, bound_panel: str, borders: Borders) -> Iterable[Line]:
    """Return the fragment's lines; those at the bound panel trimmed to where both remain."""
    for crossing in fragment.lines:
        if bound_panel not in crossing.key.panels():
            yield crossing
            continue
        pieces = [
            contact.piece
            for contact in borders.contacts
            if {contact.first, contact.second} == crossing.key.panels()
        ]
        if pieces:
            yield replace(crossing, pieces=tuple(piece_path(p) for p in merged_pieces(pieces)))


def _slits(page: Part, fragment: Part, borders: Borders) -> Iterable[Line]:
    """Yield slits where what is added only happens to lie beside a panel of the page."""
    own = {panel.name for panel in page.panels}
    told = {line.key.panels() for line in fragment.lines} | set(map(frozenset, fragment.rigid))
    beside: dict[FoldKey, list[Contact]] = {}
    for contact in borders.contacts:
        names = frozenset((contact.first, contact.second))
        if len(names & own) == 1 and names not in told:
            key = FoldKey(contact.first, contact.relation, contact.second)
            beside.setdefault(key, []).append(contact)
    for key, contacts in beside.items():
        pieces = tuple(piece_path(p) for p in merged_pieces(c.piece for c in contacts))
        yield Line(key, LineKind.SLIT, Fraction(0), pieces)


def _rings(panel: Panel) -> list[Path]:
    holes = (reversed_path(h) if signed_area(h) > 0 else h for h in panel.holes)
    return [panel.outline, *holes]


def _refuse_overlap(page: Iterable[Panel], added: Iterable[Panel]) -> None:
    """Raise Refusal where an added panel would lie on one of the page's own."""
    own = [(old, old.bounds()) for old in page]
    for new in added:
        box = new.bounds()
        for old, other in own:
            apart = (
                box.right <= other.left
                or other.right <= box.left
                or box.top <= other.bottom
                or other.top <= box.bottom
            )
            if not apart and _common_area(new.outline, old.outline) > 1e-6:
                raise Refusal(
                    "graft-overlap",
                    f"what the binding adds would lie on panel {old.name!r} of the flat page",
                )


def _common_area(first: Path, second: Path) -> float:
    from shapely.geometry import Polygon

    return float(Polygon(flattened(first)).intersection(Polygon(flattened(second))).area)


def check_fragment(place: Place, parts: Sequence[Part], edge_length: Number) -> None:
    """Report a fragment whose first part has no place-holder for the page, as high as its edge."""
    names = [panel.name for panel in parts[0].panels] if parts else []
    if PLACE_HOLDER not in names:
        told = f"the first part of a fragment has a panel {PLACE_HOLDER!r}, where the page will be"
        place.report_key("no-page", told)
    elif magnitude(parts[0].panel(PLACE_HOLDER).bounds().height - edge_length) > TOUCH:
        told = f"panel {PLACE_HOLDER!r} is not as high as the edge that it is bound at"
        place.report_key("no-page", told, 'Write its row as "length : ...".')


def renamed_covers(part: Part, page: Part) -> Part:
    """Return a part of a fragment whose ``covers`` names panels as they are called on *page*."""
    assert page.bound is not None
    rename = _rename_to(page.bound.panel)
    return replace(part, covers=tuple(rename(name) for name in part.covers))


def bound_length(edge: Edge) -> Number:
    """Return the exact length of a level or upright edge, mm."""
    return distance(edge.start, edge.end)
