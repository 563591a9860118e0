"""Every number here is common practice, no source: the table that the book file was designed with."""

from __future__ import annotations

import pytest

from dielines.documents import Refusal
from dielines.lengths import inches, millimetres
from dielines.sizes.usual import Origin, conflicts, usual_override, usual_sizes
from dielines.workshop.shipped import shipped_document

# name, inches, mm
TABLE = [
    ("margin", "1/8", 3),
    ("hinge_tab", "1/2", 12),
    ("seam_tab", "1/2", 12),
    ("channel", "1/4", 6),
    ("depth", "1/8", 3),
    ("notch", "3/4", 20),
    ("cover_tab", "2", 50),
    ("taper", "1/4", 6),
    ("reinforcement_lap", "3/8", 10),
    ("tape_margin", "1/8", 3),
    ("hold_tape_margin", "0", 0),
    ("square", "1/8", 3),
    ("fore_edge", "1/4", 6),
    ("spine_allowance", "3/8", 10),
    ("play", "1/8", 3),
    ("joint", "5/16", 8),
    ("hold", "1", 25),
    ("turn_in", "3/4", 20),
    ("lining_side", "1/8", 3),
    ("lining_end", "1/4", 6),
    ("edge_strip", "1", 25),
    ("mat_border", "1/8", 3),
    ("short_of_middle", "1/16", 2),
    ("fin", "3/4", 20),
]
WORDS = {
    "flap": "half the photo",
    "end_channel": "as the pocket",
    "bead": "off",
    "edge_scores": "once",
    "edge_corners": "mitred",
    "rounding": "off",
}


@pytest.mark.parametrize(("name", "inch", "mm"), TABLE)
def test_a_usual_size_has_a_value_of_its_own_in_each_unit(name, inch, mm):
    assert usual_sizes("in").length(name) == inches(inch)
    assert usual_sizes("mm").length(name) == millimetres(mm)


def test_no_usual_size_is_left_out_of_this_test():
    names = {name for name, _, _ in TABLE} | WORDS.keys()
    assert set(usual_sizes("in").rows) == set(usual_sizes("mm").rows) == names


@pytest.mark.parametrize(("name", "word"), WORDS.items())
def test_where_a_usual_size_is_no_number_a_word_stands_for_it(name, word):
    sizes = usual_sizes("mm")
    assert sizes.word(name) == word
    assert word in sizes[name].words
    with pytest.raises(KeyError):
        sizes.length(name)


def test_a_flap_is_half_the_photo_and_two_margins():
    assert usual_sizes("in")["flap"].formula == "photo_width / 2 + 2 * margin"
    assert usual_sizes("in", {"flap": "half the photo"})["flap"].formula


def test_no_metric_size_is_a_converted_one():
    for name, mm in usual_sizes("mm").lengths().items():
        assert mm.mm.denominator == 1
        assert not mm or mm != usual_sizes("in").length(name)


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_row_says_what_it_is_and_keeps_its_own_limits(units):
    sizes = usual_sizes(units)
    for row in sizes.rows.values():
        assert row.help
        assert (row.length is not None) != bool(row.word)
        assert (row.least is None) == (row.most is None) == (name_is_words_only(row))
        if row.length is not None:
            assert row.least <= row.length <= row.most
        assert set(row.below) <= set(sizes.rows)
    assert conflicts(sizes) == []


def name_is_words_only(row):
    return row.name in ("bead", "edge_scores", "edge_corners")


def test_the_file_holds_no_key_that_nobody_reads():
    keys = {"help", "inches", "mm", "words", "usual", "formula", "below"}
    for row in shipped_document("usual.toml").data.values():
        assert set(row) <= keys
        for unit in ("inches", "mm"):
            assert set(row.get(unit, {})) <= {"usual", "least", "most"}


def test_a_book_changes_what_it_names_and_nothing_else():
    sizes = usual_sizes("in", {"square": inches("3/7"), "flap": inches(2), "channel": "to fit"})
    assert sizes.length("square") == inches("3/7")
    assert sizes.length("flap") == inches(2)
    assert (sizes["flap"].formula, sizes.word("channel")) == ("", "to fit")
    changed = {name for name, row in sizes.rows.items() if row.origin is Origin.BOOK}
    assert changed == {"square", "flap", "channel"}
    assert usual_sizes("in").length("square") == inches("1/8")


def test_what_has_to_stay_below_another_is_found_where_it_does_not():
    sizes = usual_sizes("mm", {"turn_in": millimetres("6.1"), "lining_end": millimetres("6.1")})
    assert conflicts(sizes) == [("lining_end", "turn_in")]


@pytest.mark.parametrize(
    ("name", "value", "code"),
    [
        ("sqare", 1, "unknown-usual"),
        ("square", "1.0001", "out-of-range"),
        ("square", -1, "out-of-range"),
        ("hinge_tab", "0.2499", "out-of-range"),
        ("edge_scores", "thrice", "unknown-word"),
        ("edge_scores", 2, "wrong-kind"),
    ],
)
def test_an_override_is_held_to_the_row(name, value, code):
    with pytest.raises(Refusal) as caught:
        usual_override(name, value, "in")
    assert caught.value.code == code


def test_both_limits_can_be_reached():
    assert usual_override("square", 1, "in") == inches(1)
    assert usual_override("hinge_tab", "1/4", "in") == inches("1/4")
