from dataclasses import replace

import pytest
from strip_judge import wrong_on_strip
from strip_samples import hooks, puzzle

from dielines.packing.order import Work
from dielines.packing.strips.fits import Fits
from dielines.packing.strips.outline import Outline, StripOrder
from dielines.packing.strips.roll import pitch_for, roll, whole


def scaled(order, factor):
    """Return an order in units that are so many times smaller."""
    outlines = [
        Outline(
            tuple((factor * x, factor * y) for x, y in outline.exterior),
            tuple(tuple((factor * x, factor * y) for x, y in ring) for ring in outline.holes),
        )
        for outline in order.outlines
    ]
    return replace(
        order, outlines=tuple(outlines), width=factor * order.width, gap=factor * order.gap
    )


@pytest.mark.parametrize("gap", [0, 1, 2])
def test_parts_on_a_roll_keep_the_gap(gap):
    order = replace(hooks(), gap=gap)
    strip, bound = roll(order, Work(50_000_000))
    assert wrong_on_strip(order, strip) == []
    assert bound <= strip.length


def test_smaller_units_change_the_pitch_and_not_the_layout():
    order = hooks()
    strip, bound = roll(order, Work(50_000_000))
    fine, fine_bound = roll(scaled(order, 97), Work(50_000_000))
    assert pitch_for(scaled(order, 97)) > 1
    assert wrong_on_strip(scaled(order, 97), fine) == []
    assert fine_bound == pytest.approx(97 * bound, abs=97)
    assert fine.length == pytest.approx(97 * strip.length, rel=0.06)


def test_the_pitch_divides_all_sizes_where_it_can():
    slab = Outline(((0, 0), (6350, 0), (6350, 4445), (0, 4445)))
    order = StripOrder((slab,), ((0, 1),), (30,), 304_800 // 16, gap=635)
    pitch = pitch_for(order)
    assert (6350 + 635) % pitch == (4445 + 635) % pitch == 0
    assert pitch_for(puzzle()) == 1


def test_many_kinds_of_part_make_the_pitch_coarser_so_that_the_tables_stay_small():
    wedges = [Outline(((0, 0), (900 + n, 0), (0, 1100 - n))) for n in range(60)]
    order = StripOrder(tuple(wedges), ((0, 1, 2, 3),) * 60, (1,) * 60, 90_001)
    fits = Fits(replace(order, pitch=pitch_for(order)), Work(10**12))
    numbers = fits.depths(0, 239).size * 240 * 240
    assert 20_000_000 < numbers < 50_000_000


def test_corners_in_millimetres_become_whole_units():
    outline = whole([[(0, 0), (25.4, 0), (0, 12.7)], [(1.6, 1.6), (3.2, 1.6), (1.6, 3.2)]], 0.1)
    assert outline.exterior == ((0, 0), (254, 0), (0, 127))
    assert outline.holes == (((16, 16), (32, 16), (16, 32)),)
