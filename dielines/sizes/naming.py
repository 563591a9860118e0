"""Names of sizes: what a person means by the words for one, and all that there are."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from textwrap import wrap

from ..documents import suggestion
from ..errors import UsageError
from .reasons import Reasons

ALL = "all"  #: what one asks for to see every name
_WIDTH = 98
#: Other words for a size, or for the sides of a thing (across, then up).
_MEANT = {
    "spine_width": ("spine",),
    "spine_board": ("spine", "board_height"),
    "spine_board_width": ("spine",),
    "spine_height": ("board_height",),
    "spine_board_height": ("board_height",),
    "cover": ("board_width", "board_height"),
    "turn_ins": ("turn_in",),
    "border": ("mat_border",),
    "mats": ("mat_border",),
    "seam": ("seam_tab",),
    "edge_strips": ("edge_strip_fore_edge", "edge_strip_head_and_tail"),
}
_SIDES = ("width", "height")
_PAGE = re.compile(r"pages?_?(\d+)[_.:]+(.+)")
_OF_PAGE = re.compile(r"(.+)_(?:of|on)_(page_\d+)")
_BOARD = re.compile(r"(?:front|back)_board(?=_|$)")
_COUNTED = re.compile(r"page_\d+")


def names_of_sizes(reasons: Reasons, name: str) -> tuple[str, ...]:
    """Return the names of the sizes that a person calls *name*; raises UsageError with all names.

    A thing stands for its width and height; a size of pages for that of each page.
    """
    names = reasons.by_name
    for known in _spellings(name):
        meant = tuple(size for size in _MEANT.get(known, ()) if size in names)
        sides = tuple(f"{known}_{side}" for side in _SIDES if f"{known}_{side}" in names)
        of_pages = tuple(size for size in names if size.endswith(f".{known}"))
        found = (known,) if known in names else meant or sides or of_pages
        if found:
            return found
    raise UsageError(_unknown(reasons, name))


def _spellings(name: str) -> Iterator[str]:
    """Yield ways to read *name*: as it stands, then with the page in front of a dot."""
    known = re.sub(r"[\s_:-]+", "_", name.strip().casefold()).strip("_")
    known = known.removeprefix("the_")
    yield known
    yield _PAGE.sub(r"page_\1.\2", known)
    yield _OF_PAGE.sub(r"\2.\1", known)
    yield _BOARD.sub("board", known)


def _unknown(reasons: Reasons, name: str) -> str:
    known = next(_spellings(name))
    hint = suggestion(known, [*reasons.by_name, *_MEANT]) if known else ""
    lines = [f"no size is called {name[:60]!r}{hint or '. There are:'}"]
    for heading, names in grouped_names(reasons):
        text = f"{heading}: {', '.join(_without_numbers(names))}"
        lines += wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="    ")
    return "\n".join([*lines, f"  --why {ALL} shows each with its value."])


def grouped_names(reasons: Reasons) -> Iterator[tuple[str, list[str]]]:
    """Yield the names of usual sizes, of sizes that were found, and of those of single pages."""
    of_pages = [name for name in reasons.by_name if _COUNTED.match(name)]
    given = [
        name
        for name, reason in reasons.by_name.items()
        if not reason.formula and name not in of_pages
    ]
    found = [name for name in reasons.by_name if name not in {*of_pages, *given}]
    groups = {"given or usual": given, "worked out": found, "of single pages": of_pages}
    yield from ((heading, names) for heading, names in groups.items() if names)


def _without_numbers(names: Collection[str]) -> list[str]:
    """Return *names* with those that differ in their number only once.

    >>> _without_numbers(["page_1.depth", "page_12.depth", "channel_2", "spine"])
    ['page_N.depth', 'channel_N', 'spine']
    """
    return list(dict.fromkeys(re.sub(r"_\d+(?=[._]|$)", "_N", name) for name in names))
