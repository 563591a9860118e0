"""Tab and channel: every page hangs by a tab, with a channel of room before the next.

The first and the last page are held to the covers by cover tabs. Every other
page has a hinge tab glued over the binding edge of its outer neighbour, and one
separate hinge strip joins the two pages of the middle opening.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from ..language.building import Graft, with_graft
from ..lengths import Length
from ..part import Part, Side
from ..part_motion import Motion, mirrored
from .bound import Body, Bound, BoundPart, Join, Note, Towards
from .case import BOARD_KEYS, case_joins, case_parts, find_board_sizes, find_case_sizes
from .frame import Frame, SpineRule
from .joining import hinge_motion, numbered, own_joins, placed_join, template_join

NAME = "tab and channel"
HELP = "Pages hang by tabs, each over its neighbour; a channel between them gives room."

STRIP = "hinge-strip"
TO_FIT = "to fit"


def bind(bodies: Sequence[Body], frame: Frame) -> Bound:
    """Return the bound book of *bodies*, first to last."""
    find_board_sizes(frame)
    find_channels(bodies, frame)
    find_spine(bodies, frame)
    find_case_sizes(frame)
    reaches = find_reach(frame)
    pages = [_bound_page(body, len(bodies), frame) for body in bodies]
    strip = _strip_parts(bodies, frame)
    case = case_parts(frame)
    parts = (*(entry for page in pages for entry in page.parts), *strip, *case)
    joins = [
        *(join for page in pages for join in page.own_joins()),
        *_hinge_joins(pages, strip, frame),
        *case_joins(frame, case),
        *_spine_joins(pages, strip, frame),
        *_cover_joins(pages, strip, frame),
    ]
    return Bound(parts, numbered(joins), tuple(reaches))


def front_count(count: int, frame: Frame) -> int:
    """Return how many of *count* pages are in the front half; a lone page always is."""
    half, rest = divmod(count, 2)
    return half if rest and frame.extra_page_in_back and count > 1 else half + rest


def half_of(number: int, count: int, frame: Frame) -> Towards:
    """Return the cover to whose half page *number* belongs."""
    return Towards.FRONT if number <= front_count(count, frame) else Towards.BACK


# ------------------------------------------------------------------ sizes


def find_channels(bodies: Sequence[Body], frame: Frame) -> None:
    """Find the rooms of flaps and pockets, the channels between pages and the end channels."""
    for body in bodies:
        for towards in Towards:
            room = body.room(towards)
            if room:
                name = _room_name(body, towards)
                frame.sizes.take(name, room, f"page {body.number}: {body.words}")
    for body, following in pairwise(bodies):
        _find_channel(frame, body, following)
    _find_end_channel(frame, bodies[0], Towards.FRONT)
    _find_end_channel(frame, bodies[-1], Towards.BACK)


def _room_name(body: Body, towards: Towards) -> str:
    return f"page_{body.number}_towards_{towards.value}"


def _find_channel(frame: Frame, body: Body, following: Body) -> None:
    """Find the channel behind *body*: what folds and stands in it, at least the usual one."""
    names = [_room_name(body, Towards.BACK), _room_name(following, Towards.FRONT)]
    needs = [name for name in names if name in frame.sizes]
    name = f"channel_{body.number}"
    sizes = frame.sizes
    if frame.usual.word("channel") == TO_FIT:
        contents = f"contents_{body.number}"
        sizes.take(
            contents, body.contents + following.contents, "what is put on the pages beside it"
        )
        need = " + ".join(needs) or "0 in"
        sizes.derive(name, f"max({need}, {contents}, {_least(frame)})", "to fit")
    elif needs:
        total = f"{name}_needs"
        sizes.total(total, needs)
        sizes.largest(name, ["channel", total])
    else:
        sizes.derive(name, "channel")


def _least(frame: Frame) -> str:
    """Return the narrowest channel that can still be scored (from memory), in the book's units."""
    return "1/16 in" if frame.sizes.units == "in" else "2 mm"


def _find_end_channel(frame: Frame, body: Body, towards: Towards) -> None:
    name, room = f"end_channel_{towards.value}", _room_name(body, towards)
    if frame.usual["end_channel"].length is not None:
        frame.sizes.derive(name, "end_channel")
    elif room in frame.sizes:
        frame.sizes.derive(name, room, "the pocket stands in it")
    elif frame.usual.word("channel") == TO_FIT:
        frame.sizes.derive(name, _least(frame), "to fit")
    else:
        frame.sizes.derive(name, "channel", "nothing stands in it")


def find_spine(bodies: Sequence[Body], frame: Frame) -> None:
    """Find the width of the spine: the usual allowance, or what the glued junctions need.

    The junctions: TRADE, "spine bulk" (common practice): each of the n junctions
    is paper, reinforcement and tape thick, and the two cover tabs add one paper,
    two tapes and two reinforcements.
    """
    sizes, count = frame.sizes, len(bodies)
    channels = [f"channel_{body.number}" for body in bodies[:-1]]
    sizes.total("channels", ["end_channel_front", *channels, "end_channel_back"])
    for stock in ("cardstock", "reinforcing", "tape"):
        sizes.take(f"{stock}_thickness", frame.caliper(stock), "the workshop")
    sizes.count("junctions", count, "one for each page")
    sizes.derive(
        "junction_bulk",
        "junctions * (cardstock_thickness + reinforcing_thickness + tape_thickness)"
        " + cardstock_thickness + 2 * tape_thickness + 2 * reinforcing_thickness",
    )
    sizes.derive("spine_usual", "channels + spine_allowance")
    sizes.derive("spine_by_junctions", "channels + junction_bulk + play")
    if isinstance(frame.spine, Length):
        sizes.take("spine", frame.spine, "this book")
    elif frame.spine is SpineRule.TO_FIT:
        step = "1/16 in" if sizes.units == "in" else "1 mm"
        sizes.derive("spine", f"round_up(spine_by_junctions, {step})", "to fit")
    else:
        step = "1/16 in" if sizes.units == "in" else "1 mm"
        sizes.derive("spine_needed", f"round_up(spine_by_junctions, {step})")
        sizes.largest("spine", ["spine_usual", "spine_needed"])


def find_reach(frame: Frame) -> Iterator[Note]:
    """Find how much of a cover tab lies on its board; too little is noted.

    TRADE, "reach" (common practice): the tab less the spare of the spine on that
    side, the joint and two board thicknesses.
    """
    sizes = frame.sizes
    sizes.take("board_thickness", frame.caliper("board"), "the workshop")
    sizes.derive("spine_spare", "max(0 in, (spine - channels) / 2)", "on each side of the pages")
    sizes.derive("cover_tab_reach", "cover_tab - spine_spare - joint - 2 * board_thickness")
    sizes.derive("cover_tab_on_board", "max(cover_tab_reach, cover_tab / 8)")
    return iter(_reach_notes(frame))


def _reach_notes(frame: Frame) -> list[Note]:
    reach = frame.sizes.length("cover_tab_reach")
    if reach >= frame.sizes.length("hinge_tab"):
        return []
    text = "the cover tab reaches less far onto its board than a hinge tab is wide; make it wider"
    return [Note("short-reach", "cover_tab", text)]


# ------------------------------------------------------------------ pages


@dataclass(frozen=True)
class BoundPage:
    """A page with what the binding added; *key* names its bound part in files."""

    body: Body
    key: str
    parts: tuple[BoundPart, ...]
    names: dict[str, str]  #: the template's name of each part -> its key
    half: Towards

    @property
    def page(self) -> Part:
        """The bound part, as it lies in the book."""
        return self.parts[0].part

    def own_joins(self) -> Iterator[Join]:
        """Yield the joins inside the page: seams first, then what its template declares."""
        for entry in self.parts:
            yield from own_joins(entry.key, entry.part)
        parts = {name: self._part(key) for name, key in self.names.items()}
        for join in self.body.built.joins:
            yield template_join(join, self.names, parts)

    def _part(self, key: str) -> Part:
        return next(entry.part for entry in self.parts if entry.key == key)

    @property
    def towards(self) -> str:
        """The side of the page that looks to its own cover: outer as usual, or inner."""
        return "inner" if self.body.looks is self.half else "outer"

    def bound_x(self) -> Fraction | float:
        """Return where the bound edge stands across the part, mm."""
        assert self.page.bound is not None
        return self.page.bound.start.x

    def bottom(self) -> Fraction | float:
        """Return the lower end of the bound edge, mm."""
        assert self.page.bound is not None
        return min(self.page.bound.start.y, self.page.bound.end.y)

    def side_towards(self, cover: Towards) -> Side:
        """Return the side of its paper that looks to *cover*."""
        return Side.FACE if self.body.looks is cover else Side.REVERSE


def _bound_page(body: Body, count: int, frame: Frame) -> BoundPage:
    half = half_of(body.number, count, frame)
    graft = _graft(body, count, half, frame)
    built = with_graft(body.built, graft, frame.calipers)
    names, parts = {}, []
    ordered = sorted(built.parts, key=lambda part: part.bound is None)
    for part in ordered:
        is_page = part.bound is not None
        key = (
            f"page-{body.number}"
            if is_page
            else f"page-{body.number}-{part.name.replace('_', '-')}"
        )
        names[part.name] = key
        turned = mirrored(part) if body.looks is Towards.BACK else part
        title = (
            f"page {body.number}: {body.words}"
            if is_page
            else (f"page {body.number}: {part.name.replace('_', ' ')}")
        )
        role = "reinforcement" if part.stock == "reinforcing" else "pages"
        parts.append(BoundPart(key, title, turned, role))
    return BoundPage(body, f"page-{body.number}", tuple(parts), names, half)


def _graft(body: Body, count: int, half: Towards, frame: Frame) -> Graft:
    """Return the cover tab of an end page, or the hinge tab of any other."""
    sizes = frame.sizes
    towards = "inner" if body.looks is half else "outer"
    shared = {
        "lap": sizes.length("reinforcement_lap"),
        "tape_margin": sizes.length("tape_margin") / 2,
        "towards": towards,
    }
    if body.number == 1 or body.number == count:
        end = Towards.FRONT if body.number == 1 else Towards.BACK
        return frame.graft(
            "cover-tab",
            tab=sizes.length("cover_tab"),
            channel=sizes.length(f"end_channel_{end.value}"),
            taper=sizes.length("taper"),
            on_board=sizes.length("cover_tab_on_board"),
            **shared,
        )
    outer = body.number - 1 if half is Towards.FRONT else body.number
    return frame.graft(
        "hinge-tab",
        tab=sizes.length("hinge_tab"),
        channel=sizes.length(f"channel_{outer}"),
        **shared,
    )


def _strip_parts(bodies: Sequence[Body], frame: Frame) -> tuple[BoundPart, ...]:
    """Return the one separate strip of the book and its backing."""
    sizes = frame.sizes
    margin = sizes.length("tape_margin") / 2
    if len(bodies) > 1:
        middle = front_count(len(bodies), frame)
        strip, backing = frame.built(
            STRIP,
            height=sizes.length("page_height"),
            channel=sizes.length(f"channel_{middle}"),
            tab=sizes.length("hinge_tab"),
            tape_margin=margin,
        ).parts
        title = f"hinge strip between pages {middle} and {middle + 1}"
    else:
        strip, backing = frame.built(
            "closing-strip",
            height=sizes.length("page_height"),
            tab=sizes.length("cover_tab"),
            channel=sizes.length("end_channel_back"),
            hinge=sizes.length("hinge_tab"),
            taper=sizes.length("taper"),
            on_board=sizes.length("cover_tab_on_board"),
            tape_margin=margin,
        ).parts
        title = "hinge strip to the back board"
    return (
        BoundPart(STRIP, title, strip, "pages"),
        BoundPart(f"{STRIP}-backing", f"backing of the {title}", backing, "reinforcement"),
    )


# ------------------------------------------------------------------ joins


def _hinge_joins(
    pages: Sequence[BoundPage], strip: Sequence[BoundPart], frame: Frame
) -> Iterator[Join]:
    """Yield the hinge tabs from the covers inwards, then the strip in the middle opening."""
    middle = front_count(len(pages), frame)
    for page, outer in zip(pages[1:middle], pages, strict=False):
        yield _hinge_join(page, outer)
    for page, outer in reversed(list(zip(pages[middle:], pages[middle + 1 :], strict=False))):
        yield _hinge_join(page, outer)
    if len(pages) > 1:
        yield _strip_join(strip[0].part, "front_tab", pages[middle - 1], Towards.BACK)
        yield _strip_join(strip[0].part, "back_tab", pages[middle], Towards.FRONT)
    else:
        yield _strip_join(strip[0].part, "hinge", pages[0], Towards.BACK)


def _hinge_join(page: BoundPage, outer: BoundPage) -> Join:
    """Return the join of a page's hinge tab onto the side of its outer neighbour that faces it."""
    tab = page.page.panel("binding.tab").bounds()
    fold_x = tab.right if tab.left < page.bound_x() else tab.left
    side = Side.FACE if page.towards == "outer" else Side.REVERSE
    onto = outer.side_towards(page.half.other)
    rise = outer.bottom() - page.bottom()
    motion = hinge_motion(fold_x, side, outer.bound_x(), onto, rise)
    target = (outer.key, outer.body.bound_panel, onto)
    return placed_join(page.key, page.page, "binding.tab", "binding.tab", motion, target)


def _strip_join(strip: Part, tab: str, page: BoundPage, towards: Towards) -> Join:
    """Return the join of one tab of the separate strip onto the side of a page."""
    box, channel = strip.panel(tab).bounds(), strip.panel("channel").bounds()
    fold_x = box.right if box.left < channel.left else box.left
    side = next(zone.side for zone in strip.zones if zone.panel == tab)
    onto = page.side_towards(towards)
    motion = hinge_motion(fold_x, side, page.bound_x(), onto, page.bottom())
    return placed_join(STRIP, strip, tab, tab, motion, (page.key, page.body.bound_panel, onto))


def _spine_joins(
    pages: Sequence[BoundPage], strip: Sequence[BoundPart], frame: Frame
) -> Iterator[Join]:
    """Yield the channels' tape onto the inside of the spine, the middle opening first."""
    places = _channel_places(pages, frame)
    holders = [(page.key, page.page, "binding.channel", _slot(page, len(pages))) for page in pages]
    middle = front_count(len(pages), frame) if len(pages) > 1 else 1
    holders.append((STRIP, strip[0].part, "channel", middle))
    for key, part, panel, slot in sorted(holders, key=lambda holder: abs(holder[3] - middle)):
        if any(zone.panel == panel for zone in part.zones):
            yield _spine_join(key, part, panel, places[slot], frame)


def _slot(page: BoundPage, count: int) -> int:
    """Return which channel a page's own binding makes: 0 before page 1, n behind page n."""
    return page.body.number - 1 if page.half is Towards.FRONT else page.body.number


def _channel_places(pages: Sequence[BoundPage], frame: Frame) -> list[Fraction]:
    """Return where each channel begins on the inside of the spine board, from the front, mm."""
    names = [
        "end_channel_front",
        *(f"channel_{page.body.number}" for page in pages[:-1]),
        "end_channel_back",
    ]
    places, at = [], frame.sizes.length("spine_spare").mm
    for name in names:
        places.append(at)
        at += frame.sizes.length(name).mm
    return places


def _spine_join(key: str, part: Part, panel: str, place: Fraction, frame: Frame) -> Join:
    """Return the join of a channel onto the spine board, whose face is its outside.

    Seen from outside, the front of the book is at the right; the inside is its reverse.
    """
    box = part.panel(panel).bounds()
    spine = frame.sizes.length("spine").mm
    left = spine - place - box.width
    rise = frame.sizes.length("square").mm - box.bottom
    motion = Motion(dx=left - box.left, dy=rise)
    zone = next(zone.name for zone in part.zones if zone.panel == panel)
    return placed_join(key, part, zone, panel, motion, ("spine-board", "spine", Side.REVERSE))


def _cover_joins(
    pages: Sequence[BoundPage], strip: Sequence[BoundPart], frame: Frame
) -> Iterator[Join]:
    """Yield the cover tabs onto the insides of the boards."""
    yield _cover_join(pages[0].key, pages[0].page, "binding.tab", Towards.FRONT, frame)
    if len(pages) > 1:
        yield _cover_join(pages[-1].key, pages[-1].page, "binding.tab", Towards.BACK, frame)
    else:
        yield _cover_join(STRIP, strip[0].part, "tab", Towards.BACK, frame)


def _cover_join(key: str, part: Part, tab: str, cover: Towards, frame: Frame) -> Join:
    """Return the join of a cover tab onto the inside (reverse) of its board.

    Seen from outside, the front board's spine edge is at its left, the back
    board's at its right; the tab's far edge lies *on_board* from that edge.
    """
    box = part.panel(tab).bounds()
    side = next(zone.side for zone in part.zones if zone.panel == tab)
    reach, board = (frame.sizes.length(n).mm for n in ("cover_tab_on_board", "board_width"))
    far_is_left = box.left == 0
    far = box.left if far_is_left else box.right
    target = reach if cover is Towards.FRONT else board - reach
    sign = 1 if side is Side.FACE else -1
    motion = Motion(a=sign, dx=target - sign * far, dy=_rise(part, tab, frame))
    onto = (BOARD_KEYS[cover], "board", Side.REVERSE)
    return placed_join(key, part, tab, tab, motion, onto)


def _rise(part: Part, tab: str, frame: Frame) -> Fraction | float:
    """Return what brings a tab up to its board: the square, its page's foot at its own height."""
    return frame.sizes.length("square").mm - part.panel(tab).bounds().bottom
