"""What hangs on what in the bound book, panel by panel, and the channel between two pages."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from ..bindings.bound import Join
from ..book.book import Book
from ..part import Line, LineKind
from .case_places import COVERING, spine_key
from .folded_part import FoldedPart

Node = tuple[str, str]
"""A panel: the key of its part, its name."""

Web = Mapping[Node, Sequence[tuple[Node, Line | None]]]
"""The panels on which each panel hangs, each with the fold between; None: they are one, or joined."""

UPRIGHT, HALF_TURN = 90, 180


class Hinge(NamedTuple):
    """What two neighbours in the book turn about: the two folds of a channel.

    Where they hang on each other by one fold, folded shut, *channel* is empty and
    both folds are that one. *front* and *back* are the fold towards the front
    cover and its panel beyond the channel, then the same towards the back cover.
    """

    channel: Node | None
    front: tuple[Line, Node]
    back: tuple[Line, Node]


def page_keys(book: Book) -> list[str]:
    """Return the keys of the bound pages, from the front cover to the back cover."""
    return [entry.key for entry in book.parts if entry.part.bound is not None]


def web_of(book: Book, parts: Mapping[str, FoldedPart], tree: Sequence[Join]) -> Web:
    """Return what hangs on what by folds and by the joins of the tree."""
    web: dict[Node, list[tuple[Node, Line | None]]] = {}
    spine = spine_key(book)

    def tie(a: Node, b: Node, line: Line | None) -> None:
        web.setdefault(a, []).append((b, line))
        web.setdefault(b, []).append((a, line))

    for entry in book.parts:
        if entry.role in COVERING or entry.key == spine or entry.part.covers:
            continue
        for panel in entry.part.panels:
            web.setdefault((entry.key, panel.name), [])
        for line in entry.part.lines:
            if line.kind is not LineKind.SLIT:
                tie((entry.key, line.key.first), (entry.key, line.key.second), line)
        for first, second in entry.part.rigid:
            tie((entry.key, first), (entry.key, second), None)
    for join in tree:
        tie((join.part, join.panel), (join.onto_part, join.onto_panel), None)
    return web


def way(web: Web, start: Node, end: Node) -> list[tuple[Node, Line | None]]:
    """Return the panels from *start* to *end*, each with the fold before it; empty without a way."""
    before: dict[Node, tuple[Node, Line | None]] = {start: (start, None)}
    waiting = deque([start])
    while waiting and end not in before:
        node = waiting.popleft()
        for other, line in web.get(node, ()):
            if other not in before:
                before[other] = (node, line)
                waiting.append(other)
    if end not in before:
        return []
    found = [(end, before[end][1])]
    while found[-1][0] != start:
        node = before[found[-1][0]][0]
        found.append((node, before[node][1]))
    return found[::-1]


def hinge_on(path: Sequence[tuple[Node, Line | None]]) -> Hinge | None:
    """Return the channel on the way from one page to the next: between two right angles."""
    for (before, _), (channel, line), (after, next_line) in zip(
        path, path[1:], path[2:], strict=False
    ):
        if _is_bent(line, UPRIGHT) and _is_bent(next_line, UPRIGHT):
            assert line is not None
            assert next_line is not None
            return Hinge(channel, (line, before), (next_line, after))
    for (before, _), (after, line) in pairwise(path):
        if _is_bent(line, HALF_TURN):
            assert line is not None
            return Hinge(None, (line, before), (line, after))
    return None


def _is_bent(line: Line | None, angle_deg: int) -> bool:
    return line is not None and abs(abs(float(line.angle_deg)) - angle_deg) < 1e-6


def hanging_on(web: Web, start: Node, hinge: Hinge) -> set[Node]:
    """Return all that hangs on *start* without the hinge: one half of the book."""
    barred = {frozenset((hinge.front[1], hinge.back[1]))} if hinge.channel is None else set()
    seen, waiting = {start}, [start]
    while waiting:
        node = waiting.pop()
        for other, _ in web.get(node, ()):
            if other in seen or other == hinge.channel or frozenset((node, other)) in barred:
                continue
            seen.add(other)
            waiting.append(other)
    return seen


def ends_of(
    book: Book, roots: Mapping[str, str], opening: int, front: Node, back: Node
) -> tuple[Node, Node]:
    """Return the panels on both sides of an opening: of two pages, or of a page and a board."""
    pages: list[Node] = [front, *((key, roots[key]) for key in page_keys(book)), back]
    return pages[opening], pages[opening + 1]
