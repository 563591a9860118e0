"""Published problems of irregular shapes, with little work; `make bench` gives them more."""

import pytest
from irregular import RECORDS, UNIT, problem
from strip_judge import wrong_on_strip

from dielines.packing.order import Work
from dielines.packing.strips.outline import length_bound
from dielines.packing.strips.shortening import short_strip

LITTLE = 500_000_000


@pytest.mark.parametrize("name", RECORDS)
def test_little_work_comes_within_15_percent_of_the_published_record(name):
    order = problem(name)
    strip = short_strip(order, Work(LITTLE))
    assert wrong_on_strip(order, strip) == []
    assert strip.length <= 1.15 * RECORDS[name][0] * UNIT
    assert strip.length >= length_bound(order)


@pytest.mark.parametrize("name", RECORDS)
def test_the_first_strip_comes_within_25_percent_without_any_work(name):
    order = problem(name)
    strip = short_strip(order, Work(0))
    assert wrong_on_strip(order, strip) == []
    assert strip.length <= 1.25 * RECORDS[name][0] * UNIT


@pytest.mark.parametrize("name", RECORDS)
def test_the_bound_is_no_longer_than_the_published_record(name):
    assert length_bound(problem(name)) <= RECORDS[name][0] * UNIT


# Densities: the table published with the problems; they check that we read the same shapes.
@pytest.mark.parametrize(
    ("name", "density"),
    [
        ("shapes0", 70.0),
        ("shirts", 90.9),
        ("trousers", 92.6),
        ("fu", 92.4),
        ("jakobs1", 89.3),
        ("dagli", 90.2),
        ("blaz1", 86.2),
    ],
)
def test_the_area_of_all_parts_is_that_of_the_published_density(name, density):
    order = problem(name)
    twice = sum(o.twice_area * n for o, n in zip(order.outlines, order.counts, strict=True))
    length = RECORDS[name][0] * UNIT
    assert 50 * twice / (order.width * length) == pytest.approx(density, abs=0.06)
