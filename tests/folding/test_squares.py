"""Squares of the closed and the open book, against arithmetic on joint, spine and play."""

from __future__ import annotations

import math

import pytest
from composed import album, bound, composed, plain

from dielines.folding.squares import closed_squares, open_squares

FOUR = '"side pocket", "flap", "side pocket", "flap"'
EIGHTH = ("[usual]", 'end_channel = "1/8"')
INCH = 25.4


def squares(whole):
    return {(s.board, s.page, s.side): s.size for s in closed_squares(whole.book, whole.assembly)}


def test_head_and_tail_have_the_square_and_the_fore_edge_what_the_joint_adds() -> None:
    whole = bound(plain(composed(album(FOUR, *EIGHTH))))
    found = squares(whole)
    # From the middle of the channel: half a card, tape, the lining with its tape, the spine board,
    # tape and half the wrap; the boards stand as far in as a taut joint lets them.
    corner = -(0.0095 / 2 + 0.005 + 0.014 + 0.005 + 0.08 + 0.005 + 0.014 / 2) * INCH
    play = 7.5565
    rise = (0.08 + 0.005 + 0.014 / 2) * INCH - play / 2
    back = corner + math.sqrt((5 / 16 * INCH) ** 2 - rise**2)
    for board in ("front-board", "back-board"):
        for page in ("page-1", "page-2", "page-3", "page-4"):
            assert found[board, page, "head"] == pytest.approx(INCH / 8)
            assert found[board, page, "tail"] == pytest.approx(INCH / 8)
            assert found[board, page, "fore-edge"] == pytest.approx(INCH / 4 + back)


def test_open_flat_a_cover_shows_more_at_the_fore_edge_by_what_it_slid() -> None:
    whole = bound(plain(composed(album(FOUR, *EIGHTH))))
    closed = squares(whole)
    middle = {
        s.page: s for s in open_squares(whole.book, whole.parts, whole.assembly) if s.opening == 2
    }
    assert {page: s.board for page, s in middle.items()} == {
        "page-1": "front-board", "page-2": "front-board",
        "page-3": "back-board", "page-4": "back-board",
    }  # fmt: skip
    slid = middle["page-1"].size - closed["front-board", "page-1", "fore-edge"]
    # The spine board lies between two joints at the least slope that holds: the covers' edges are
    # as far apart as spine and joints differ.
    channel, spine, joint = INCH / 4, 34.925, 5 / 16 * INCH
    edge = closed["front-board", "page-1", "fore-edge"] - INCH / 4
    assert channel + 2 * (edge + slid) >= spine - 2 * joint - 1e-6
    assert slid == pytest.approx(max(0, (spine - 2 * joint - channel) / 2 - edge), abs=1e-6)


@pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])
def test_what_is_taped_onto_a_page_counts_and_reinforcement_does_not(binding) -> None:
    whole = bound(composed(album('"library-card pocket", "flap"', binding=binding)))
    (first, *_) = [s for s in closed_squares(whole.book, whole.assembly) if s.page == "page-1"]
    assert first.part == "page-1"
    assert not any(
        s.part.endswith("reinforcement") for s in closed_squares(whole.book, whole.assembly)
    )
