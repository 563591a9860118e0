"""The thickness of whole books, against numbers worked out by hand beforehand.

The tables are those of the project's own worked examples (inches and mm as given there);
calipers are assumptions, sizes common practice. Heights there count from the inside of
the front board, here from the back board.
"""

from __future__ import annotations

import pytest
from random_books import random_book
from spoiling import changed_part, longer_panel, stretched
from thick_books import (
    PAPER,
    SHEET,
    TAPE,
    WORKSHOP,
    composed,
    holding,
    mixed_book,
    without_reinforcement,
)

from dielines.folding.folded_book import FoldedBook

INCH = 25.4

#: pages -> block upright plain and reinforced, play plain; pressed at binding, fore-edge and seams
TABLE = {
    1: (15.875, 7.214, 7.671, 1.956, 0.483, 0.851),
    4: (34.925, 27.368, 28.283, 4.394, 1.930, 2.667),
    12: (85.725, 81.115, 83.248, 11.709, 5.791, 8.001),
    24: (161.925, 161.734, 165.697, 22.682, 11.582, 16.002),
}


@pytest.fixture(scope="module")
def book_of(tmp_path_factory):
    """A folded book from its text, of the materials of the worked examples."""
    kept: dict[tuple[str, ...], FoldedBook] = {}

    def made(text: str, *settings: str) -> FoldedBook:
        if (text, *settings) not in kept:
            folder = tmp_path_factory.mktemp("thick")
            kept[text, *settings] = composed(folder, text, *settings)
        return kept[text, *settings]

    return made


@pytest.fixture(scope="module")
def plain_of(book_of):
    """The same without reinforcement."""
    return lambda text, *settings: without_reinforcement(book_of(text, *settings))


def of_spine(count: int, more: str = "") -> tuple[str, str]:
    return mixed_book(count, more), f"spine.width={TABLE[count][0]} mm"


@pytest.mark.parametrize("count", TABLE)
def test_the_block_upright_is_that_of_the_table(plain_of, count):
    thickness = plain_of(*of_spine(count)).thickness
    assert thickness.at_binding.upright == pytest.approx(TABLE[count][1], abs=0.0006)
    assert thickness.spine == pytest.approx(TABLE[count][0])
    play = {1: 8.66, 4: 7.56, 12: 4.61, 24: 0.19}[count]
    assert thickness.play == pytest.approx(play, abs=0.0055)


@pytest.mark.parametrize("count", TABLE)
def test_the_block_reinforced_is_that_of_the_table_where_nothing_laps_onto_the_page(book_of, count):
    thickness = book_of(*of_spine(count), "usual.reinforcement_lap=0").thickness
    assert thickness.at_binding.upright == pytest.approx(TABLE[count][2], abs=0.0006)
    play = {1: 8.20, 4: 6.64, 12: 2.48, 24: -3.77}[count]
    assert thickness.play == pytest.approx(play, abs=0.0055)


def test_a_lap_under_the_tab_of_the_next_page_adds_its_thickness(book_of):
    without = book_of(*of_spine(4), "usual.reinforcement_lap=0").thickness
    thickness = book_of(*of_spine(4)).thickness
    assert thickness.at_binding.upright - without.at_binding.upright == pytest.approx(4 * SHEET)


@pytest.mark.parametrize("count", TABLE)
def test_pressed_columns_are_those_of_the_table(plain_of, count):
    """The table has tape all over the two cover tabs; here it ends where the board does."""
    thickness = plain_of(*of_spine(count)).thickness
    _, _, _, binding, fore_edge, seams = TABLE[count]
    assert thickness.at_binding.pressed + 2 * TAPE == pytest.approx(binding, abs=0.0006)
    assert thickness.at_fore_edge.pressed == pytest.approx(fore_edge, abs=0.0006)
    assert thickness.at_seams.pressed == pytest.approx(seams, abs=0.0006)


@pytest.mark.parametrize(("count", "seams"), [(1, 1.867), (4, 6.731), (12, 20.193), (24, 40.386)])
def test_contents_are_counted_in_the_columns_where_they_lie(plain_of, count, seams):
    text = mixed_book(count, "".join(holding(n + 1, "5 x 3 1/2", "0.04") for n in range(count)))
    columns = plain_of(text).thickness.columns
    whole = columns.whole
    middle = (whole.left + whole.right) / 2 + 20
    found = max(columns.at(middle, y + 0.01).pressed for y in columns.ys[:-1])
    assert found == pytest.approx(seams, abs=0.0006)


def test_upright_heights_of_four_pages_are_those_worked_out(plain_of):
    folded = plain_of(*of_spine(4))
    top = 1.0775  # inside of the other board
    heights = folded.thickness.upright
    told = {
        ("page-1", "binding.tab"): 0.00975, ("page-1", "front"): 0.13475,
        ("page-1", "back"): 0.01925, ("page-1", "seam"): 0.03375,
        ("page-2", "binding.tab"): 0.14925, ("page-2", "page"): 0.39925,
        ("hinge-strip", "front_tab"): 0.41375, ("hinge-strip", "back_tab"): 0.66375,
        ("page-3", "front"): 0.67825, ("page-3", "binding.tab"): 0.92825,
        ("page-4", "page"): 0.94275, ("page-4", "binding.tab"): 1.06775,
    }  # fmt: skip
    for key, inches in told.items():
        assert heights[key] == pytest.approx((top - inches) * INCH, abs=1e-6), key


def test_the_seam_of_an_inner_page_lies_a_paper_and_a_tape_nearer_to_its_front(plain_of):
    heights = plain_of(*of_spine(4)).thickness.upright
    to_back = abs(heights["page-3", "front"] - heights["page-3", "back"])
    to_seam = abs(heights["page-3", "front"] - heights["page-3", "seam"])
    assert to_back - to_seam == pytest.approx(0.0145 * INCH)


def test_clear_depths_of_pockets_are_those_worked_out(plain_of):
    pockets = {p.part: p for p in plain_of(*of_spine(4)).thickness.pockets}
    end, inner = pockets["page-1"], pockets["page-3"]
    assert (inner.depth, inner.clear) == pytest.approx((3.175, 2.934), abs=0.0006)
    assert inner.under_seam == pytest.approx(2.565, abs=0.0006)
    assert (end.clear, end.under_seam) == pytest.approx((2.692, 2.324), abs=0.0006)


def test_contents_ask_more_of_the_gussets_by_what_was_worked_out(plain_of):
    """Small photos that stand on the tail and do not reach the seam."""
    more = holding(1, "5 x 2 1/2", "0.14") + holding(3, "5 x 2 1/2", "0.14")
    walls = plain_of(mixed_book(4, more)).thickness.walls_by_panel
    told = {
        ("page-1", "tail"): (0.1495, 0.0245),
        ("page-3", "tail"): (0.1495, 0.0245),
        ("page-1", "binding.channel"): (0.159, 0.034),
    }
    for key, (needed, short) in told.items():
        wall = walls[key]
        assert wall.needed == pytest.approx(needed * INCH, abs=1e-6), key
        assert -wall.spare == pytest.approx(short * INCH, abs=1e-6), key
        assert wall.short == pytest.approx(short * INCH, abs=1e-6), key
    assert {key for key, wall in walls.items() if wall.short > 1e-6} == set(told)


def test_what_reaches_under_the_seam_asks_for_the_seam_too(plain_of):
    more = holding(3, "5 x 3 1/2", "0.14")
    wall = plain_of(mixed_book(4, more)).thickness.walls_by_panel["page-3", "tail"]
    assert wall.needed == pytest.approx(0.14 * INCH + 2 * PAPER + TAPE)
    assert wall.needed_empty == pytest.approx(2 * PAPER + TAPE)


def test_a_book_of_pockets_without_gaps_has_no_circles(plain_of):
    assert plain_of(*of_spine(12)).thickness.circles == ()


def test_the_gape_compares_the_outer_half_with_the_spine(plain_of):
    thickness = plain_of(*of_spine(4)).thickness
    assert thickness.gape == pytest.approx(2.667 - 27.368, abs=0.0011)


def test_a_longer_spine_board_gives_as_much_more_play(plain_of):
    folded = plain_of(*of_spine(4))
    book = changed_part(folded.book, "spine-board", lambda p: stretched(p, "x", p.width / 2, 5 / 7))
    longer = FoldedBook(book, folded.workshop).thickness
    assert longer.spine - folded.thickness.spine == pytest.approx(5 / 7, abs=1e-6)


def test_a_wider_channel_makes_the_block_upright_wider_and_not_the_pressed_one(plain_of):
    folded = plain_of(*of_spine(4))
    change = lambda part: longer_panel(part, "binding.channel", "x", 5 / 3)  # noqa: E731
    wider = FoldedBook(changed_part(folded.book, "page-2", change), folded.workshop).thickness
    before = folded.thickness
    assert wider.at_binding.upright - before.at_binding.upright == pytest.approx(5 / 3)
    assert wider.thickest.pressed == pytest.approx(before.thickest.pressed)


@pytest.mark.parametrize("seed", range(0, 60, 5))
def test_upright_is_never_thinner_than_pressed(tmp_path, seed):
    thickness = composed(tmp_path, random_book(seed), workshop="").thickness
    upright, pressed = thickness.upright, thickness.pressed
    boards = thickness.stack.boards
    assert upright[boards[-1]] >= pressed[boards[-1]] - 1e-9
    assert thickness.at_binding.upright >= thickness.thickest.pressed - 1e-9
    assert thickness.circles == ()
    assert all(wall.short <= 1e-9 for wall in thickness.walls if wall.spare >= 0)


@pytest.mark.parametrize("seed", range(2, 60, 9))
def test_thicker_paper_never_makes_a_thinner_book(tmp_path, seed):
    text = random_book(seed)
    thin = composed(tmp_path, text).thickness
    thick = composed(tmp_path, text, workshop=WORKSHOP.replace(f'"{PAPER} mm"', '"0.31 mm"'))
    for one, other in (
        (thin.at_binding, thick.thickness.at_binding),
        (thin.at_fore_edge, thick.thickness.at_fore_edge),
        (thin.thickest, thick.thickness.thickest),
    ):
        assert other.pressed > one.pressed
        assert other.upright >= one.upright - 1e-9


def test_one_more_thing_in_a_pocket_never_makes_a_thinner_book(plain_of):
    before = plain_of(mixed_book(3)).thickness.thickest.pressed
    for count in (1, 2, 7):
        text = mixed_book(3, holding(1, "5 x 3 1/3", "2/7 mm", count))
        after = plain_of(text).thickness.thickest.pressed
        assert after > before
        before = after


def test_sizes_that_would_be_right_are_the_needs_without_rounding(plain_of):
    folded = plain_of(mixed_book(4, holding(3, "5 x 2 1/2", "0.14")))
    right = folded.thickness.right
    assert right.walls["page-3", "tail"] == pytest.approx(0.1495 * INCH)
    assert right.walls["page-3", "binding.channel"] == pytest.approx(
        6.35
    )  # two gussets stand in it
    assert right.spine == pytest.approx(27.3685 + 3.175, abs=0.001)
    assert right.joint == pytest.approx(2 * 2.032)
