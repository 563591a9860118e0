"""The pleated spine: one fin a page, rooms between, pieces that share a fin.

Rules (common practice, no source): [tab, room, (fin fin room) ..., fin fin, room,
tab]; a fin is 3/4 in high, or 20 mm; rooms are as channels, all alike; the ends are
cover tabs. Seen from the fore-edge the front of the book is at the left, so the
left leg of a fin looks to the front: a page of the front half hangs before its fin,
with its inner side against that leg, one of the back half behind the right leg.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.bindings.bound import Join
from dielines.part import LineKind

INCH = Fraction(254, 10)


def text_of(pages: str, more: str = "", units: str = "in", size: str = "page 5 1/3 x 4 2/7") -> str:
    return (
        f'units = "{units}"\nsize = "{size}"\nbinding = "concertina spine"\npages = {pages}\n{more}'
    )


def told(join: Join) -> str:
    return (
        f"{join.part} {join.zone} {join.side.value} > "
        f"{join.onto_part} {join.onto_panel} {join.onto_side.value}"
    )


def columns(part) -> list[tuple[str, Fraction]]:
    """The panels of a strip from left to right with their widths, inches."""
    boxes = sorted((p.bounds().left, p.name, p.bounds().width) for p in part.panels)
    return [(name, Fraction(width) / INCH) for _, name, width in boxes]


def test_three_pages_hang_on_three_fins_by_their_inner_sides(book_of):
    book = book_of(text_of('["flap", "plain leaf", "side pocket"]'))
    fin, quarter, eighth = Fraction(3, 4), Fraction(1, 4), Fraction(1, 8)
    assert columns(book.part("comb-spine").part) == [
        ("front_tab", 2), ("room_first", quarter),
        ("up1", fin), ("down1", fin), ("room1", quarter),
        ("up2", fin), ("down2", fin), ("room2", quarter),
        ("up_last", fin), ("down_last", fin), ("room_last", eighth),  # the pocket's depth
        ("back_tab", 2),
    ]  # fmt: skip
    rows = [told(join) for join in book.joins if "comb" in join.part]
    assert rows == [
        # each fin is shut on itself, its reverse inside
        "comb-spine fin1 reverse > comb-spine down1 reverse",
        "comb-spine fin2 reverse > comb-spine down2 reverse",
        "comb-spine fin_last reverse > comb-spine down_last reverse",
        "comb-spine page1 face > page-1 page face",
        "comb-spine page2 face > page-2 page face",
        "comb-spine page_last face > page-3 front face",
        "comb-spine room2 reverse > spine-board spine reverse",  # the middle of the book
        "comb-spine room1 reverse > spine-board spine reverse",
        "comb-spine room_last reverse > spine-board spine reverse",
        "comb-spine room_first reverse > spine-board spine reverse",
        "comb-spine front_tab reverse > front-board board reverse",
        "comb-spine back_tab reverse > back-board board reverse",
    ]
    legs = {j.zone: j.panel for j in book.joins if j.zone.startswith("page")}
    assert legs == {"page1": "up1", "page2": "up2", "page_last": "down_last"}
    assert not [entry.key for entry in book.parts if "hinge" in entry.key or "page-1-" in entry.key]


def test_the_folds_of_a_strip_stand_its_fins_up_and_lay_its_rooms_on_the_spine(book_of):
    part = book_of(text_of('["2 x flap"]')).part("comb-spine").part
    angles = {str(line.key): line.angle_deg for line in part.lines if line.kind is LineKind.FOLD}
    assert angles == {
        "front_tab | room_first": 90,
        "room_first | up1": 90,
        "up1 | down1": -180,
        "down1 | room1": 90,
        "room1 | up_last": 90,
        "up_last | down_last": -180,
        "down_last | room_last": 90,
        "room_last | back_tab": 90,
    }


@pytest.mark.parametrize(
    ("pages", "middle"),
    [
        ('["plain leaf"]', 1),
        ('["2 x plain leaf"]', 1),
        ('["3 x flap"]', 2),
        ('["3 x flap"]\nextra_page = "back half"', 1),
        ('["9 x side pocket"]', 5),
        ('["9 x side pocket"]\nextra_page = "back half"', 4),
        ('["24 x plain leaf"]', 12),
    ],
)
def test_pages_before_the_middle_hang_before_their_fin_and_all_tape_meets_its_target(
    pages, middle, book_of, prove
):
    book = book_of(text_of(pages))
    count = len(book.request.pages)
    joins = [j for j in book.joins if j.onto_part.startswith("page-") and "comb" in j.part]
    assert [j.onto_part for j in joins] == [f"page-{n}" for n in range(1, count + 1)]
    sides = ["before" if j.panel.startswith("up") else "behind" for j in joins]
    assert sides == ["before"] * middle + ["behind"] * (count - middle)
    for number in range(1, count + 1):
        bound = book.part(f"page-{number}").part.bound
        assert bound.side == ("right" if number <= middle else "left")
    prove(book)


def test_a_page_that_looks_to_its_cover_hangs_by_its_reverse(book_of, prove):
    book = book_of(text_of('["3 x flap"]', '[page.1]\nlooks = "cover"\n'))
    join = next(j for j in book.joins if j.onto_part == "page-1" and "comb" in j.part)
    assert told(join) == "comb-spine page1 face > page-1 page reverse"
    prove(book)


def test_all_gaps_are_as_wide_as_the_widest_channel_needs(book_of, prove):
    """Flaps with gussets of 3/16 from both sides of the middle: 3/8."""
    more = '[page.2]\ndepth = "3/16"\n[page.3]\ndepth = "3/16"\n[usual]\ncover_tab = "1 3/4"\n'
    book = book_of(text_of('["plain leaf", "flap", "flap", "plain leaf"]', more))
    widths = dict(columns(book.part("comb-spine").part))
    assert [widths[f"room{n}"] for n in (1, 2, 3)] == [Fraction(3, 8)] * 3
    assert book.reasons["gap"].note == "channel_2 governs"
    prove(book)


# ------------------------------------------------------------------ pieces


def test_a_strip_longer_than_its_sheet_is_made_of_pieces_that_share_a_fin(book_of, prove):
    """12 x 12 sheets are cut within 11 1/2 in, a quarter less on each side.

    Tab and room 2 1/4, each further fin and gap 1 3/4, the last fin 1 1/2: five fins
    are 2 1/4 + 4 x 1 3/4 + 1 1/2 = 10 3/4 long, six would be 12 1/2. Without a tab six
    are 5 x 1 3/4 + 1 1/2 = 10 1/4, seven 12. The last piece has the back tab.
    """
    book = book_of(text_of('["13 x plain leaf"]'))
    pieces = [entry for entry in book.parts if entry.key.startswith("comb-spine")]
    assert [Fraction(p.part.width) / INCH for p in pieces] == [
        Fraction(43, 4), Fraction(41, 4), Fraction(3, 2) + 3 * Fraction(7, 4) + Fraction(9, 4)
    ]  # fmt: skip
    fins = [sum(p.name.startswith("up") for p in entry.part.panels) for entry in pieces]
    assert fins == [5, 6, 4]  # 1 to 5, 5 to 10, 10 to 13: fins 5 and 10 are shared
    assert [entry.title for entry in pieces] == [
        "concertina spine, pages 1 to 5",
        "concertina spine, pages 5 to 10",
        "concertina spine, pages 10 to 13",
    ]
    overlaps = [told(join) for join in book.joins if join.zone.startswith("overlap")]
    assert overlaps == [
        "comb-spine-2 overlap reverse > comb-spine-1 up_last face",
        "comb-spine-2 overlap2 reverse > comb-spine-1 down_last face",
        "comb-spine-3 overlap reverse > comb-spine-2 up_last face",
        "comb-spine-3 overlap2 reverse > comb-spine-2 down_last face",
    ]
    assert [note.code for note in book.notes if note.code == "split-strip"] == ["split-strip"]
    assert not [note for note in book.notes if note.code == "no-sheet" and "spine" in note.subject]
    prove(book)


def test_a_piece_leaves_room_for_the_tab_at_its_end(book_of, prove):
    """Six fins are 10 1/4 long; with room and tab 12 1/2: ten pages need a third piece."""
    book = book_of(text_of('["10 x plain leaf"]'))
    titles = [entry.title for entry in book.parts if entry.key.startswith("comb-spine")]
    assert [title.rsplit("pages ")[1] for title in titles] == ["1 to 5", "5 to 9", "9 to 10"]
    assert "no-sheet" not in [note.code for note in book.notes]
    prove(book)


def test_fins_too_high_for_two_on_a_sheet_are_cut_in_twos_and_told(book_of, prove):
    """2 1/4 + 6 + 6 1/4 = 14 1/2 in, more than 11 1/2."""
    book = book_of(text_of('["4 x plain leaf"]', "[usual]\nfin = 3\n", size="page 9 1/3 x 4 2/7"))
    pieces = [entry for entry in book.parts if entry.key.startswith("comb-spine")]
    assert [sum(p.name.startswith("up") for p in e.part.panels) for e in pieces] == [2, 2, 2]
    assert "no-sheet" in [note.code for note in book.notes]
    prove(book)


def test_the_shared_fin_bears_its_page_on_the_outer_piece_and_is_shut_on_the_inner_one(book_of):
    book = book_of(text_of('["13 x plain leaf"]'))
    holders = {j.onto_part: j.part for j in book.joins if j.onto_part.startswith("page-")}
    assert (holders["page-4"], holders["page-5"], holders["page-9"], holders["page-10"]) == (
        "comb-spine-1", "comb-spine-2", "comb-spine-2", "comb-spine-3"
    )  # fmt: skip
    shut = [j.part for j in book.joins if j.part == j.onto_part and "comb" in j.part]
    # one for each fin of the first piece; of the others one less, for their first fin is shared
    assert [shut.count(f"comb-spine-{n}") for n in (1, 2, 3)] == [5, 5, 3]


def test_each_zone_of_a_strip_has_one_join(book_of):
    book = book_of(text_of('["13 x plain leaf"]'))
    for n in (1, 2, 3):
        part = book.part(f"comb-spine-{n}").part
        used = [j.zone for j in book.joins if j.part == f"comb-spine-{n}"]
        spare = {f"page_{last}" for last in ("last",)} if n < 3 else set()
        assert sorted(used) == sorted({zone.name for zone in part.zones} - spare)


def test_a_strip_in_millimetres_has_fins_of_20_and_tabs_of_50(book_of, prove):
    book = book_of(text_of('["2 x plain leaf"]', units="mm", size="page 100 x 143"))
    part = book.part("comb-spine").part
    assert [p.bounds().width for p in part.panels] == [50, 6, 20, 20, 6, 20, 20, 6, 50]
    assert part.height == 143
    prove(book)


def test_a_book_with_more_gaps_than_a_formula_can_compare_has_the_widest(book_of):
    """Thirty pages have 29 gaps; page 23, of the back half, folds its flap into the 22nd."""
    more = '[page.23]\ndepth = "1/3"\n[usual]\nchannel = "1/7"\n'
    book = book_of(text_of('["22 x plain leaf", "2 x flap", "6 x plain leaf"]', more))
    assert sum(j.zone.startswith("page") for j in book.joins if "comb" in j.part) == 30
    assert book.reasons.length("gap").mm == Fraction(1, 3) * INCH
    assert "channel_22 governs" in book.reasons["gap"].note
