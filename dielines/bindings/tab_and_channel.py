"""Tab and channel: every page hangs by a tab, with a channel of room before the next.

The first and the last page are held to the covers by cover tabs. Every other
page has a hinge tab glued over the binding edge of its outer neighbour, and one
separate hinge strip joins the two pages of the middle opening.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..part import Part, Side
from .bound import Body, Bound, BoundPart, Join, Towards
from .case import case_joins, case_parts, find_board_sizes, find_case_sizes
from .channels import channel_names, find_channels, front_count, half_of
from .covered import covered_notes
from .frame import Frame
from .holding import channel_places, cover_join, spine_join
from .joining import hinge_motion, numbered, placed_join
from .pages import BoundPage, bound_page, bound_pages
from .spine import find_reach, find_spine

NAME = "tab and channel"
HELP = "Pages hang by tabs, each over its neighbour; a channel between them gives room."
COVERS = "hinge_tab"  #: the size that says how far the binding edge of each page is covered

STRIP = "hinge-strip"
#: Common practice, no source: each junction is paper, reinforcement and tape thick, and
#: the two cover tabs add one paper, two tapes and two reinforcements.
JUNCTION_BULK = (
    "junctions * (cardstock_thickness + reinforcing_thickness + tape_thickness)"
    " + cardstock_thickness + 2 * tape_thickness + 2 * reinforcing_thickness"
)

#: parameters of the templates and the sizes that they take
TAPE = {"tape_margin": "tape_inset", "spine_margin": "hold_tape_inset"}
EDGE = {"lap": "reinforcement_lap", **TAPE}
COVER_TAB = {"tab": "cover_tab", "taper": "taper", "on_board": "cover_tab_on_board"}

__all__ = ["COVERS", "HELP", "NAME", "bind", "half_of", "page_alone"]


def bind(bodies: Sequence[Body], frame: Frame) -> Bound:
    """Return the bound book of *bodies*, first to last."""
    find_board_sizes(frame)
    find_channels(bodies, frame)
    notes = find_spine(frame, channel_names(len(bodies)), len(bodies), JUNCTION_BULK)
    notes += find_reach(frame)
    find_case_sizes(frame)
    pages = bound_pages(bodies, lambda body: page_alone(body, len(bodies), frame))
    notes += covered_notes(pages, frame)
    strip = _strip_parts(bodies, frame)
    case = case_parts(frame)
    parts = (*(entry for page in pages for entry in page.parts), *strip, *case)
    joins = [
        *(join for page in pages for join in page.own_joins()),
        *_hinge_joins(pages, strip[0].part, frame),
        *case_joins(frame, case),
        *_spine_joins(pages, strip[0].part, frame),
        *_cover_joins(pages, strip[0].part, frame),
    ]
    return Bound(parts, numbered(joins), tuple(notes))


def page_alone(body: Body, count: int, frame: Frame) -> BoundPage:
    """Return the page with the cover tab of an end page, or the hinge tab of any other."""
    half = half_of(body.number, count, frame)
    towards = "inner" if body.looks is half else "outer"
    if body.number in (1, count):
        end = Towards.FRONT if body.number == 1 else Towards.BACK
        sizes = {**COVER_TAB, "channel": f"end_channel_{end.value}", **EDGE}
        return bound_page(
            body, frame.with_edge(body.built, "cover-tab", sizes, towards=towards), half
        )
    outer = body.number - 1 if half is Towards.FRONT else body.number
    sizes = {"tab": "hinge_tab", "channel": f"channel_{outer}", **EDGE}
    return bound_page(body, frame.with_edge(body.built, "hinge-tab", sizes, towards=towards), half)


def _strip_parts(bodies: Sequence[Body], frame: Frame) -> tuple[BoundPart, ...]:
    """Return the one separate strip of the book and its backing."""
    shared = {"height": "page_height", **TAPE}
    if len(bodies) > 1:
        middle = front_count(len(bodies), frame)
        sizes = {"tab": "hinge_tab", "channel": f"channel_{middle}", **shared}
        strip, backing = frame.built(STRIP, sizes).parts
        title = f"hinge strip between pages {middle} and {middle + 1}"
    else:
        sizes = {**COVER_TAB, "channel": "end_channel_back", "hinge": "hinge_tab", **shared}
        strip, backing = frame.built("closing-strip", sizes).parts
        title = "hinge strip to the back board"
    return (
        BoundPart(STRIP, title, strip, "pages"),
        BoundPart(f"{STRIP}-backing", f"backing of the {title}", backing, "reinforcement"),
    )


def _hinge_joins(pages: Sequence[BoundPage], strip: Part, frame: Frame) -> Iterator[Join]:
    """Yield the hinge tabs from the covers inwards, then the strip in the middle opening."""
    middle = front_count(len(pages), frame)
    for page, outer in zip(pages[1:middle], pages, strict=False):
        yield _hinge_join(page, outer)
    for page, outer in reversed(list(zip(pages[middle:], pages[middle + 1 :], strict=False))):
        yield _hinge_join(page, outer)
    if len(pages) > 1:
        yield _strip_join(strip, "front_tab", pages[middle - 1], Towards.BACK)
        yield _strip_join(strip, "back_tab", pages[middle], Towards.FRONT)
    else:
        yield _strip_join(strip, "hinge", pages[0], Towards.BACK)


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
    box = strip.panel(tab).bounds()
    fold_x = box.right if box.left == 0 else box.left
    side = next(zone.side for zone in strip.zones if zone.panel == tab)
    onto = page.side_towards(towards)
    motion = hinge_motion(fold_x, side, page.bound_x(), onto, page.bottom())
    return placed_join(STRIP, strip, tab, tab, motion, (page.key, page.body.bound_panel, onto))


def _spine_joins(pages: Sequence[BoundPage], strip: Part, frame: Frame) -> Iterator[Join]:
    """Yield the channels' tape onto the inside of the spine, the middle opening first."""
    places = channel_places(channel_names(len(pages)), frame)
    holders = [(page.key, page.page, "binding.channel", _slot(page, len(pages))) for page in pages]
    middle = front_count(len(pages), frame) if len(pages) > 1 else 1
    holders.append((STRIP, strip, "channel", middle))
    for key, part, panel, slot in sorted(holders, key=lambda holder: abs(holder[3] - middle)):
        if any(zone.panel == panel for zone in part.zones):
            yield spine_join(key, part, panel, places[slot], frame)


def _slot(page: BoundPage, count: int) -> int:
    """Return which channel a page's own binding makes: 0 before page 1, n behind page n."""
    return page.body.number - 1 if page.half is Towards.FRONT else page.body.number


def _cover_joins(pages: Sequence[BoundPage], strip: Part, frame: Frame) -> Iterator[Join]:
    """Yield the cover tabs onto the insides of the boards."""
    yield cover_join(pages[0].key, pages[0].page, "binding.tab", Towards.FRONT, frame)
    if len(pages) > 1:
        yield cover_join(pages[-1].key, pages[-1].page, "binding.tab", Towards.BACK, frame)
    else:
        yield cover_join(STRIP, strip, "tab", Towards.BACK, frame)
