"""Whole books: the worked check, the table of defaults, and what may drive the sizes.

The worked check and the table are common practice, no source; every number is
theirs or a sum of theirs, done by hand.
"""

from __future__ import annotations

import os
import subprocess
import sys
from fractions import Fraction
from itertools import pairwise

import pytest

from dielines.lengths import inches, millimetres
from dielines.paths import arc_of

INCH = Fraction(254, 10)
UNIT = {"in": INCH, "mm": Fraction(1)}


def text_of(pages: str, more: str = "", units: str = "in", size: str = "") -> str:
    size = size or {"in": "page 6 1/4 x 4 1/4", "mm": "page 131 x 107"}[units]
    return (
        f'units = "{units}"\nsize = "{size}"\nbinding = "tab and channel"\npages = {pages}\n{more}'
    )


def cut(book, key: str) -> tuple[Fraction, Fraction]:
    """Width and height of a part, in the units of its book."""
    part, unit = book.part(key).part, UNIT[book.units]
    return Fraction(part.width) / unit, Fraction(part.height) / unit


def panel(book, key: str, name: str) -> tuple[Fraction, Fraction]:
    box, unit = book.part(key).part.panel(name).bounds(), UNIT[book.units]
    return Fraction(box.width) / unit, Fraction(box.height) / unit


def scores(part) -> tuple[list[Fraction], list[Fraction]]:
    """Where a part is scored: across from the left, and up and down from the top, inches."""
    across, down = set(), set()
    for line in part.folds:
        for piece in line.pieces:
            (x0, y0), (x1, y1) = piece.points[0], piece.points[-1]
            if x0 == x1:
                across.add(Fraction(x0) / INCH)
            if y0 == y1:
                down.add((Fraction(part.height) - Fraction(y0)) / INCH)
    return sorted(across), sorted(down)


# ------------------------------------------------------------------ the worked check


def test_the_worked_check_holds_exactly(book_of):
    """6 1/4 x 4 1/4 with cover tab: cut 8 3/8 x 9 1/4, scored at 1/2, 5/8, 4 7/8, 5 and 2, 2 1/8."""
    book = book_of(text_of('["2 x side pocket"]'))
    part = book.part("page-2").part
    assert (part.width, part.height) == (Fraction(67, 8) * INCH, Fraction(37, 4) * INCH)
    across, down = scores(part)
    assert across == [2, Fraction(17, 8)]
    assert down == [Fraction(1, 2), Fraction(5, 8), Fraction(39, 8), 5]
    assert Fraction(part.panel("binding.tab").bounds().height) == Fraction(17, 4) * INCH
    assert len(part.folds) == 6


def test_the_same_page_in_front_is_its_mirror_image(book_of):
    part = book_of(text_of('["2 x side pocket"]')).part("page-1").part
    across, down = scores(part)
    assert across == [Fraction(67, 8) - Fraction(17, 8), Fraction(67, 8) - 2]
    assert down == [Fraction(1, 2), Fraction(5, 8), Fraction(39, 8), 5]
    assert {line.angle_deg for line in part.folds} == {-90}  # a mirror image keeps its signs


# ------------------------------------------------------------------ the table of defaults

#: rows of the table: what, inches, millimetres
ROWS = {
    "hinge tab": ("1/2", 12),
    "seam tab": ("1/2", 12),
    "channel": ("1/4", 6),
    "depth": ("1/8", 3),
    "cover tab": (2, 50),
    "lap": ("3/8", 10),
    "short of middle": ("1/16", 2),
    "joint": ("5/16", 8),
    "hold": (1, 25),
    "turn-in": ("3/4", 20),
    "strip": (1, 25),
}
IN_BOTH = pytest.mark.parametrize("units", ["in", "mm"])


def row(name: str, units: str) -> Fraction:
    return Fraction(ROWS[name][0 if units == "in" else 1])


@IN_BOTH
def test_tabs_channels_and_gussets_are_the_usual_ones(units, book_of):
    book = book_of(text_of('["plain leaf", "side pocket", "flap", "plain leaf"]', units=units))
    assert panel(book, "page-2", "binding.tab")[0] == row("hinge tab", units)
    assert panel(book, "page-2", "seam")[1] == row("seam tab", units)
    assert panel(book, "page-2", "binding.channel")[0] == row("channel", units)
    assert panel(book, "page-2", "head")[1] == panel(book, "page-2", "tail")[1]
    assert panel(book, "page-2", "head")[1] == row("depth", units)
    assert panel(book, "page-3", "gusset")[0] == row("depth", units)
    assert [panel(book, "hinge-strip", n)[0] for n in ("front_tab", "channel", "back_tab")] == [
        row("hinge tab", units), row("channel", units), row("hinge tab", units)
    ]  # fmt: skip


@IN_BOTH
def test_a_flap_is_half_the_photo_and_two_margins_wide(units, book_of):
    photo, width = ("photo 5 x 3 1/2", "11/4") if units == "in" else ("photo 101 x 71", "113/2")
    book = book_of(text_of('["2 x flap"]', units=units, size=photo))
    assert panel(book, "page-1", "flap")[0] == Fraction(width)


@IN_BOTH
def test_the_notch_is_half_round_at_the_middle_of_the_mouth_through_both_layers(units, book_of):
    """Half round: one arc of a half turn, its middle on the fore-edge, half the page up."""
    book = book_of(text_of('["2 x side pocket"]', units=units))
    part, unit = book.part("page-2").part, UNIT[units]
    diameter = Fraction(3, 4) if units == "in" else Fraction(20)
    for name in ("front", "back"):
        outline, box = part.panel(name).outline, part.panel(name).bounds()
        (arc,) = [arc_of(segment) for segment in outline.segments() if segment.bulge]
        assert 2 * arc.radius == pytest.approx(float(diameter * unit))
        assert abs(arc.sweep) == pytest.approx(3.14159265358979)
        assert arc.centre.x == pytest.approx(float(box.right))
        assert arc.centre.y == pytest.approx(float(box.bottom + box.height / 2))


@IN_BOTH
def test_cover_tabs_taper_from_their_fold_to_their_far_edge(units, book_of):
    book = book_of(text_of('["2 x plain leaf"]', units=units))
    part, unit = book.part("page-2").part, UNIT[units]
    tab = part.panel("binding.tab")
    assert tab.bounds().width / unit == row("cover tab", units)
    taper = Fraction(1, 4) if units == "in" else Fraction(6)
    high = book.reasons.length("page_height").mm / unit
    far = [p.y / unit for p in tab.outline.points if p.x == tab.bounds().left]
    near = [p.y / unit for p in tab.outline.points if p.x == tab.bounds().right]
    assert sorted(far) == [taper, high - taper]
    assert sorted(near) == [0, high]


@IN_BOTH
def test_an_end_channel_is_the_depth_of_the_pocket_else_the_usual_channel(units, book_of):
    book = book_of(text_of('["side pocket", "flap"]', units=units))
    assert panel(book, "page-1", "binding.channel")[0] == row("depth", units)
    assert panel(book, "page-2", "binding.channel")[0] == row("channel", units)


@IN_BOTH
def test_reinforcement_covers_tab_and_channel_and_laps_onto_the_page(units, book_of):
    book = book_of(text_of('["side pocket", "2 x flap", "side pocket"]', units=units))
    high = book.reasons.length("page_height").mm / UNIT[units]
    lap, tab, cover = (row(n, units) for n in ("lap", "hinge tab", "cover tab"))
    assert cut(book, "page-2-reinforcement") == (tab + row("channel", units) + lap, high)
    assert cut(book, "page-4-reinforcement") == (cover + row("depth", units) + lap, high)
    part = book.part("page-4-reinforcement").part
    assert part.covers == ("binding.tab", "binding.channel")
    tapered = part.panel("tab").outline
    whole = book.part("page-4").part.panel("binding.tab").outline
    assert [p.y - min(q.y for q in tapered.points) for p in tapered.points] == [
        p.y - min(q.y for q in whole.points) for p in whole.points
    ]
    assert cut(book, "hinge-strip-backing") == cut(book, "hinge-strip")


@IN_BOTH
def test_tape_is_an_eighth_narrower_than_the_tab_and_on_a_cover_tab_only_on_the_board(
    units, book_of
):
    book = book_of(text_of('["plain leaf", "side pocket", "plain leaf"]', units=units))
    unit, margin = UNIT[units], Fraction(1, 8) if units == "in" else Fraction(3)

    def wide(key: str, zone: str) -> tuple[Fraction, Fraction]:
        join = next(j for j in book.joins if j.part == key and j.zone == zone)
        return join.width / unit, join.height / unit

    high = book.reasons.length("page_height").mm / unit
    assert wide("page-2", "binding.tab") == (row("hinge tab", units) - margin, high - margin)
    seam = row("seam tab", units) - margin
    assert float(wide("page-2", "seam")[1]) == pytest.approx(float(seam))
    assert wide("hinge-strip", "front_tab")[0] == row("hinge tab", units) - margin
    reach = book.reasons.length("cover_tab_on_board").mm / unit
    assert float(wide("page-1", "binding.tab")[0]) == pytest.approx(float(reach - margin))


@IN_BOTH
def test_joints_holds_and_turn_ins_are_the_usual_ones(units, book_of):
    book = book_of(text_of('["2 x plain leaf"]', units=units))
    assert panel(book, "joint-wrap", "front_joint")[0] == row("joint", units)
    assert panel(book, "joint-wrap", "back_hold")[0] == row("hold", units)
    assert panel(book, "joint-wrap", "head")[1] == row("turn-in", units)
    assert cut(book, "edge-front-head")[0] == row("strip", units)


@IN_BOTH
def test_doors_stay_short_of_the_middle_and_a_top_pocket_is_folded_at_its_tail(units, book_of):
    book = book_of(text_of('["gate doors", "top pocket"]', units=units))
    width, high = (book.reasons.length(n).mm / UNIT[units] for n in ("page_width", "page_height"))
    for door in ("head_door", "tail_door"):
        assert panel(book, "page-1", door) == (width, high / 2 - row("short of middle", units))
    part = book.part("page-2").part
    front, back, seam = (part.panel(name).bounds() for name in ("front", "back", "seam"))
    assert back.top == front.bottom - row("depth", units) * UNIT[units]  # below: at the tail
    assert seam.left == front.right + row("depth", units) * UNIT[units]  # at the fore-edge


@IN_BOTH
def test_a_half_pocket_is_its_tail_folded_up_with_seam_tabs_at_both_sides(units, book_of):
    book = book_of(text_of('["2 x half pocket"]', units=units))
    part, unit = book.part("page-2").part, UNIT[units]
    depth, seam = row("depth", units), row("seam tab", units)
    pocket = part.panel("pocket").bounds()
    assert part.panel("page").bounds().bottom - pocket.top == depth * unit
    assert pocket.left - part.panel("seam1").bounds().left == (depth + seam) * unit
    assert part.panel("seam2").bounds().right - pocket.right == (depth + seam) * unit


def test_no_glue_is_marked_unless_it_is_asked_for(book_of):
    book = book_of(text_of('["2 x side pocket"]'))
    assert not [s for entry in book.parts for s in entry.part.strokes if s.name == "glue"]


# ------------------------------------------------------------------ what drives the sizes


@pytest.mark.parametrize(
    ("size", "page", "photo", "board"),
    [
        ("photo 5 x 3 1/2", ("21/4", "15/4"), (5, "7/2"), ("11/2", 4)),
        ("page 5 1/3 x 4 2/7", ("16/3", "30/7"), ("61/12", "113/28"), ("67/12", "127/28")),
        ("board 6 x 4", ("23/4", "15/4"), ("11/2", "7/2"), (6, 4)),
    ],
)
def test_photo_page_or_board_drives_the_others(size, page, photo, board, book_of):
    """Margins of 1/8, squares of 1/8, 1/4 at the fore-edge."""
    book = book_of(text_of('["2 x flap"]', size=size))
    for name, sides in (("page", page), ("photo", photo), ("board", board)):
        found = [book.reasons.length(f"{name}_{side}").mm / INCH for side in ("width", "height")]
        assert found == [Fraction(side) for side in sides]
    assert cut(book, "front-board") == tuple(Fraction(side) for side in board)


def test_tabs_gussets_and_laps_do_not_grow_with_the_photo(book_of):
    small, large = (
        book_of(text_of('["2 x side pocket"]', size=f"photo {size}")) for size in ("4 x 3", "6 x 5")
    )
    for name in ("seam", "head", "tail"):
        assert panel(small, "page-2", name)[1] == panel(large, "page-2", name)[1]
    assert panel(small, "page-2", "binding.tab")[0] == panel(large, "page-2", "binding.tab")[0]


def test_a_page_may_have_a_photo_of_its_own(book_of):
    """Flap: half of 4 and two margins. Slits and frames stand around a photo of 4 x 3 in the middle."""
    more = "".join(f'[page.{n}]\nphoto = "4 x 3"\n' for n in (1, 2, 3))
    book = book_of(text_of('["flap", "frame page", "photo slits"]', more))
    assert panel(book, "page-1", "flap")[0] == Fraction(9, 4)
    part = book.part("page-2").part
    (window,) = part.panel("frame").holes
    xs, ys = ({point[i] for point in window.points} for i in (0, 1))
    assert (max(xs) - min(xs)) / INCH == Fraction(7, 2)  # a lap of 1/4 on each side
    assert (max(ys) - min(ys)) / INCH == Fraction(5, 2)
    slits = [stroke.path.points for stroke in book.part("page-3").part.strokes]
    ys = [Fraction(point.y) / INCH for path in slits for point in path]
    # the photo begins 5/8 above the tail, a slit 1/32 before it
    assert min(ys) == Fraction(5, 8) - Fraction(1, 32)


def test_a_person_sets_parameters_of_one_page_or_of_all_of_a_kind(book_of):
    more = '[every.flap]\nflap = "2 1/3"\ncorner = "1/7"\n[page.3]\nflap = 3\n'
    book = book_of(text_of('["flap", "plain leaf", "flap"]', more))
    assert [panel(book, key, "flap")[0] for key in ("page-1", "page-3")] == [Fraction(7, 3), 3]
    radii = {
        arc_of(s).radius
        for s in book.part("page-3").part.panel("flap").outline.segments()
        if s.bulge
    }
    assert [round(radius, 6) for radius in radii] == [round(25.4 / 7, 6)]


# ------------------------------------------------------------------ to fit


def test_a_depth_to_fit_holds_contents_paper_tape_and_the_cover_tab(book_of):
    """Two packets of 2 mm: 4 + 2 x 0.24 + 0.13 = 4.61, so 5; at an end 4.85, so 5; three: 6.6, so 7.

    Common practice, no source: the stack in a pocket, each layer counted once.
    """
    holds = 'holds = {{ what = "seed packet", size = "80 x 90", thick = 2, count = {} }}\n'
    more = (
        '[every."side pocket"]\ndepth = "to fit"\n' + holds.format(2)
        + "[page.2]\n" + holds.format(3)
    )  # fmt: skip
    book = book_of(text_of('["4 x side pocket"]', more, units="mm"))
    assert [panel(book, f"page-{n}", "head")[1] for n in (1, 2, 3, 4)] == [5, 7, 5, 5]
    assert book.reasons.length("page_1_layers").mm == 3 * Fraction(24, 100) + Fraction(13, 100)
    assert book.reasons.length("page_3_layers").mm == 2 * Fraction(24, 100) + Fraction(13, 100)


def test_a_depth_to_fit_of_nothing_is_the_least_that_can_be_scored(book_of):
    for where in ('[page.1]\ndepth = "to fit"\n', '[usual]\ndepth = "to fit"\n'):
        book = book_of(text_of('["2 x side pocket"]', where, units="mm"))
        assert panel(book, "page-1", "head")[1] == 2


# ------------------------------------------------------------------ the same again


def test_a_book_is_composed_the_same_twice_and_with_any_order_of_hashes():
    """Keys, letters, joins and every coordinate, from two processes that hash otherwise."""
    code = """
import hashlib
from pathlib import Path
from dielines.bindings.registry import bindings
from dielines.book.composing import compose
from dielines.book.reading import read_request
from dielines.book.words import Words
from dielines.documents import parse_document
from dielines.errors import BookError
from dielines.language.library import built_in_library
from dielines.workshop.loading import load_workshop
library = built_in_library()
pages = [t for t in library.templates() if t.kind == "page"]
kinds = {t.name: [p.name for p in t.parameters] for t in pages}
for binding in bindings():
    text = f'units = "in"\\nsize = "page 6 1/4 x 4 1/4"\\nbinding = "{binding}"\\nmats = "both sides"\\n'
    text += f"pages = {list(kinds)}\\n"
    request = read_request(parse_document("b.toml", text, BookError), Words(kinds, list(bindings())))
    book = compose(request, load_workshop(None, Path("nowhere/b.toml"), "in"), library)
    told = repr((book.parts, book.joins, list(book.reasons.by_name.items()), book.notes))
    print(hashlib.sha256(told.encode()).hexdigest())
"""
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1
    assert len(found.pop().split()) == 2


def test_the_work_grows_with_the_pages_and_no_faster(book_of, monkeypatch):
    """Pages are built once for each kind, and parts are folded a few times for each page."""
    from dielines.bindings import bound

    calls = []
    real = bound.poses
    monkeypatch.setattr(
        bound, "poses", lambda *args, **more: calls.append(1) or real(*args, **more)
    )
    counts = []
    for pages in (10, 20, 40):
        calls.clear()
        book_of(text_of(f'["{pages} x flap"]', '[usual]\nchannel = "1/9"\n'))
        counts.append(len(calls))
    steps = [after - before for before, after in pairwise(counts)]
    assert steps[1] == 2 * steps[0]


def test_limits_of_the_least_page_are_told_in_both_units(book_of):
    """Pages under 40 mm cannot be bound (from memory); the case asks for some more."""
    from dielines.errors import BookError

    for units, size in (("in", "page 1 1/2 x 3"), ("mm", "page 100 x 39")):
        with pytest.raises(BookError) as caught:
            book_of(text_of('["2 x plain leaf"]', units=units, size=size))
        assert {(fault.line, fault.code) for fault in caught.value.faults} == {(2, "out-of-range")}
    assert millimetres(40) > inches("1 1/2")
