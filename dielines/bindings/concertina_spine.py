"""Concertina spine: a pleated strip, one page on each fin, rooms between the fins.

The fins stand on the spine; a page of the front half hangs before its fin, one
of the back half behind it, so that the fin always lies on the page's inner side.
The ends of the strip are cover tabs. A strip that is longer than the sheet is
made of pieces that share a fin.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from ..lengths import Length
from ..part import Part, Side
from ..part_motion import Motion
from .bound import Body, Bound, BoundPart, Join, Note, Towards
from .case import case_joins, case_parts, find_board_sizes, find_case_sizes
from .channels import channel_names, find_channels, front_count, half_of
from .covered import covered_notes
from .frame import Frame
from .holding import channel_places, cover_join, spine_join
from .joining import hinge_motion, numbered, own_joins, placed_join
from .pages import BoundPage, bound_page
from .spine import find_reach, find_spine

NAME = "concertina spine"
HELP = "Pages hang on the fins of a pleated strip; it opens wide and takes bulky pages."
COVERS = "fin"  #: the size that says how far the binding edge of each page is covered

#: Common practice, no source: each fin is two papers and a tape thick, its page is taped on,
#: and the two cover tabs add one paper and two tapes.
JUNCTION_BULK = (
    "junctions * (2 * cardstock_thickness + 2 * tape_thickness)"
    " + cardstock_thickness + 2 * tape_thickness"
)

#: parameters of the template and the sizes that they take
SIZES = {
    "height": "page_height",
    "fin": "fin",
    "gap": "gap",
    "first": "end_channel_front",
    "last": "end_channel_back",
    "tab": "cover_tab",
    "taper": "taper",
    "on_board": "cover_tab_on_board",
    "tape_margin": "tape_inset",
    "spine_margin": "hold_tape_inset",
}

__all__ = ["COVERS", "HELP", "NAME", "bind", "half_of", "page_alone"]


@dataclass(frozen=True)
class Piece:
    """A piece of the pleated strip: the pages whose fins it has, first and last."""

    key: str
    first: int
    last: int
    part: Part
    begins_at_cover: bool

    def fin(self, page: int) -> str:
        """Return the number of a page's fin in this piece, as its panels have it."""
        return "last" if page == self.last else str(page - self.first + 1)


def bind(bodies: Sequence[Body], frame: Frame) -> Bound:
    """Return the bound book of *bodies*, first to last."""
    find_board_sizes(frame)
    find_channels(bodies, frame)
    _find_gap(len(bodies), frame)
    notes = find_spine(frame, _room_names(len(bodies)), len(bodies), JUNCTION_BULK)
    notes += find_reach(frame)
    find_case_sizes(frame)
    pages = [page_alone(body, len(bodies), frame) for body in bodies]
    pieces = _pieces(len(bodies), frame)
    notes += [*covered_notes(pages, frame), *_split_notes(pieces)]
    case = case_parts(frame)
    comb = [BoundPart(p.key, _title(p, len(pieces)), p.part, "pages") for p in pieces]
    parts = (*(entry for page in pages for entry in page.parts), *comb, *case)
    joins = [
        *(join for page in pages for join in page.own_joins()),
        *(join for piece in pieces for join in own_joins(piece.key, piece.part)),
        *_overlap_joins(pieces),
        *(_page_join(page, _piece_of(pieces, page), frame) for page in pages),
        *case_joins(frame, case),
        *_spine_joins(pieces, len(pages), frame),
        cover_join(pieces[0].key, pieces[0].part, "front_tab", Towards.FRONT, frame),
        cover_join(pieces[-1].key, pieces[-1].part, "back_tab", Towards.BACK, frame),
    ]
    return Bound(parts, numbered(joins), tuple(notes))


def page_alone(body: Body, count: int, frame: Frame) -> BoundPage:
    """Return the page as it is: a fin holds it, nothing is added."""
    return bound_page(body, body.built, half_of(body.number, count, frame))


def _find_gap(count: int, frame: Frame) -> None:
    """Find the room between fins: the same everywhere, as wide as the widest channel needs."""
    between = channel_names(count)[1:-1]
    if between:
        frame.sizes.largest("gap", between)
    else:
        frame.sizes.derive("gap", "channel" if "channel" in frame.sizes else "end_channel_front")


def _room_names(count: int) -> list[str]:
    """Return the names of the rooms on the spine, from front to back."""
    return ["end_channel_front", *["gap"] * (count - 1), "end_channel_back"]


def _title(piece: Piece, count: int) -> str:
    if count == 1:
        return "concertina spine"
    return f"concertina spine, pages {piece.first} to {piece.last}"


# ------------------------------------------------------------------ pieces


def _pieces(count: int, frame: Frame) -> list[Piece]:
    """Return the pieces of the strip, each no longer than the sheet allows."""
    spans = list(spans_of(count, frame))
    keys = ["comb-spine"] if len(spans) == 1 else [f"comb-spine-{i + 1}" for i in range(len(spans))]
    return [
        _piece(key, first, last, count, frame)
        for key, (first, last) in zip(keys, spans, strict=True)
    ]


def spans_of(count: int, frame: Frame) -> Iterator[tuple[int, int]]:
    """Yield the first and last page of each piece; neighbours share a page's fin."""
    sizes = frame.sizes
    end = {1: "end_channel_front", count: "end_channel_back"}
    pitch = (sizes.length("fin") * 2 + sizes.length("gap")).mm
    first = 1
    while True:
        length = sizes.length("fin").mm * 2 + _end(first == 1, end[1], frame)
        last = first
        while last < count and _fits(
            length + pitch + _end(last + 1 == count, end[count], frame), frame
        ):
            last += 1
            length += pitch
        last = max(last, min(first + 1, count))
        yield first, last
        if last == count:
            return
        first = last


def _end(is_cover: bool, room: str, frame: Frame) -> Fraction:
    return (
        (frame.sizes.length("cover_tab") + frame.sizes.length(room)).mm if is_cover else Fraction(0)
    )


def _fits(length: Fraction, frame: Frame) -> bool:
    return frame.longest_strip is None or Length(length) <= frame.longest_strip


def _piece(key: str, first: int, last: int, count: int, frame: Frame) -> Piece:
    in_front = front_count(count, frame)
    part = frame.built(
        "comb-spine",
        SIZES,
        fins=last - first + 1,
        front=max(0, min(in_front, last) - first + 1),
        begins="at_cover" if first == 1 else "over_fin",
        ends="at_back" if last == count else "under_fin",
    ).parts[0]
    return Piece(key, first, last, part, first == 1)


def _split_notes(pieces: Sequence[Piece]) -> list[Note]:
    if len(pieces) == 1:
        return []
    text = f"longer than its sheet, so it is made of {len(pieces)} pieces that overlap by one fin"
    return [Note("split-strip", "concertina spine", text)]


def _piece_of(pieces: Sequence[Piece], page: BoundPage) -> Piece:
    """Return the piece on whose fin a page hangs: of a shared fin the outer, later one."""
    return next(p for p in reversed(pieces) if p.first <= page.body.number <= p.last)


# ------------------------------------------------------------------ joins


def _overlap_joins(pieces: Sequence[Piece]) -> Iterator[Join]:
    """Yield the joins of the first fin of a piece over the last fin of the one before."""
    for before, piece in pairwise(pieces):
        first = piece.fin(piece.first)
        for zone, leg in (("overlap", "up"), ("overlap2", "down")):
            panel = f"{leg}_{first}" if first == "last" else f"{leg}{first}"
            box, target = (
                piece.part.panel(panel).bounds(),
                before.part.panel(f"{leg}_last").bounds(),
            )
            motion = Motion(dx=target.left - box.left)
            onto = (before.key, f"{leg}_last", Side.FACE)
            yield placed_join(piece.key, piece.part, zone, panel, motion, onto)


def _page_join(page: BoundPage, piece: Piece, frame: Frame) -> Join:
    """Return the join of a fin onto the inner side of its page, foot at the binding edge."""
    fin = piece.fin(page.body.number)
    zone_name = f"page_{fin}" if fin == "last" else f"page{fin}"
    zone = next(zone for zone in piece.part.zones if zone.name == zone_name)
    box = piece.part.panel(zone.panel).bounds()
    foot = box.left if zone.panel.startswith("up") else box.right
    side = page.side_towards(page.half.other)
    motion = hinge_motion(foot, Side.FACE, page.bound_x(), side, page.bottom())
    onto = (page.key, page.body.bound_panel, side)
    return placed_join(piece.key, piece.part, zone_name, zone.panel, motion, onto)


def _spine_joins(pieces: Sequence[Piece], count: int, frame: Frame) -> Iterator[Join]:
    """Yield the rooms' tape onto the inside of the spine, the middle of the book first."""
    places = channel_places(_room_names(count), frame)
    holders = [(slot, piece, panel) for piece in pieces for slot, panel in _rooms(piece, count)]
    middle = front_count(count, frame)
    for slot, piece, panel in sorted(holders, key=lambda holder: abs(holder[0] - middle)):
        yield spine_join(piece.key, piece.part, panel, places[slot], frame)


def _rooms(piece: Piece, count: int) -> Iterator[tuple[int, str]]:
    """Yield the rooms of a piece: which one of the spine it is (0 before page 1), its panel."""
    names = {panel.name for panel in piece.part.panels}
    if "room_first" in names:
        yield 0, "room_first"
    for page in range(piece.first, piece.last):
        yield page, f"room{page - piece.first + 1}"
    if "room_last" in names:
        yield count, "room_last"
