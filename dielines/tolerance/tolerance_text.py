"""The tolerance of a book as lines for people, at most 100 columns, and as data for programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from textwrap import wrap
from typing import Any

from ..book.book import Book
from ..book.join_words import owner, panel_words
from ..book.spans import FINEST, measured, shown
from ..lengths import Length, millimetres, show
from .clearance import Clearance, Fault
from .datum import Datum
from .hand_error import ErrorKind, HandError
from .remedies import FEW
from .tolerance import Change, Estimate, Outcome, Tolerance

WIDTH = 100
TOLD = 3  #: how many single errors are named
WORDS = {ErrorKind.CUT: "cuts", ErrorKind.SCORE: "scores", ErrorKind.TAPE: "tape"}


def tolerance_text(book: Book, tolerance: Tolerance) -> str:
    """Return the text for a terminal; the same tolerance gives the same text."""
    lines = [*_head(book, tolerance), *_faults(tolerance), *_tightest(book, tolerance)]
    lines += [*_changes(book, tolerance), *_datums(tolerance)]
    return "\n".join(lines) + "\n"


def _head(book: Book, tolerance: Tolerance) -> Iterator[str]:
    found = tolerance.usual.any_fault
    hand = tolerance.hand
    sizes = (
        f"{WORDS[kind]} {_millimetres(size)}"
        for kind, size in zip(ErrorKind, (hand.cut, hand.score, hand.tape), strict=True)
    )
    yield from wrap(
        f"{book.title}: of 100 such books made by hand, {_hundredth(found)} would have a fault"
        " somewhere.",
        WIDTH,
    )
    yield from wrap(
        f"Taken for the hand: two of three errors are smaller than {', '.join(sizes)}; say your"
        f" own in the workshop file, below [hand]. {tolerance.draws:,} such books were made in"
        f" thought (lots drawn from {tolerance.seed}); ± says how sure a number is.",
        WIDTH,
    )


def _faults(tolerance: Tolerance) -> Iterator[str]:
    yield ""
    rows = [(fault.value, _percent(found)) for fault, found in tolerance.usual.by_fault.items()]
    yield from _table(
        ("fault", "of all books"), [*rows, ("any", _percent(tolerance.usual.any_fault))]
    )


def _tightest(book: Book, tolerance: Tolerance) -> Iterator[str]:
    """Yield the clearance of each kind that fails most often, with what makes it vary."""
    rows = []
    for fault in tolerance.usual.by_fault:
        worst = tolerance.worst(fault)
        if worst is not None:
            rows.append(_clearance_row(book, tolerance, worst))
    yield ""
    head = (
        f"tightest, {book.units}",
        "room",
        "varies by",
        "fails",
        *(WORDS[kind] for kind in ErrorKind),
    )
    yield from _table(head, rows)
    for fault in tolerance.usual.by_fault:
        worst = tolerance.worst(fault)
        if worst is not None and tolerance.usual.by_fault[fault].share >= FEW:
            yield from _blamed(book, tolerance, worst)


def _clearance_row(book: Book, tolerance: Tolerance, worst: Clearance) -> tuple[str, ...]:
    shares = worst.shares_by_kind(tolerance.hand)
    return (
        clearance_words(book, worst),
        shown(measured(worst.nominal), book.units),
        shown(measured(worst.deviation(tolerance.hand)), book.units),
        f"{100 * worst.chance(tolerance.hand):.1f} %",
        *(f"{100 * shares[kind]:.0f} %" for kind in ErrorKind),
    )


def _blamed(book: Book, tolerance: Tolerance, worst: Clearance) -> Iterator[str]:
    """Yield which single errors a clearance varies by most."""
    shares = worst.shares(tolerance.hand)
    told = [
        f"{error_words(book, error)} {100 * share:.0f} %"
        for error, share in islice(shares.items(), TOLD)
    ]
    yield ""
    yield from wrap(
        f"{clearance_words(book, worst)}: {len(shares)} errors add up; the largest shares have"
        f" {', '.join(told)}.",
        WIDTH,
    )


def _changes(book: Book, tolerance: Tolerance) -> Iterator[str]:
    if not tolerance.changes:
        return
    yield ""
    rows = [_change_row(book, change) for change in tolerance.changes]
    yield from _table(("to change first", "by", "then any fault"), rows)


def _change_row(book: Book, change: Change) -> tuple[str, ...]:
    def told(length: Length) -> str:
        return show(length, book.units, FINEST)

    value = told(change.value)
    return f"{change.setting} = {value}", f"+ {told(change.by)}", _percent(change.left)


def _datums(tolerance: Tolerance) -> Iterator[str]:
    yield ""
    rows = [_datum_row(datum, found) for datum, found in tolerance.by_datum.items()]
    yield from _table(("pages aligned", "a page sticks out", "tape misses", "any fault"), rows)
    yield from wrap(
        "To the first page or to a jig, pages do not drift from one to the next; but each tab then"
        " takes up the error of its own page alone, so tape misses more often. Choose by what"
        " fails more.",
        WIDTH,
    )


def _datum_row(datum: Datum, found: Outcome) -> tuple[str, ...]:
    tape = found.by_fault.get(Fault.TAPE)
    return (
        datum.value,
        _percent(found.sticking_out),
        _percent(tape) if tape else "",
        _percent(found.any_fault),
    )


def clearance_words(book: Book, clearance: Clearance) -> str:
    """Return where a clearance is: "page 3 (C), head", "spine"."""
    if not clearance.part:
        return "spine"
    entry = book.part(clearance.part)
    if clearance.fault is Fault.TAPE:
        return f"{owner(entry)}, tape of the {panel_words(entry.part, clearance.panel)}"
    return f"{owner(entry)}, {clearance.edge}"


def error_words(book: Book, error: HandError) -> str:
    """Return which error of the hand is meant: "cut of page 3 (C), right edge"."""
    entry = book.part(error.part)
    place = error.place.partition(" at ")[0]
    if error.kind is ErrorKind.SCORE:
        place = " to ".join(panel_words(entry.part, name) for name in error.place.split(" ")[::2])
    elif error.kind is ErrorKind.TAPE:
        zone = next(zone for zone in entry.part.zones if zone.name == error.place)
        place = panel_words(entry.part, zone.panel)
    return f"{error.kind.value} of {owner(entry)}, {place}"


def _hundredth(found: Estimate) -> str:
    return f"about {100 * found.share:.0f}" if found.share >= 0.005 else "fewer than 1"


def _percent(found: Estimate) -> str:
    return f"{100 * found.share:.1f} ± {100 * found.error:.1f} %"


def _millimetres(length: Length) -> str:
    return f"{float(length / millimetres(1)):g} mm"


def _table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """Yield the lines of a table; all columns but the first are set to the right."""
    widths = [max(map(len, cells)) for cells in zip(head, *rows, strict=True)]
    for first, *others in (head, *rows):
        cells = [cell.rjust(width) for cell, width in zip(others, widths[1:], strict=True)]
        yield "  ".join([first.ljust(widths[0]), *cells])


# ------------------------------------------------------------------ for programs


def tolerance_data(tolerance: Tolerance) -> dict[str, Any]:
    """Return the same as plain tables and lists; lengths in mm, shares from 0 to 1."""
    hand = tolerance.hand
    return {
        "hand": {
            "cut": float(hand.cut.mm),
            "score": float(hand.score.mm),
            "tape": float(hand.tape.mm),
        },
        "draws": tolerance.draws,
        "seed": tolerance.seed,
        "aligned": {
            datum.name.lower(): _outcome_data(o) for datum, o in tolerance.by_datum.items()
        },
        "changes": [_change_data(change) for change in tolerance.changes],
        "clearances": [_clearance_data(tolerance, row) for row in tolerance.clearances],
    }


def _outcome_data(outcome: Outcome) -> dict[str, Any]:
    found = {"any": outcome.any_fault, "page": outcome.sticking_out}
    found |= {fault.name.lower(): estimate for fault, estimate in outcome.by_fault.items()}
    return {name: _estimate_data(estimate) for name, estimate in found.items()}


def _estimate_data(estimate: Estimate) -> dict[str, float]:
    return {"share": estimate.share, "error": estimate.error}


def _change_data(change: Change) -> dict[str, Any]:
    return {
        "fault": change.fault.name.lower(),
        "set": change.setting,
        "value": float(change.value.mm),
        "by": float(change.by.mm),
        "any": _estimate_data(change.left),
    }


def _clearance_data(tolerance: Tolerance, row: Clearance) -> dict[str, Any]:
    hand = tolerance.hand
    return {
        "fault": row.fault.name.lower(),
        "part": row.part or None,
        "panel": row.panel or None,
        "edge": row.edge or None,
        "nominal": row.nominal,
        "deviation": row.deviation(hand),
        "chance": row.chance(hand),
        "shares": {kind.value: share for kind, share in row.shares_by_kind(hand).items()},
    }
