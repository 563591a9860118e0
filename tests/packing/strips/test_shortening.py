import pytest
from strip_judge import wrong_on_strip
from strip_samples import hooks, puzzle

from dielines.packing.lying import NoRoom
from dielines.packing.order import Work
from dielines.packing.strips.convex import CrossingOutline
from dielines.packing.strips.outline import Outline, StripOrder, length_bound
from dielines.packing.strips.shortening import short_strip


def test_a_puzzle_cut_from_a_rectangle_is_put_together_again():
    order = puzzle()
    strip = short_strip(order, Work(300_000_000))
    assert wrong_on_strip(order, strip) == []
    assert strip.length == length_bound(order) == 21


def test_work_makes_the_strip_shorter_and_never_breaks_it():
    lengths = []
    for limit in (0, 3_000_000, 300_000_000):
        strip = short_strip(hooks(), Work(limit))
        assert wrong_on_strip(hooks(), strip) == []
        lengths.append(strip.length)
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[-1] < lengths[0]


def test_the_same_work_gives_the_same_strip():
    assert short_strip(hooks(), Work(40_000_000)) == short_strip(hooks(), Work(40_000_000))


def test_work_is_counted_close_to_its_limit():
    work = Work(100_000_000)
    short_strip(hooks(), work)
    assert 100_000_000 <= work.spent < 104_000_000


def test_parts_turn_only_as_they_may():
    stiff = hooks()
    stiff = StripOrder(stiff.outlines, ((0,), (2,), (1,)), stiff.counts, stiff.width)
    strip = short_strip(stiff, Work(20_000_000))
    assert wrong_on_strip(stiff, strip) == []
    assert {(part.kind, part.quarters) for part in strip.placed} == {(0, 0), (1, 2), (2, 1)}


def test_a_part_may_lie_in_the_window_of_another():
    frame = Outline(((0, 0), (13, 0), (13, 13), (0, 13)), (((3, 3), (10, 3), (10, 10), (3, 10)),))
    order = StripOrder((frame, Outline(((0, 0), (7, 0), (7, 7), (0, 7)))), ((0,), (0,)), (1, 1), 13)
    strip = short_strip(order, Work(10_000_000))
    assert wrong_on_strip(order, strip) == []
    assert strip.length == 13


def test_a_length_need_not_be_a_whole_number_of_pitches():
    slab = Outline(((0, 0), (17, 0), (17, 5), (0, 5)))
    order = StripOrder((slab,), ((0,),), (3,), 11, pitch=3)
    strip = short_strip(order, Work(10_000_000))
    assert wrong_on_strip(order, strip) == []
    assert strip.length == 18 + 17


def test_nothing_takes_no_length():
    assert short_strip(StripOrder((), (), (), 7), Work(10)).length == 0


def test_an_outline_that_crosses_itself_is_refused():
    bow = Outline(((0, 0), (7, 7), (7, 0), (0, 5)))
    with pytest.raises(CrossingOutline):
        short_strip(StripOrder((bow,), ((0,),), (1,), 11), Work(10))


@pytest.mark.parametrize("quarters", [0, 1])
def test_the_bound_counts_the_longest_part_as_it_may_lie(quarters):
    slab = Outline(((0, 0), (29, 0), (29, 3), (0, 3)))
    order = StripOrder((slab,), ((quarters,),), (1,), 31)
    assert length_bound(order) == (3 if quarters else 29)


def test_a_part_that_fits_across_in_no_turn_is_named():
    slab = Outline(((0, 0), (29, 0), (29, 13), (0, 13)))
    small = Outline(((0, 0), (3, 0), (0, 3)))
    order = StripOrder((small, slab, slab), ((0,), (0, 2), (1,)), (1, 1, 1), 12)
    with pytest.raises(NoRoom) as caught:
        short_strip(order, Work(10))
    assert caught.value.kinds == (1, 2)


def test_long_parts_stand_across_where_the_strip_is_shorter_than_they_are():
    slab = Outline(((0, 0), (29, 0), (29, 3), (0, 3)))
    order = StripOrder((slab,), ((0, 1),), (7,), 31)
    strip = short_strip(order, Work(5_000_000))
    assert wrong_on_strip(order, strip) == []
    assert strip.length == 21
