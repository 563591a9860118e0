"""The case: sizes worked out by hand, and what lies on the boards laid out on the open case.

Sizes are the table of defaults (common practice, no source) for a page of
6 1/4 x 4 1/4 in and one of 131 x 107 mm.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest
from shapely import Polygon, box, union_all

from dielines.paths import flattened

INCH = Fraction(254, 10)
NEAR = 1e-6


def text_of(more: str = "", units: str = "in") -> str:
    size = "page 6 1/4 x 4 1/4" if units == "in" else "page 131 x 107"
    return (
        f'units = "{units}"\nsize = "{size}"\nbinding = "tab and channel"\n'
        f'pages = ["side pocket", "flap"]\n{more}'
    )


def cut(book, key: str) -> tuple[Fraction, Fraction]:
    part = book.part(key).part
    return Fraction(part.width), Fraction(part.height)


def inches(*numbers) -> tuple[Fraction, ...]:
    return tuple(Fraction(n) * INCH for n in numbers)


# ------------------------------------------------------------------ sizes


def test_all_parts_of_the_case_have_the_usual_sizes(book_of):
    """Channels 1/8 + 1/4 + 1/4, so spine 5/8 + 3/8 = 1. Boards 6 1/2 x 4 1/2.

    Wrap: 1 + 2 x 5/16 + 2 x 1 wide, 4 1/2 + 2 x 3/4 high. Lining: 1 + 2 x 1/8 wide,
    4 1/2 - 2 x 3/4 + 2 x 1/4 high. Strips: 4 1/2 for the fore-edge, 6 1/2 - 1 for
    what the wrap leaves bare of head and tail.
    """
    book = book_of(text_of())
    assert cut(book, "front-board") == cut(book, "back-board") == inches("13/2", "9/2")
    assert cut(book, "spine-board") == inches(1, "9/2")
    assert cut(book, "joint-wrap") == inches("29/8", 6)
    assert cut(book, "spine-lining") == inches("5/4", "7/2")
    for cover in ("front", "back"):
        assert cut(book, f"edge-{cover}-fore-edge") == inches(1, "9/2")
        assert cut(book, f"edge-{cover}-head") == cut(book, f"edge-{cover}-tail")
        assert cut(book, f"edge-{cover}-head") == inches(1, "11/2")
    assert book.reasons.length("board_distance").mm == Fraction(13, 8) * INCH


def test_the_sizes_that_are_told_are_those_that_are_cut(book_of):
    book = book_of(text_of())
    names = {
        "joint-wrap": ("joint_wrap_width", "joint_wrap_height"),
        "spine-lining": ("spine_lining_width", "spine_lining_height"),
        "front-board": ("board_width", "board_height"),
        "edge-back-fore-edge": ("edge_strip", "edge_strip_fore_edge"),
        "edge-back-tail": ("edge_strip", "edge_strip_head_and_tail"),
    }
    for key, (width, height) in names.items():
        told = book.reasons.length(width).mm, book.reasons.length(height).mm
        assert cut(book, key) == told


def test_the_sizes_in_millimetres_are_a_set_of_their_own(book_of):
    """Channels 3 + 6 + 6, spine 25; boards 137 x 113; wrap 25 + 16 + 50, 113 + 40; lining 31 x 85."""
    book = book_of(text_of(units="mm"))
    assert cut(book, "front-board") == (137, 113)
    assert cut(book, "spine-board") == (25, 113)
    assert cut(book, "joint-wrap") == (91, 153)
    assert cut(book, "spine-lining") == (31, 85)
    assert cut(book, "edge-front-fore-edge") == (25, 113)
    assert cut(book, "edge-back-tail") == (25, 112)


def test_squares_and_fore_edge_follow_the_book(book_of):
    book = book_of(text_of('[usual]\nsquare = "1/7"\nfore_edge = "1/3"\n'))
    assert cut(book, "back-board") == inches(Fraction(25, 4) + Fraction(1, 3), "127/28")


def test_the_backing_of_the_wrap_is_as_large_as_the_wrap(book_of):
    book = book_of(text_of())
    assert cut(book, "joint-wrap-backing") == cut(book, "joint-wrap")
    assert book.part("joint-wrap-backing").role == "reinforcement"


# ------------------------------------------------------------------ what lies on the boards


def laid(space, key: str, panel: str) -> Polygon:
    """A panel of a part as it lies on the open case, seen from outside."""
    outline = space.book.part(key).part.panel(panel).outline
    places = [space.at[key, panel].at(point) for point in flattened(outline, 0.001)]
    return Polygon([(float(x), float(y)) for x, y, _ in places])


def halves(space, cover: str, panel: str) -> dict[str, Polygon]:
    return {
        edge: laid(space, f"edge-{cover}-{edge}", panel) for edge in ("fore-edge", "head", "tail")
    }


@pytest.mark.parametrize("cover", ["front", "back"])
@pytest.mark.parametrize("scores", ["once", "twice"])
def test_mitred_strips_and_the_wrap_cover_head_tail_and_fore_edge_and_meet_at_the_corners(
    cover, scores, book_of, opened, prove
):
    """Inside and outside: a band as wide as the half of the strip, without gap or overlap.

    At the two corners the mitres run along the bisector, from the corner inwards.
    """
    book = book_of(text_of(f'[usual]\nedge_scores = "{scores}"\n'))
    prove(book)
    space = opened(book)
    start = float(space.starts()[f"{cover}-board"])
    width, height = (float(space.length(n)) for n in ("board_width", "board_height"))
    hold = float(space.length("hold"))
    board = box(start, 0, start + width, height)
    for side in ("outside", "inside"):
        strips = halves(space, cover, side)
        deep = min(strips["head"].bounds[3] - strips["head"].bounds[1], 1e9)
        held = (
            box(start, 0, start + hold, height)
            if cover == "front"
            else box(start + width - hold, 0, start + width, height)
        )
        for polygon in strips.values():
            assert board.buffer(NEAR).contains(polygon)
            assert polygon.intersection(held).area < NEAR  # side by side with the wrap
        for one, other in combinations(strips.values(), 2):
            assert one.intersection(other).area < NEAR
        inner = (
            box(start, deep, start + width - deep, height - deep)
            if cover == "front"
            else box(start + deep, deep, start + width, height - deep)
        )
        band = board.difference(inner).difference(held)
        covered = union_all(list(strips.values()))
        assert band.difference(covered.buffer(NEAR)).area < NEAR
        assert covered.area == pytest.approx(band.area)


def test_the_mitre_of_each_short_strip_is_at_the_fore_edge_and_its_plain_end_at_the_wrap(
    book_of, opened
):
    space = opened(book_of(text_of()))
    for cover in ("front", "back"):
        start, width = space.starts()[f"{cover}-board"], space.length("board_width")
        fore_edge = float(start + width if cover == "front" else start)
        for edge in ("head", "tail"):
            polygon = halves(space, cover, "outside")[edge]
            left, low, right, high = polygon.bounds
            level = high if edge == "head" else low
            far = low if edge == "head" else high
            along = {round(x, 6) for x, y in polygon.exterior.coords if abs(y - level) < NEAR}
            inside = {round(x, 6) for x, y in polygon.exterior.coords if abs(y - far) < NEAR}
            half = abs(high - low)
            assert round(fore_edge, 6) in along
            inward = fore_edge - half if cover == "front" else fore_edge + half
            assert round(inward, 6) in inside
            bare = left if cover == "front" else right
            assert round(bare, 6) in along & inside


@pytest.mark.parametrize("cover", ["front", "back"])
def test_overlapped_corners_leave_nothing_bare(cover, book_of, opened, prove):
    """Square ends: the strips of head and tail lie over that of the fore-edge."""
    book = book_of(text_of('[usual]\nedge_corners = "overlapped"\n'))
    prove(book)
    space = opened(book)
    start = float(space.starts()[f"{cover}-board"])
    width, height = (float(space.length(n)) for n in ("board_width", "board_height"))
    hold = float(space.length("hold"))
    strips = halves(space, cover, "outside")
    deep = strips["head"].bounds[3] - strips["head"].bounds[1]
    board = box(start, 0, start + width, height)
    inner = (
        box(start, deep, start + width - deep, height - deep)
        if cover == "front"
        else box(start + deep, deep, start + width, height - deep)
    )
    held = (
        box(start, 0, start + hold, height)
        if cover == "front"
        else box(start + width - hold, 0, start + width, height)
    )
    bare = board.difference(inner).difference(held)
    for polygon in strips.values():
        bare = bare.difference(polygon.buffer(NEAR))
    assert bare.area < NEAR
    for edge in ("head", "tail"):  # square ends, one half by one half
        assert strips[edge].intersection(strips["fore-edge"]).area == pytest.approx(deep * deep)


def test_the_tape_of_every_strip_lies_whole_on_its_board(book_of, opened):
    book = book_of(text_of())
    space = opened(book)
    for join in book.joins:
        if join.part.startswith("edge-"):
            zone, _, target = space.onto(join)
            assert target.buffer(NEAR).contains(zone)


def test_the_shares_of_a_turn_in_make_up_its_tape_less_what_lies_over_the_joints(book_of):
    """Wrap 3 5/8 wide; the turn-in's tape 1/16 inside its tapered edges; two joints of 5/16."""
    book = book_of(text_of())
    rows = [join for join in book.joins if join.part == "joint-wrap" and join.zone == "head"]
    assert [join.onto_part for join in rows] == ["spine-board", "front-board", "back-board"]
    assert float(rows[0].width) == pytest.approx(25.4)  # the whole spine
    zone = next(z for z in book.part("joint-wrap").part.zones if z.name == "head")
    xs = [point.x for point in zone.path.points]
    total = max(xs) - min(xs) - 2 * Fraction(5, 16) * INCH
    assert float(sum(join.width for join in rows)) == pytest.approx(float(total))
    for join in rows:
        assert float(join.height) == pytest.approx(15.875)
    # from 1/16 below the head of the board
    for join in rows:
        top = float(join.offset.y + join.height)
        assert top == pytest.approx(float(Fraction(9, 2) * INCH - INCH / 16))


def test_the_lining_covers_spine_and_the_ends_of_the_turn_ins(book_of, opened):
    """Over the spine board by 1/8 at each side, over the turn-ins by 1/4."""
    space = opened(book_of(text_of()))
    lining, spine = laid(space, "spine-lining", "lining"), laid(space, "spine-board", "spine")
    left, _, right, _ = lining.bounds
    assert [spine.bounds[0] - left, right - spine.bounds[2]] == pytest.approx([3.175, 3.175])
    for name in ("head", "tail"):
        turned = laid(space, "joint-wrap", name)
        lap = turned.intersection(lining)
        assert lap.bounds[3] - lap.bounds[1] == pytest.approx(6.35)


def test_a_lining_wider_than_the_joints_lies_on_the_boards_as_well(book_of, prove):
    book = book_of(text_of('[usual]\nlining_side = "1/2"\n'))
    prove(book)
    rows = [join for join in book.joins if join.part == "spine-lining"]
    assert [join.onto_part for join in rows] == [
        "spine-board", "joint-wrap", "joint-wrap", "front-board", "back-board"
    ]  # fmt: skip
    # 1/2 less 1/16 of margin, less the joint of 5/16: 1/8 on each board
    assert [join.width for join in rows] == [
        INCH, Fraction(5, 16) * INCH, Fraction(5, 16) * INCH, INCH / 8, INCH / 8
    ]  # fmt: skip


# ------------------------------------------------------------------ tape


def test_tape_of_holds_is_full_and_that_of_turn_ins_an_eighth_less(book_of):
    book = book_of(text_of())
    wide = {(j.part, j.zone, j.onto_part): (j.width, j.height) for j in book.joins}
    assert wide["joint-wrap", "front_hold", "front-board"] == inches(1, "9/2")
    assert wide["joint-wrap", "spine", "spine-board"] == inches(1, "9/2")
    half = wide["edge-front-fore-edge", "outside", "front-board"]
    assert float(half[0]) == pytest.approx(9.525)


def test_the_margin_of_tape_on_holds_and_channels_follows_the_book(book_of, prove):
    """A margin of 1/8 in all: 7/8 on the hold, and a channel's tape 1/16 inside on each side."""
    book = book_of(text_of('[usual]\nhold_tape_margin = "1/8"\n'))
    prove(book)
    wide = {(j.part, j.zone, j.onto_part): (j.width, j.height) for j in book.joins}
    assert wide["joint-wrap", "back_hold", "back-board"] == inches("7/8", "35/8")
    assert wide["hinge-strip", "channel", "spine-board"] == inches("1/8", "33/8")


def test_channels_have_tape_on_their_whole_face_at_the_spine_and_none_inside(book_of):
    book = book_of(text_of())
    for key, panel in (("page-1", "binding.channel"), ("hinge-strip", "channel")):
        part = book.part(key).part
        zones = [zone for zone in part.zones if zone.panel == panel]
        assert len(zones) == 1
        assert set(zones[0].path.points) == set(part.panel(panel).outline.points)
