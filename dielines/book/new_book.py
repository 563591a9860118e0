"""A new book file: a working book with the usual sizes beside it, ready to edit."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import cycle, islice

from ..documents import Refusal
from ..errors import UsageError
from ..lengths import Unit
from ..sizes.exact import exact_words
from ..sizes.sizes_file import toml_text
from ..sizes.usual import UsualSize, usual_sizes
from ..sizes.values import text_of
from .listing import MOST_PAGES
from .reading import kind_and_sides

END_PAGE = "side pocket"
INNER_PAGES = ("flap", "plain leaf", "gate doors")
PAGES_IN_A_LINE = 4
_FLAP = {"in": '"2 1/2"', "mm": "60"}
_THING = {
    "in": '{ what = "ticket", size = "2 x 5", thick = "1/32", count = 3 }',
    "mm": '{ what = "ticket", size = "50 x 130", thick = 1, count = 3 }',
}

_TEXT = """\
# A book. Change what you like; a line that begins with # is only a remark.
# Without a unit, a number counts in the units below; write "2 1/2", "60 mm" or "6 cm" as you like.

title   = {title}
units   = "{units}"
size    = {size}
          # across x up; one size drives all others: that of a photo, a page, a board,
          # or the sheet that the pages are cut from
binding = {binding}
pages   = [                   # from the front cover to the back cover
{pages}
]
mats    = "none"              # or "both sides", "inner side", "outer side"

# What differs on one page goes under its number. Take away the # to use it.
# [page.{flap_page}]
# flap = {flap}

# What holds for every page of a kind:
# [every."{end_page}"]
# holds = {thing}

[spine]
width = "usual"               # or "to fit", from paper and contents, or a size

[make]
copies = 1
spares = 0                    # of each part, in case one is spoiled

# Which material plays which role; the names stand in your workshop file.
[paper]
# pages  = "cream cardstock"
# boards = "grey board"

# The usual sizes (common practice). Take away the # to change one for this book.
[usual]
{usual}
"""


def new_book_text(title: str, size: str, pages: int, units: Unit, binding: str) -> str:
    """Return a book file of *pages* pages of different kinds, with the usual sizes as remarks.

    *size* is as in a book file, "photo 5 x 7". Raises UsageError for what no
    book can have.
    """
    if not 1 <= pages <= MOST_PAGES:
        raise UsageError(f"a book has from 1 to {MOST_PAGES} pages, not {pages}")
    try:
        kind_and_sides(size, units)
        return _TEXT.format(
            title=toml_text(text_of(title)),
            size=toml_text(text_of(size)),
            units=units,
            binding=toml_text(text_of(binding)),
            pages=_page_lines(page_kinds(pages)),
            flap_page=min(2, pages),
            flap=_FLAP[units],
            end_page=END_PAGE,
            thing=_THING[units],
            usual=_usual_lines(units),
        )
    except Refusal as problem:
        raise UsageError(f"{problem.message}. {problem.remedy}".rstrip(". ")) from None


def page_kinds(pages: int) -> list[str]:
    """Return the kinds of so many pages: pockets at both ends, others in turn between them.

    >>> page_kinds(5)
    ['side pocket', 'flap', 'plain leaf', 'gate doors', 'side pocket']
    """
    inner = list(islice(cycle(INNER_PAGES), max(pages - 2, 0)))
    return [END_PAGE, *inner, END_PAGE][:pages] if pages > 1 else [END_PAGE]


def _page_lines(kinds: Sequence[str]) -> str:
    rows = [
        kinds[start : start + PAGES_IN_A_LINE] for start in range(0, len(kinds), PAGES_IN_A_LINE)
    ]
    return "\n".join("  " + " ".join(f'"{kind}",' for kind in row) for row in rows)


def _usual_lines(units: Unit) -> str:
    rows = usual_sizes(units).rows.values()
    return "\n".join(
        f"# {row.name:17} = {_said(row, units):16} # {row.help}{_or_else(row)}" for row in rows
    )


def _or_else(row: UsualSize) -> str:
    """Return the other words that may stand for *row*."""
    others = [f'; or "{word}"' for word in row.words if word != row.word]
    return "".join(others)


def _said(row: UsualSize, units: Unit) -> str:
    """Return what a book writes for the usual value of *row*."""
    if row.length is not None:
        words = exact_words(row.length, units).removesuffix(f" {units}")
        return words if words.isdigit() else f'"{words}"'
    return toml_text(row.word)
