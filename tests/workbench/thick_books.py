"""Books whose thickness is known by hand, and what they are made of."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from spoiling import changed_part, with_angle

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks.finding import Finding
from dielines.checks.registry import Rule
from dielines.checks.report_text import value_text
from dielines.folding.folded_book import FoldedBook
from dielines.lengths import Length
from dielines.part import Part

#: Calipers of the worked examples: cardstock 0.0095 in, tape 0.005, reinforcement 0.006, board 0.08.
PAPER, TAPE, SHEET, BOARD = 0.2413, 0.127, 0.1524, 2.032

WORKSHOP = f"""
units = "mm"
[papers."card"]
roles = ["pages", "inserts"]
caliper = "{PAPER} mm"
grain = "long"
sheets = ["12 x 12 in", "24 x 36 in"]
[boards."board"]
caliper = "{BOARD} mm"
grain = "long"
sheets = ["24 x 36 in"]
[reinforcing."sheet"]
caliper = "{SHEET} mm"
grain = "none"
sheets = ["24 x 36 in"]
[coverings."cloth"]
caliper = "0.36 mm"
sheets = ["24 x 36 in"]
[tapes."tape"]
thickness = "{TAPE} mm"
rolls = [{{ width = "1/2 in", length = "25 yd" }}]
"""


def mixed_book(count: int, more: str = "") -> str:
    """Return the text of a book of pockets and flaps in turn, end channels of 1/8 in."""
    kinds = ", ".join('"side pocket"' if n % 2 == 0 else '"flap"' for n in range(count))
    return f"""title = "Pockets and flaps"
units = "in"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = [{kinds}]
[usual]
end_channel = "1/8"
{more}
"""


def holding(number: int, size: str, thick: str, count: int = 1) -> str:
    """Return the table of a page that holds things."""
    return (
        f"[page.{number}]\n"
        f'holds = {{ what = "photo", size = "{size}", thick = "{thick}", count = {count} }}\n'
    )


def composed(folder: Path, text: str, *settings: str, workshop: str = WORKSHOP) -> FoldedBook:
    """Return the folded book of a text, made from the materials of a workshop file."""
    book_file, workshop_file = folder / "book.toml", folder / "own.toml"
    book_file.write_text(text, "utf-8")
    workshop_file.write_text(workshop, "utf-8")
    source = book_source(book_document(book_file), settings, workshop_file)
    return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)


def without_reinforcement(folded: FoldedBook) -> FoldedBook:
    """Return the same book with nothing strengthened."""
    parts = [entry for entry in folded.book.parts if entry.role != "reinforcement"]
    return FoldedBook(replace(folded.book, parts=tuple(parts)), folded.workshop)


def found_in(rule: Rule, folded: FoldedBook) -> list[Finding]:
    """Return what a rule finds in a book."""
    return list(rule.check(folded))


def spoiled(folded: FoldedBook, key: str, change: Callable[[Part], Part]) -> FoldedBook:
    """Return a folded book with *change* made to the part called *key* after composing."""
    return FoldedBook(changed_part(folded.book, key, change), folded.workshop)


def with_stock(folded: FoldedBook, role: str, caliper: str) -> FoldedBook:
    """Return a folded book whose parts of one role are of another thickness, sizes as they were."""
    thick = Length(Fraction(caliper))
    parts = [
        replace(entry, stock=replace(entry.stock, caliper=thick)) if entry.role == role else entry
        for entry in folded.book.parts
    ]
    return FoldedBook(replace(folded.book, parts=tuple(parts)), folded.workshop)


def settings_of(folded: FoldedBook, finding: Finding) -> list[str]:
    """Return the advice of a finding as ``--set`` takes it."""
    return [f"{a.setting}={value_text(folded.book, a.value)}" for a in finding.advice]


def book_of(kinds: Sequence[str], more: str = "", binding: str = "tab and channel") -> str:
    """Return the text of a book of these kinds of pages, in the sizes of `mixed_book`."""
    pages = ", ".join(f'"{kind}"' for kind in kinds)
    text = mixed_book(0, more).replace("pages = []", f"pages = [{pages}]")
    return text.replace("tab and channel", binding)


def shut_roll(part: Part) -> Part:
    """Return a roll with every gusset folded flat onto the panel before and straight on after it."""
    names = [line.key for line in part.folds if "gusset" in str(line.key)]
    for key in names:
        gusset = next(n for n in (key.first, key.second) if n.startswith("gusset"))
        other = key.second if key.first == gusset else key.first
        is_next = other.startswith("leaf") and other[4:] == gusset[6:]
        part = with_angle(part, str(key), 0 if is_next else 180)
    return part
