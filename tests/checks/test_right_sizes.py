"""Sizes rounded up to what a person would write, and the settings that they belong to."""

from __future__ import annotations

import pytest
from thick_books import composed, mixed_book

from dielines.checks.finding import Advice
from dielines.checks.right_sizes import (
    channel_setting,
    deeper_advice,
    fine,
    rounded_up,
    wall_advice,
)
from dielines.lengths import inches, millimetres


@pytest.fixture
def folded(tmp_path):
    return composed(tmp_path, mixed_book(4))


def test_widths_are_rounded_up_to_a_sixteenth(folded):
    assert rounded_up(folded.book, 25.4 / 7) == inches("3/16")
    assert rounded_up(folded.book, 25.4 / 8) == inches("1/8")
    assert rounded_up(folded.book, 25.4 / 8 + 0.0004) == inches("1/8")
    assert rounded_up(folded.book, 25.4 / 8 + 0.002) == inches("3/16")


def test_widths_of_a_metric_book_are_rounded_up_to_a_millimetre(tmp_path):
    text = mixed_book(2).replace('units = "in"', 'units = "mm"').replace("5 x 3 1/2", "130 x 90")
    folded = composed(tmp_path, text.replace('"1/8"', '"3"'))
    assert rounded_up(folded.book, 10 / 3) == millimetres(4)
    assert fine(folded.book, 10 / 3) == "3.33 mm"


def test_thicknesses_are_told_to_a_thousandth_of_an_inch(folded):
    assert fine(folded.book, 25.4 / 7) == "0.143 in"
    assert fine(folded.book, 3.175) == "1/8 in"


def test_the_depth_of_a_page_sets_its_gussets(folded):
    walls = folded.thickness.walls_by_panel
    (advice,) = wall_advice(folded.book, walls["page-3", "tail"], 3.5)
    assert advice == Advice("page.3.depth", inches("3/16"))
    (advice,) = wall_advice(folded.book, walls["page-2", "gusset"], 3.0)
    assert advice == Advice("page.2.depth", inches("1/8"))
    assert wall_advice(folded.book, walls["hinge-strip", "channel"], 9.0) == ()


def test_channels_beside_covers_are_end_channels(folded):
    walls = folded.thickness.walls_by_panel
    told = {
        key[0]: channel_setting(folded.thickness, wall)
        for key, wall in walls.items()
        if wall.is_channel
    }
    assert told == {
        "page-1": "usual.end_channel", "page-4": "usual.end_channel",
        "page-2": "usual.channel", "page-3": "usual.channel", "hinge-strip": "usual.channel",
    }  # fmt: skip


def test_a_deeper_end_page_needs_a_wider_end_channel_where_the_book_sets_one(folded, tmp_path):
    book, thickness = folded.book, folded.thickness
    wall = thickness.walls_by_panel["page-1", "tail"]
    told = deeper_advice(book, thickness, wall, 4.0)
    assert told == (
        Advice("page.1.depth", inches("3/16")),
        Advice("usual.end_channel", inches("3/16")),
    )
    free = composed(tmp_path, mixed_book(4).replace('end_channel = "1/8"', ""))
    wall = free.thickness.walls_by_panel["page-1", "tail"]
    assert [a.setting for a in deeper_advice(free.book, free.thickness, wall, 4.0)] == [
        "page.1.depth"
    ]
