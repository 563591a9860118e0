"""Changes worth a trial: how large they are, how they are typed, and what is no advice."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from dielines.lengths import ZERO, inches, millimetres
from dielines.sheets.changes import GROWING, WITHOUT_PAPER, ladders_of
from dielines.sheets.way_of_cutting import By, Terms
from dielines.sizes.usual import usual_sizes
from dielines.workshop.reach import BY_KNIFE, Reach

MACHINE = Terms(By.MACHINE, inches("1/8"), Reach(margin=inches("1/4")))
TRIMMER = Terms(By.TRIMMER, inches("1/8"), Reach(margin=inches("1/4")))


def by_kind(book, terms, least_gap=ZERO):
    return {ladder[0].kind: ladder for ladder in ladders_of(book, terms, least_gap)}


def test_each_side_of_the_photo_shrinks_alone_by_three_steps(sample):
    book, _ = sample("lakeside")
    ladders = by_kind(book, MACHINE)
    assert [change.setting for change in ladders["size lower"]] == [
        "size=photo 5 x 3 7/16", "size=photo 5 x 3 3/8", "size=photo 5 x 3 1/4",
    ]  # fmt: skip
    assert [change.share for change in ladders["size narrower"]] == [
        Fraction(1, 80), Fraction(1, 40), Fraction(1, 20),
    ]  # fmt: skip


def test_a_book_in_millimetres_changes_by_millimetres(sample):
    book, _ = sample("first-year")
    assert [change.setting for change in by_kind(book, MACHINE)["usual fin"]] == [
        "usual.fin=17", "usual.fin=15", "usual.fin=12",
    ]  # fmt: skip


def test_nothing_comes_down_to_less_than_half_of_it_and_nothing_grows_to_more_than_twice(sample):
    for name in ("lakeside", "first-year"):
        for terms in (MACHINE, TRIMMER):
            for kind, ladder in by_kind(sample(name)[0], terms).items():
                if terms is MACHINE or kind not in ("gap", "margin"):
                    most = 1 if kind.removeprefix("usual ") in GROWING else Fraction(1, 2)
                    assert all(0 < change.share <= most for change in ladder), kind


def test_a_machine_keeps_a_gap_and_a_margin_that_a_trimmer_may_lose(sample):
    book, _ = sample("lakeside")
    machine, trimmer = by_kind(book, MACHINE), by_kind(book, TRIMMER)
    assert [change.gap for change in machine["gap"]] == [inches("1/16")]
    assert [change.margin for change in machine["margin"]] == [inches("3/16"), inches("1/8")]
    assert [change.gap for change in trimmer["gap"]] == [inches("1/16"), ZERO]
    assert trimmer["margin"][-1].margin == ZERO


def test_what_the_cut_takes_away_stays_between_parts(sample):
    book, _ = sample("lakeside")
    assert "gap" not in by_kind(book, MACHINE, inches("1/14"))
    assert "gap" in by_kind(book, MACHINE, inches("1/18"))


def test_a_knife_has_neither_gap_nor_margin(sample):
    kinds = by_kind(sample("lakeside")[0], Terms(By.KNIFE, ZERO, BY_KNIFE))
    assert not {"gap", "margin"} & kinds.keys()


def test_sizes_that_leave_parts_smaller_where_they_grow_grow(sample):
    border = by_kind(sample("lakeside")[0], MACHINE)["usual mat_border"]
    assert [change.setting for change in border] == [
        "usual.mat_border=3/16", "usual.mat_border=1/4",
    ]  # fmt: skip


def test_sizes_without_paper_are_left_alone_and_all_names_are_usual_sizes(sample):
    kinds = by_kind(sample("lakeside")[0], MACHINE)
    assert not {f"usual {name}" for name in WITHOUT_PAPER} & kinds.keys()
    assert {*GROWING, *WITHOUT_PAPER} <= usual_sizes("in").rows.keys()


def test_the_margin_of_the_photo_and_that_of_the_machine_have_different_names(sample):
    kinds = by_kind(sample("lakeside")[0], MACHINE)
    assert kinds["usual margin"][0].words.startswith("margin around the photo")
    assert "machine" in kinds["margin"][0].words
    assert "[machine]" in kinds["margin"][0].typed


@pytest.mark.parametrize("name", ["lakeside", "first-year", "seed-swap"])
def test_every_setting_is_understood_and_changes_what_it_says(sample, name):
    from dielines.book.from_file import book_source
    from dielines.book.reading import book_document

    book, _ = sample(name)
    document = book_document(Path(book.request.document.name))
    for ladder in ladders_of(book, MACHINE):
        setting = ladder[0].setting
        if setting:
            request = book_source(document, [setting]).request
            assert request != book.request, setting
            assert replace(request, size=book.request.size, usual=book.request.usual).pages


def test_a_third_of_a_millimetre_is_typed_exactly(sample):
    book, _ = sample("first-year", "usual.channel=7 1/3")
    assert by_kind(book, MACHINE)["usual channel"][0].setting == "usual.channel=6 1/3"
    assert by_kind(book, MACHINE)["usual channel"][0].share == millimetres(1) / millimetres("22/3")
