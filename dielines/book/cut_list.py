"""The cut list: what is cut, from what, how often, how large, and all that is done on it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from types import MappingProxyType

from ..lengths import Length
from ..part import Part
from ..part_motion import mirrored
from ..paths import bounds_of
from ..workshop.stock import Stock
from .book import Book, BookPart
from .letters import shape_key
from .outlines import corners_of
from .spans import Span, measured
from .worklines import Workline, worklines

_OF_PAGE = re.compile(r"\bpage (\d+)(?=:|$)", re.ASCII)


@dataclass(frozen=True)
class Row:
    """Parts that are cut alike: one letter.

    *corners* are those of the outline, clockwise from the top left, as distances
    from the left and from the top; none where it is a rectangle but for notches
    and round corners. *mirror_image* is the letter of the parts that are the
    mirror image, itself where left and right are alike, or empty.
    """

    letter: str
    entries: tuple[BookPart, ...]
    pieces: int  #: of one copy of the book
    total: int  #: of all copies, with the spares
    worklines: tuple[Workline, ...]
    corners: tuple[tuple[Length, Length], ...]
    mirror_image: str
    notes: tuple[str, ...]  #: remarks of the person and of the composer

    @property
    def part(self) -> Part:
        """One of the parts."""
        return self.entries[0].part

    @property
    def role(self) -> str:
        """The role of its stock in the book."""
        return self.entries[0].role

    @property
    def stock(self) -> Stock:
        """What it is cut from."""
        return self.entries[0].stock

    @property
    def width(self) -> Length:
        """Size across."""
        return measured(self.part.width)

    @property
    def height(self) -> Length:
        """Size up."""
        return measured(self.part.height)


def cut_list(book: Book) -> tuple[Row, ...]:
    """Return a row for each letter of *book*, in order of first appearance."""
    pages = {f"page-{page.number}": page.note for page in book.request.pages}
    return rows_of(book.parts, book.request.copies, book.request.spares, pages)


def rows_of(
    parts: Sequence[BookPart],
    copies: int = 1,
    spares: int = 0,
    remarks: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Row, ...]:
    """Return a row for each letter of *parts*; *remarks* are the person's, by key of the part."""
    by_letter: dict[str, list[BookPart]] = {}
    for entry in parts:
        by_letter.setdefault(entry.letter, []).append(entry)
    images = mirror_images(entries[0] for entries in by_letter.values())
    return tuple(
        Row(
            letter,
            tuple(entries),
            len(entries),
            copies * (len(entries) + spares),
            worklines(entries[0].part),
            outline_corners(entries[0].part),
            images[letter],
            tuple(_notes(entries, remarks)),
        )
        for letter, entries in by_letter.items()
    )


def _notes(entries: Sequence[BookPart], remarks: Mapping[str, str]) -> Iterator[str]:
    for entry in entries:
        if remarks.get(entry.key):
            yield f"{entry.title.partition(':')[0]}: {remarks[entry.key]}"
        if entry.note:
            yield entry.note


def mirror_images(entries: Iterable[BookPart]) -> dict[str, str]:
    """Return for each letter that of its mirror image, itself where both are alike, or nothing."""
    entries = list(entries)
    letters = {(entry.role, *shape_key(entry.part)): entry.letter for entry in entries}
    return {
        entry.letter: letters.get((entry.role, *shape_key(mirrored(entry.part))), "")
        for entry in entries
    }


def outline_corners(part: Part) -> tuple[tuple[Length, Length], ...]:
    """Return the corners of an outline that is no rectangle: from the left, from the top."""
    page = bounds_of(part.outline[:1])
    return tuple(
        (measured(point.x - page.left), measured(page.top - point.y))
        for point in corners_of(part.outline[0])
    )


def by_stock(rows: Sequence[Row]) -> list[list[Row]]:
    """Return the rows of each stock, in order of first appearance."""
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row.stock.name, []).append(row)
    return list(found.values())


def merged_titles(titles: Sequence[str]) -> list[str]:
    """Return *titles* with those that differ in the number of their page only told together.

    >>> merged_titles(["page 2: flap", "page 3: flap", "page 4: flap", "page 7: flap", "board"])
    ['pages 2 to 4, 7: flap', 'board']
    >>> merged_titles(["tag for page 1", "tag for page 2", "tag for page 2"])
    ['tag for pages 1, 2']
    """
    groups: dict[str, list[int]] = {}
    for title in titles:
        words, number = _split(title)
        groups.setdefault(words, []).append(number)
    return [_told(words, numbers) for words, numbers in groups.items()]


def _split(title: str) -> tuple[str, int]:
    """Return *title* with ``#`` for its page and number, and the number; 0 without one."""
    match = _OF_PAGE.search(title)
    if match is None:
        return title, 0
    return f"{title[: match.start()]}#{title[match.end() :]}", int(match[1])


def _told(words: str, numbers: Sequence[int]) -> str:
    if not any(numbers):
        return words
    return words.replace("#", f"page{'s' if len(set(numbers)) > 1 else ''} {_ranges(numbers)}", 1)


def _ranges(numbers: Sequence[int]) -> str:
    """Return numbers in order, neighbours as "2 to 4"."""
    runs = []
    for _, run in groupby(enumerate(sorted(set(numbers))), key=lambda pair: pair[1] - pair[0]):
        values = [value for _, value in run]
        short = ", ".join(map(str, values))
        runs.append(short if len(values) < 3 else f"{values[0]} to {values[-1]}")
    return ", ".join(runs)


def as_json(rows: Sequence[Row]) -> list[dict[str, object]]:
    """Return the rows as tables, lists, numbers and texts; sizes in mm."""
    return [_row_as_json(row) for row in rows]


def _row_as_json(row: Row) -> dict[str, object]:
    return {
        "letter": row.letter,
        "parts": [{"key": entry.key, "title": entry.title} for entry in row.entries],
        "pieces": row.pieces,
        "total": row.total,
        "role": row.role,
        "stock": row.stock.name,
        "grain": row.part.grain,
        "width": _mm(row.width),
        "height": _mm(row.height),
        "mirror_image": row.mirror_image,
        "notes": list(row.notes),
        "lines": [_line_as_json(line) for line in row.worklines],
        "corners": [[_mm(x), _mm(y)] for x, y in row.corners],
    }


def _line_as_json(line: Workline) -> dict[str, object]:
    return {
        "work": line.work.value,
        "way": line.way.value,
        "across": _span_as_json(line.across, "left", "right"),
        "up": _span_as_json(line.up, "top", "bottom"),
        "detail": line.detail,
        "name": line.name,
        "edge": line.edge,
    }


def _span_as_json(span: Span, near: str, far: str) -> Mapping[str, float]:
    return {
        f"from_{near}": _mm(span.near),
        "size": _mm(span.size),
        f"from_{far}": _mm(span.far),
    }


def _mm(length: Length) -> float:
    return round(float(length.mm), 6)
