"""Pockets open or shut in the wrong place. Lengths of openings are geometry."""

from dataclasses import replace

import pytest
from seam_spoils import (
    INCH,
    MORE,
    POCKETS,
    correct_books,
    faults_in,
    found_in,
    speaking,
    spoiled,
    with_zone,
    without_zones,
)
from spoiling import longer_panel, with_angle

from dielines.checks.finding import Severity
from dielines.checks.rules import mouth as rule
from dielines.part import Edge, Side


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def test_samples_and_correct_books_have_good_mouths(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


def test_a_seam_without_tape_is_a_loose_wall_of_this_rule_alone(book):
    folded = spoiled(book, "page-1", lambda p: without_zones(p, "seam"))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.ERROR
    assert found.amount.value == pytest.approx(float(INCH * 25 / 4), abs=0.5)
    assert "head" in found.message
    assert speaking(folded) == {"mouth"}


def test_a_bellows_without_tape_on_one_side_is_loose_there(folded_of):
    folded = spoiled(folded_of(MORE), "page-3", lambda p: without_zones(p, "seam2"))
    (found,) = found_in(rule, folded)
    assert (found.spot.part, found.spot.panel) == ("page-3", "pocket")
    assert speaking(folded) == {"mouth"}


def test_a_flat_pocket_without_its_side_tape_is_open_there(book):
    folded = spoiled(book, "page-4", lambda p: without_zones(p, "left1"))
    (found,) = found_in(rule, folded)
    front = folded.book.part("page-4").part.panel("front1").bounds()
    assert found.amount.value == pytest.approx(float(front.height), abs=1)
    assert found.spot.panel == "front1"
    assert speaking(folded) == {"mouth"}


def test_side_tape_that_is_too_short_leaves_an_opening(book):
    part = book.book.part("page-4").part
    (zone,) = [z for z in part.zones if z.name == "right1"]
    box = zone.path.points
    length = max(y for _, y in box) - min(y for _, y in box)

    def change(part):
        part = without_zones(part, "right1")
        front, low = part.panel("front1").bounds(), min(y for _, y in box)
        left = min(x for x, _ in box) - front.left
        right = max(x for x, _ in box) - front.left
        up = low - front.bottom + 100 * length / 300
        return with_zone(
            part, "front1", Side.REVERSE, "back1", (left, up, right, up + length * 2 / 3)
        )

    (found,) = found_in(rule, spoiled(book, "page-4", change))
    assert found.amount.value == pytest.approx(float(length / 3) + 1.6, abs=1.7)


def test_a_channel_narrower_than_the_pocket_is_deep_leaves_it_open_at_the_binding_edge(book):
    folded = spoiled(book, "page-1", lambda p: longer_panel(p, "binding.channel", "x", -1))
    (found,) = found_in(rule, folded)
    assert "binding edge" in found.message
    assert found.amount.value == pytest.approx(float(INCH * 17 / 4), abs=0.7)
    assert speaking(folded) >= {"mouth"}


def test_a_mouth_declared_at_the_head_is_closed_there_and_open_elsewhere(book):
    def change(part):
        box = part.panel("front").bounds()
        ends = type(part.mouths[0].start)
        edge = Edge("front", "top", ends(box.left, box.top), ends(box.right, box.top))
        return replace(part, mouths=(edge,))

    found = found_in(rule, spoiled(book, "page-1", change))
    assert len(found) == 2
    closed, opened = sorted(found, key=lambda f: "open" in f.message)
    assert closed.amount.value == INCH * 25 / 4
    assert opened.amount.value == pytest.approx((4.25 - 0.024) * 25.4, abs=0.02)


def test_tape_along_the_whole_mouth_closes_the_pocket(book):
    def change(part):
        box = part.panel("front1").bounds()
        return with_zone(part, "front1", Side.REVERSE, "back1", (0, 0, box.width, 7))

    found = found_in(rule, spoiled(book, "page-4", change))
    assert [f.amount.value for f in found] == [INCH * 25 / 4]


def test_a_back_that_is_not_folded_over_makes_no_pocket(book):
    folded = spoiled(book, "page-6", lambda p: with_angle(p, "tail / back", 0))
    folded = spoiled(folded, "page-6", lambda p: without_zones(p, "seam"))
    folded = spoiled(folded, "page-6", lambda p: with_angle(p, "side | seam", 0))
    (found,) = found_in(rule, folded)
    assert found.amount.value == INCH * 25 / 4
