"""The table of joins in plain words: which tape goes onto what, and where."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from ..bindings.bound import Join, Towards
from ..bindings.case import BOARD_KEYS
from ..lengths import ZERO, Unit
from ..part import Part, Side
from .book import Book, BookPart
from .spans import Span, measured, shown, shown_sides, spans

_SIDES_OF_BOARDS = {Side.FACE: "outside", Side.REVERSE: "inside"}
#: Left, right, top and bottom of the boards as their faces show them: from outside.
_EDGES = {
    BOARD_KEYS[Towards.FRONT]: ("spine edge", "fore-edge", "head", "tail"),
    BOARD_KEYS[Towards.BACK]: ("fore-edge", "spine edge", "head", "tail"),
    "spine-board": ("edge at the back board", "edge at the front board", "head", "tail"),
}
MIDDLE = "in the middle"
WHOLE = "from edge to edge"
_GRAFTED = "binding."
EDGE_STRIP = "edge strip"
_BOARD = re.compile(r"(?:the )?(?:front|back) board")
_LETTER = re.compile(r" \([A-Z]+\)")


def join_words(book: Book, joins: Sequence[Join]) -> Iterator[str]:
    """Yield *joins* of *book* in the order of working, a sentence each.

    What is done alike at both boards is told once.
    """
    found: dict[str, list[Join]] = {}
    for join in joins:
        found.setdefault(_without_board(_sentence(book, join)), []).append(join)
    for alike in found.values():
        words = [_sentence(book, join) for join in alike]
        yield words[0] if len(words) == 1 else _at_both_boards(book, alike, words[0])


def _sentence(book: Book, join: Join) -> str:
    source, target = book.part(join.part), book.part(join.onto_part)
    size = shown_sides(measured(join.width), measured(join.height), book.units)
    tape = f"{owner(source)}{_panel(source.part, join.panel)}: tape {size} on its "
    onto = _onto(join, source, target)
    return f"{tape}{_side(source, join.side)}, onto {onto}; {_place(join, target, book.units)}"


def _without_board(sentence: str) -> str:
    """Return the sentence of an edge strip without what differs between the boards."""
    if not sentence.startswith(EDGE_STRIP):
        return sentence
    return _LETTER.sub("", _BOARD.sub("board", sentence))


def _at_both_boards(book: Book, joins: Sequence[Join], sentence: str) -> str:
    """Return *sentence*, of the first of *joins*, for edge strips of both boards."""
    for keys in ([join.part for join in joins], [join.onto_part for join in joins]):
        letters = list(dict.fromkeys(book.part(key).letter for key in keys))
        sentence = sentence.replace(f"({letters[0]})", f"({', '.join(letters)})", 1)
    told = sentence.replace(EDGE_STRIP, f"{EDGE_STRIP}s", 1)
    first, _, rest = told.partition(":")
    return f"{_BOARD.sub('both boards', first)}:{_BOARD.sub('each board', rest)}"


def owner(entry: BookPart) -> str:
    """Return what a part is called in short, with its letter: "page 2 (C)"."""
    return f"{entry.title.partition(':')[0]} ({entry.letter})"


def _panel(part: Part, name: str) -> str:
    return f", {panel_words(part, name)}" if len(part.panels) > 1 else ""


def listed(words: Sequence[str]) -> str:
    """Return *words* as one says them.

    >>> listed(["head", "front", "tail"]), listed(["head"])
    ('head, front and tail', 'head')
    """
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def panel_words(part: Part, name: str) -> str:
    """Return what a crafter calls a panel: "hinge tab" for what a binding grafted on as its tab.

    >>> from dielines.language.library import built_in_library
    >>> from dielines.language.building import build
    >>> wrap = build(built_in_library().find("joint-wrap"), {}, {}).parts[0]
    >>> panel_words(wrap, "front_hold")
    'front hold'
    """
    own = name.removeprefix(_GRAFTED)
    if own != name and part.graft and part.graft.template.endswith(f"-{own}"):
        return part.graft.template.replace("-", " ")
    return own.replace("_", " ")


def _onto(join: Join, source: BookPart, target: BookPart) -> str:
    side = _side(target, join.onto_side)
    if source is target:
        return f"the {side} of its own {panel_words(target.part, join.onto_panel)}"
    return f"the {side} of {owner(target)}{_panel(target.part, join.onto_panel)}"


def _side(entry: BookPart, side: Side) -> str:
    return _SIDES_OF_BOARDS[side] if entry.role == "boards" else side.value


def _place(join: Join, target: BookPart, units: Unit) -> str:
    """Return where the tape comes to lie, from the nearest edges of the panel it goes onto."""
    panel = target.part.panel(join.onto_panel).bounds()
    box = panel._replace(
        left=join.offset.x,
        bottom=join.offset.y,
        right=join.offset.x + join.width,
        top=join.offset.y + join.height,
    )
    across, up = spans(box, panel)
    left, right, top, bottom = _edge_names(target, join.onto_panel)
    words = [_along(across, left, right, units), _along(up, top, bottom, units)]
    if words[0] == words[1]:
        return words[0]
    ways = ("across", "up and down")
    told = (f"{w} {way}" if w in (MIDDLE, WHOLE) else w for w, way in zip(words, ways, strict=True))
    return ", ".join(told)


def _edge_names(target: BookPart, panel: str) -> tuple[str, str, str, str]:
    """Return what the left, right, top and bottom of a panel are called.

    Those of boards and of the bound panel of a page by where they are in the book, so
    that it does not matter from which side one looks.
    """
    if target.key in _EDGES:
        return _EDGES[target.key]
    bound = target.part.bound
    if bound is None or bound.panel.split(" ")[0] != panel or bound.side not in ("left", "right"):
        return "left edge", "right edge", "top edge", "bottom edge"
    sides = ("binding edge", "fore-edge")
    left, right = sides if bound.side == "left" else reversed(sides)
    return left, right, "head", "tail"


def _along(span: Span, near: str, far: str, units: Unit) -> str:
    if span.near == span.far:
        if span.near < ZERO:
            return f"reaching {shown(-span.near, units)} past it at both sides"
        return MIDDLE if span.near else WHOLE
    gap, edge = (span.near, near) if span.near < span.far else (span.far, far)
    if gap < ZERO:
        return f"reaching {shown(-gap, units)} past its {edge}"
    return f"{shown(gap, units)} from its {edge}" if gap else f"along its {edge}"
