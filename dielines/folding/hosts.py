"""What is stuck on a part or lies in it: reinforcement, mats and inserts, and where they are."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import NamedTuple

from ..book.book import Book, BookPart
from ..book.mats import ROLE as MATS
from ..book.working_steps import LAP
from ..part import Panel, Part, Side
from ..part_motion import shift
from ..paths import Bounds, Number, bounds_of
from ..rigid import Pose
from .bent_pieces import BentPiece
from .folded_part import FoldedPart
from .insert_places import insert_places
from .placing import Coat, Coats, landing_box, middle, shifted

LINING, BOARDS = "lining", "boards"  #: roles in a book
INNER = "inner"  #: how the key of a mat ends whose side looks the way the page's face does

Flats = Mapping[str, Pose]
Entries = Mapping[str, BookPart]


class Host(NamedTuple):
    """The side of a panel on which something is stuck."""

    part: str
    panel: str
    side: Side


def hosts_of(book: Book, parts: Mapping[str, FoldedPart]) -> dict[str, Host]:
    """Return on which side of which panel each reinforcement and mat is stuck, by key.

    Of a reinforcement it is the first panel that it covers.
    """
    entries = {entry.key: entry for entry in book.parts}
    found = {key: _host_of(e, entries, lambda e: parts[e.key].poses) for key, e in entries.items()}
    return {key: host for key, host in found.items() if host is not None}


def _host_of(entry: BookPart, entries: Entries, poses: Callable[[BookPart], Flats]) -> Host | None:
    if entry.part.covers:
        key = _longest_beginning(entry.key, entries)
        return Host(key, entry.part.covers[0], entry.part.covers_side) if key else None
    return _under_mat(entry, entries, poses) if entry.role == MATS else None


def _longest_beginning(key: str, entries: Entries) -> str:
    """Return the longest other key that this one begins with, up to a dash; empty without one."""
    while "-" in key:
        key = key.rpartition("-")[0]
        if key in entries:
            return key
    return ""


def _under_mat(
    entry: BookPart, entries: Entries, poses: Callable[[BookPart], Flats]
) -> Host | None:
    """Return what a mat is stuck on, as its key says: ``mat-2-flap-under``."""
    _, number, rest = entry.key.split("-", 2)
    name, _, side = rest.rpartition("-")
    page = entries.get(f"page-{number}")
    if page is None:
        return None
    for panel in page.part.panels:
        if panel.name.replace("_", "-") == name:
            looks_up = float(poses(page)[panel.name].normal[2]) > 0
            is_face = looks_up == (side == INNER)
            return Host(page.key, panel.name, Side.FACE if is_face else Side.REVERSE)
    return None


# ------------------------------------------------------------------ reinforcement


def covered_panels(reinforcement: Part, host: Part) -> Iterator[tuple[Panel, str, Number, Number]]:
    """Yield each panel of a reinforcement, the panel under it, and what takes it there, x and y.

    Both flat parts have the same shape there: a shift takes one onto the other.
    """
    own = [panel for panel in reinforcement.panels if not panel.name.startswith(LAP)]
    names = {panel.name for panel in host.panels}
    pairs = [(p, name) for p, name in zip(own, reinforcement.covers, strict=False) if name in names]
    if not pairs:
        return
    first, under = pairs[0][0].bounds(), host.panel(pairs[0][1]).bounds()
    dx, dy = under.left - first.left, under.bottom - first.bottom
    for panel, name in pairs:
        yield panel, name, dx, dy
    for panel in reinforcement.panels:
        if panel.name.startswith(LAP):
            name = panel.name.removeprefix(LAP).rstrip("0123456789")
            name = name if name in names else _lapped(panel, host, dx, dy)
            if name:
                yield panel, name, dx, dy


def _lapped(panel: Panel, host: Part, dx: Number, dy: Number) -> str:
    """Return the panel of *host* that lies under the middle of a lap; empty without one."""
    x, y = middle(panel.bounds())
    for under in host.panels:
        box = under.bounds()
        if box.left < x + dx < box.right and box.bottom < y + dy < box.top:
            return under.name
    return ""


def coats_of(book: Book) -> Coats:
    """Return what reinforces each side of each panel, and what lines the spine board."""
    entries = {entry.key: entry for entry in book.parts}
    coats: dict[tuple[str, str, Side], list[Coat]] = {}
    for join in book.joins:
        if entries[join.part].role == LINING and entries[join.onto_part].role == BOARDS:
            thick = entries[join.part].stock.caliper.mm + book.tape.thickness.mm
            lined = (join.onto_part, join.onto_panel, join.onto_side)
            coats.setdefault(lined, []).append(Coat(landing_box(join), thick, join.part))
    for entry in book.parts:
        key = _longest_beginning(entry.key, entries) if entry.part.covers else ""
        if not key:
            continue
        for panel, under, dx, dy in covered_panels(entry.part, entries[key].part):
            box = panel.bounds()
            lying = Bounds(box.left + dx, box.bottom + dy, box.right + dx, box.top + dy)
            side = (key, under, entry.part.covers_side)
            coats.setdefault(side, []).append(Coat(lying, entry.stock.caliper.mm, entry.key))
    return coats


# ------------------------------------------------------------------ places in the book


def stuck_places(
    book: Book,
    parts: Mapping[str, FoldedPart],
    hosts: Mapping[str, Host],
    places: Mapping[str, Flats],
) -> dict[str, dict[str, Pose]]:
    """Return where reinforcements, mats and inserts are, of those whose host has a place."""
    entries = {entry.key: entry for entry in book.parts}
    found: dict[str, dict[str, Pose]] = {}
    for key, host in hosts.items():
        entry, under = entries[key], entries[host.part]
        if host.part not in places:
            continue
        if entry.part.covers:
            found[key] = _on_panels(entry, under, places[host.part])
        else:
            found[key] = _mat_place(entry, under, host, parts[host.part], places[host.part])
    found.update(insert_places(book, parts, places))
    return found


def _on_panels(entry: BookPart, host: BookPart, poses: Flats) -> dict[str, Pose]:
    apart = (entry.stock.caliper.mm + host.stock.caliper.mm) / 2
    z = apart if entry.part.covers_side is Side.FACE else -apart
    return {
        panel.name: poses[under].compose(shifted(dx, dy, z))
        for panel, under, dx, dy in covered_panels(entry.part, host.part)
        if under in poses
    }


def _mat_place(
    entry: BookPart, under: BookPart, host: Host, folded: FoldedPart, poses: Flats
) -> dict[str, Pose]:
    """Return the place of a mat: drawn as its side is seen with the head up, in the middle of it."""
    panel = entry.part.panels[0]
    pose = folded.poses[host.panel]
    x, y, height = pose.at(middle(bounds_of([folded.outlines[host.panel]])))
    looks_up = (float(pose.normal[2]) > 0) == (host.side is Side.FACE)
    apart = (entry.stock.caliper.mm + under.stock.caliper.mm) / 2
    own_x, own_y = middle(panel.bounds())
    if looks_up:
        lying = shifted(x - own_x, y - own_y, height + apart)
    else:
        rows = ((-1, 0, 0), (0, 1, 0), (0, 0, -1))
        lying = Pose(rows, (x + own_x, y - own_y, height - apart))
    return {panel.name: poses[folded.root].compose(lying)}


def bent_backing(
    book: Book, hosts: Mapping[str, Host], bent: Mapping[str, Sequence[BentPiece]]
) -> dict[str, tuple[BentPiece, ...]]:
    """Return the pieces of reinforcement on panels that have no pose of their own."""
    entries = {entry.key: entry for entry in book.parts}
    found = {}
    for key, host in hosts.items():
        entry = entries[key]
        if entry.part.covers and host.part in bent:
            found[key] = tuple(_backing(entry, entries[host.part], bent[host.part]))
    return found


def _backing(entry: BookPart, host: BookPart, pieces: Sequence[BentPiece]) -> Iterator[BentPiece]:
    apart = (entry.stock.caliper.mm + host.stock.caliper.mm) / 2
    z = apart if entry.part.covers_side is Side.FACE else -apart
    for panel, under, dx, dy in covered_panels(entry.part, host.part):
        for piece in pieces:
            if piece.panel == under:
                outline = shift(-dx, -dy).path(piece.outline)
                yield BentPiece(panel.name, outline, piece.pose.compose(shifted(dx, dy, z)))
