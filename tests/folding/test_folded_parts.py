"""Folded parts of a book: alike once, mirrored alike, each panel kept as it is. All of it is geometry."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from pathlib import Path

import pytest
from folded_parts_of import built_in
from random_books import random_book
from strips import strip

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.errors import UsageError
from dielines.folding.folded_part import posed_part
from dielines.folding.folded_parts import fold_part, folded_parts, layering_of
from dielines.folding.layering import Outcome
from dielines.part import LineKind
from dielines.part_motion import mirrored
from dielines.paths import flattened

ALIKE = """\
title = "Alike"
units = "mm"
size = "photo 133 x 97"
binding = "tab and channel"
pages = ["side pocket", "side pocket", "side pocket", "side pocket", "flap", "flap"]
"""
NEAR = 1e-9  #: mm, of places some hundred mm from the origin
STAGES = [Fraction(n, 7) for n in range(8)]


@pytest.fixture
def book_of(tmp_path):
    def book(text: str):
        file: Path = tmp_path / "book.toml"
        file.write_text(text, "utf-8")
        source = book_source(book_document(file), ())
        return compose(source.request, source.workshop, source.library)

    return book


# ------------------------------------------------------------------ alike


def test_every_part_of_a_book_is_folded_and_parts_that_are_alike_once(book_of):
    book = book_of(ALIKE)
    folded = folded_parts(book)
    assert list(folded) == [entry.key for entry in book.parts]
    assert all(folded[entry.key].part == entry.part for entry in book.parts)
    kinds = {(e.part.panels, e.part.lines, e.part.steps, e.part.bound) for e in book.parts}
    assert len({id(f.layering) for f in folded.values()}) == len(kinds) < len(book.parts)


def test_parts_that_differ_in_their_tape_only_share_their_layers_and_keep_their_tape(book_of):
    book = book_of(ALIKE)
    entry = book.part("page-2")
    bare = replace(entry, key="bare", part=replace(entry.part, zones=()))
    folded = folded_parts(replace(book, parts=(entry, bare)))
    assert folded["bare"].layering is folded["page-2"].layering
    assert folded["bare"].part.zones == ()
    assert folded["page-2"].part.zones != ()


def test_parts_folded_in_other_steps_do_not_share(book_of):
    book = book_of(ALIKE)
    entry = book.part("page-2")
    turned = replace(entry, key="turned", part=replace(entry.part, steps=entry.part.steps[::-1]))
    folded = folded_parts(replace(book, parts=(entry, turned)))
    seam = [folded[key].side_of("back", "seam") for key in ("page-2", "turned")]
    assert seam in ([1, -1], [-1, 1])


def test_the_bound_panel_rests_and_the_largest_where_none_is_bound(book_of):
    folded = folded_parts(book_of(ALIKE))["page-2"]
    assert folded.root == folded.part.bound.panel.split(" ")[0]
    assert fold_part(built_in("envelope")).root == "face"


def test_panels_that_share_no_plane_lie_on_no_side_of_each_other():
    folded = fold_part(built_in("tray"))
    assert folded.side_of("base", "left") == 0
    assert folded.side_of("no", "such") == 0


def test_a_panel_that_shifts_over_another_without_turning_lies_over_it():
    """The third leaf of a zigzag folded at once is parallel to the first at every stage."""
    folded = fold_part(strip([30, "200 / 7", 30], [180, -180], "p0 | p1, p1 | p2"))
    assert (folded.side_of("p0", "p2"), folded.side_of("p2", "p0")) == (1, -1)


def test_a_part_that_falls_apart_is_refused():
    part = built_in("envelope")
    slits = tuple(replace(line, kind=LineKind.SLIT) for line in part.lines)
    with pytest.raises(UsageError):
        fold_part(replace(part, lines=slits, steps=()))


# ------------------------------------------------------------------ mirrored


@pytest.mark.parametrize(
    "name", ["side-pocket", "envelope", "map-fold", "one-slit-booklet", "tray", "roll-fold"]
)
def test_a_part_turned_into_its_mirror_image_has_the_same_order(name):
    """Its folds keep their signs (it is cut from the other half), so that sides stay as they are."""
    part = built_in(name)
    assert layering_of(mirrored(part)).sides == layering_of(part).sides


def test_signs_of_all_folds_turned_round_turn_all_sides_round():
    part = built_in("envelope")
    lines = tuple(replace(line, angle_deg=-line.angle_deg) for line in part.lines)
    steps = tuple(
        replace(step, angles_deg=tuple((key, -angle) for key, angle in step.angles_deg))
        for step in part.steps
    )
    turned = layering_of(replace(part, lines=lines, steps=steps)).sides
    assert turned == {pair: -side for pair, side in layering_of(part).sides.items()}


# ------------------------------------------------------------------ conservation


def area(corners) -> float:
    """Return the area of a ring in space, by the cross products of its edges."""
    x = y = z = 0.0
    (a, b, c), *_ = corners
    ring = [(float(p - a), float(q - b), float(r - c)) for p, q, r in corners]
    for (p, q, r), (s, t, u) in zip(ring, [*ring[1:], ring[0]], strict=True):
        x, y, z = x + q * u - r * t, y + r * s - p * u, z + p * t - q * s
    return math.sqrt(x * x + y * y + z * z) / 2


@pytest.mark.parametrize("seed", range(12))
def test_no_stage_of_folding_changes_the_area_or_the_shape_of_a_panel(book_of, seed):
    for folded in {id(f): f for f in folded_parts(book_of(random_book(seed))).values()}.values():
        rings = {name: flattened(path) for name, path in folded.outlines.items()}
        flat = {name: area([(x, y, 0) for x, y in ring]) for name, ring in rings.items()}
        for stage in STAGES:
            for name, pose in posed_part(folded.part, folded.root, stage).items():
                placed = [pose.at(corner) for corner in rings[name]]
                assert area(placed) == pytest.approx(flat[name], abs=NEAR * 100)
                lengths = [
                    abs(math.dist(p, q) - math.dist(a, b))
                    for (p, a), (q, b) in combinations(zip(rings[name], placed, strict=True), 2)
                ]
                assert max(lengths) <= NEAR


@pytest.mark.parametrize("name", ["side-pocket", "round-card", "photo-stand", "bellows-pocket"])
def test_what_is_folded_and_unfolded_lies_as_it_lay(name):
    folded = fold_part(built_in(name))
    for stage in STAGES:
        for panel, pose in folded.at(stage).items():
            back = pose.inverse()
            for corner in flattened(folded.outlines[panel]):
                place = back.at(pose.at(corner)[:2], pose.at(corner)[2])
                assert place == pytest.approx((*corner, 0), abs=NEAR)


def test_the_first_stage_is_flat_and_the_last_is_the_finished_part():
    folded = fold_part(built_in("bellows-pocket"))
    assert all(pose.translation == (0, 0, 0) for pose in folded.at(0).values())
    assert folded.at(1) == folded.poses


# ------------------------------------------------------------------ wrapped boards


@pytest.mark.parametrize("name", ["wrapped-case", "five-sided-case", "three-sided-case"])
def test_the_covering_of_boards_is_turned_in_without_a_clash(name):
    """Each turn-in lies on the reverse-facing side of what it hangs on, and none is in doubt."""
    part = built_in(name)
    layering = layering_of(part)
    assert layering.outcome is Outcome.ONE
    hung = [
        tuple(sorted(line.key.panels(), key=lambda n: n.startswith("turn_in")))
        for line in part.folds
    ]
    assert hung
    assert {layering.sides[board, turn_in] for board, turn_in in hung} == {1}


def test_creases_inside_a_layer_are_held_against_paper_and_not_against_what_is_nipped_round_boards():
    """Turn-ins meet at the corners of thick boards, where cloth and paper are nipped in."""
    wrong = strip([100, 93, 86], [180, 180], "p0 | p1", "p1 | p2")
    assert layering_of(wrong).outcome is Outcome.IMPOSSIBLE
    assert layering_of(replace(wrong, stock="covering")).outcome is Outcome.ONE
