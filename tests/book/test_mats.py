"""Mats: what shows of each page, drawn as one looks at it, less a border (common practice, no source).

Which sides show was worked out by hand for every kind of page: a side shows when
one can look at it with all flaps and doors opened; what lies inside a pocket never
shows, even where it stands out behind a lower front. Tabs that hold something bear
no mats, nor does anything narrower than six borders.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from shapely import Polygon

from dielines.paths import arc_of, bounds_of, flattened, signed_area

INCH = Fraction(254, 10)


def text_of(pages: str, more: str = "", size: str = "page 6 1/4 x 4 1/4") -> str:
    return (
        f'units = "in"\nsize = "{size}"\nbinding = "tab and channel"\npages = {pages}\n'
        f'mats = "both sides"\n{more}'
    )


def mats(book, page: int):
    """The mats of one page by what they are called in files, without its number."""
    front = f"mat-{page}-"
    return {
        e.key.removeprefix(front): e.part for e in book.parts if e.key.startswith(front)
    }  # fmt: skip


def size(part) -> tuple[Fraction, Fraction]:
    return Fraction(part.width) / INCH, Fraction(part.height) / INCH


#: kind -> its sides that show. "under" is the side of a flap or leaf that lies on the page.
#: bellows, half: the pocket stands behind the lower part of the page, so the whole outer
#: side of the page is its inside. double: a pocket before and one behind. tiered: every
#: pleat is inside a pocket or covered by the next front; the lowest front shows.
#: frame: the mat shows through the window, where the photo lies: inside; its back shows.
#: An index tab of 3/8 is too narrow.
BOTH = ["inner", "outer"]
SHOWS = {
    "bellows-pocket": {"page": ["inner"], "pocket": ["outer"]},
    "concertina-page": {"page": BOTH, "in1": ["inner", "under"], "out1": ["inner", "under"]},
    "double-pocket": {"inner": ["inner"], "outer": ["outer"]},
    "flap": {"page": BOTH, "flap": ["inner", "under"]},
    "fore-edge-fold-pocket": {"front": ["inner"], "back": ["outer"]},
    "frame-page": {"frame": ["inner"], "mat": ["outer"]},
    "gate-doors": {
        "page": BOTH, "head-door": ["inner", "under"], "tail-door": ["inner", "under"]
    },
    "half-pocket": {"page": ["inner"], "pocket": ["outer"]},
    "index-tab": {"leaf": BOTH},
    "library-card-pocket": {"page": BOTH},
    "photo-slits": {"page": BOTH},
    "plain-leaf": {"page": BOTH},
    "roll-fold": {"page": BOTH, "leaf1": ["inner", "under"], "leaf2": ["inner", "under"]},
    "side-pocket": {"front": ["inner"], "back": ["outer"]},
    "three-flaps": {
        "page": BOTH, "head-flap": ["inner", "under"], "flap": ["inner", "under"],
        "tail-flap": ["inner", "under"],
    },
    "ticket-page": {"page": BOTH, "ticket1": BOTH, "ticket2": BOTH, "ticket3": BOTH},
    "tiered-pockets": {"back1": ["inner"], "front2": ["outer"]},
    "top-pocket": {"front": ["inner"], "back": ["outer"]},
    "waterfall": {"page": BOTH},
}  # fmt: skip


def expected(kind: str) -> set[str]:
    return {f"{panel}-{side}" for panel, sides in SHOWS[kind].items() for side in sides}


def test_the_table_has_every_kind_of_page(library):
    assert {t.name for t in library.templates() if t.kind == "page"} == set(SHOWS)


@pytest.mark.parametrize("kind", SHOWS)
def test_every_side_that_shows_gets_a_mat_and_no_other(kind, book_of):
    """In front and at the back, next to a cover and in the middle."""
    book = book_of(text_of(f'["4 x {kind}"]'))
    for page in (1, 2, 3, 4):
        assert set(mats(book, page)) == expected(kind)


@pytest.mark.parametrize("kind", SHOWS)
def test_a_mat_is_its_panel_less_an_eighth_on_every_side(kind, book_of):
    book = book_of(text_of(f'["2 x {kind}"]'))
    part = book.part("page-2").part
    for name, mat in mats(book, 2).items():
        panel = part.panel(name.rsplit("-", 1)[0].replace("-", "_"))
        holes = [flattened(hole, 1e-3) for hole in panel.holes]
        whole = Polygon(flattened(panel.outline, 1e-3), holes)
        found = Polygon(
            flattened(mat.outline[0], 1e-3), [flattened(h, 1e-3) for h in mat.outline[1:]]
        )
        drawn_in = whole.buffer(-3.175, join_style="mitre")
        assert found.area == pytest.approx(drawn_in.area, rel=2e-3)
        assert bounds_of(mat.outline)[:2] == pytest.approx((0, 0))
        assert signed_area(mat.outline[0]) > 0
        assert (mat.is_mirrored, mat.grain) == (False, "up")


def test_the_border_follows_the_book(book_of):
    book = book_of(text_of('["2 x plain leaf"]', '[usual]\nmat_border = "1/7"\n'))
    assert size(mats(book, 1)["page-inner"]) == (
        Fraction(25, 4) - Fraction(2, 7),
        Fraction(17, 4) - Fraction(2, 7),
    )


def test_panels_narrower_than_six_borders_have_none(book_of):
    """Doors of 2 1/16: 6 x 1/3 is 2, 6 x 3/8 is more."""
    third, wide = (
        book_of(text_of('["2 x gate doors"]', f'[usual]\nmat_border = "{border}"\n'))
        for border in ("1/3", "3/8")
    )
    assert "head-door-inner" in mats(third, 1)
    assert set(mats(wide, 1)) == {"page-inner", "page-outer"}


@pytest.mark.parametrize(
    ("wanted", "sides"),
    [
        ("inner side", {"page-inner", "flap-inner", "flap-under"}),
        ("outer side", {"page-outer"}),
        ("both sides", {"page-inner", "page-outer", "flap-inner", "flap-under"}),
    ],
)
def test_a_page_may_have_mats_on_one_side(wanted, sides, book_of):
    book = book_of(text_of('["2 x flap"]', f'[page.2]\nmats = "{wanted}"\n'))
    assert set(mats(book, 2)) == sides


def test_mats_are_of_the_stock_of_mats_and_say_where_they_belong(book_of):
    book = book_of(text_of('["2 x gate doors"]'))
    entry = book.part("mat-2-head-door-under")
    assert (entry.role, entry.stock.name) == ("mats", "patterned paper")
    assert entry.title == "mat of page 2: head door, under side"


# ------------------------------------------------------------------ shape


def arcs(part):
    return [arc_of(s) for ring in part.outline for s in ring.segments() if s.bulge]


def test_a_notch_follows_with_a_true_arc_round_the_same_centre(book_of):
    """Radius 3/8 + 1/8 round a point 1/8 outside of the mat, at half its height."""
    book = book_of(text_of('["2 x side pocket"]'))
    for part in mats(book, 2).values():
        (arc,) = arcs(part)
        assert arc.radius == pytest.approx(12.7)
        assert arc.centre.y == pytest.approx(2 * 25.4)
        assert min(abs(arc.centre.x + 3.175), abs(arc.centre.x - 6 * 25.4 - 3.175)) < 1e-9


def test_notches_lie_at_the_fore_edge_as_one_looks_at_each_side(book_of):
    """Inner side in front: spine right, notch left; turned over it lies right. At the back the other way."""
    book = book_of(text_of('["2 x side pocket"]'))

    def notch_is_right(page: int, name: str) -> bool:
        (arc,) = arcs(mats(book, page)[name])
        return arc.centre.x > 70

    found = {
        (page, name): notch_is_right(page, name)
        for page in (1, 2)
        for name in ("front-inner", "back-outer")
    }
    assert found == {
        (1, "front-inner"): False,
        (1, "back-outer"): True,
        (2, "front-inner"): True,
        (2, "back-outer"): False,
    }


def test_what_was_folded_up_or_over_is_drawn_with_its_head_up(book_of):
    """A slanted pocket of half height, its lip dropping by 3/4 to the fore-edge.

    It stands behind the page, seen from outside: in front the fore-edge is at the
    right, at the back at the left; its foot is level, its lip the highest at the spine.
    """
    more = '[every."half pocket"]\nlip = "slanted"\ndrop = "3/4"\n'
    book = book_of(text_of('["2 x half pocket"]', more))
    for page, fore_edge_is_right in ((1, True), (2, False)):
        part = mats(book, page)["pocket-outer"]
        points = part.outline[0].points
        level = [p.x for p in points if p.y == pytest.approx(0)]
        assert max(level) - min(level) == pytest.approx(6 * 25.4)
        top = max(points, key=lambda p: p.y)
        assert (top.x < 70) == fore_edge_is_right


def test_round_corners_of_a_flap_follow_on_both_its_sides(book_of):
    """Radius 1/3 less 1/8, at the free edge: that points to the spine when it is shut."""
    more = '[every.flap]\ncorner = "1/3"\n'
    book = book_of(text_of('["2 x flap"]', more))
    for page in (1, 2):
        for name, is_left in (("flap-inner", page == 2), ("flap-under", page == 1)):
            found = arcs(mats(book, page)[name])
            assert [arc.radius for arc in found] == pytest.approx([(1 / 3 - 1 / 8) * 25.4] * 2)
            middle = float(mats(book, page)[name].width) / 2
            assert {arc.centre.x < middle for arc in found} == {is_left}


def test_the_window_of_a_frame_grows_by_the_border(book_of):
    """Window from 1/2 (beyond the next page's tab) to 5 7/8, 3/8 to 3 7/8; an eighth more all round."""
    part = mats(book_of(text_of('["2 x frame page"]')), 2)["frame-inner"]
    box = bounds_of([part.outline[1]])
    assert [box.width / INCH, box.height / INCH] == [Fraction(45, 8), Fraction(15, 4)]
    assert box.left / INCH == Fraction(1, 4)  # 1/2 less both borders
    assert signed_area(part.outline[1]) < 0


def test_a_frame_too_narrow_for_its_borders_has_no_mat(book_of):
    """Margin 1/16 and lap 1/16: a rim of 1/8, of which two borders of 1/8 leave nothing."""
    more = '[page.1]\nlap = "1/16"\n[usual]\nmargin = "1/16"\n'
    assert set(mats(book_of(text_of('["2 x frame page"]', more)), 1)) == {"mat-outer"}


def test_flat_pockets_show_only_the_front_of_the_lowest(book_of):
    more = '[page.1]\npockets = 4\nstep = "3/4"\npocket = "3 1/4"\n'
    found = mats(book_of(text_of('["2 x tiered pockets"]', more)), 1)
    assert set(found) == {"back1-inner", "front4-outer"}


def test_a_page_that_looks_to_its_cover_has_its_mats_as_the_other_half(book_of):
    book = book_of(text_of('["2 x side pocket"]', '[page.1]\nlooks = "cover"\n'))
    (arc,) = arcs(mats(book, 1)["front-inner"])
    assert arc.centre.x > 70


def test_no_mats_are_made_unless_asked_for(book_of):
    text = text_of('["2 x flap"]').replace('mats = "both sides"\n', "")
    assert not [e for e in book_of(text).parts if e.role == "mats"]
