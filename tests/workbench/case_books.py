"""Books for the rules of the case, and ways of spoiling a case that more than one rule is tried with."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from types import ModuleType

from spoiling import Place, changed_part, stretched, warped

from dielines.book.book import Book, BookPart
from dielines.checks.finding import Finding
from dielines.folding.folded_book import FoldedBook
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.lengths import Length
from dielines.paths import Point

SEEDS = range(30)

#: boards of 2 mm; hold 25, turn-in 20, edge strips 25 wide, joint 8, lining over the turn-ins by 6
MILLIMETRES = """
title = "Herbs"
units = "mm"
size = "page 95 x 135"
binding = "tab and channel"
pages = ["plain leaf", "side pocket", "flap"]
"""
COMB = MILLIMETRES.replace("tab and channel", "concertina spine")
INCHES = """
title = "Stones"
units = "in"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["flap", "plain leaf"]
"""
CALIPERS = {"board": Fraction(2), "covering": Fraction(1, 3), "cardstock": Fraction(1, 4)}


def found(rule: ModuleType, folded: FoldedBook) -> list[Finding]:
    """Return what a rule finds, in a list."""
    return list(rule.check(folded))


def in_book(rule: ModuleType, folded: FoldedBook, book: Book) -> list[Finding]:
    """Return what a rule finds in a spoiled *book*."""
    return list(rule.check(FoldedBook(book, folded.workshop)))


def amounts(findings: Iterable[Finding]) -> list[float]:
    """Return the amounts of findings, the largest first."""
    return sorted((round(float(f.amount.value), 3) for f in findings), reverse=True)


def settings_of(findings: Iterable[Finding]) -> list[str]:
    """Return all advice as ``--set`` takes it."""
    advice = {a.setting: a.value for finding in findings for a in finding.advice}
    return [f"{name}={_written(value)}" for name, value in advice.items()]


def _written(value: Length | str) -> str:
    if isinstance(value, str):
        return value
    whole, rest = divmod(value.mm, 1)
    return f"{whole} {rest} mm" if rest else f"{whole} mm"


def shorter(book: Book, key: str, axis: str, beyond: float, by: float) -> Book:
    """Return *book* with a part stretched (shortened where *by* is negative) beyond a line."""
    return changed_part(book, key, lambda part: stretched(part, axis, beyond, by))


def thicker(book: Book, key: str, caliper: Fraction | int) -> Book:
    """Return *book* with another caliper of the stock of one part, mm."""
    parts = [
        replace(e, stock=replace(e.stock, caliper=Length(Fraction(caliper)))) if e.key == key else e
        for e in book.parts
    ]
    return replace(book, parts=tuple(parts))


def all_boards(book: Book, caliper: Fraction | int) -> Book:
    """Return *book* with another caliper of all boards, mm."""
    for entry in book.parts:
        book = thicker(book, entry.key, caliper) if entry.role == "boards" else book
    return book


def bent(book: Book, key: str, place: Place) -> Book:
    """Return *book* with the points of one part moved by *place*."""
    return changed_part(book, key, lambda part: warped(part, place))


def pushed(at: tuple[float, float], dx: float = 0, dy: float = 0) -> Place:
    """Return what moves the one point at *at* and no other."""

    def place(point: Point) -> Point:
        is_it = abs(point.x - at[0]) < 0.01 and abs(point.y - at[1]) < 0.01
        return Point(point.x + dx, point.y + dy) if is_it else point

    return place


def with_wrap(book: Book, template: str, **given: str) -> Book:
    """Return *book* with one more part: a wrap around all boards, from a template of its own."""
    made = build(built_in_library().find(template), given, CALIPERS).parts[0]
    like = book.part("joint-wrap")
    entry = BookPart("wrapped", "covering of the case", "ZZ", made, "covering", like.stock)
    return replace(book, parts=(*book.parts, entry))
