"""The tape plan as text for people: at most 100 columns, in the manner of the cut list."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from textwrap import wrap

from ..book.book import Book
from ..book.cut_list import merged_titles
from ..book.join_words import panel_words
from ..book.spans import OTHER_UNIT, shown, shown_sides
from ..lengths import MM_PER_UNIT, Length, Unit
from ..part import Part
from ..paths import bounds_of
from .strips import Cut, End, Strip, TapePlan, Way, WidthTotal, ZonePlan

WIDTH = 100
_REMARK = 71  #: column of the remarks
_NUMBERED = re.compile(r"(?<=[a-z])(?=\d+$)")  #: between a name and its number
_ENDS = {Way.UP: ("lower", "upper"), Way.ACROSS: ("left", "right"), Way.SLANTED: ("first", "other")}
_AREA = {"in": "sq in", "mm": "cm2"}
_MM_PER_METRE = 1000


def tape_plan_text(plan: TapePlan, book: Book) -> str:
    """Return the text of ``tape-plan.txt``; the same plan gives the same text."""
    lines = [*_head(plan, book), *_letters(plan, book), *_totals(plan, book)]
    return "\n".join(lines) + "\n"


def _head(plan: TapePlan, book: Book) -> Iterator[str]:
    yield from wrap(f"{book.title}: tape plan", WIDTH)
    yield ""
    copies, spares = book.request.copies, book.request.spares
    if copies > 1 or spares:
        more = f", with {spares} spare of each letter in every copy" if spares else ""
        yield from wrap(
            f'For {copies} cop{"y" if copies == 1 else "ies"}{more}: "cut" counts them all.', WIDTH
        )
    owned = ", ".join(shown(width, book.units) for width in book.tape.widths)
    yield from wrap(
        f"Tape: {plan.tape}, in the widths {owned} {book.units}. Each zone of tape has the fewest strips "
        "that fill it, of these the ones that leave the least gap, side by side in the order in which "
        "they stand here: from the left, or from the bottom where strips run across. A strip is width "
        "x length, as long as its longer edge; its ends are cut square unless an angle is given, which "
        "is that between the cut and the edges of the tape. Sides are as the part lies in the guide, its "
        "face towards you. ≈ stands before what was rounded, to 1/32 in or 0.1 mm. Ends at an angle are "
        "easiest trimmed along the edge of the paper, once the strip lies.",
        WIDTH,
    )


def _letters(plan: TapePlan, book: Book) -> Iterator[str]:
    for letter in dict.fromkeys(zone.letter for zone in plan.zones):
        zones = list(plan.of(letter))
        titles = "; ".join(merged_titles(list(zones[0].titles)))
        yield ""
        yield from wrap(f"{letter:<4}{titles}", WIDTH, subsequent_indent="    ")
        yield _row("", "cut", f"strip, {book.units}", f"strip, {OTHER_UNIT[book.units]}")
        for zone in zones:
            yield from _zone_lines(zone, book)


def _row(what: str, pieces: str, size: str, other: str) -> str:
    return f"    {what:<24}{pieces:>5}  {size:<17} {other:<18}".rstrip()


def _remarked(row: str, remark: str) -> Iterator[str]:
    first, *others = wrap(remark, WIDTH - _REMARK) or [""]
    yield f"{row:<{_REMARK}}{first}".rstrip()
    yield from (" " * _REMARK + other for other in others)


def _zone_lines(zone: ZonePlan, book: Book) -> Iterator[str]:
    """Yield a line for each strip of a zone, then what stays bare."""
    what = _what(zone, book.part(zone.key).part)
    if not zone.strips:
        room = f"{shown(zone.room, book.units)} {book.units}"
        yield from _remarked(_row(what, "0", "", ""), f"no tape is as narrow as {room}")
    for number, strip in enumerate(zone.strips):
        sizes = (_size(strip, unit) for unit in (book.units, OTHER_UNIT[book.units]))
        row = _row("" if number else what, str(zone.number), *sizes)
        yield from _remarked(row, _ends_words(zone, strip, book.units))
    if zone.strips and zone.gap:
        gap = f"{shown(zone.gap, book.units)} {book.units}"
        where = "between them" if len(zone.strips) > 1 else "half at each side"
        yield from _remarked("", f"gap of {gap}, {where}")


def _what(zone: ZonePlan, part: Part) -> str:
    """Return where a zone is: its panel and side, and the end of the panel where that has more."""
    words = _NUMBERED.sub(" ", panel_words(part, zone.panel))
    alike = [z for z in part.zones if (z.panel, z.side) == (zone.panel, zone.side)]
    place = f" {_place(zone, part)}" if len(alike) > 1 else ""
    return f"{words}{place}, {zone.side.value}"


def _place(zone: ZonePlan, part: Part) -> str:
    """Return at which end of its panel a zone lies: left, right, top or bottom."""
    path = next(z.path for z in part.zones if z.name == zone.zone)
    own, panel = bounds_of([path]), part.panel(zone.panel).bounds()
    across = float((own.left + own.right - panel.left - panel.right) / panel.width)
    up = float((own.bottom + own.top - panel.bottom - panel.top) / panel.height)
    if abs(across) > abs(up):
        return "right" if across > 0 else "left"
    return "top" if up > 0 else "bottom"


def _size(strip: Strip, unit: Unit) -> str:
    return shown_sides(strip.width, strip.length, unit)


def _ends_words(zone: ZonePlan, strip: Strip, units: Unit) -> str:
    first, last = strip.ends
    if first.cut is last.cut is Cut.SQUARE:
        return "across" if zone.way is Way.ACROSS else ""
    words = _angle_words(zone.way, first, last)
    if strip.short_edge != strip.length and Cut.SHAPED not in (first.cut, last.cut):
        words += f", shorter edge {shown(strip.short_edge, units)} {units}"
    return words


def _angle_words(way: Way, first: End, last: End) -> str:
    if (first.cut, _degrees(first)) == (last.cut, _degrees(last)):
        return f"both ends {_cut_words(first)}"
    names = _ENDS[way]
    ends = zip(names, (first, last), strict=True)
    return ", ".join(
        f"{name} end {_cut_words(end)}" for name, end in ends if end.cut is not Cut.SQUARE
    )


def _cut_words(end: End) -> str:
    return "cut along the shape" if end.cut is Cut.SHAPED else f"at {_degrees(end)}°"


def _degrees(end: End) -> str:
    return str(round(end.angle_deg))


# ------------------------------------------------------------------ totals


def _totals(plan: TapePlan, book: Book) -> Iterator[str]:
    if not plan.totals:
        return
    units = book.units
    yield from ("", "TOTALS", "")
    yield _total_row(
        *(f"width, {units}", OTHER_UNIT[units], "pieces", f"length, {units}", "m"),
        *(f"cut off, {_AREA[units]}", "rolls", "price"),
    )
    for total in plan.totals:
        yield _total_row(*_total_words(total, units))
    yield ""
    bare, whole = (_area(area, units) for area in (plan.bare, plan.area))
    share = float(plan.bare / plan.area) * 100
    yield from wrap(
        f"Of {whole} {_AREA[units]} of zones, {bare} {_AREA[units]} ({share:.1f} %) stay bare in gaps "
        "and at ends that are cut square.",
        WIDTH,
    )
    yield from _unknown(plan)


def _total_row(*cells: str) -> str:
    widths = (10, 8, 8, 13, 9, 16, 8, 10)
    return "".join(f"{cell:>{width}}" for cell, width in zip(cells, widths, strict=True)).rstrip()


def _total_words(total: WidthTotal, units: Unit) -> tuple[str, ...]:
    return (
        shown(total.width, units),
        shown(total.width, OTHER_UNIT[units]),
        str(total.pieces),
        shown(total.length, units),
        _metres(total.length),
        _area(total.cut_off, units),
        "?" if total.rolls is None else str(total.rolls),
        _price(total.price),
    )


def _metres(length: Length) -> str:
    return f"{float(length.mm) / _MM_PER_METRE:.2f}"


def _area(area: Fraction, units: Unit) -> str:
    per_square = MM_PER_UNIT["in"] ** 2 if units == "in" else Fraction(100)
    return f"{float(area / per_square):.2f}"


def _price(price: Decimal | None) -> str:
    return "?" if price is None else str(price)


def _unknown(plan: TapePlan) -> Iterator[str]:
    """Yield what the workshop file would have to say for rolls and prices."""
    if any(total.rolls is None for total in plan.totals):
        yield from wrap(
            "? stands where the workshop file does not say how long a roll is, or what it costs.",
            WIDTH,
        )
    known = [total.price for total in plan.totals if total.price is not None]
    if known and len(known) == len(plan.totals):
        yield f"All rolls together cost {sum(known)}."
