"""The cut list as text for people: at most 100 columns, readable in a plain editor."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap

from ..bindings.bound import Note
from ..lengths import ZERO, Length, Unit, millimetres
from ..part import Part
from ..workshop.machine import Machine
from ..workshop.stock import Stock, caliper_words
from .book import Book
from .cut_list import Row, by_stock, cut_list, merged_titles, outline_corners
from .spans import OTHER_UNIT, Span, measured, shown, shown_from_edges, shown_reach, shown_sides
from .working_steps import working_steps
from .worklines import Way, Work, Workline, worklines

WIDTH = 100
ASSUMED = "assumed"
_GRAIN = {"up": "up", "across": "across", "free": "any"}
_ROLES = {"wrap": "the joint wrap", "lining": "the spine lining", "edges": "edge strips"}
_TOLD_ONCE = (Work.WINDOW, Work.ROUND_CORNER)  #: not in the tables
_TITLES, _REMARK = 66, 68  #: columns of the titles of parts, of the remarks on lines
NEARLY = millimetres("0.01")  #: nobody sees that the middle of a circle is off by less
_NO_BREAK = "\N{NO-BREAK SPACE}"
_LENGTH = r"(?:≈ )?\d[\d.]*(?: \d+/\d+|/\d+)?"
_SIZE = re.compile(rf"\({_LENGTH}, {_LENGTH}\)|{_LENGTH}(?: (?:x|to) {_LENGTH})?(?: (?:in|mm)\b)?")


def cut_list_text(book: Book, machine: Machine) -> str:
    """Return the text of ``cut-list.txt``; the same book gives the same text."""
    rows = cut_list(book)
    lines = [
        *_head(book),
        *_section("Parts", _parts(book, rows)),
        *_section("Scores, notches and corners", work_lines(rows, book.units)),
        *_section("Joins, in the order of working", _joins(book)),
        *_section("Worth knowing", note_lines(book.notes)),
        *_section("Assumed, not measured by you", assumed_lines(book.notes)),
        *_section("Mind", _cautions(machine)),
    ]
    return "\n".join(lines) + "\n"


def _section(title: str, lines: Iterator[str]) -> Iterator[str]:
    found = list(lines)
    if found:
        yield from ("", title.upper(), "", *found)


def _head(book: Book) -> Iterator[str]:
    yield from _wrapped(f"{book.title}: cut list")
    yield ""
    copies, spares = book.request.copies, book.request.spares
    if copies > 1 or spares:
        plural = "y" if copies == 1 else "ies"
        more = f", with {spares} spare of each letter in every copy" if spares else ""
        yield from _wrapped(
            f'For {copies} cop{plural}{more}: "cut" counts them all; the guide holds one copy.'
        )
    yield from _wrapped(
        "Parts with one letter are cut alike. Sizes are across x up, as each part lies in the guide "
        "with its face towards you; places are measured from the edges of the whole part, those of "
        "notches and holes to their middle. At a valley score the paper is folded up towards you, at a "
        "mountain score back away from you. A line that does not run from edge to edge says where it does: top 1/2 to 2. "
        "≈ stands before what was rounded, to 1/32 in or 0.1 mm."
    )


def _parts(book: Book, rows: Sequence[Row]) -> Iterator[str]:
    yield from part_lines(rows, book.units)


def part_lines(rows: Sequence[Row], units: Unit) -> Iterator[str]:
    """Yield the table of parts, those of one stock together."""
    for number, group in enumerate(by_stock(rows)):
        if number:
            yield ""
        roles = ", ".join(dict.fromkeys(_ROLES.get(row.role, row.role) for row in group))
        yield from _wrapped(f"{stock_words(group[0].stock)}, for {roles}", 0, 4)
        yield _columns("", "cut", f"size, {units}", f"size, {OTHER_UNIT[units]}", "grain", "part")
        for row in group:
            yield from _row_lines(row, units)


def stock_words(stock: Stock) -> str:
    """Return a stock with its thickness."""
    return f"{stock.name}, {_thickness(stock.caliper, stock.caliper_is_typical)}"


def _thickness(caliper: Length, is_typical: bool) -> str:
    return f"{caliper_words(caliper)} thick{' (typical: measure yours)' if is_typical else ''}"


def _columns(letter: str, cut: str, size: str, other: str, grain: str, part: str) -> str:
    return f"{letter:<4}{cut:>4}  {size:<23} {other:<23} {grain:<8}{part}".rstrip()


def _row_lines(row: Row, units: Unit) -> Iterator[str]:
    titles = "; ".join(merged_titles([entry.title for entry in row.entries]))
    first, *others = _broken(titles, WIDTH - _TITLES)
    size, other_size = (size_words(row, unit) for unit in (units, OTHER_UNIT[units]))
    grain = _GRAIN[row.part.grain]
    yield _columns(row.letter, str(row.total), size, other_size, grain, first)
    for other in others:
        yield _columns("", "", "", "", "", other)


def size_words(row: Row, unit: Unit) -> str:
    """Return across x up without the unit."""
    return shown_sides(row.width, row.height, unit)


def work_lines(rows: Sequence[Row], units: Unit) -> Iterator[str]:
    """Yield for each letter its scores, notches and corners, and its mirror image."""
    blocks = (list(_block(row, rows, units)) for row in rows if _says_more(row))
    for number, block in enumerate(blocks):
        if number:
            yield ""
        yield from block


def letter_lines(rows: Sequence[Row], letter: str, units: Unit) -> Iterator[str]:
    """Yield all that the cut list says of one letter."""
    wanted = [row for row in rows if row.letter == letter]
    yield from part_lines(wanted, units)
    for row in filter(_says_more, wanted):
        yield ""
        yield from _block(row, rows, units)


def piece_lines(part: Part, units: Unit) -> Iterator[str]:
    """Yield size, scores, notches and corners of a part of which nothing else is known."""
    sides = measured(part.width), measured(part.height)
    sizes = (f"{shown_sides(*sides, unit)} {unit}" for unit in (units, OTHER_UNIT[units]))
    yield f"    {', '.join(sizes)}"
    yield from _tables(worklines(part), units)
    yield from _corner_lines(outline_corners(part), units)


def _says_more(row: Row) -> bool:
    """Return whether there is more to tell than letter and size."""
    has_image = row.mirror_image not in ("", row.letter)
    return bool(row.worklines or row.corners or row.notes or has_image)


def _block(row: Row, rows: Sequence[Row], units: Unit) -> Iterator[str]:
    other = OTHER_UNIT[units]
    sizes = f"{size_words(row, units)} {units}, {size_words(row, other)} {other}"
    title, *others = merged_titles([entry.title for entry in row.entries])
    more = ", and others" if others else ""
    yield from _wrapped(f"{row.letter:<4}{title}{more}: {sizes}", 0, 4)
    yield from (f"    {line}" for line in _mirror_lines(row, rows))
    for note in dict.fromkeys(row.notes):
        yield from _wrapped(note, 4, 4)
    yield from _tables(row.worklines, units)
    yield from _corner_lines(row.corners, units)


def _mirror_lines(row: Row, rows: Sequence[Row]) -> Iterator[str]:
    """Yield what one should know of the mirror image, told at both letters."""
    image = row.mirror_image
    if not image or image == row.letter:
        return
    yield f"Mirror image of {image}."
    letters = [other.letter for other in rows]
    if letters.index(row.letter) > letters.index(image):
        return
    if row.stock.is_own_mirror_image:
        yield from wrap(
            f"This {row.stock.name} has no printed side, so {image} may also be cut as {row.letter} "
            "and turned over: fold each score the other way and put the tape on the other side.",
            WIDTH - 4,
        )
    else:
        yield from wrap(
            f"This {row.stock.name} has a printed side: never turn {row.letter} over to serve as {image}.",
            WIDTH - 4,
        )


def _tables(lines: Sequence[Workline], units: Unit) -> Iterator[str]:
    """Yield what is measured from left and right, then from top and bottom, then the rest."""
    yield from _table([_from_left(line, units) for line in lines if _is_across(line)], units, 0)
    yield from _table([_from_top(line, units) for line in lines if _is_up(line)], units, 1)
    for line in lines:
        if line.work is Work.WINDOW:
            yield from _wrapped(_window_words(line, units), 4, 8)
        if line.work is Work.ROUND_CORNER:
            yield f"    round corner, {line.detail}, radius {shown(line.across.size, units)} {units}"


def _window_words(line: Workline, units: Unit) -> str:
    """Return the size of a window and how far each of its edges lies from that of the part."""
    sides = (line.across.near, line.across.far, line.up.near, line.up.far)
    edges = ("left", "right", "top", "bottom")
    words = [
        ", ".join(f"{shown(gap, unit)} {edge}" for gap, edge in zip(sides, edges, strict=True))
        for unit in (units, OTHER_UNIT[units])
    ]
    size = shown_sides(line.across.size, line.up.size, units)
    kind = f"window ({line.detail})" if line.detail else "window"
    other = OTHER_UNIT[units]
    return f"{kind} {size} {units}, its edges from those of the part: {words[0]}; in {other}: {words[1]}"


def _is_across(line: Workline) -> bool:
    is_at_side = line.edge in ("left", "right")
    return line.way is not Way.LEVEL and line.work not in _TOLD_ONCE and not is_at_side


def _is_up(line: Workline) -> bool:
    is_at_end = line.edge in ("top", "bottom")
    return line.way is not Way.UPRIGHT and line.work not in _TOLD_ONCE and not is_at_end


@dataclass(frozen=True)
class _TableRow:
    """What is done, where its middle lies in the one direction, and the rest in words."""

    what: str
    span: Span
    remark: str


def _from_left(line: Workline, units: Unit) -> _TableRow:
    return _TableRow(line.work.value, line.across.middle, _remark(line, line.up, "top", units))


def _from_top(line: Workline, units: Unit) -> _TableRow:
    return _TableRow(line.work.value, line.up.middle, _remark(line, line.across, "left", units))


def _remark(line: Workline, reach: Span, start: str, units: Unit) -> str:
    """Return what a line parts and how far it reaches, or the size and shape of anything else."""
    if line.way in (Way.UPRIGHT, Way.LEVEL):
        along = "" if reach.is_whole else f"{start} {shown_reach(reach, units)}"
        return ", ".join(filter(None, [_plain(line.name), along]))
    if line.diameter:
        return _circle_words(line, units)
    size = shown_sides(line.across.size, line.up.size, units)
    shape = f"{line.way.value}, see the guide" if line.way is not Way.NONE else line.detail
    edge = line.edge and f"in the {line.edge} edge"
    return ", ".join(filter(None, [shape, edge, size]))


def _circle_words(line: Workline, units: Unit) -> str:
    """Return the circle of a round notch: how wide it is and where its middle lies."""
    place = f"on the {line.edge} edge"
    off, side = (line.beyond, "outside") if line.beyond > ZERO else (-line.beyond, "inside")
    if off > NEARLY:
        place = f"{shown(off, units)} {side} the {line.edge} edge"
    return f"circle of {shown(line.diameter, units)} across, its middle {place}"


def _plain(name: str) -> str:
    return name.replace("binding.", "").replace("_", " ")


def _table(rows: Sequence[_TableRow], units: Unit, way: int) -> Iterator[str]:
    if not rows:
        return
    edges = (("left", "right"), ("top", "bottom"))[way]
    yield _table_line("from the", *edges, units, *edges, OTHER_UNIT[units])
    for row in rows:
        first, second = (shown_from_edges(row.span, u) for u in (units, OTHER_UNIT[units]))
        remarks = _broken(row.remark, WIDTH - _REMARK) or [""]
        yield f"{_table_line(row.what, *first, '', *second, ''):<{_REMARK}}{remarks[0]}".rstrip()
        yield from (" " * _REMARK + remark for remark in remarks[1:])


def _table_line(
    what: str, near: str, far: str, unit: str, other_near: str, other_far: str, other_unit: str
) -> str:
    first = f"{near:>10}{far:>11} {unit:<2}"
    return f"    {what:<14}{first}{other_near:>11}{other_far:>11} {other_unit:<2}"


def _corner_lines(corners: Sequence[tuple[Length, Length]], units: Unit) -> Iterator[str]:
    """Yield the corners of an outline that is no rectangle."""
    if corners:
        points = " ".join(f"({shown(x, units)}, {shown(y, units)})" for x, y in corners)
        text = f"Corners of the outline, clockwise (from the left, from the top): {points}"
        yield from _wrapped(text, 4, 4)


def _joins(book: Book) -> Iterator[str]:
    for number, words in enumerate(working_steps(book), 1):
        yield from _wrapped(f"{number:>3}  {words}.", 0, 5)


def note_lines(notes: Sequence[Note]) -> Iterator[str]:
    """Yield what a person should know of how sizes and parts came about."""
    for note in notes:
        if note.code != ASSUMED:
            yield from _wrapped(f"- {note.subject}: {note.text}", 0, 2)


def assumed_lines(notes: Sequence[Note]) -> Iterator[str]:
    """Yield what was taken from typical values."""
    for note in notes:
        if note.code == ASSUMED:
            yield from _wrapped(f"- {note.text}", 0, 2)


def _cautions(machine: Machine) -> Iterator[str]:
    yield from _wrapped(
        "- Blades: change dull ones, cut away from the hand, keep them from children.", 0, 2
    )
    yield from _wrapped("- Small parts and offcuts are no toys for small children.", 0, 2)
    if machine.kerf:
        yield from _wrapped(
            "- A laser: stay with it, with air drawn off, and cut only what its manual allows.",
            0,
            2,
        )
    yield from _wrapped(
        "- The manual of your machine, the rules of your place and licensed practice go before "
        "anything that is written here.",
        0,
        2,
    )


def _wrapped(text: str, first: int = 0, others: int = 0) -> list[str]:
    """Return *text* in lines of the page, indented; sizes are not broken."""
    return _broken(text, WIDTH, " " * first, " " * others)


def _broken(text: str, width: int, first: str = "", others: str = "") -> list[str]:
    lines = wrap(
        _SIZE.sub(lambda match: match[0].replace(" ", _NO_BREAK), text),
        width,
        initial_indent=first,
        subsequent_indent=others,
        break_on_hyphens=False,
    )
    return [line.replace(_NO_BREAK, " ") for line in lines]
