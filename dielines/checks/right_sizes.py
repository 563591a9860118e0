"""Sizes that would be right, as settings of the book."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from ..book.book import Book
from ..folding.thickness import Thickness
from ..folding.walls import Wall
from ..lengths import MM_PER_UNIT, Length, inches, millimetres, show
from .finding import Advice

NEAR = 1e-3  #: mm; what is short by less is not short
END_CHANNEL = "usual.end_channel"
_PAGE = re.compile(r"page-(\d+)")


def wider_spine(book: Book, thickness: Thickness) -> tuple[Advice, ...]:
    """Return what makes the spine as wide as its pages need; nothing where it is wide enough."""
    if not thickness.stack.boards or thickness.play >= -NEAR:
        return ()
    return (Advice("spine.width", rounded_up(book, thickness.right.spine)),)


def step_of(book: Book) -> Length:
    """Return what sizes of this book are rounded to: 1/16 in or 1 mm."""
    return inches("1/16") if book.units == "in" else millimetres(1)


def rounded_up(book: Book, width: float) -> Length:
    """Return *width* (mm) rounded up to a step of the book's units; what is NEAR a step stays."""
    step = step_of(book)
    return Length(step.mm * Fraction(math.ceil((width - NEAR / 2) / float(step.mm))))


def page_number(key: str) -> int | None:
    """Return the number of the page that a part belongs to, None where it is part of none.

    >>> page_number("page-12-pocket"), page_number("front-board")
    (12, None)
    """
    found = _PAGE.match(key)
    return int(found.group(1)) if found else None


def wall_advice(book: Book, wall: Wall, width: float) -> tuple[Advice, ...]:
    """Return what sets the width of a gusset: the parameter of its page that has that width now.

    Nothing where no parameter of the page has it, or more than one might be meant.
    """
    page = page_number(wall.part)
    if page is None:
        return ()
    parameters = book.part(wall.part).part.parameters
    named = [
        name
        for name, value in parameters.items()
        if isinstance(value, Length) and abs(float(value.mm) - wall.width) < NEAR
    ]
    name = "depth" if "depth" in named else named[0] if len(named) == 1 else ""
    return (Advice(f"page.{page}.{name}", rounded_up(book, width)),) if name else ()


def deeper_advice(book: Book, thickness: Thickness, wall: Wall, width: float) -> tuple[Advice, ...]:
    """Return what makes a pocket or a flap as deep as *width*, and room for it beside the cover.

    Channels between pages follow by themselves; an end channel that the book sets does not.
    """
    advice = wall_advice(book, wall, width)
    is_set = book.request.usual["end_channel"].length is not None
    for channel in thickness.walls if is_set and advice else ():
        if channel.is_channel and channel.part == wall.part and channel.width < width:
            setting = channel_setting(thickness, channel)
            if setting == END_CHANNEL:
                advice += (Advice(setting, rounded_up(book, width)),)
    return advice


def channel_setting(thickness: Thickness, wall: Wall) -> str:
    """Return the size of the book that a channel takes its width from.

    The one beside a cover, where one of its panels is taped to a board, is the end channel.
    """
    panels = {wall.lower, wall.upper}
    for pair in thickness.stack.glued:
        if panels & set(pair) and any(thickness.stack.is_board(key[0]) for key in pair):
            return END_CHANNEL
    return "usual.channel"


def made(book: Book, advice: tuple[Advice, ...], way: str, else_by: tuple[float, str]) -> str:
    """Return what to make a place: as wide or deep (*way*) as is advised, else by how much more.

    *else_by* is by how much (mm) and in which way, as in ``(0.5, "wider")``.
    """
    if advice and isinstance(advice[0].value, Length):
        return f"make it {show(advice[0].value, book.units)} {way}"
    return f"make it {fine(book, else_by[0])} {else_by[1]}"


def fine(book: Book, length: float) -> str:
    """Return a thickness (mm) as calipers are told: inches to a thousandth, millimetres to a hundredth.

    What is a sixteenth of an inch, or some of them, is told as a ruler has it.
    """
    sixteenths = round(float(length) / float(inches("1/16").mm))
    if book.units == "in" and abs(sixteenths * float(inches("1/16").mm) - length) < NEAR:
        return show(inches("1/16") * sixteenths, "in")
    places, unit = (3, "in") if book.units == "in" else (2, "mm")
    value = float(length) / float(MM_PER_UNIT[book.units])
    return f"{value:.{places}f}".rstrip("0").rstrip(".") + f" {unit}"
