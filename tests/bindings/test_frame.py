"""A page with the fragment of its binding: like pages are bound once, others by themselves."""

from fractions import Fraction

import pytest

from dielines.bindings.frame import Frame, SizesRefused, SpineRule
from dielines.language.building import build
from dielines.lengths import Length
from dielines.sizes.reasons import Sizes
from dielines.sizes.usual import usual_sizes

CALIPERS = {
    "cardstock": Fraction(2, 7),
    "board": Fraction(2),
    "reinforcing": Fraction(1, 7),
    "covering": Fraction(1, 8),
}
SIZES = {"tab": "hinge_tab", "channel": "channel_3"}


def frame_with(library, channel):
    sizes = Sizes("mm")
    sizes.take("hinge_tab", Length(Fraction(40, 3)), "a test")
    sizes.take("channel_3", Length(channel), "a test")
    sizes.take("channel_4", Length(channel * 2), "a test")
    usual = usual_sizes("mm")
    return Frame(sizes, usual, library, CALIPERS, SpineRule.USUAL, False, None)


def leaf(library, width=Fraction(590, 7)):
    return build(library.find("plain-leaf"), {"width": Length(width)}, CALIPERS)


def width_of(built):
    return next(part.width for part in built.parts if part.bound)


def test_a_fragment_widens_its_page_by_tab_and_channel(library):
    frame = frame_with(library, Fraction(25, 7))
    bound = frame.with_edge(leaf(library), "hinge-tab", SIZES)
    assert width_of(bound) == Fraction(590, 7) + Fraction(25, 7) + Fraction(40, 3)


def test_pages_that_are_one_object_are_bound_once(library):
    frame, page = frame_with(library, Fraction(25, 7)), leaf(library)
    bound = frame.with_edge(page, "hinge-tab", SIZES, towards="inner")
    assert frame.with_edge(page, "hinge-tab", SIZES, towards="inner") is bound


@pytest.mark.parametrize("what", ["page", "channel", "setting", "template"])
def test_pages_that_differ_in_anything_are_bound_by_themselves(library, what):
    frame, page = frame_with(library, Fraction(25, 7)), leaf(library)
    first = frame.with_edge(page, "hinge-tab", SIZES, towards="inner")
    if what == "page":
        wider = leaf(library, Fraction(600, 7))
        second = frame.with_edge(wider, "hinge-tab", SIZES, towards="inner")
        assert width_of(second) - width_of(first) == Fraction(10, 7)
    elif what == "channel":
        sizes = {**SIZES, "channel": "channel_4"}
        second = frame.with_edge(page, "hinge-tab", sizes, towards="inner")
        assert width_of(second) - width_of(first) == Fraction(25, 7)
    elif what == "setting":
        second = frame.with_edge(page, "hinge-tab", SIZES, towards="outer")
        assert {part.name for part in second.parts} != {part.name for part in first.parts}
    else:
        second = frame.with_edge(page, "cover-tab", SIZES, towards="inner")
        assert [part.graft.template for part in (first.parts[0], second.parts[0])] == [
            "hinge-tab",
            "cover-tab",
        ]


def test_what_is_refused_is_refused_again(library):
    frame, page = frame_with(library, Fraction(25, 7)), leaf(library)
    for _ in range(2):
        with pytest.raises(SizesRefused) as refused:
            frame.with_edge(page, "hinge-tab", {**SIZES, "tab": "channel_3"})
        assert [name for name, _ in refused.value.refusals] == ["channel_3"]
