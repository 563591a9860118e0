"""The room of each pocket: which sides hold, which are open, at every depth.

The expected openings are those of the notes on folding (a pocket of 4 1/4 in has one run of
4 1/4 in less twice the buffer of 0.012 in); all else is geometry.
"""

from dataclasses import replace
from fractions import Fraction

import pytest
from seam_spoils import MORE, POCKETS, cut_short, spoiled, with_zone, without_zones
from spoiling import longer_panel, moved_zone, with_angle

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.folding.cavities import cavities_of
from dielines.folding.cavity_walls import Closing
from dielines.folding.folded_book import FoldedBook
from dielines.folding.folded_parts import fold_part
from dielines.folding.pockets_in_book import book_cavities
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.part import Side

OPEN, SECURED, STANDING, LOOSE = (
    Closing.OPEN,
    Closing.SECURED,
    Closing.STANDING,
    Closing.LOOSE,
)


@pytest.fixture(scope="module")
def books_of(tmp_path_factory):
    def folded(text):
        file = tmp_path_factory.mktemp("pockets") / "garden.toml"
        file.write_text(text, "utf-8")
        source = book_source(book_document(file))
        book = compose(source.request, source.workshop, source.library)
        return FoldedBook(book, source.workshop)

    return folded


@pytest.fixture(scope="module")
def books(books_of):
    return books_of(POCKETS), books_of(MORE)


def closings(cavity):
    return {name: side.closing for name, side in cavity.sides.items()}


def the_cavity(folded, key, number=0):
    return book_cavities(folded)[key][number]


def single(template, part, calipers=None, **given):
    built = build(built_in_library().find(template), given, calipers or {})
    return cavities_of(fold_part(built.part(part)))


def test_a_side_pocket_in_a_book_is_open_at_its_fore_edge_alone(books):
    cavity = the_cavity(books[0], "page-1")
    assert closings(cavity) == {
        "bottom": SECURED, "top": SECURED, "right": STANDING, "left": OPEN,
    }  # fmt: skip
    assert cavity.depth == pytest.approx(25.4 / 8)
    (opening,) = cavity.sides["left"].openings
    assert opening.length == pytest.approx((4.25 - 0.024) * 25.4, abs=0.02)


@pytest.mark.parametrize(
    ("key", "number", "mouth"),
    [
        ("page-3", 0, "bottom"), ("page-4", 0, "bottom"), ("page-4", 1, "bottom"),
        ("page-6", 0, "top"),
    ],
)  # fmt: skip
def test_pockets_of_a_book_are_open_at_their_mouths_alone(books, key, number, mouth):
    cavity = the_cavity(books[0], key, number)
    assert [name for name, closing in closings(cavity).items() if closing is OPEN] == [mouth]
    assert LOOSE not in closings(cavity).values()
    assert cavity.mouth.side == mouth


@pytest.mark.parametrize(
    ("key", "number"),
    [
        ("page-1", 0),
        ("page-2", 0),
        ("page-2", 1),
        ("page-3", 0),
        ("page-4-pocket", 0),
        ("page-6", 0),
    ],
)
def test_other_pockets_of_a_book_are_open_at_their_mouths_alone(books, key, number):
    cavity = the_cavity(books[1], key, number)
    open_sides = [name for name, closing in closings(cavity).items() if closing is OPEN]
    assert open_sides == [cavity.mouth.side]
    assert LOOSE not in closings(cavity).values()


def test_what_binds_the_next_page_stands_at_the_edge_of_an_inner_pocket(books):
    alone = cavities_of(books[1].parts["page-2"])[0]
    bound = the_cavity(books[1], "page-2")
    side = "right" if books[1].parts["page-2"].part.is_mirrored else "left"
    assert (alone.sides[side].closing, bound.sides[side].closing) == (OPEN, STANDING)


def test_a_pocket_that_hangs_at_the_join_of_two_concertina_strips_is_closed(books_of):
    looks = "".join(f'[page.{number}]\nlooks = "cover"\n' for number in range(1, 8))
    text = POCKETS.replace("tab and channel", "concertina spine").replace(
        '"top pocket"]', '"top pocket", "flap"]'
    )
    text = text.replace('"gate doors"', '"frame page"') + looks
    for cavities in book_cavities(books_of(text)).values():
        for cavity in cavities:
            assert LOOSE not in closings(cavity).values()
            assert list(closings(cavity).values()).count(OPEN) == 1


def test_walls_of_the_next_page_do_not_stand_in_a_pocket(books_of):
    pages = '"double pocket", "half pocket", "top pocket", "side pocket", "flap", "flap"'
    text = POCKETS.split("pages =")[0] + f"pages = [{pages}]"
    for cavities in book_cavities(books_of(text)).values():
        for cavity in cavities:
            assert list(closings(cavity).values()).count(OPEN) == 1
            assert cavity.free.height > cavity.frame.height - 1


def test_an_unbound_pocket_is_open_at_both_ends():
    (cavity,) = single("side-pocket", "page")
    assert closings(cavity) == {"bottom": SECURED, "top": SECURED, "right": OPEN, "left": OPEN}


def test_a_bellows_pocket_has_one_opening_although_its_walls_lie_inside():
    (cavity,) = single("bellows-pocket", "page")
    assert closings(cavity) == {
        "bottom": OPEN, "left": SECURED, "right": SECURED, "top": SECURED,
    }  # fmt: skip
    assert cavity.free.width < cavity.frame.width - 1


@pytest.mark.parametrize("flaps", ["square", "pointed"])
def test_an_envelope_is_open_under_its_lid_alone(flaps):
    (cavity,) = single("envelope", "envelope", flaps=flaps)
    assert closings(cavity) == {
        "bottom": SECURED, "left": SECURED, "right": SECURED, "top": OPEN,
    }  # fmt: skip
    assert cavity.depth == 0


def test_a_slipcase_is_open_where_its_spine_stands():
    (cavity,) = single("slipcase", "slipcase", {"cardstock": Fraction(6, 25)})
    assert [name for name, closing in closings(cavity).items() if closing is OPEN] == ["left"]
    assert LOOSE not in closings(cavity).values()


def test_a_back_that_ends_short_under_its_seam_leaves_no_opening(books):
    sixteenth = Fraction(127, 80)
    folded = spoiled(books[0], "page-1", lambda p: cut_short(p, "y", 20, sixteenth))
    assert closings(the_cavity(folded, "page-1"))["top"] is SECURED


def test_a_back_that_ends_before_its_seam_opens_the_pocket_at_the_head(books):
    folded = spoiled(
        books[0], "page-1", lambda p: cut_short(p, "y", 30, Fraction(3, 4) * Fraction(127, 5))
    )
    side = the_cavity(folded, "page-1").sides["top"]
    assert side.closing is OPEN
    assert side.openings[0].length == pytest.approx(6.25 * 25.4 - 0.3, abs=0.02)


def test_a_gusset_narrower_than_the_pocket_is_deep_leaves_it_open_above(books):
    folded = spoiled(books[0], "page-1", lambda p: longer_panel(p, "binding.channel", "x", -1))
    assert the_cavity(folded, "page-1").sides["right"].closing is OPEN


def test_a_wall_whose_seam_has_no_tape_is_loose(books):
    folded = spoiled(books[0], "page-1", lambda p: without_zones(p, "seam"))
    assert the_cavity(folded, "page-1").sides["top"].closing is LOOSE


def test_a_wall_whose_tape_misses_the_back_is_loose(books):
    folded = spoiled(books[0], "page-1", lambda p: moved_zone(p, "seam", dy=Fraction(-40, 3)))
    assert the_cavity(folded, "page-1").sides["top"].closing is LOOSE


def test_a_front_without_a_back_has_no_room(books):
    folded = spoiled(books[0], "page-1", lambda p: with_angle(p, "tail / back", 0))
    folded = spoiled(folded, "page-1", lambda p: without_zones(p, "seam"))
    folded = spoiled(folded, "page-1", lambda p: with_angle(p, "seam / head", 0))
    (cavity,) = book_cavities(folded)["page-1"]
    assert (cavity.pocket, cavity.sides) == (None, {})


def test_tape_in_a_flat_pocket_takes_away_of_its_room(books):
    def change(part):
        return with_zone(part, "front1", Side.REVERSE, "back1", (0, 20, 158, 26))

    before = the_cavity(books[0], "page-4")
    after = the_cavity(spoiled(books[0], "page-4", change), "page-4")
    assert after.free.height < before.free.height - 20


def test_parts_that_are_alike_share_their_cavities(books):
    book = replace(books[0].book, parts=(*books[0].book.parts,))
    folded = FoldedBook(book, books[0].workshop)
    assert book_cavities(folded)["page-1"][0] == the_cavity(books[0], "page-1")
    assert book_cavities(folded) is book_cavities(folded)
