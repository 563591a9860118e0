"""Books with pockets, flaps and seams, ways of spoiling those, and which rules speak then."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from importlib import import_module

from random_books import random_book
from spoiling import changed_part, warped

from dielines.checks.finding import Finding, Severity
from dielines.folding.folded_book import FoldedBook
from dielines.part import Part, Side, Zone
from dielines.paths import Number, Point, rectangle

INCH = Fraction(127, 5)
RULES = (
    "seam_off_target", "sticks_out", "tape_outside_overlap", "tape_faces_away", "tape_shows",
    "something_between", "mouth", "pocket_blocked", "notches_apart", "flaps_collide",
)  # fmt: skip

#: Pages of 6 1/4 x 4 1/4 in, as in the notes on folding: their amounts are held against these.
POCKETS = """
title = "Pockets"
units = "in"
size = "photo 6 x 4"
binding = "tab and channel"
mats = "none"
pages = ["side pocket", "flap", "half pocket", "tiered pockets", "gate doors", "top pocket"]
"""
MORE = """
title = "More pockets"
units = "in"
size = "photo 6 x 4"
binding = "tab and channel"
mats = "none"
pages = [
  "frame page", "double pocket", "bellows pocket", "library-card pocket", "three flaps",
  "fore-edge fold pocket", "plain leaf", "roll fold",
]
"""

#: Every page template there is, in both bindings.
KINDS = (
    "side pocket", "top pocket", "half pocket", "library-card pocket", "double pocket",
    "fore-edge fold pocket", "tiered pockets", "frame page", "bellows pocket", "flap", "gate doors",
    "three flaps", "roll fold", "concertina page", "photo slits", "ticket page", "index tab",
    "waterfall", "plain leaf",
)  # fmt: skip


def every_kind(binding: str, photo: str) -> str:
    """Return the text of a book with a page of every kind."""
    kinds = ", ".join(f'"{kind}"' for kind in KINDS)
    return (
        f'title = "All"\nunits = "in"\nsize = "photo {photo}"\nbinding = "{binding}"\n'
        f'mats = "none"\npages = [{kinds}]\n'
    )


INSERTS = (
    "envelope", "sleeve", "curved packet", "folio", "slipcase", "tuck strip", "belly band", "tray",
    "lid", "box step", "map fold", "maze booklet", "one slit booklet", "photo stand", "tag", "ticket",
    "guard leaf", "sewn section", "index leaves", "photo mat", "round card",
)  # fmt: skip


def every_insert() -> str:
    """Return the text of a book whose pages hold inserts of every kind."""
    things = [f'{{ what = "{name}", size = "3 x 4" }}' for name in INSERTS]
    held = [f"[page.{n}]\nholds = [{', '.join(things[n - 1 :: 3])}]" for n in (1, 2, 3)]
    return (
        'title = "Inserts"\nunits = "in"\nsize = "photo 6 x 4"\nbinding = "tab and channel"\n'
        'mats = "none"\npages = ["side pocket", "flap", "top pocket"]\n' + "\n".join(held) + "\n"
    )


def correct_books(folded_of: Callable[..., FoldedBook]) -> list[FoldedBook]:
    """Return books in which nothing is wrong: 30 at random, and those with every kind of page and insert."""
    books = [folded_of(random_book(seed)) for seed in range(30)]
    books.append(folded_of(every_insert()))
    books.append(folded_of(every_kind("tab and channel", "6 x 4")))
    return [*books, folded_of(every_kind("concertina spine", "3 1/2 x 5"))]


def found_in(rule: object, folded: FoldedBook) -> list[Finding]:
    """Return what a rule finds."""
    return list(rule.check(folded))


def faults_in(rule: object, folded: FoldedBook) -> list[Finding]:
    """Return what a rule finds that is more than a remark."""
    return [f for f in rule.check(folded) if f.severity is not Severity.REMARK]


def speaking(folded: FoldedBook) -> set[str]:
    """Return which of these rules find more than a remark."""
    modules = {name: import_module(f"dielines.checks.rules.{name}") for name in RULES}
    return {name for name, rule in modules.items() if faults_in(rule, folded)}


def spoiled(folded: FoldedBook, key: str, change: Callable[[Part], Part]) -> FoldedBook:
    """Return the book with a part changed after composing."""
    return FoldedBook(changed_part(folded.book, key, change), folded.workshop)


def cut_short(part: Part, axis: str, below: Number, by: Number) -> Part:
    """Return *part* without *by* of all that lies below a line; a negative *by* makes it longer there."""

    def place(point: Point) -> Point:
        x, y = point
        if axis == "x":
            return Point(x + by if x < below else x, y)
        return Point(x, y + by if y < below else y)

    return warped(part, place)


def without_zones(part: Part, *names: str) -> Part:
    """Return *part* without zones of tape."""
    assert {zone.name for zone in part.zones} >= set(names), names
    return replace(part, zones=tuple(z for z in part.zones if z.name not in names))


def with_zone(part: Part, panel: str, side: Side, onto: str, box: tuple[Number, ...]) -> Part:
    """Return *part* with a zone more: left, bottom, right and top from the panel's lower left."""
    bounds = part.panel(panel).bounds()
    left, bottom, right, top = box
    x, y = bounds.left, bounds.bottom
    path = rectangle(x + left, y + bottom, x + right, y + top)
    return replace(part, zones=(*part.zones, Zone("more", panel, side, path, onto)))


def other_side(part: Part, name: str) -> Part:
    """Return *part* with a zone of tape on the other side of its panel."""
    turned = {Side.FACE: Side.REVERSE, Side.REVERSE: Side.FACE}
    assert any(zone.name == name for zone in part.zones), name
    zones = [replace(z, side=turned[z.side]) if z.name == name else z for z in part.zones]
    return replace(part, zones=tuple(zones))
