"""Ways to run paths, texts written in one go, and very many paths field by field."""

import itertools
import random
from fractions import Fraction

import pytest
from cutting_judge import lifted_travel, lost_or_added, shape_of

from dielines.cutting.entries import MOST_STARTS, Way, place_of, run_from, ways_of
from dielines.cutting.fields import MOST_POINTS, fields
from dielines.cutting.in_cutting_order import in_cutting_order
from dielines.cutting.strands import REACH, run_along, strands_of, ways_along
from dielines.cutting.travel import end_of, start_of
from dielines.drawing import Drawing, Group, Item, Layer
from dielines.paths import Path, Point, Vertex, circle, line, rectangle

THIRD, SEVENTH = Fraction(1, 3), Fraction(1, 7)
HOOK = Path(
    (Vertex(1, 2, THIRD), Vertex(9 + SEVENTH, 2), Vertex(9, 7, -SEVENTH), Vertex(4, 4)), False
)
DROP = Path((Vertex(1, 2, THIRD), Vertex(9 + SEVENTH, 2), Vertex(9, 7, -SEVENTH), Vertex(4, 8)))
MANY = Path(tuple(Vertex(THIRD * n, n * n * SEVENTH) for n in range(3 * MOST_STARTS + 1)))


@pytest.mark.parametrize("path", [HOOK, DROP, MANY, circle((3, 4), 5 * SEVENTH)])
def test_a_path_run_in_any_of_its_ways_cuts_the_same_and_begins_and_ends_there(path):
    ways = ways_of(path)
    for number, way in enumerate(ways):
        run = run_from(path, number)
        assert (place_of(start_of(run)), place_of(end_of(run))) == way
        assert (shape_of(run), run.closed) == (shape_of(path), path.closed)
    assert len(set(ways)) == len(ways)


def test_closed_paths_begin_at_corners_but_not_at_very_many():
    assert len(ways_of(DROP)) == 4
    assert len(ways_of(MANY)) == MOST_STARTS


def strokes(x, y, count, apart=1):
    return [
        Item(Layer.LABEL, line((x + n * (1 + apart), y), (x + 1 + n * (1 + apart), y)))
        for n in range(count)
    ]


def test_strokes_of_a_text_are_one_strand_and_words_far_apart_are_two():
    near, far = strokes(0, 0, 7), strokes(13 + REACH + SEVENTH, 0, 5)
    group = Group("a", "", (*near, *far))
    assert [len(strand) for strand in strands_of(group, Layer.LABEL)] == [7, 5]
    assert [
        len(strand)
        for strand in strands_of(Group("a", "", tuple(strokes(0, 0, 3, REACH))), Layer.LABEL)
    ] == [3]


def test_only_labels_are_written_in_one_go():
    marks = tuple(Item(Layer.MARK, item.path) for item in strokes(0, 0, 5))
    assert len(strands_of(Group("a", "", marks), Layer.MARK)) == 5


def test_a_strand_run_from_its_end_is_what_it_was_the_other_way_round():
    ring = Item(Layer.LABEL, circle((4, 0), 1), "o")
    strand = (*strokes(0, 0, 2), ring, *strokes(6, 0, 2))
    backwards = tuple(run_along(strand, 1))
    assert ways_along(strand) == (Way((0, 0), (9000, 0)), Way((9000, 0), (0, 0)))
    assert start_of(backwards[0].path) == Point(9, 0)
    assert end_of(backwards[-1].path) == Point(0, 0)
    assert [shape_of(item.path) for item in backwards] == [shape_of(i.path) for i in strand[::-1]]
    assert tuple(run_along(strand, 0)) == strand


def test_a_text_is_not_torn_apart():
    texts = [Group(f"t{n}", f"T{n}", tuple(strokes(40 * n, 30 * (n % 2), 6))) for n in range(5)]
    ordered = in_cutting_order(Drawing(300, 60, tuple(texts)), 300)
    names = [item.name for item in ordered.items()]
    assert len([1 for a, b in itertools.pairwise(names) if a != b]) == 4


def scattered(count, closed):
    lots = random.Random(count)
    items = []
    for number in range(count):
        x, y = lots.uniform(0, 300), lots.uniform(0, 300)
        path = rectangle(x, y, x + 3, y + 3) if closed else line((x, y), (x + 2, y - SEVENTH))
        items.append((Item(Layer.CUT, path, str(number)),))
    return items


@pytest.mark.parametrize(("count", "closed"), [(0, False), (1, False), (500, False), (250, True)])
def test_few_paths_are_one_field(count, closed):
    strands = scattered(count, closed)
    assert list(fields(strands)) == ([strands] if strands else [])


@pytest.mark.parametrize(("count", "closed"), [(501, False), (1801, False), (701, True)])
def test_many_paths_are_fields_of_a_size_that_can_be_searched(count, closed):
    strands = scattered(count, closed)
    found = list(fields(strands))
    assert sorted(int(s[0].name) for field in found for s in field) == list(range(count))
    assert all(sum(len(ways_along(s)) for s in field) <= MOST_POINTS for field in found)
    assert len(found) <= count // 100


def test_fields_follow_one_another_to_and_fro():
    squares = [
        (Item(Layer.CUT, rectangle(x, y, x + 2, y + 2)),)
        for x in range(0, 300, 10)
        for y in range(0, 300, 10)
    ]
    firsts = [(field[0], field[-1]) for field in fields(squares)]
    assert len(firsts) == 4
    for (_, last), (first, _) in itertools.pairwise(firsts):
        assert abs(start_of(last[0].path).x - start_of(first[0].path).x) <= 20


def test_very_many_paths_travel_little_too():
    items = tuple(strand[0] for strand in scattered(901, False))
    drawing = Drawing(303, 303, (Group("a", "", items),))
    ordered = in_cutting_order(drawing, 800)
    assert not lost_or_added(drawing, ordered)
    # 0.7124 * sqrt(count * area) for many points (Beardwood, Halton and Hammersley, 1959)
    assert lifted_travel(ordered) < 1.15 * 0.7124 * (901 * 300 * 300) ** 0.5
