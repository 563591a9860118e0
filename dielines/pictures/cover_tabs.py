"""Tabs that are glued to a cover lie on it in a picture, however stiffly they were turned.

In an open book a tab that is glued along one strip only may lean away from its
cover; rigid, it would stand through the board or through the turn-ins beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from ..bindings.case import BOARD_KEYS
from ..folding.assembly import Assembly
from ..folding.folded_book import FoldedBook
from ..rigid import Pose, relative

Places = Mapping[str, Mapping[str, Pose]]

SAME = 1e-6  #: mm or cosine; poses that differ by less are the same


def with_tabs_on_covers(folded: FoldedBook, opened: Assembly) -> Assembly:
    """Return *opened* with every panel that is glued to a cover lying on it as when closed.

    What is stuck on such a panel goes with it. A panel that slid along its cover stays.
    """
    closed = folded.assembly.places
    places = {key: dict(poses) for key, poses in opened.places.items()}
    for key, panel, board in _glued(folded):
        before, now = closed[key][panel], opened.places[key][panel]
        under, there = closed[board[0]][board[1]], opened.places[board[0]][board[1]]
        wanted = there.compose(relative(under, before))
        if _is_turned_alike(wanted, now):
            continue
        for other in _parts_on(folded, key):
            for name, pose in opened.places.get(other, {}).items():
                if name in closed[other]:
                    stuck = relative(before, closed[other][name])
                    if _is_same(relative(now, pose), stuck):
                        places[other][name] = wanted.compose(stuck)
    return replace(opened, places=places)


def _glued(folded: FoldedBook) -> Iterator[tuple[str, str, tuple[str, str]]]:
    """Yield part and panel of each page that is glued to a cover, and that board."""
    book, places = folded.book, folded.assembly.places
    for join in book.joins:
        if book.part(join.part).role != "pages" or join.onto_part not in BOARD_KEYS.values():
            continue
        board = (join.onto_part, join.onto_panel)
        if join.panel in places.get(join.part, {}) and join.onto_panel in places.get(board[0], {}):
            pair = relative(places[board[0]][board[1]], places[join.part][join.panel])
            if abs(float(pair.normal[2])) > 1 - SAME:
                yield join.part, join.panel, board


def _parts_on(folded: FoldedBook, key: str) -> list[str]:
    """Return the key of a part and those of its reinforcement."""
    keys = [entry.key for entry in folded.book.parts if entry.role == "reinforcement"]
    return [key, *(other for other in keys if other.startswith(f"{key}-"))]


def _is_same(one: Pose, other: Pose) -> bool:
    moved = max(abs(float(a - b)) for a, b in zip(one.translation, other.translation, strict=True))
    return moved <= SAME and _is_turned_alike(one, other)


def _is_turned_alike(one: Pose, other: Pose) -> bool:
    """Return whether two poses look and stand the same way, wherever they are."""
    return all(
        abs(float(a - b)) <= SAME
        for row, beside in zip(one.rotation, other.rotation, strict=True)
        for a, b in zip(row, beside, strict=True)
    )
