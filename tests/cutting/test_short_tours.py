"""Short tours: against the shortest there are, against bounds, and against themselves."""

import itertools
import random

import pytest
from least_travel import held_karp, shortest, tour_length

from dielines.cutting.entries import Way
from dielines.cutting.ground import distance, ground_of
from dielines.cutting.short_tours import short_tour
from dielines.cutting.steps import Steps
from dielines.cutting.tours import Tour


def random_stops(seed, lines, closed, ways=4, side=300_000):
    """Lines of up to a third of the side, and closed paths that are entered at several places."""
    lots = random.Random(seed)
    stops = []
    for _ in range(lines):
        a, b = [(lots.randrange(side), lots.randrange(side)) for _ in range(2)]
        b = tuple(x + (y - x) // 3 for x, y in zip(a, b, strict=True))
        stops.append((Way(a, b), Way(b, a)))
    for _ in range(closed):
        x, y = lots.randrange(side), lots.randrange(side)
        starts = [
            (x + lots.randrange(side // 5), y + lots.randrange(side // 5)) for _ in range(ways)
        ]
        stops.append(tuple(Way(place, place) for place in starts))
    lots.shuffle(stops)
    return stops


def found(stops, steps=3_000, start=None, ends=()):
    return short_tour(stops, start, ends, Steps(steps * len(stops)))


@pytest.mark.parametrize("seed", range(12))
def test_few_paths_get_the_shortest_tour(seed):
    stops = random_stops(seed, lines=seed % 5, closed=7 - seed % 5)
    assert tour_length(stops, found(stops)) == pytest.approx(shortest(stops))


@pytest.mark.parametrize("seed", range(6))
def test_where_the_tool_comes_from_and_goes_to_counts(seed):
    stops, lots = random_stops(seed, lines=3, closed=3), random.Random(seed)
    start, *ends = [(lots.randrange(300_000), lots.randrange(300_000)) for _ in range(3)]
    tour = found(stops, start=start, ends=ends)
    first, last = (stops[stop][way] for stop, way in (tour[0], tour[-1]))
    reached = distance(start, first.into) + min(distance(last.out, end) for end in ends)
    total = tour_length(stops, tour) + reached / 1000
    assert total == pytest.approx(shortest(stops, start, ends))
    assert total < tour_length(stops, found(stops)) + 600  # the diagonal there and back, at most


@pytest.mark.parametrize(("lines", "closed"), [(1, 0), (0, 1), (2, 0), (1, 1), (0, 2), (3, 0)])
def test_one_two_or_three_paths_make_a_tour(lines, closed):
    stops = random_stops(3, lines, closed)
    assert tour_length(stops, found(stops)) == pytest.approx(shortest(stops))


def test_no_paths_make_an_empty_tour():
    assert found([]) == []


@pytest.mark.parametrize("seed", range(4))
def test_every_stop_is_visited_once(seed):
    stops = random_stops(seed, 40, 20, ways=7)
    assert sorted(stop for stop, _ in found(stops, 50)) == list(range(60))


@pytest.mark.parametrize("steps", [1, 30, 300, 2_000])
def test_what_is_counted_as_length_is_the_length(steps):
    stops = random_stops(5, 25, 25)
    tour = Tour(ground_of(stops, (7, 7), [(70_000, 3)]), Steps(10**9))
    tour.go_to_the_nearest()
    tour.mend(tour.at[1:-1])
    for number in range(steps):
        p = 1 + number * 7 % 40
        changed = tour.swap(p, p + 1 + number % 4, p + 6 + number % 3)
        tour.mend(changed)
        tour.refit(1 + number % 20, 30 + number % 21)
        if number % 50 == 0:
            assert tour.length == measured(tour)
            assert [tour.place[stop] for stop in tour.at] == list(range(52))
    assert tour.length == measured(tour)


def measured(tour):
    return sum(tour.apart[tour.out[i]][tour.into[i + 1]] for i in range(len(tour.at) - 1))


def test_a_tour_is_restored_as_it_was():
    stops = random_stops(9, 20, 20)
    tour = Tour(ground_of(stops, None, []), Steps(10**9))
    tour.go_to_the_nearest()
    kept, length, before = tour.kept(), tour.length, [list(row) for row in tour.kept()]
    tour.low = tour.high = 5
    tour.mend(tour.swap(5, 9, 17))
    tour.refit(1, 40)
    tour.low, tour.high = 1, 40
    assert tour.at != before[0]
    tour.restore(kept, length)
    assert [list(row) for row in tour.kept()] == before
    assert [tour.place[stop] for stop in tour.at] == list(range(42))
    assert tour.length == measured(tour)


@pytest.mark.parametrize("seed", range(5))
def test_ways_are_the_best_for_an_order(seed):
    stops = random_stops(seed, 2, 4, ways=3)
    tour = Tour(ground_of(stops, (0, 0), [(300_000, 0)]), Steps(10**9))
    tour.length = measured(tour)
    tour.refit(1, 6)
    every = itertools.product(*(tour.ground.ways[stop] for stop in range(1, 7)))
    best = min(
        sum(tour.apart[a[1]][b[0]] for a, b in itertools.pairwise([(0, 0), *ways, (1, 1)]))
        for ways in every
    )
    assert tour.length == measured(tour) == best


@pytest.mark.parametrize("seed", range(3))
def test_more_steps_never_give_a_longer_tour(seed):
    stops = random_stops(seed, 30, 15)
    lengths = [tour_length(stops, found(stops, steps)) for steps in (400, 800, 2_000, 5_000)]
    assert lengths == sorted(lengths, reverse=True)
    assert lengths[0] > lengths[-1]


@pytest.mark.parametrize("limit", [0, 1, 2_000, 50_000])
def test_steps_end_the_search(limit):
    steps = Steps(limit)
    short_tour(random_stops(1, 30, 30), None, [], steps)
    assert limit <= steps.taken < limit + 3_500  # the first tour is made in any case


@pytest.mark.parametrize("seed", range(6))
def test_a_row_that_is_run_the_wrong_way_is_turned_round(seed):
    stops = [
        (Way((x, 0), (x + 300, 0)), Way((x + 300, 0), (x, 0))) for x in range(0, 20_000, 1_000)
    ]
    tour = Tour(ground_of(stops, (-700, 0), [(20_000, 0)]), Steps(10**9))
    a, b = 2 + seed, 15 - seed
    tour.at[a:b], tour.into[a:b], tour.out[a:b] = (
        row[a:b][::-1] for row in (tour.at, tour.out, tour.into)
    )
    for position, stop in enumerate(tour.at):
        tour.place[stop] = position
    tour.length, steps = measured(tour), tour.steps.taken
    tour.mend([tour.at[a]])
    assert tour.at == list(range(22))
    assert tour.length == measured(tour) == 700 * 21
    assert tour.steps.taken - steps < 400


@pytest.mark.parametrize("gap", [3, 9, 20])
def test_a_stop_that_stands_elsewhere_is_put_where_it_belongs(gap):
    xs = range(0, 20_000, 1_000)
    stops = [(Way((x, 0), (x + 300, 0)), Way((x + 300, 0), (x, 0))) for x in xs]
    tour = Tour(ground_of(stops, (-700, 0), [(20_000, 0)]), Steps(10**9))
    for row in (tour.at, tour.into, tour.out):
        row.insert(gap, row.pop(6))
    for position, stop in enumerate(tour.at):
        tour.place[stop] = position
    tour.length, steps = measured(tour), tour.steps.taken
    tour.mend([6])
    assert tour.at == list(range(22))
    assert tour.length == measured(tour) == 700 * 21
    assert tour.steps.taken - steps < 200


@pytest.mark.parametrize("seed", range(8))
def test_the_bound_is_no_more_than_the_shortest_and_near_it_for_lines_and_points(seed):
    stops = random_stops(seed, lines=seed % 8, closed=7 - seed % 8, ways=1)
    assert 0.75 * shortest(stops) <= held_karp(stops) <= shortest(stops)


@pytest.mark.parametrize("seed", range(3))
def test_the_bound_holds_where_paths_are_entered_in_many_places(seed):
    stops = random_stops(seed, lines=2, closed=5)
    assert held_karp(stops) <= shortest(stops)


@pytest.mark.parametrize("seed", [1, 2])
def test_points_are_visited_near_the_bound(seed):
    stops = random_stops(seed, lines=0, closed=30, ways=1)
    assert tour_length(stops, found(stops)) <= 1.03 * held_karp(stops)


@pytest.mark.parametrize("seed", [1, 2])
def test_lines_are_visited_near_the_bound(seed):
    stops = random_stops(seed, lines=25, closed=0)
    assert tour_length(stops, found(stops)) <= 1.1 * held_karp(stops)
