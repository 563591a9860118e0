"""Books in which a part is folded another way, or another part stands in its place."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from types import ModuleType

from spoiling import changed_part, with_part

from dielines.checks.finding import Finding
from dielines.folding.folded_book import FoldedBook
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.language.template import template_from_text
from dielines.part import Part

#: A book for whose second page another part can stand.
POCKETS = """\
title = "Fifths"
units = "mm"
size = "photo 133 x 97"
binding = "tab and channel"
pages = ["side pocket", "three flaps", "gate doors", "half pocket"]
"""
#: mm, of every stock
CALIPERS = dict.fromkeys(("cardstock", "board", "reinforcing", "covering", "tape"), Fraction(1, 7))
TRAY = """\
template = "plain-tray"
kind = "insert"
units = "mm"
[parts.tray]
columns = [{across}]
rows = [{rows}]
steps = ["{steps}"]
[parts.tray.folds]
{folds}
"""


def spoilt(folded: FoldedBook, key: str, change: Callable[[Part], Part]) -> FoldedBook:
    """Return the book with *change* made to one of its parts, to be folded anew."""
    return FoldedBook(changed_part(folded.book, key, change), folded.workshop)


def with_other(folded: FoldedBook, part: Part) -> FoldedBook:
    """Return the book with *part* in the place of its second page."""
    return FoldedBook(with_part(folded.book, "page-2", part), folded.workshop)


def built_in(name: str) -> Part:
    """Return the first part of a built-in template in its usual size."""
    return build(built_in_library().find(name), {}, CALIPERS).parts[0]


def drawn(across: str, rows: list[str], folds: list[str], steps: str) -> Part:
    """Return a part from its columns, rows and folds as a template says them."""
    text = TRAY.format(
        across=across,
        rows=", ".join(f'"{row}"' for row in rows),
        folds="\n".join(folds),
        steps=steps,
    )
    return build(template_from_text(text, "plain-tray.toml"), {}, CALIPERS).parts[0]


def found_by(rule: ModuleType, folded: FoldedBook, key: str = "") -> list[Finding]:
    """Return what *rule* finds in a book, or at one of its parts."""
    return [f for f in rule.check(folded) if not key or f.spot.part == key]
