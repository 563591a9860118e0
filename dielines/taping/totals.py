"""How much tape of each width a plan takes, in lengths, rolls and money."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from ..lengths import Length
from ..workshop.tape import Roll, Tape
from .strips import Strip, WidthTotal, ZonePlan

MOST_PIECES = 5000  #: beyond this many, rolls are counted by length alone

Pieces = Mapping[Length, int]
"""How many strips of each length."""


def totals_of(zones: Sequence[ZonePlan], tape: Tape) -> tuple[WidthTotal, ...]:
    """Return a total for each width that *zones* use, wide to narrow."""
    by_width: dict[Length, list[tuple[Strip, int]]] = {}
    for zone in zones:
        for strip in zone.strips:
            by_width.setdefault(strip.width, []).append((strip, zone.number))
    return tuple(_total(width, by_width[width], tape) for width in sorted(by_width, reverse=True))


def _total(width: Length, strips: Sequence[tuple[Strip, int]], tape: Tape) -> WidthTotal:
    pieces: dict[Length, int] = {}
    for strip, number in strips:
        pieces[strip.length] = pieces.get(strip.length, 0) + number
    roll = roll_of(width, tape)
    rolls = rolls_for(pieces, roll.length) if roll.length else None
    return WidthTotal(
        width=width,
        pieces=sum(pieces.values()),
        length=_sum(pieces),
        cut_off=sum((strip.cut_off * number for strip, number in strips), Fraction(0)),
        rolls=rolls,
        price=_price(rolls, roll),
    )


def _sum(pieces: Pieces) -> Length:
    return Length(sum((length.mm * number for length, number in pieces.items()), Fraction(0)))


def roll_of(width: Length, tape: Tape) -> Roll:
    """Return the roll of this width; of several the first whose length is known."""
    rolls = [roll for roll in tape.rolls if roll.width == width]
    return next((roll for roll in rolls if roll.length), rolls[0])


def rolls_for(pieces: Pieces, roll: Length) -> int:
    """Return how many rolls these strips take, none pieced together: the longest first.

    Strips that are longer than a roll, and very many strips, are counted by length.
    """
    total, number = _sum(pieces), sum(pieces.values())
    if number > MOST_PIECES or any(length > roll for length in pieces):
        return -(-total.mm // roll.mm)
    left: list[Length] = []
    for length in sorted(pieces, reverse=True):
        for _ in range(pieces[length]):
            _take(left, length, roll)
    return len(left)


def _take(left: list[Length], length: Length, roll: Length) -> None:
    """Take a strip from the first roll of which enough is *left*, or from a new one."""
    for i, rest in enumerate(left):
        if length <= rest:
            left[i] = rest - length
            return
    left.append(roll - length)


def _price(rolls: int | None, roll: Roll) -> Decimal | None:
    return None if rolls is None or roll.price is None else rolls * roll.price
