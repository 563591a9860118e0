"""All clearances of a book: its pages inside their boards, its spine, tape on what it goes onto.

One row for each, g = g0 + C e: *nominal* is g0, *row* holds C. Tape that is meant to
reach to an edge has no clearance there, so no row; nor has it at a fold, beyond which
it still sticks to the same part.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ..bindings.bound import Join
from ..folding.folded_book import FoldedBook
from ..paths import Bounds
from .clearance import Clearance, Fault
from .datum import Datum
from .drift import BOARDS, Drift, Hanging, along, bound_panel, edge_drift, hanging, plus, taped
from .hand_error import HandError, Row, total
from .standing import SAME, SIDES, Standing, Vector, side_of, standing_of, turned, turned_back

PAGES = "pages"  #: the role of the paper that pages and their hinges are made of
EDGES: Mapping[str, Vector] = {
    "fore-edge": (1.0, 0.0, 0.0),
    "head": (0.0, 1.0, 0.0),
    "tail": (0.0, -1.0, 0.0),
}
FAULT_AT = {
    "fore-edge": Fault.FORE_EDGE,
    "head": Fault.HEAD_OR_TAIL,
    "tail": Fault.HEAD_OR_TAIL,
}
UP: Vector = (0.0, 0.0, 1.0)
DOWN: Vector = (0.0, 0.0, -1.0)


def clearances_of(folded: FoldedBook, datum: Datum = Datum.NEIGHBOUR) -> tuple[Clearance, ...]:
    """Return all clearances of the closed book when its pages are aligned by *datum*."""
    standing = standing_of(folded.book, folded.assembly.places)
    hung = hanging(standing, datum)
    return (
        *_pages(standing, hung),
        *_spine(folded, standing, hung),
        *_tapes(standing, hung),
    )


# ------------------------------------------------------------------ pages inside their boards


def _pages(standing: Standing, hung: Hanging) -> Iterator[Clearance]:
    for entry in standing.book.parts:
        bound = bound_panel(entry.part)
        if bound and entry.key in hung.held:
            for edge, direction in EDGES.items():
                yield _of_page(standing, hung, entry.key, bound, edge, direction)


def _of_page(
    standing: Standing, hung: Hanging, key: str, bound: str, edge: str, direction: Vector
) -> Clearance:
    board = hung.held[key].board
    panel = _outermost(standing, hung, key, bound, direction)
    (limit,) = hung.held[board].panels
    row = total(
        [
            (1, _edge_row(standing, hung, board, limit, direction)),
            (-1, _edge_row(standing, hung, key, panel, direction)),
        ]
    )
    room = _reach(standing, board, limit, direction) - _reach(standing, key, panel, direction)
    return Clearance(FAULT_AT[edge], key, panel, edge, room, row)


def _outermost(standing: Standing, hung: Hanging, key: str, bound: str, direction: Vector) -> str:
    """Return the panel that reaches farthest in a direction; of equal ones the bound one."""
    names = [n for n in hung.held[key].panels if standing.is_page_like(key, n) and n != bound]
    reaches = {n: round(_reach(standing, key, n, direction), 3) for n in (bound, *names)}
    return max(reaches, key=lambda name: reaches[name])


def _reach(standing: Standing, key: str, panel: str, direction: Vector) -> float:
    """Return how far a panel reaches in a direction of the book, mm."""
    pose = standing.places[key][panel]
    at = standing.border(key, panel, turned_back(pose, direction)).at
    return at + sum(float(t) * d for t, d in zip(pose.translation, direction, strict=True))


def _edge_row(
    standing: Standing, hung: Hanging, key: str, panel: str, direction: Vector
) -> dict[HandError, float]:
    """Return how the edge of a panel is off in a direction of the book."""
    pose = standing.places[key][panel]
    edge = standing.border(key, panel, turned_back(pose, direction))
    drift = plus(hung.held[key].panels[panel], edge_drift(key, pose, edge))
    return along(drift, direction)


# ------------------------------------------------------------------ the spine


def _spine(folded: FoldedBook, standing: Standing, hung: Hanging) -> Iterator[Clearance]:
    """Yield the play of the spine, where pages reach from one board to the other."""
    for join in standing.book.joins:
        ends = ((join.part, join.panel), (join.onto_part, join.onto_panel))
        if not _meet(standing, hung, join):
            continue
        upper, lower = sorted(ends, key=lambda end: -_height(standing, hung.held[end[0]].board))
        above, below = (hung.held[part].panels[panel] for part, panel in (upper, lower))
        row = total([(1, along(above, UP)), (-1, along(below, UP)), *_spine_cuts(standing)])
        yield Clearance(Fault.SPINE, "", "", "", folded.thickness.play, row)
        return


def _meet(standing: Standing, hung: Hanging, join: Join) -> bool:
    """Return whether a join closes the way from one board to the other."""
    ends = ((join.part, join.panel), (join.onto_part, join.onto_panel))
    is_held = all(hung.drift(*end) is not None and standing.is_page_like(*end) for end in ends)
    return is_held and hung.held[join.part].board != hung.held[join.onto_part].board


def _height(standing: Standing, board: str) -> float:
    (pose, *_) = standing.places[board].values()
    return float(pose.translation[2])


def _spine_cuts(standing: Standing) -> Iterator[tuple[float, Row]]:
    """Yield what the cuts along both sides of the spine board add to its width."""
    for entry in standing.book.parts:
        panel = entry.part.panels[0].name
        pose = standing.pose(entry.key, panel)
        if entry.role == BOARDS and pose and not standing.is_page_like(entry.key, panel):
            for direction in (UP, DOWN):
                edge = standing.border(entry.key, panel, turned_back(pose, direction))
                yield 1, along(edge_drift(entry.key, pose, edge), direction)


# ------------------------------------------------------------------ tape on what it goes onto


def _tapes(standing: Standing, hung: Hanging) -> Iterator[Clearance]:
    placing = set(hung.tree)
    for join in standing.book.joins:
        above = hung.drift(join.part, join.panel)
        below = hung.drift(join.onto_part, join.onto_panel)
        is_flat = standing.is_page_like(join.part, join.panel)
        if above is None or below is None or standing.roles[join.part] != PAGES or not is_flat:
            continue
        if _meet(standing, hung, join):  # closes the way round: it is laid last, and where it fits
            continue
        drift = plus(above, below, -1)
        if join not in placing:
            drift = plus(drift, taped(standing, join))
        yield from _of_tape(standing, join, drift)


def _of_tape(standing: Standing, join: Join, drift: Drift) -> Iterator[Clearance]:
    """Yield the clearances of a zone on its target that it lies beside by *drift*."""
    pose = standing.places[join.onto_part][join.onto_panel]
    landed = Bounds(
        join.offset.x, join.offset.y, join.offset.x + join.width, join.offset.y + join.height
    )
    for side, outward in SIDES.items():
        edge = standing.border(join.onto_part, join.onto_panel, outward)
        room = edge.at - side_of(landed, outward)
        if room > SAME and not edge.score:
            direction = turned(pose, outward)
            own = along(edge_drift(join.onto_part, pose, edge), direction)
            row = total([(1, own), (-1, along(drift, direction))])
            yield Clearance(Fault.TAPE, join.part, join.panel, side, room, row)
