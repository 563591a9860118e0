"""Which parts fit no sheet of their stock, by how much, and what would fit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..bindings.bound import Note
from ..lengths import ZERO, Length, Unit, show
from ..part import Part, exact_length
from ..workshop.fits import Fit, PartGrain, best_fit, fits, larger_sheet
from ..workshop.sizes import MAX_SIDE, Size
from ..workshop.stock import Grain, Sheet, Stock
from ..workshop.stock_entries import grain_along
from ..workshop.workshop import Workshop
from .book import Book, BookPart

NO_SHEET = "no-sheet"


def fit_notes(book: Book, workshop: Workshop) -> list[Note]:
    """Return a note for each part that fits no sheet of its stock within what can be cut."""
    notes = []
    told: set[str] = set()
    for entry in book.parts:
        if entry.letter in told:
            continue
        told.add(entry.letter)
        fit = part_fit(entry, workshop)
        if fit is not None and not fit.is_good:
            text = " ".join(_told(book, entry, fit, workshop))
            notes.append(Note(NO_SHEET, entry.title, text))
    return notes


def part_fit(entry: BookPart, workshop: Workshop) -> Fit | None:
    """Return how a part lies best on a sheet of its stock; None where no sheet is known."""
    reach = workshop.reach_for(entry.stock)
    return best_fit(fits(part_size(entry), part_grain(entry.part), entry.stock, reach))


def size_fit(part: Part, stock: Stock, workshop: Workshop, wider: Length = ZERO) -> bool:
    """Return whether *part*, *wider* by so much, fits a sheet of *stock* with the grain."""
    size = Size(exact_length(part.width) + wider, exact_length(part.height))
    fit = best_fit(fits(size, part_grain(part), stock, workshop.reach_for(stock)))
    return fit is None or fit.is_good


def sheet_alone(stock: Stock, size: Size) -> Stock:
    """Return *stock* as if it were sold in that one size, its grain as on its first sheet."""
    word = "long"
    if stock.sheets:
        first = stock.sheets[0]
        is_long = grain_along("long", first.size) is first.grain
        word = "none" if first.grain is Grain.NONE else "long" if is_long else "short"
    return replace(stock, sheets=(Sheet(size, grain_along(word, size)),))


def part_size(entry: BookPart) -> Size:
    """Return the size of a part as it is drawn."""
    return Size(exact_length(entry.part.width), exact_length(entry.part.height))


def part_grain(part: Part) -> PartGrain:
    """Return how the grain runs in a part as it is drawn."""
    grain = part.grain
    return "up" if grain == "up" else "across" if grain == "across" else "free"


def _told(book: Book, entry: BookPart, fit: Fit, workshop: Workshop) -> Iterator[str]:
    units = book.units
    size = part_size(entry).words(units)
    yield f"{size} of {entry.stock.name} fits no sheet with the grain:"
    yield by_how_much(fit, units) + "."
    yield from _variants(book, entry, fit, workshop)


def by_how_much(fit: Fit, unit: Unit) -> str:
    """Return how much too large a part is for the sheet of *fit*, in words."""
    pieces = []
    if fit.short_across:
        pieces.append(f"{show(fit.short_across, unit)} too wide")
    if fit.short_up:
        pieces.append(f"{show(fit.short_up, unit)} too high")
    return " and ".join(pieces) if pieces else "its print would lie on its side"


def _variants(book: Book, entry: BookPart, fit: Fit, workshop: Workshop) -> Iterator[str]:
    """Yield what would fit: a shorter cover tab, another fold, a larger sheet."""
    shorter = shorter_tab(book, entry, fit)
    if shorter:
        yield f"A cover tab of {show(shorter, book.units)} would fit."
    reach = workshop.reach_for(entry.stock)
    larger = larger_sheet(part_size(entry), part_grain(entry.part), entry.stock, reach, book.units)
    if larger:
        yield f"A sheet of {larger.words(book.units)} would do."


def shorter_tab(book: Book, entry: BookPart, fit: Fit) -> Length | None:
    """Return the cover tab with which an end page would fit, when that still holds."""
    if fit.short_up or not fit.short_across or not _has_cover_tab(entry):
        return None
    tab = book.reasons.length("cover_tab") - fit.short_across
    reach = book.reasons.length("cover_tab_reach") - fit.short_across
    return tab if reach >= book.reasons.length("hinge_tab") else None


def _has_cover_tab(entry: BookPart) -> bool:
    return any(zone.onto == "board" for zone in entry.part.zones)


def longest_strip(stock: Stock, height: Length, workshop: Workshop) -> Length | None:
    """Return how long a strip of that height, grain up, can be cut of *stock*; None without sheets."""
    verdicts = fits(Size(MAX_SIDE, height), "up", stock, workshop.reach_for(stock))
    lengths = [MAX_SIDE - fit.short_across for fit in verdicts if not fit.short_up]
    return max(lengths, default=None)
