"""Ways of spoiling flat parts, and books whose parts are looked at flat.

Sizes are millimetres in the coordinates of the part.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from fractions import Fraction
from types import ModuleType

from random_books import random_book
from spoiling import changed_part

from dielines.book.book import Book
from dielines.book.letters import shape_key
from dielines.checks.finding import Advice, Finding
from dielines.checks.report_text import value_text
from dielines.folding.folded_book import FoldedBook
from dielines.folding.folded_part import FoldedPart
from dielines.folding.layering import Layering, Outcome
from dielines.part import FoldKey, Line, LineKind, Part, Purpose, Stroke
from dielines.paths import Number, Path, line, mapped, polyline, rectangle, translated
from dielines.workshop.workshop import Workshop

SIXTHS = """\
title = "Sevenths"
units = "mm"
size = "photo 131 x 97"
binding = "tab and channel"
pages = ["side pocket", "flap", "photo slits", "plain leaf"]
"""
#: Sheets and a machine that are large enough for every page.
VAST = """\
units = "mm"
[papers."wide paper"]
roles = ["pages", "inserts"]
caliper = "0.24 mm"
grain = "up"
sheets = ["2000 x 2000"]
[machine]
area = "2000 x 2000"
"""


def flat_book(book: Book, workshop: Workshop) -> FoldedBook:
    """Return *book* with its parts as they lie flat: rules on flat parts need no folding."""
    folded = FoldedBook(book, workshop)
    kept: dict[object, FoldedPart] = {}
    for entry in book.parts:
        shape = (entry.letter, *shape_key(entry.part), entry.part.panels)
        flat = FoldedPart(entry.part, "", {}, Layering(Outcome.ONE, {}), ())
        kept.setdefault(shape, flat)
        folded.__dict__.setdefault("parts", {})[entry.key] = kept[shape]
    return folded


def spoiled(folded: FoldedBook, key: str, change: Callable[[Part], Part]) -> FoldedBook:
    """Return a flat book with *change* made to one of its parts."""
    return flat_book(changed_part(folded.book, key, change), folded.workshop)


def found_in(rule: ModuleType, folded: FoldedBook) -> list[Finding]:
    """Return what a rule finds."""
    return list(rule.check(folded))


def settings_of(book: Book, advice: Iterable[Advice]) -> list[str]:
    """Return advice as ``--set`` takes it."""
    return [f"{a.setting}={value_text(book, a.value)}" for a in advice]


def correct_book(folded_of: Callable[..., FoldedBook], seed: int) -> FoldedBook:
    """Return a random correct book, flat, for whose pages sheets are large enough."""
    folded = folded_of(random_book(seed), workshop=VAST)
    return flat_book(folded.book, folded.workshop)


def with_cut(part: Part, panel: str, *points: tuple[Number, Number], name: str = "") -> Part:
    """Return *part* with one slit more, through *points*."""
    return _with_stroke(part, Stroke(panel, Purpose.CUT, polyline(points, False), name=name))


def with_score(
    part: Part, panel: str, *points: tuple[Number, Number], angle_deg: Number = 90
) -> Part:
    """Return *part* with one score more, through *points*."""
    return _with_stroke(part, Stroke(panel, Purpose.SCORE, polyline(points, False), angle_deg))


def with_mark(part: Part, panel: str, *points: tuple[Number, Number]) -> Part:
    """Return *part* with one mark more, through *points*."""
    return _with_stroke(part, Stroke(panel, Purpose.MARK, polyline(points, False)))


def with_perforation(part: Part, panel: str, *points: tuple[Number, Number]) -> Part:
    """Return *part* with one perforation more, through *points*."""
    return _with_stroke(part, Stroke(panel, Purpose.PERFORATE, polyline(points, False)))


def _with_stroke(part: Part, stroke: Stroke) -> Part:
    return replace(part, strokes=(*part.strokes, stroke))


def with_hole(part: Part, panel: str, hole: Path) -> Part:
    """Return *part* with one hole more in a panel."""
    panels = [replace(p, holes=(*p.holes, hole)) if p.name == panel else p for p in part.panels]
    return replace(part, panels=tuple(panels), outline=(*part.outline, hole))


def with_outline(part: Part, *points: tuple[Number, Number]) -> Part:
    """Return *part*, of one panel, with another outline through *points*."""
    return with_ring(part, polyline(points, closed=True))


def with_ring(part: Part, ring: Path) -> Part:
    """Return *part*, of one panel, with another outline."""
    (panel,) = part.panels
    return replace(part, panels=(replace(panel, outline=ring),), outline=(ring,))


def with_line_moved(part: Part, name: str, dx: Number = 0, dy: Number = 0) -> Part:
    """Return *part* with a line moved off the border of its panels."""
    return _with_line(part, name, lambda piece: translated(piece, dx, dy))


def with_line_longer(part: Part, name: str, times: Fraction) -> Part:
    """Return *part* with a line so many times as long, from where it starts."""

    def longer(piece: Path) -> Path:
        (x0, y0), (x1, y1) = piece.points
        return line((x0, y0), (x0 + (x1 - x0) * times, y0 + (y1 - y0) * times))

    return _with_line(part, name, longer)


def _with_line(part: Part, name: str, change: Callable[[Path], Path]) -> Part:
    assert any(str(old.key) == name for old in part.lines), name
    lines = [
        replace(old, pieces=tuple(map(change, old.pieces))) if str(old.key) == name else old
        for old in part.lines
    ]
    return replace(part, lines=tuple(lines))


def with_slit_for_fold(part: Part, name: str) -> Part:
    """Return *part* with a slit in the place of a fold."""
    lines = [
        replace(old, kind=LineKind.SLIT) if str(old.key) == name else old for old in part.lines
    ]
    assert lines != list(part.lines), name
    return replace(part, lines=tuple(lines))


def with_panel_resized(part: Part, panel: str, sides: Sequence[Number]) -> Part:
    """Return *part* with the outline of a panel alone pushed out: left, bottom, right, top."""
    box = part.panel(panel).bounds()
    left, bottom, right, top = sides
    ring = rectangle(box.left - left, box.bottom - bottom, box.right + right, box.top + top)
    panels = [replace(p, outline=ring) if p.name == panel else p for p in part.panels]
    return replace(part, panels=tuple(panels))


def with_steeper_line(part: Part, name: str, angle_deg: Number) -> Part:
    """Return *part* with another angle at a fold, finished."""
    lines = [
        replace(old, angle_deg=angle_deg) if str(old.key) == name else old for old in part.lines
    ]
    return replace(part, lines=tuple(lines))


def turned_over(part: Part) -> Part:
    """Return *part* with valleys for mountains and mountains for valleys."""
    lines = [replace(old, angle_deg=-old.angle_deg) for old in part.lines]
    return replace(part, lines=tuple(lines))


def new_fold(first: str, relation: str, second: str, piece: Path) -> Line:
    """Return a valley fold between two panels."""
    return Line(FoldKey(first, relation, second), LineKind.FOLD, Fraction(90), (piece,))


def shifted(path: Path, dx: Number, dy: Number) -> Path:
    """Return *path* moved."""
    return mapped(path, lambda p: type(p)(p.x + dx, p.y + dy), turns_over=False)
