"""The book opened: channels like a U, covers round the corner of the spine board, joints that hold."""

from __future__ import annotations

import math

import pytest
from composed import album, bound, composed

from dielines.folding.opening import opened
from dielines.folding.placing import angle_between
from dielines.folding.web import ends_of, hinge_on, page_keys, way, web_of

FOUR = '"side pocket", "flap", "flap", "plain leaf"'
BOOKS = {
    "tabs": album(FOUR, 'mats = "both sides"'),
    "fins": album(FOUR, binding="concertina spine"),
    "one": album('"flap"'),
    "many": album(", ".join(['"plain leaf"'] * 9)),
    "fins in pieces": album(", ".join(['"plain leaf"'] * 9), binding="concertina spine"),
}


@pytest.fixture(scope="module", params=BOOKS)
def whole(request):
    return bound(composed(BOOKS[request.param]))


def openings(whole):
    return range(1, len(page_keys(whole.book)))


def at(whole, opening, angle):
    return opened(whole.book, whole.parts, whole.assembly, opening, angle)


def hinge_of(whole, opening):
    web = web_of(whole.book, whole.parts, whole.assembly.tree)
    roots = {key: part.root for key, part in whole.parts.items()}
    ends = ends_of(whole.book, roots, opening, ("front-board", "board"), ("back-board", "board"))
    return ends, hinge_on(way(web, *ends))


def pose(assembly, node):
    return assembly.places[node[0]][node[1]]


def spot(assembly, node, point):
    return [float(v) for v in pose(assembly, node).at(point)]


def test_opened_by_nothing_the_book_is_closed(whole):
    for opening in range(len(page_keys(whole.book)) + 1):
        shut = at(whole, opening, 0)
        for key, poses in whole.assembly.places.items():
            for name, was in poses.items():
                for point in ((0, 0), (30, 70)):
                    now = [float(v) for v in shut.places[key][name].at(point)]
                    assert now == pytest.approx([float(v) for v in was.at(point)], abs=1e-6)


@pytest.mark.parametrize("angle", [30, 100 / 7, 120, 180])
def test_both_folds_of_the_channel_go_to_a_right_angle_less_half_the_opening(whole, angle):
    for opening in openings(whole):
        _, hinge = hinge_of(whole, opening)
        opens = at(whole, opening, angle)
        for _, beside in (hinge.front, hinge.back):
            was = angle_between(pose(whole.assembly, hinge.channel), pose(whole.assembly, beside))
            now = angle_between(pose(opens, hinge.channel), pose(opens, beside))
            assert was == pytest.approx(90, abs=1e-6)
            assert now == pytest.approx(90 - angle / 2, abs=1e-5)


def test_the_pages_beside_an_opening_stand_at_its_angle(whole):
    for opening in openings(whole):
        (front, back), _ = hinge_of(whole, opening)
        turned = angle_between(pose(at(whole, opening, 75), front), pose(whole.assembly, front))
        assert turned == pytest.approx(75, abs=1e-6)
        assert pose(at(whole, opening, 75), back) == pose(whole.assembly, back)


def test_panels_stay_together_at_every_fold_when_the_book_opens(whole):
    for opening in openings(whole):
        opens = at(whole, opening, 200 / 3)
        for key in {join.part for join in whole.assembly.tree} | set(page_keys(whole.book)):
            for line in whole.parts[key].part.folds:
                for point in line.pieces[0].points:
                    ends = [spot(opens, (key, name), point) for name in line.key.panels()]
                    before = [spot(whole.assembly, (key, n), point) for n in line.key.panels()]
                    if math.dist(*before) < 1e-6:
                        assert math.dist(*ends) < 1e-6


def test_open_flat_the_front_half_lies_at_the_left(whole):
    for opening in openings(whole):
        (front, back), _ = hinge_of(whole, opening)
        opens = at(whole, opening, 180)
        outline = whole.parts[front[0]].outlines[front[1]].points
        assert max(spot(opens, front, p)[0] for p in outline) < 1
        outline = whole.parts[back[0]].outlines[back[1]].points
        assert min(spot(opens, back, p)[0] for p in outline) > -1


def test_a_cover_turned_back_leaves_the_pages_alone(whole):
    opens = at(whole, 0, 180)
    board = opens.places["front-board"]["board"]
    assert [float(v) for v in board.normal] == pytest.approx([0, 0, -1])
    outline = whole.parts["front-board"].outlines["board"].points
    assert max(float(board.at(p)[0]) for p in outline) < 0
    assert opens.places["spine-board"] == whole.assembly.places["spine-board"]
    assert opens.places["back-board"] == whole.assembly.places["back-board"]


def test_the_back_cover_lies_still_while_all_else_is_turned_off_it(whole):
    opens = at(whole, len(page_keys(whole.book)), 180)
    assert opens.places["back-board"] == whole.assembly.places["back-board"]
    front = opens.places["front-board"]["board"]
    assert [float(v) for v in front.normal] == pytest.approx([0, 0, -1])


def test_cover_tabs_point_to_where_they_are_taped_when_a_cover_is_turned(whole):
    count = len(page_keys(whole.book))
    for opening, board in ((0, "front-board"), (count, "back-board")):
        opens = at(whole, opening, 180)
        join = next(j for j in whole.assembly.tree if j.onto_part == board)
        part = whole.parts[join.part].part
        fold = next(x for x in part.folds if join.panel in x.key.panels())
        (beside,) = fold.key.panels() - {join.panel}
        for point in fold.pieces[0].points:
            ends = [spot(opens, (join.part, name), point) for name in (join.panel, beside)]
            assert math.dist(*ends) < 1e-6
        box = whole.assembly.bench.zone_box(join)
        middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
        tape = spot(opens, (join.part, join.panel), middle)
        target = opens.places[board]["board"].inverse()
        _, y, z = (float(v) for v in target.at(tape[:2], tape[2]))
        # along the tab it may lie a little nearer or farther; it lies in the plane of its tape
        height = float(whole.assembly.bench.height(join))
        assert abs(z + height) < 2.5
        assert y == pytest.approx(float(join.offset.y + join.height / 2), abs=1e-6)


def test_joints_hold_boards_and_spine_together_as_far_as_their_width_allows(whole):
    spine = float(whole.assembly.bench.parts["spine-board"].part.width)
    for opening in openings(whole):
        opens = at(whole, opening, 180)
        torn = [_tear(whole, opens, side) for side in ("front", "back")]
        corners = [_inner_edge(whole, opens, side) for side in ("front", "back")]
        joints = sum(whole.assembly.case.joints.values())
        if abs(spine - math.dist(*corners)) <= joints + 1e-9:
            assert max(torn) < 1e-5
        else:
            assert max(torn) > 0.1


def _tear(whole, assembly, side):
    """How far the joint is from the hold where they meet."""
    wrap = assembly.bench.parts["joint-wrap"].part
    joint, hold = wrap.panel(f"{side}_joint").bounds(), wrap.panel(f"{side}_hold").bounds()
    x = hold.right if hold.right == joint.left else hold.left
    places = assembly.places["joint-wrap"]
    ends = [places[name].at((x, hold.bottom)) for name in (f"{side}_joint", f"{side}_hold")]
    return math.dist(*([float(e[0]), float(e[2])] for e in ends))


def _inner_edge(whole, assembly, side):
    wrap = assembly.bench.parts["joint-wrap"].part
    joint, hold = wrap.panel(f"{side}_joint").bounds(), wrap.panel(f"{side}_hold").bounds()
    x = hold.right if hold.right == joint.left else hold.left
    place = assembly.places["joint-wrap"][f"{side}_hold"].at((x, hold.bottom))
    return float(place[0]), float(place[2])


def test_mats_and_reinforcement_go_with_their_panels():
    whole = bound(composed(BOOKS["tabs"]))
    opens = at(whole, 2, 120)
    for key, host in whole.assembly.hosts.items():
        for name, was in whole.assembly.places[key].items():
            if whole.book.part(key).part.covers:
                continue
            seen = pose(whole.assembly, host[:2]).inverse().compose(was)
            now = pose(opens, host[:2]).inverse().compose(opens.places[key][name])
            assert angle_between(seen, now) < 1e-5
            assert [float(v) for v in now.translation] == pytest.approx(
                [float(v) for v in seen.translation], abs=1e-6
            )


@pytest.mark.parametrize("opening", [-1, 5])
def test_there_is_no_opening_beyond_the_covers(opening):
    whole = bound(composed(album(FOUR)))
    with pytest.raises(ValueError, match="no opening"):
        at(whole, opening, 90)


def test_covers_slide_outwards_until_the_spine_board_finds_room_between_them():
    whole = bound(composed(BOOKS["tabs"]))
    opens = at(whole, 2, 180)
    assert max(_tear(whole, opens, side) for side in ("front", "back")) < 1e-5
    slid = float(
        opens.places["back-board"]["board"].translation[0]
        - whole.assembly.places["back-board"]["board"].translation[0]
    )
    # as far as needed, and no farther than its tab is longer than its way
    slack = whole.assembly.mismatch("page-4", "binding.tab").in_plane
    assert 0.1 < slid < slack
