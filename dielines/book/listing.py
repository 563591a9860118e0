"""The list of pages: ``pages = ["side pocket", "9 x top pocket"]``."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..documents import Place, Refusal
from ..fields import name_of_kind
from ..sizes.values import text_of
from .entries import SHOWN, read
from .words import Words, name_of

MOST_PAGES = 200
_TIMES = re.compile(r"(\d+)\s*(?:x\s+|×)\s*(\S.*)", re.IGNORECASE | re.ASCII)
_NO_TIMES = re.compile(r"(?P<count>\d+)\s+(?P<kind>[^\d\s].*)", re.ASCII)
_TURNED = re.compile(r"(?P<kind>\S.*?)\s*[x×]\s*(?P<count>\d+)", re.IGNORECASE | re.ASCII)


@dataclass(frozen=True)
class Listed:
    """The kinds of the pages, front cover to back cover; None for one that is unknown."""

    kinds: tuple[str | None, ...]
    is_complete: bool  #: whether the number of pages is known

    @property
    def last(self) -> int:
        """The number of the last page."""
        return len(self.kinds)


def read_listing(place: Place, value: object, words: Words) -> Listed:
    """Return the pages that the list *value* says; whatever is wrong is reported."""
    if not isinstance(value, list):
        shown = f'["{value[:SHOWN]}"]' if isinstance(value, str) else '["flap", "2 x plain leaf"]'
        message = f"expected a list, got {name_of_kind(value)}"
        place.report("wrong-kind", message, f"Write pages = {shown}.")
        return Listed((), is_complete=False)
    if not value:
        place.report("no-pages", "a book has at least one page")
    kinds: list[str | None] = []
    is_complete = True
    for index, entry in enumerate(value[: MOST_PAGES + 1]):
        at = (place / index).called(f"pages: entry {index + 1}")
        count, kind = _counted(at, entry, words)
        is_complete = is_complete and count > 0
        kinds.extend([kind] * max(count, 1))
    if len(kinds) > MOST_PAGES:
        place.report("too-many-pages", f"more than {MOST_PAGES} pages")
        return Listed((), is_complete=False)
    return Listed(tuple(kinds), is_complete and bool(kinds))


def _counted(place: Place, entry: object, words: Words) -> tuple[int, str | None]:
    """Return how many pages *entry* stands for (0: unknown) and of which kind."""
    said = read(place, lambda: times_of(text_of(entry)))
    if said is None:
        return 0, None
    count, written = said
    return count, read(place, name_of, written, words.page_kinds, "page kind")


def times_of(text: str) -> tuple[int, str]:
    """Return how many pages of which kind *text* says; raises Refusal.

    >>> times_of("9x top pocket"), times_of("9 × flap"), times_of("flap")
    ((9, 'top pocket'), (9, 'flap'), (1, 'flap'))
    """
    match = _TIMES.fullmatch(text)
    if match:
        return _count(match[1]), match[2]
    other = _NO_TIMES.fullmatch(text) or _TURNED.fullmatch(text)
    if other:
        remedy = f'Write "{other["count"][:6]} x {other["kind"][:SHOWN]}".'
        raise Refusal("count-of-pages", f"{text[:SHOWN]!r} is not a kind of page", remedy)
    return 1, text


def _count(digits: str) -> int:
    if len(digits) > 6 or not 1 <= int(digits) <= MOST_PAGES:
        raise Refusal("out-of-range", f"{digits[:12]} is outside 1 to {MOST_PAGES} pages")
    return int(digits)
