"""Parts, joins and handedness of every kind of page in every place of a book.

All tables here were written by hand, from these rules (LANGUAGE.md, which side of
the paper; TRADE.md, junctions; common practice, no source):

- A map shows the inner side of a page, its face, with the spine at the left. The
  inner side looks to the middle of the book. Hold a book open: in its back half
  the pages that look to the middle have their spine at the left, so they are as
  drawn; in the front half it is at the right, so they are mirrored.
- A tab folds away behind its page, twice by a quarter turn, so that the tab's own
  face looks away from the middle: it is the face that is glued. An inner page's
  tab lies on the binding edge of its outer neighbour, on the side that looks to
  the middle, which is that neighbour's face.
- The strip of the middle opening is a trough, its tape on the outside, which is
  its reverse: both its tabs lie on faces.
- n pages have n - 2 hinge tabs, two cover tabs and one separate strip, so n glued
  junctions. A lone page has its cover tab in front; the strip goes from its face
  to the back board, and has its tape on its face all along.
- Each page has a channel of its own, and so has the strip: n + 1 in all.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import pytest

from dielines.bindings.bound import Join
from dielines.language.library import built_in_library

INCH = Fraction(254, 10)


@dataclass(frozen=True)
class Kind:
    """What is special to a kind of page, at 6 1/4 x 4 1/4 in."""

    bound: str  #: the panel at whose edge it is held
    own: tuple[str, ...] = ()  #: joins of the page onto itself, as "zone side > panel side"
    others: tuple[str, ...] = ()  #: its parts beside the page
    template: tuple[str, ...] = ()  #: joins that it declares between its parts


#: Seams: a seam that is folded first lies inside the pocket and looks away from the
#: front it hangs on, so its face meets the reverse of the back (side, top, fore-edge
#: fold). Side tabs of a pocket that stands behind its page look at the page's
#: reverse. A frame's seam is folded last, outside: its reverse meets the face of the mat.
#: A pleat folded behind leaves reverse on reverse, one folded before face on face.
KINDS = {
    "bellows-pocket": Kind("page", ("seam1 face > page reverse", "seam2 face > page reverse")),
    "concertina-page": Kind("page"),
    "double-pocket": Kind(
        "page", ("inner_seam reverse > page face", "outer_seam face > page reverse")
    ),
    "flap": Kind("page"),
    "fore-edge-fold-pocket": Kind("front", ("seam face > back reverse",)),
    "frame-page": Kind("frame", ("seam reverse > mat face",)),
    "gate-doors": Kind("page"),
    "half-pocket": Kind("page", ("seam1 face > page reverse", "seam2 face > page reverse")),
    "index-tab": Kind("leaf"),
    "library-card-pocket": Kind(
        "page",
        others=("pocket", "card"),
        template=(
            "pocket seam1 reverse > pocket back face",
            "pocket seam2 reverse > pocket back face",
            "pocket back reverse > page face",
        ),
    ),
    "photo-slits": Kind("page"),
    "plain-leaf": Kind("page"),
    "roll-fold": Kind("page"),
    "side-pocket": Kind("front", ("seam face > back reverse",)),
    "three-flaps": Kind("page"),
    "ticket-page": Kind("page"),
    "tiered-pockets": Kind(
        "back1",
        (
            "left1 reverse > back1 reverse",
            "left2 reverse > back2 reverse",
            "right1 reverse > back1 reverse",
            "right2 reverse > back2 reverse",
            "back2 face > front1 face",
        ),
    ),
    "top-pocket": Kind("front", ("seam face > back reverse",)),
    "waterfall": Kind(
        "page",
        others=("card", "card-2", "card-3", "card-4"),
        template=(
            "card hinge face > page face",
            "card-2 hinge face > page face",
            "card-3 hinge face > page face",
            "card-4 hinge face > page face",
        ),
    ),
}


@dataclass(frozen=True)
class Bound:
    """How the pages of a book hang together."""

    front: tuple[int, ...]  #: pages of the front half
    back: tuple[int, ...]
    hinges: tuple[tuple[int, int], ...]  #: whose tab lies on whose binding edge, as it is glued
    middle: tuple[int, ...]  #: the pages that the strip holds
    #: whose channel stands where on the spine, from the front cover to the back; 0: the strip's
    channels: tuple[int, ...]


#: by the number of pages and the half that has the extra one; covers inwards, front first
BOOKS = {
    (1, "front half"): Bound((1,), (), (), (1,), (1, 0)),
    (1, "back half"): Bound((1,), (), (), (1,), (1, 0)),
    (2, "front half"): Bound((1,), (2,), (), (1, 2), (1, 0, 2)),
    (3, "front half"): Bound((1, 2), (3,), ((2, 1),), (2, 3), (1, 2, 0, 3)),
    (3, "back half"): Bound((1,), (2, 3), ((2, 3),), (1, 2), (1, 0, 2, 3)),
    (9, "front half"): Bound(
        (1, 2, 3, 4, 5),
        (6, 7, 8, 9),
        ((2, 1), (3, 2), (4, 3), (5, 4), (8, 9), (7, 8), (6, 7)),
        (5, 6),
        (1, 2, 3, 4, 5, 0, 6, 7, 8, 9),
    ),
    (9, "back half"): Bound(
        (1, 2, 3, 4),
        (5, 6, 7, 8, 9),
        ((2, 1), (3, 2), (4, 3), (8, 9), (7, 8), (6, 7), (5, 6)),
        (4, 5),
        (1, 2, 3, 4, 0, 5, 6, 7, 8, 9),
    ),
}

CASE_PARTS = [
    "front-board", "back-board", "spine-board", "joint-wrap", "joint-wrap-backing",
    "spine-lining", "edge-front-fore-edge", "edge-front-head", "edge-front-tail",
    "edge-back-fore-edge", "edge-back-head", "edge-back-tail",
]  # fmt: skip
CASE_JOINS = [
    # the wrap's face is glued: on the outside of the boards, its turn-ins on the inside
    "joint-wrap spine face > spine-board spine face",
    "joint-wrap front_hold face > front-board board face",
    "joint-wrap back_hold face > back-board board face",
    "joint-wrap head face > spine-board spine reverse",
    "joint-wrap head face > front-board board reverse",
    "joint-wrap head face > back-board board reverse",
    "joint-wrap tail face > spine-board spine reverse",
    "joint-wrap tail face > front-board board reverse",
    "joint-wrap tail face > back-board board reverse",
    # the lining shows its face; in the joints it meets the glued side of the wrap
    "spine-lining lining reverse > spine-board spine reverse",
    "spine-lining lining reverse > joint-wrap front_joint face",
    "spine-lining lining reverse > joint-wrap back_joint face",
    # strips go round an edge: one half outside, the other inside
    "edge-front-fore-edge outside face > front-board board face",
    "edge-front-fore-edge inside face > front-board board reverse",
    "edge-front-head outside face > front-board board face",
    "edge-front-head inside face > front-board board reverse",
    "edge-front-tail outside face > front-board board face",
    "edge-front-tail inside face > front-board board reverse",
    "edge-back-fore-edge outside face > back-board board face",
    "edge-back-fore-edge inside face > back-board board reverse",
    "edge-back-head outside face > back-board board face",
    "edge-back-head inside face > back-board board reverse",
    "edge-back-tail outside face > back-board board face",
    "edge-back-tail inside face > back-board board reverse",
]


def told(join: Join) -> str:
    """A join as the tables here have it."""
    return (
        f"{join.part} {join.zone} {join.side.value} > "
        f"{join.onto_part} {join.onto_panel} {join.onto_side.value}"
    )


def expected_joins(kind: Kind, bound: Bound) -> list[str]:
    """All joins in the order of work: seams, hinges inwards, strip, case, spine, covers."""
    pages = [*bound.front, *bound.back]
    rows = []
    for page in pages:
        rows += [own_row(f"page-{page}", row) for row in kind.own]
        rows += [template_row(f"page-{page}", row) for row in kind.template]
    for inner, outer in bound.hinges:
        rows.append(f"page-{inner} binding.tab face > page-{outer} {kind.bound} face")
    if len(pages) == 1:
        rows.append(f"hinge-strip hinge face > page-1 {kind.bound} face")
    else:
        tabs = zip(("front_tab", "back_tab"), bound.middle, strict=True)
        rows += [f"hinge-strip {tab} reverse > page-{p} {kind.bound} face" for tab, p in tabs]
    rows += CASE_JOINS
    strip = bound.channels.index(0)
    slots = sorted(range(len(bound.channels)), key=lambda slot: abs(slot - strip))
    for slot in slots:  # the centre first
        page = bound.channels[slot]
        if page:
            rows.append(f"page-{page} binding.channel face > spine-board spine reverse")
        else:
            side = "face" if len(pages) == 1 else "reverse"
            rows.append(f"hinge-strip channel {side} > spine-board spine reverse")
    rows.append("page-1 binding.tab face > front-board board reverse")
    last = "hinge-strip tab" if len(pages) == 1 else f"page-{pages[-1]} binding.tab"
    rows.append(f"{last} face > back-board board reverse")
    return rows


def own_row(key: str, row: str) -> str:
    tape, target = row.split(" > ")
    return f"{key} {tape} > {key} {target}"


def template_row(key: str, row: str) -> str:
    tape, target = row.split(" > ")
    (part, zone), (onto, rest) = tape.split(" ", 1), target.split(" ", 1)
    if onto == "page":
        return f"{key}-{part} {zone} > {key} page {rest}"
    return f"{key}-{part} {zone} > {key}-{onto} {rest}"


def expected_keys(kind: Kind, bound: Bound) -> list[str]:
    keys = []
    for page in (*bound.front, *bound.back):
        keys += [f"page-{page}", *(f"page-{page}-{other}" for other in kind.others)]
        keys.append(f"page-{page}-reinforcement")
    return [*keys, "hinge-strip", "hinge-strip-backing", *CASE_PARTS]


def text_of(kind: str, count: int, extra: str, more: str = "") -> str:
    return (
        'units = "in"\nsize = "page 6 1/4 x 4 1/4"\nbinding = "tab and channel"\n'
        f'pages = ["{count} x {kind.replace("-", " ")}"]\nextra_page = "{extra}"\n{more}'
    )


def test_the_table_has_every_kind_of_page():
    kinds = {t.name for t in built_in_library().templates() if t.kind == "page"}
    assert kinds == set(KINDS)


@pytest.mark.parametrize(("count", "extra"), BOOKS)
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_page_hangs_as_the_table_says(kind, count, extra, book_of, prove):
    """First, inner and last, and next to the strip on either side."""
    book = book_of(text_of(kind, count, extra))
    bound = BOOKS[count, extra]
    assert [entry.key for entry in book.parts] == expected_keys(KINDS[kind], bound)
    assert [told(join) for join in book.joins] == expected_joins(KINDS[kind], bound)
    assert [join.order for join in book.joins] == list(range(1, len(book.joins) + 1))
    for page in bound.front:
        part = book.part(f"page-{page}").part
        assert (part.bound.panel, part.bound.side) == (KINDS[kind].bound, "right")
        assert part.is_mirrored
    for page in bound.back:
        part = book.part(f"page-{page}").part
        assert (part.bound.panel, part.bound.side) == (KINDS[kind].bound, "left")
        assert not part.is_mirrored
    prove(book)


# ------------------------------------------------------------------ numbers


def inches(join: Join) -> list[Fraction]:
    return [Fraction(v) / INCH for v in (*join.offset, join.width, join.height)]


def test_the_tape_of_a_hinge_tab_lies_a_sixteenth_inside_the_binding_edge_of_its_neighbour(book_of):
    """Tab 1/2, tape 1/16 from its edges: from 1/16 to 7/16 of the binding edge, 4 1/8 high.

    A mirrored plain leaf is page 6 1/4, channel 1/4, tab 1/2 from left to right, so
    its binding edge stands at 6 1/4; one as drawn has it at 3/4. The outer page
    has an end channel of 1/4 and a cover tab of 2 instead.
    """
    book = book_of(text_of("plain-leaf", 9, "front half"))
    rows = {(j.part, j.onto_part): inches(j) for j in book.joins if "page" in j.onto_part}
    quarter, high = Fraction(3, 8), Fraction(33, 8)
    low = Fraction(1, 16)
    mirrored = [Fraction(25, 4) - Fraction(7, 16), low, quarter, high]
    drawn = [Fraction(3, 4) + low, low, quarter, high]
    last = [Fraction(9, 4) + low, low, quarter, high]
    assert rows["page-2", "page-1"] == mirrored
    assert rows["page-5", "page-4"] == mirrored
    assert rows["hinge-strip", "page-5"] == mirrored
    assert rows["hinge-strip", "page-6"] == drawn
    assert rows["page-6", "page-7"] == drawn
    assert rows["page-8", "page-9"] == last


def test_cover_tabs_lie_on_their_boards_as_far_as_they_reach(book_of):
    """Two side pockets: channels 1/8 + 1/4 + 1/8, spine 7/8, so 3/16 to spare on each side.

    Reach = 2 - 3/16 - 5/16 - 2 x 0.08 = 1.34 in; its tape is 1/16 inside, so 1.215 wide
    from 1/16. The board stands 1/8 over the page at head and tail; over its far
    1.34 in less 1/16 the tab, 4 1/4 high at its fold, narrows to 3 3/4 on 2 in.
    """
    book = book_of(text_of("side-pocket", 2, "front half"))
    front, back = (j for j in book.joins if j.onto_panel == "board" and j.zone == "binding.tab")
    board = Fraction(13, 2)
    reach, low = Fraction(134, 100), Fraction(1, 16)
    assert float(front.offset.x / INCH) == pytest.approx(float(low))
    assert float((back.offset.x + back.width) / INCH) == pytest.approx(float(board - low))
    for join in (front, back):
        assert float(join.width / INCH) == pytest.approx(float(reach - Fraction(1, 8)))
    # the near end of the tape is 2 - 1.34 + 1/16 from the fold; there the tab is cut back by 1/8 of that
    near = (2 - reach + low) / 8
    middle = front.offset.y + front.height / 2
    assert float(middle / INCH) == pytest.approx(float(Fraction(1, 8) + Fraction(17, 8)))
    slope = float((1 + Fraction(1, 64)) ** Fraction(1, 2) / 16)  # 1/16 square to the slanted edge
    assert float(front.height / INCH) == pytest.approx(
        float(Fraction(17, 4) - 2 * near) - 2 * slope
    )


def test_the_joins_that_a_template_declares_lie_mirrored_on_a_mirrored_page(book_beside):
    """A note glued 1/3 in from the spine and 1/7 in from the tail, on both halves."""
    note = """
template = "noted-leaf"
kind = "page"
units = "in"
[parameters]
width = { type = "length", default = 6 }
height = { type = "length", default = 4 }
[parts.page]
bound = "page left"
columns = ["width"]
rows = ["height : page"]
[parts.note]
columns = [1]
rows = ["2 : note"]
edits = [{ tape = "note", side = "reverse" }]
[[joins]]
zone = "note.note"
onto = "page.page"
at = ["1/3", "1/7"]
"""
    book = book_beside(text_of("noted-leaf", 2, "front half"), noted_leaf=note)
    rows = [inches(j) for j in book.joins if j.zone == "note"]
    front, back = (book.part(key).part.panel("page").bounds() for key in ("page-1", "page-2"))
    # 6 1/4 wide, spine at the right: the note's right edge is 1/3 from it
    left = front.left / INCH + Fraction(25, 4) - Fraction(1, 3) - 1
    assert rows[0] == [left, Fraction(1, 7), 1, 2]
    assert rows[1] == [back.left / INCH + Fraction(1, 3), Fraction(1, 7), 1, 2]


def test_the_cards_of_a_waterfall_lie_one_pitch_above_each_other(book_of):
    """Margin 1/8, four cards, pitch 1/2, so each is 4 - 3/2 = 2 1/2 high; hinge 1/2.

    A card's head lies at 1/8 + 2 1/2 + (i - 1)/2 above the tail; its hinge hangs
    down behind it by 1/2, tape 1/16 inside.
    """
    book = book_of(text_of("waterfall", 2, "front half"))
    rows = [inches(j) for j in book.joins if j.part.startswith("page-2-card")]
    feet = [Fraction(1, 8) + Fraction(5, 2) + Fraction(i, 2) - Fraction(7, 16) for i in range(4)]
    left = book.part("page-2").part.panel("page").bounds().left / INCH + Fraction(3, 16)
    assert rows == [[left, foot, Fraction(47, 8), Fraction(3, 8)] for foot in feet]


# ------------------------------------------------------------------ looking to the cover


def test_a_page_that_looks_to_its_cover_is_the_other_way_round_and_holds_as_well(book_of, prove):
    """Its face looks to the cover: in the front half it is as drawn, in the back half mirrored.

    Its tab folds to the face now (both quarter turns the other way), so its
    reverse is glued; on its neighbour's binding edge, still on the side that
    looks to the middle. What lies on its own binding edge meets its reverse.
    """
    for place in (1, 2, 4, 5):
        book = book_of(text_of("flap", 5, "front half", f'[page.{place}]\nlooks = "cover"\n'))
        prove(book)
        part = book.part(f"page-{place}").part
        is_front = place <= 3
        assert (part.bound.side, part.is_mirrored) == (
            ("left", False) if is_front else ("right", True)
        )
        rows = [told(join) for join in book.joins]
        if place == 2:
            assert "page-2 binding.tab reverse > page-1 page face" in rows
            assert "page-3 binding.tab face > page-2 page reverse" in rows
            assert "page-2 binding.channel reverse > spine-board spine reverse" in rows
        if place == 5:
            assert "page-5 binding.tab reverse > back-board board reverse" in rows
            assert "page-4 binding.tab face > page-5 page reverse" in rows


def test_mixed_pages_that_look_both_ways_hold(book_of, prove):
    pages = '["top pocket", "flap", "double pocket", "roll fold", "half pocket", "three flaps"]'
    looks = "".join(f'[page.{n}]\nlooks = "cover"\n' for n in (1, 3, 4, 6))
    text = (
        'units = "mm"\nsize = "page 131 x 167"\nbinding = "tab and channel"\n'
        f"pages = {pages}\n{looks}"
    )
    prove(book_of(text))
