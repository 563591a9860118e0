"""The cells of a row: names of panels, dots, brackets around what repeats, ``#`` for its number."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..documents import Refusal

AWAY = "."
_PANEL_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}#?")
_WORD = re.compile(r"[()]|[^\s()]+")


@dataclass(frozen=True, slots=True)
class Block:
    """One entry of ``columns``: a single column, or columns that repeat in turns.

    *widths* are all columns it became, mm, turn after turn; *pattern* says how
    many columns one turn has, 0 where a fault leaves that open.
    """

    widths: tuple[Fraction, ...]
    pattern: int
    is_repeated: bool


@dataclass(frozen=True, slots=True)
class _Word:
    text: str
    offset: int


def cells_of(words: str, shift: int, blocks: Sequence[Block], turn: int) -> Iterator[str]:
    """Yield one name a column; brackets show which cells repeat with their columns.

    *shift* is where *words* begin in the text of the row, *turn* the index of a
    repeat that the row stands in, or 0. Raises Refusal at the culprit.
    """
    waiting = deque(_Word(m[0], m.start() + shift) for m in _WORD.finditer(words))
    found = 0
    for position, block in enumerate(blocks):
        if not waiting:
            break
        word = waiting.popleft()
        if word.text == ")":
            raise Refusal("bracket", "')' without '('", offset=word.offset)
        if (word.text == "(") != block.is_repeated:
            if word.text == "(":
                _group(deque(waiting), word)
            raise _misplaced_bracket(word, position, block)
        found += 1
        if block.is_repeated:
            yield from _repeated_cells(_group(waiting, word), block)
        else:
            yield _cell_name(word, turn)
    extra = waiting[0].offset if waiting else 0
    found += _counted_groups(waiting)
    if found != len(blocks):
        have, want = _counted(found, "cell"), _counted(len(blocks), "column")
        verb = "is" if len(blocks) == 1 else "are"
        raise Refusal("cell-count", f"this row has {have}, but there {verb} {want}", offset=extra)


def _misplaced_bracket(word: _Word, position: int, block: Block) -> Refusal:
    column = f"column {position + 1}"
    if block.is_repeated:
        message, remedy = f"{column} is repeated", "Put its cells in brackets: ( name# )."
    else:
        message, remedy = f"{column} is not repeated", "Leave out the brackets."
    return Refusal("not-repeated", message, remedy, word.offset)


def _counted_groups(waiting: Iterable[_Word]) -> int:
    """Return how many cells are left over, a bracketed group counting as one; raises Refusal."""
    count = depth = 0
    for word in waiting:
        if word.text == ")" and depth == 0:
            raise Refusal("bracket", "')' without '('", offset=word.offset)
        count += depth == 0
        depth += (word.text == "(") - (word.text == ")")
    return count


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _group(waiting: deque[_Word], opening: _Word) -> list[_Word]:
    group: list[_Word] = []
    while waiting:
        word = waiting.popleft()
        if word.text == ")":
            return group
        group.append(word)
    raise Refusal("bracket", "'(' without ')'", offset=opening.offset)


def _repeated_cells(group: list[_Word], block: Block) -> Iterator[str]:
    if not block.pattern:
        return
    if len(group) != block.pattern:
        have = _counted(len(group), "cell")
        raise Refusal("cell-count", f"the brackets hold {have} for {block.pattern} columns")
    for turn in range(1, len(block.widths) // block.pattern + 1):
        for word in group:
            yield _cell_name(word, turn)


def _cell_name(word: _Word, turn: int) -> str:
    if word.text == AWAY:
        return AWAY
    if not _PANEL_NAME.fullmatch(word.text):
        told = f"{word.text[:40]!r} is not a panel name (small letters, digits, _) nor a dot"
        raise Refusal("bad-name", told, offset=word.offset)
    if not word.text.endswith("#"):
        return word.text
    if not turn:
        raise Refusal("bad-name", "# counts inside a repeat only", offset=word.offset)
    return f"{word.text[:-1]}{turn}"


def refuse_no_name(name: str) -> None:
    """Raise Refusal unless a panel, a zone or a line may be called *name*."""
    if not _PANEL_NAME.fullmatch(name) or "#" in name:
        told = f"{name[:40]!r} is not a name (small letters, digits, _)"
        raise Refusal("bad-name", told)


def names_said(rows: object) -> frozenset[str]:
    """Return the panels that rows speak of, those included that sizes of 0 make vanish."""
    words: set[str] = set()
    for entry in rows if isinstance(rows, list) else ():
        if isinstance(entry, dict):
            words |= names_said(entry.get("rows"))
        elif isinstance(entry, str):
            words.update(_WORD.findall(entry.partition(":")[2]))
    return frozenset(word for word in words if _PANEL_NAME.fullmatch(word))
