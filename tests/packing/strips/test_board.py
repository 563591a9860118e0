import random

import numpy as np
from strip_samples import hooks

from dielines.packing.order import Work
from dielines.packing.strips.board import ONCE, Board, Spot
from dielines.packing.strips.fits import CALL, Fits


def filled(order, length, seed=3):
    draw = random.Random(seed)
    board = Board(Fits(order, Work(10**12)), length, order.width)
    for item in range(len(board.spots)):
        scatter(board, item, draw)
    return board, draw


def scatter(board, item, draw):
    lying = draw.choice(board.fits.of[item])
    along, across = board.room(lying)
    board.spots[item] = Spot(lying, draw.randrange(along), draw.randrange(across))


def test_a_map_is_the_sum_of_the_depths_of_all_parts_and_follows_their_moves():
    board, draw = filled(hooks(), 53)
    for _ in range(15):
        scatter(board, draw.randrange(len(board.spots)), draw)
        board.map(draw.randrange(len(board.fits.lying)), {})
    fresh = Board(board.fits, board.length, board.width)
    fresh.spots = list(board.spots)
    for lying in range(len(board.fits.lying)):
        assert np.array_equal(board.map(lying, {}), fresh.map(lying, {}))


def test_the_map_at_a_part_agrees_with_what_it_overlaps():
    board, _ = filled(hooks(), 53)
    overlaps = 0
    for item, spot in enumerate(board.spots):
        row = board.neighbours(item)
        overlaps += len(row)
        weights = dict.fromkeys(row, 3 * ONCE) | {item: 0}
        assert board.map(spot.lying, weights)[spot.x, spot.y] == 3 * sum(row.values())
        assert all(board.neighbours(other)[item] == deep for other, deep in row.items())
    assert overlaps > 10


def test_a_part_that_is_longer_than_the_strip_has_no_room():
    board = Board(Fits(hooks(), Work(10**9)), 4, 23)
    assert board.room(0)[0] == 0


def test_work_is_counted_for_each_part_that_moved_and_for_the_points_of_the_map():
    board, draw = filled(hooks(), 53)
    for lying in range(len(board.fits.lying)):
        board.fits.depths(lying, 0)  # these are worked out only once
    work, points = board.fits.work, board.map(0, {}).size
    for moved in (0, 1, 5):
        for item in range(moved):
            scatter(board, item, draw)
        before = work.spent
        board.map(0, {})
        added = work.spent - before - points - CALL
        assert moved * CALL <= added <= moved * 2 * (CALL + points)
    fresh = Board(board.fits, board.length, board.width)
    fresh.spots = list(board.spots)
    before = work.spent
    fresh.map(0, {})
    assert work.spent - before >= points + len(board.spots) * CALL // 2
