"""Notches and holes that miss each other. All amounts are geometry."""

from dataclasses import replace
from fractions import Fraction

import pytest
from flat_spoils import with_hole
from seam_spoils import (
    MORE,
    POCKETS,
    correct_books,
    every_insert,
    faults_in,
    found_in,
    speaking,
    spoiled,
)

from dielines.checks.finding import Severity
from dielines.checks.rules import notches_apart as rule
from dielines.paths import Path, Vertex, circle, polyline, rectangle


@pytest.fixture
def book(folded_of):
    return folded_of(POCKETS)


def with_notch_moved(part, panel, dx=0, dy=0):
    """Return *part* with the round notch of a panel moved along its edge."""

    def moved(outline):
        ring, vertices = outline.vertices, []
        for number, vertex in enumerate(ring):
            is_notch = vertex.bulge or ring[number - 1].bulge
            x, y = (vertex.x + dx, vertex.y + dy) if is_notch else (vertex.x, vertex.y)
            vertices.append(Vertex(x, y, vertex.bulge))
        return Path(tuple(vertices), outline.closed)

    panels = [replace(p, outline=moved(p.outline)) if p.name == panel else p for p in part.panels]
    assert panels != list(part.panels)
    return replace(part, panels=tuple(panels))


def test_samples_and_correct_books_have_notches_that_coincide(folded_of, samples):
    for folded in (*samples.values(), *correct_books(folded_of)):
        assert faults_in(rule, folded) == [], folded.book.title


@pytest.mark.parametrize("by", [Fraction(10, 7), Fraction(-17, 3), Fraction(1, 7)])
def test_a_notch_of_the_back_moved_along_its_edge_is_caught_by_this_rule_alone(book, by):
    folded = spoiled(book, "page-1", lambda p: with_notch_moved(p, "back", dy=by))
    (found,) = found_in(rule, folded)
    assert found.severity is Severity.WARNING
    assert found.amount.value == pytest.approx(abs(float(by)))
    assert found.spot.panel == "back"
    assert speaking(folded) == {"notches_apart"}


def test_a_notch_of_the_front_moved_is_caught_as_well(book):
    folded = spoiled(book, "page-6", lambda p: with_notch_moved(p, "front", dx=Fraction(11, 3)))
    (found,) = found_in(rule, folded)
    assert found.amount.value == pytest.approx(11 / 3)


def test_a_notch_of_a_pocket_folded_at_the_fore_edge_is_caught(folded_of):
    folded = spoiled(
        folded_of(MORE), "page-6", lambda p: with_notch_moved(p, "back", dx=Fraction(20, 7))
    )
    (found,) = found_in(rule, folded)
    assert found.amount.value == pytest.approx(20 / 7)


def test_a_bay_of_another_size_is_not_meant_to_be_one_with_the_notch(book):
    def change(part):
        box = part.panel("back").bounds()
        x, dx = (box.left, 1) if part.mouths[0].side == "left" else (box.right, -1)
        ring = [(x, 20), (x + dx * 4, 22), (x + dx * 4, 28), (x, 30)]
        whole = rectangle(box.left, box.bottom, box.right, box.top).points
        corners = sorted(whole, key=lambda p: (p.x != x, p.y if p.x == x else -p.y))
        low, high, *others = corners
        outline = polyline([low, *ring, high, *others], closed=True)
        panels = [replace(p, outline=outline) if p.name == "back" else p for p in part.panels]
        return replace(part, panels=tuple(panels))

    assert found_in(rule, spoiled(book, "page-1", change)) == []


def test_a_notch_of_a_sleeve_that_misses_the_other_layer_is_caught(folded_of):
    book = folded_of(every_insert())
    (key,) = [e.key for e in book.book.parts if e.part.template == "sleeve"]
    folded = spoiled(book, key, lambda p: with_notch_moved(p, "back", dx=Fraction(17, 7)))
    (found,) = found_in(rule, folded)
    assert found.spot.part == key
    assert found.amount.value == pytest.approx(17 / 7)


def two_holes(book, dx, radius=3):
    """Return the book with a hole in the page and in the flap that closes over it."""
    part = book.book.part("page-2")
    gusset, flap = (part.part.panel(n).bounds() for n in ("gusset", "flap"))
    towards = 1 if flap.left >= gusset.right else -1
    hinge = gusset.right if towards > 0 else gusset.left
    edge = gusset.left if towards > 0 else gusset.right
    first = circle((edge - towards * 20, Fraction(40)), radius)
    second = circle((hinge + towards * (20 + dx), Fraction(40)), radius)
    folded = spoiled(book, "page-2", lambda p: with_hole(p, "page", first))
    return spoiled(folded, "page-2", lambda p: with_hole(p, "flap", second))


def test_holes_through_page_and_flap_that_coincide_are_right(book):
    assert found_in(rule, two_holes(book, 0)) == []


@pytest.mark.parametrize("dx", [Fraction(4, 3), Fraction(-3, 7)])
def test_holes_through_page_and_flap_that_miss_each_other_are_told(book, dx):
    (found,) = found_in(rule, two_holes(book, dx))
    assert found.amount.value == pytest.approx(abs(float(dx)))


def test_holes_far_apart_are_not_meant_to_be_one(book):
    assert found_in(rule, two_holes(book, 15)) == []
