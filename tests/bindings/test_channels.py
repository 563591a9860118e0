"""How wide each channel is, worked out by hand from what folds and stands in it.

Rules (TRADE.md, flaps add up; common practice, no source): a channel is at least the
sum of the gussets of the flaps that fold into it and of the pocket bodies that stand
in it, else the usual one. Flaps fold to the middle of the book, pocket bodies stand
on the outer side.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.bindings.bound import exact_reach
from dielines.lengths import Length

INCH = Fraction(254, 10)


def text_of(pages: str, more: str = "", binding: str = "tab and channel", units: str = "in") -> str:
    size = "page 5 1/3 x 4 2/7" if units == "in" else "page 131 x 107"
    return f'units = "{units}"\nsize = "{size}"\nbinding = "{binding}"\npages = {pages}\n{more}'


def channels(book) -> list[Fraction]:
    """All channels from the front cover to the back cover, inches."""
    count = len(book.request.pages)
    names = [
        "end_channel_front", *(f"channel_{n}" for n in range(1, count)), "end_channel_back"
    ]  # fmt: skip
    return [book.reasons.length(name).mm / INCH for name in names]


QUARTER, EIGHTH = Fraction(1, 4), Fraction(1, 8)

#: kind -> how far it reaches to the middle and to its cover, inches, with the usual gusset
#: of 1/8: flaps, doors and leaves lie one gusset above the page, side by side or one
#: inside the other; pleats lie flat; a double pocket stands on both sides.
ROOMS = {
    "bellows-pocket": (0, EIGHTH), "concertina-page": (EIGHTH, 0),
    "double-pocket": (EIGHTH, EIGHTH), "flap": (EIGHTH, 0),
    "fore-edge-fold-pocket": (0, EIGHTH), "frame-page": (0, EIGHTH),
    "gate-doors": (EIGHTH, 0), "half-pocket": (0, EIGHTH), "index-tab": (0, 0),
    "library-card-pocket": (0, 0), "photo-slits": (0, 0), "plain-leaf": (0, 0),
    "roll-fold": (EIGHTH, 0), "side-pocket": (0, EIGHTH), "three-flaps": (EIGHTH, 0),
    "ticket-page": (0, 0), "tiered-pockets": (0, 0), "top-pocket": (0, EIGHTH),
    "waterfall": (0, 0),
}  # fmt: skip


def test_the_table_has_every_kind_of_page(library):
    assert {t.name for t in library.templates() if t.kind == "page"} == set(ROOMS)


@pytest.mark.parametrize("kind", ROOMS)
def test_each_kind_needs_room_where_it_folds_and_stands(kind, book_of):
    """Two of a kind and channels of 1/16: the middle has room for both inner sides."""
    inner, outer = ROOMS[kind]
    more = '[usual]\nchannel = "1/16"\n'
    if kind == "bellows-pocket":
        more += 'depth = "1/8"\n'
    book = book_of(text_of(f'["2 x {kind}"]', more))
    least = Fraction(1, 16)
    assert channels(book) == [outer or least, max(least, 2 * inner), outer or least]


def test_flaps_fold_to_the_middle_and_pockets_stand_outward(book_of, prove):
    """Gussets in eighths: flaps 3 on page 2, 2 on page 3; pockets 3 on page 3's place.

    Front half 1 to 3: the flap of page 2 lies in channel 2, that of page 3 in the
    middle opening with that of page 4; the pocket of page 5 stands towards the back
    cover in channel 5, and nothing else does.
    """
    pages = '["plain leaf", "flap", "flap", "flap", "side pocket", "plain leaf"]'
    more = "".join(
        f'[page.{n}]\ndepth = "{depth}"\n'
        for n, depth in ((2, "3/8"), (3, "1/3"), (4, "1/7"), (5, "2/5"))
    )
    assert channels(book_of(text_of(pages, more))) == [
        QUARTER, QUARTER, Fraction(3, 8), Fraction(1, 3) + Fraction(1, 7), QUARTER,
        Fraction(2, 5), QUARTER,
    ]  # fmt: skip


def test_every_channel_is_as_wide_on_the_page_that_makes_it(book_of, prove):
    """Gussets of 2 to 7 sevenths of an inch on six flaps, and back again: no two channels alike."""
    more = "".join(f'[page.{n}]\ndepth = "{n + 1}/7"\n' for n in range(1, 7))
    book = book_of(text_of('["6 x flap"]', more))
    widths = channels(book)
    assert widths == [
        QUARTER, Fraction(2, 7), Fraction(3, 7), Fraction(4 + 5, 7), Fraction(6, 7), 1, QUARTER
    ]  # fmt: skip
    made = [
        Fraction(book.part(f"page-{n}").part.panel("binding.channel").bounds().width) / INCH
        for n in range(1, 7)
    ]
    # the front half's pages make the channel before them, the back half's the one behind
    assert made == [*widths[:3], *widths[4:]]
    prove(book)


def test_a_flap_and_the_pocket_behind_it_share_their_channel(book_of):
    """Both in the front half: page 1's flap folds back, page 2's pocket stands before it."""
    more = '[page.1]\ndepth = "1/3"\n[page.2]\ndepth = "1/5"\n'
    widths = channels(book_of(text_of('["flap", "side pocket", "plain leaf"]', more)))
    assert widths[1] == Fraction(1, 3) + Fraction(1, 5)


def test_doors_that_lie_side_by_side_count_once_and_flaps_one_over_the_other_do_as_well(book_of):
    more = '[every."gate doors"]\ndepth = "2/7"\n[every."three flaps"]\ndepth = "2/7"\n'
    for kind in ("gate doors", "three flaps"):
        widths = channels(book_of(text_of(f'["{kind}", "2 x plain leaf"]', more)))
        assert widths == [QUARTER, Fraction(2, 7), QUARTER, QUARTER]


def test_a_page_that_looks_to_its_cover_folds_and_stands_the_other_way(book_of):
    more = '[page.1]\nlooks = "cover"\ndepth = "1/3"\n[page.2]\nlooks = "cover"\ndepth = "2/7"\n'
    widths = channels(book_of(text_of('["flap", "side pocket", "plain leaf"]', more)))
    # page 1's flap lies before the front cover's channel, page 2's pocket to the middle
    assert widths == [Fraction(1, 3), QUARTER, Fraction(2, 7), QUARTER]


def test_the_extra_page_belongs_to_the_half_that_the_book_says(book_of):
    """The middle flap of three folds back when it is in front, to the front when it is not."""
    more = '[page.2]\ndepth = "1/3"\n'
    pages = '["plain leaf", "flap", "plain leaf"]'
    assert channels(book_of(text_of(pages, more)))[1:3] == [QUARTER, Fraction(1, 3)]
    back = 'extra_page = "back half"\n' + more
    assert channels(book_of(text_of(pages, back)))[1:3] == [Fraction(1, 3), QUARTER]


def test_channels_and_ends_follow_the_usual_sizes_that_a_book_changes(book_of):
    pages = '["side pocket", "flap", "plain leaf"]'
    more = '[usual]\nchannel = "2/7"\nend_channel = "3/7"\n'
    assert channels(book_of(text_of(pages, more))) == [
        Fraction(3, 7), Fraction(2, 7), Fraction(2, 7), Fraction(3, 7)
    ]  # fmt: skip
    asked = '[usual]\nend_channel = "as the pocket"\n'
    assert channels(book_of(text_of(pages, asked)))[0::3] == [EIGHTH, QUARTER]


def test_a_wider_channel_than_its_flaps_need_stays(book_of):
    book = book_of(text_of('["3 x flap"]', '[usual]\nchannel = "1/2"\n'))
    assert channels(book) == [Fraction(1, 2)] * 4
    assert book.reasons["channel_2"].note == "channel governs"
    assert book.reasons["channel_2_needs"].inputs == ("page_2_towards_back", "page_3_towards_front")


def test_channels_of_nothing_make_a_flat_book(book_of, prove):
    """Tabs then fold flat onto their pages; no channel, so no tape on the spine."""
    for count in (1, 2, 3):
        book = book_of(text_of(f'["{count} x plain leaf"]', "[usual]\nchannel = 0\n"))
        assert channels(book) == [0] * (count + 1)
        assert not [j for j in book.joins if j.onto_part == "spine-board" and "page" in j.part]
        prove(book)


# ------------------------------------------------------------------ to fit


def test_a_channel_to_fit_holds_what_folds_and_what_lies_in_it_and_says_which_governs(book_of):
    """Millimetres. Mats of 0.16 with tape 0.13 on both sides of all pages: 0.58 an opening.

    The flap's gusset is 3; five stamps of 0.7 lie behind the flap: 3.5 and both
    inner mats give 4.08. Where nothing folds the narrowest, 2 mm, governs.
    """
    pages = '["plain leaf", "flap", "plain leaf", "plain leaf"]'
    fit = '[usual]\nchannel = "to fit"\n'
    stamps = '[page.2]\nholds = { what = "stamp", size = "30 x 40", thick = 0.7, count = 5 }\n'
    book = book_of(text_of(pages, f'mats = "both sides"\n{stamps}{fit}', units="mm"))
    found = [book.reasons.length(f"channel_{n}").mm for n in (1, 2, 3)]
    assert found == [2, Fraction(408, 100), 2]
    assert book.reasons["channel_2"].note == "channel_2_contents governs"
    assert book.reasons["channel_1"].note == "narrowest_channel governs"
    plain = book_of(text_of(pages, fit, units="mm"))
    assert plain.reasons["channel_2"].note == "channel_2_needs governs"
    assert plain.reasons.length("channel_2").mm == 3


def test_what_a_pocket_holds_counts_where_it_stands(book_of):
    """A side pocket of the back half stands towards the back cover: only there."""
    holds = '[page.3]\nholds = { what = "seed packet", size = "50 x 60", thick = 9 }\n'
    text = text_of('["4 x side pocket"]', f'{holds}[usual]\nchannel = "to fit"\n', units="mm")
    book = book_of(text)
    found = [book.reasons.length(f"channel_{n}").mm for n in (1, 2, 3)]
    assert found == [3, 2, 9]  # the pocket of page 2 in the first, that of page 3 in the last


def test_end_channels_to_fit_hold_the_pocket_or_the_mat(book_of):
    fit = 'mats = "outer side"\n[usual]\nchannel = "to fit"\n'
    book = book_of(text_of('["side pocket", "plain leaf"]', fit, units="mm"))
    assert book.reasons.length("end_channel_front").mm == 3
    assert book.reasons.length("end_channel_back").mm == 2


# ------------------------------------------------------------------ exactness


def test_heights_of_leaning_panels_give_way_to_an_exact_one_as_high():
    seventh = Fraction(254, 70)
    assert exact_reach([Fraction(0), float(seventh) + 1e-12, seventh]) == Length(seventh)
    assert exact_reach([Fraction(-1), 4e-16]) == Length(Fraction(0))
    assert exact_reach([2.34567891]) == Length(Fraction(2346, 1000))


def test_a_pocket_with_leaning_pleats_has_the_exact_depth(book_of):
    book = book_of(text_of('["bellows pocket"]', '[page.1]\ndepth = "2/7"\n'))
    assert channels(book) == [Fraction(2, 7), QUARTER]
