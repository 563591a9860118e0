"""The steps of making a book by hand, in order: reinforcement, seams, joins, inserts, mats."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import takewhile

from ..bindings.bound import BoundPart
from ..part import Panel, Part
from .beads import NAME as BEAD
from .beads import with_bead
from .book import Book, BookPart
from .cut_list import merged_titles
from .join_words import join_words, listed, owner, panel_words
from .mats import ROLE as MATS
from .spans import measured, shown

BACKING = "backing of "
LAP = "lap_"  #: in front of the panel that a reinforcement laps onto
OPEN_END = (
    'Every pocket that is bound by a tab stays open at its spine end; with bead = "on" below '
    "[usual], a bead of glue closes it"
)


def working_steps(book: Book) -> Iterator[str]:
    """Yield all steps of making *book*, a sentence each, in the order of working."""
    yield from _reinforcement_steps(book)
    seams = list(takewhile(lambda join: join.part == join.onto_part, book.joins))
    yield from join_words(book, seams)
    yield from _bead_steps(book)
    yield from join_words(book, book.joins[len(seams) :])
    yield from _insert_steps(book)
    yield from _mat_steps(book)


def _reinforcement_steps(book: Book) -> Iterator[str]:
    """Yield where each reinforcement goes; those that are alike but for their page together."""
    found: dict[tuple[str, str], list[str]] = {}
    for entry in book.parts:
        target = strengthened(book, entry)
        if target is not None:
            title = entry.title.removesuffix(f": {entry.role}")
            where = _covering(entry, target.part, book)
            found.setdefault((entry.letter, where), []).append(title)
    for (letter, where), titles in found.items():
        for title in merged_titles(titles):
            kind = "backing" if title.startswith(BACKING) else "reinforcement"
            of = title.removeprefix(BACKING)
            yield f"{kind} ({letter}) of {of}, {where}; before folding"


def strengthened(book: Book, entry: BookPart) -> BookPart | None:
    """Return the part that a reinforcement is glued onto: the one that its key begins with."""
    if not entry.part.covers:
        return None
    return max(
        (other for other in book.parts if entry.key.startswith(f"{other.key}-")),
        key=lambda other: len(other.key),
        default=None,
    )


def _covering(entry: BookPart, target: Part, book: Book) -> str:
    part = entry.part
    names = [panel_words(target, name) for name in part.covers]
    is_whole = set(part.covers) == {panel.name for panel in target.panels}
    side = part.covers_side.value
    onto = f"the whole {side}" if is_whole else f"the {side} of its {listed(names)}"
    laps = [_lap(panel, book) for panel in part.panels if panel.name.startswith(LAP)]
    return f"onto {onto}{''.join(laps)}"


def _lap(panel: Panel, book: Book) -> str:
    box = panel.bounds()
    reach = shown(measured(min(box.width, box.height)), book.units)
    name = panel.name.removeprefix(LAP).replace("_", " ")
    return f", lapping {reach} onto the {name}"


def _bead_steps(book: Book) -> Iterator[str]:
    """Yield where beads of glue go, or once that pockets stay open without them."""
    pages = [entry for entry in book.parts if entry.part.mouths and entry.part.bound]
    beaded = [e for e in pages if any(stroke.name == BEAD for stroke in e.part.strokes)]
    for entry in beaded:
        panels = [stroke.panel for stroke in entry.part.strokes if stroke.name == BEAD]
        names = listed([panel_words(entry.part, name) for name in dict.fromkeys(panels)])
        yield (
            f"{owner(entry)}: a bead of glue on the reverse of its {names}, where the guide marks"
            " it along the binding end, closes the pocket there"
        )
    if not beaded and any(_is_open(entry) for entry in pages):
        yield OPEN_END


def _is_open(entry: BookPart) -> bool:
    """Return whether a bead would close an end of a pocket of this page."""
    bound = BoundPart(entry.key, entry.title, entry.part, entry.role)
    return entry.part.graft is not None and with_bead(bound).part.strokes != entry.part.strokes


def _insert_steps(book: Book) -> Iterator[str]:
    """Yield the tape of parts that no join tells of, those that are alike together."""
    joined = {(join.part, join.zone) for join in book.joins}
    found: dict[str, list[str]] = {}
    for entry in (entry for entry in book.parts if entry.role == "inserts"):
        for zone in entry.part.zones:
            if (entry.key, zone.name) not in joined:
                panel = panel_words(entry.part, zone.panel)
                onto = f", onto its {_onto(zone.onto)}" if zone.onto else ""
                words = f"({entry.letter}): tape on the {zone.side.value} of its {panel}{onto}"
                found.setdefault(words, []).append(entry.title)
    for words, titles in found.items():
        yield f"{listed(merged_titles(titles))} {words}"


def _onto(name: str) -> str:
    return name.replace(".", ": ").replace("_", " ")


def _mat_steps(book: Book) -> Iterator[str]:
    mats: Mapping[str, BookPart] = {e.letter: e for e in book.parts if e.role == MATS}
    if mats:
        border = shown(book.reasons.length("mat_border"), book.units)
        yield (
            f"mat{_plural(mats)} {listed(list(mats))}: each in the middle of the side that it is"
            f" named for, {border} {book.units} bare all round; last of all"
        )


def _plural(things: Iterable[object]) -> str:
    return "s" if len(list(things)) > 1 else ""
