"""Books composed from their text for tests, in a workshop with calipers of round numbers."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from functools import cache
from pathlib import Path

from random_books import random_book

from dielines.book.book import Book
from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.checks.finding import Finding
from dielines.checks.registry import Rule
from dielines.checks.report_text import value_text
from dielines.folding.folded_book import FoldedBook
from dielines.folding.folded_part import FoldedPart, posed_part, root_of
from dielines.folding.layering import Layering, Outcome

#: Calipers in inches of FOLDING.md: card .0095, tape .005, reinforcement .006, board .08.
WORKSHOP = """
units = "in"
[papers."card"]
roles   = ["pages", "inserts", "mats"]
caliper = "0.0095 in"
grain   = "long"
sheets  = ["12 x 24"]
[boards."board"]
caliper = "0.08 in"
grain   = "long"
sheets  = ["12 x 18"]
[reinforcing."sheet"]
caliper = "0.006 in"
grain   = "none"
sheets  = ["letter"]
[coverings."cloth"]
caliper = "0.014 in"
sheets  = [{ size = "18 x 24", grain = "up" }]
[tapes."tape"]
thickness = "0.005 in"
rolls   = ["1/8", "1/4", "3/8", "1/2", "1"]
[machine]
area    = "12 x 24 in"
margin  = "1/8"
reads   = ["svg", "dxf"]
scoring = "tool"
"""


def composed(text: str, *settings: str, workshop: str = WORKSHOP) -> Book:
    """Return the book of *text* with settings (KEY=VALUE), in that workshop."""
    with tempfile.TemporaryDirectory() as folder:
        file, own = Path(folder) / "garden.toml", Path(folder) / "own.toml"
        file.write_text(text, "utf-8")
        own.write_text(workshop, "utf-8")
        source = book_source(book_document(file), settings, own)
        return compose(source.request, source.workshop, source.library)


def album(
    pages: str, *lines: str, binding: str = "tab and channel", photo: str = "5 x 3 1/2"
) -> str:
    """Return the text of a book in inches: the list of its pages, and more lines."""
    head = f'title = "Garden"\nunits = "in"\nsize = "photo {photo}"\nbinding = "{binding}"\n'
    return head + f"pages = [{pages}]\n" + "\n".join(lines) + "\n"


def plain(book: Book) -> Book:
    """Return *book* without reinforcement."""
    return replace(book, parts=tuple(e for e in book.parts if e.role != "reinforcement"))


def folded(book: Book) -> dict[str, FoldedPart]:
    """Return the parts of *book* folded, without the order of their layers."""
    order = Layering(Outcome.ONE, {})
    found = {}
    for entry in book.parts:
        root = root_of(entry.part)
        poses = posed_part(entry.part, root)
        found[entry.key] = FoldedPart(entry.part, root, poses, order, ())
    return found


def bound(book: Book) -> FoldedBook:
    """Return *book* folded and bound, for rules that need no order of layers and no workshop."""
    whole = FoldedBook(book, None)
    whole.__dict__["parts"] = folded(book)
    return whole


@cache
def correct_books() -> tuple[FoldedBook, ...]:
    """Return some random books, all of them correct, folded and bound."""
    return tuple(bound(composed(random_book(seed))) for seed in range(16))


def found_in(rule: Rule, book: Book) -> list[Finding]:
    """Return what a rule finds in a book."""
    return list(rule.check(bound(book)))


def advised(book: Book, *findings: Finding) -> list[str]:
    """Return all advice of findings as settings (KEY=VALUE)."""
    return [f"{a.setting}={value_text(book, a.value)}" for f in findings for a in f.advice]
