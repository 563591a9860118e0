"""Parts of which a template needs several."""

from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.bindings.bound import Bound, BoundPart, Join
from dielines.bindings.copies import copies_of, with_each_copy
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.part import Side
from dielines.paths import Point

CALIPERS = {"cardstock": Fraction(1, 7), "reinforcing": Fraction(1, 9)}
CARDS = build(built_in_library().find("waterfall"), {"cards": 3}, CALIPERS)
CARD = BoundPart("page-1-card", "card", CARDS.part("card"), "pages")


def join(height: int) -> Join:
    place = Point(Fraction(0), Fraction(height))
    face = Side.FACE
    return Join(0, CARD.key, "hinge", "hinge", face, "page-1", "page", face, place, 7, 3)


def test_each_card_of_a_waterfall_is_a_part_of_its_own():
    assert CARD.part.quantity == 3
    copies = list(copies_of(CARD))
    assert [copy.key for copy in copies] == ["page-1-card", "page-1-card-2", "page-1-card-3"]
    assert {copy.part.quantity for copy in copies} == {1}


def test_the_joins_of_a_repeated_part_are_dealt_out_to_its_copies_in_order():
    dealt = with_each_copy(Bound((CARD,), (join(5), join(11), join(17)))).joins
    assert [(j.part, j.offset.y) for j in dealt] == [
        ("page-1-card", 5),
        ("page-1-card-2", 11),
        ("page-1-card-3", 17),
    ]


@pytest.mark.parametrize("quantity", [0, 1])
def test_a_part_that_is_needed_once_or_not_at_all_keeps_its_key(quantity):
    one = replace(CARD, part=replace(CARD.part, quantity=quantity))
    assert [copy.key for copy in copies_of(one)] == [CARD.key] * quantity
