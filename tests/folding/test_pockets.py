"""Which panels make each pocket of the built-in pages."""

from __future__ import annotations

from fractions import Fraction

import pytest

from dielines.folding.folded_parts import fold_part
from dielines.folding.pockets import Pocket, pockets_of
from dielines.language.building import build
from dielines.language.library import built_in_library
from dielines.part import Side

CALIPERS = {"cardstock": Fraction(24, 100)}


def pockets(template: str, name: str = "") -> list[Pocket]:
    parts = build(built_in_library().find(template), {}, CALIPERS).parts
    part = next(p for p in parts if not name or p.name == name)
    return list(pockets_of(fold_part(part)))


def test_a_side_pocket_has_front_back_and_a_seam_between():
    assert pockets("side-pocket") == [Pocket("front", Side.REVERSE, "back", ("seam",))]


def test_two_pockets_back_to_back_share_the_page():
    inner, outer = pockets("double-pocket")
    assert (inner.front, inner.back, inner.seams) == ("inner", "page", ("inner_seam",))
    assert (outer.front, outer.back, outer.seams) == ("outer", "page", ("outer_seam",))
    assert inner.inside is Side.FACE
    assert outer.inside is Side.REVERSE


def test_tiered_pockets_lie_each_on_its_own_back():
    found = pockets("tiered-pockets")
    assert [(p.front, p.back) for p in found] == [("front1", "back1"), ("front2", "back2")]
    assert {p.inside for p in found} == {Side.REVERSE}


def test_a_library_pocket_has_a_seam_at_each_side():
    (found,) = pockets("library-card-pocket", "pocket")
    assert (found.front, found.back) == ("front", "back")
    assert set(found.seams) == {"seam1", "seam2"}


def test_a_half_pocket_stands_on_its_page():
    (found,) = pockets("half-pocket")
    assert (found.front, found.back) == ("pocket", "page")
    assert set(found.seams) == {"seam1", "seam2"}


@pytest.mark.parametrize("template", ["flap", "plain-leaf", "roll-fold"])
def test_pages_without_a_mouth_have_no_pocket(template):
    assert pockets(template) == []
