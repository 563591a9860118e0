"""The closed book: heights of FOLDING.md section 5, rigidity, joins that meet, mirror images."""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction
from itertools import pairwise

import pytest
from composed import album, composed, folded, plain
from random_books import random_book
from spoiling import changed_join, without_join

from dielines.bindings.joining import zone_of
from dielines.folding.assembly import Assembly, assembled
from dielines.folding.placing import landing_box
from dielines.paths import bounds_of
from dielines.rigid import Pose

FOUR = '"side pocket", "flap", "side pocket", "flap"'
INCH = 25.4
EIGHTH = ("[usual]", 'end_channel = "1/8"')


def closed(book) -> Assembly:
    return assembled(book, folded(book))


def heights_from_front(assembly: Assembly) -> dict[tuple[str, str], float]:
    """Heights of middles below the inside of the front board, in inches."""
    inside = block_of(assembly)
    return {
        (key, panel): (inside - float(pose.translation[2])) / INCH
        for key, poses in assembly.places.items()
        for panel, pose in poses.items()
        if abs(float(pose.normal[2])) > 0.999
    }


def block_of(assembly: Assembly) -> float:
    """The distance between the insides of the boards, mm."""
    calipers = assembly.bench.calipers
    front = float(assembly.places["front-board"]["board"].translation[2])
    back = float(assembly.places["back-board"]["board"].translation[2])
    return front - float(calipers["front-board"]) / 2 - back - float(calipers["back-board"]) / 2


# ------------------------------------------------------------------ heights (FOLDING.md, 5)


def test_four_pages_lie_at_the_heights_that_calipers_and_channels_give() -> None:
    found = heights_from_front(closed(plain(composed(album(FOUR, *EIGHTH)))))
    wanted = {
        ("page-1", "binding.tab"): 0.00975,
        ("page-1", "front"): 0.13475,
        ("page-2", "binding.tab"): 0.14925,
        ("page-2", "page"): 0.39925,
        ("hinge-strip", "front_tab"): 0.41375,
        ("hinge-strip", "back_tab"): 0.66375,
        ("page-3", "front"): 0.67825,
        ("page-3", "binding.tab"): 0.92825,
        ("page-4", "page"): 0.94275,
        ("page-4", "binding.tab"): 1.06775,
    }
    assert {key: found[key] for key in wanted} == pytest.approx(wanted, abs=1e-12)
    assert block_of(closed(plain(composed(album(FOUR, *EIGHTH))))) == pytest.approx(
        1.0775 * INCH, abs=1e-12
    )


@pytest.mark.parametrize(("count", "block"), [(1, 7.214), (4, 27.368), (12, 81.115), (24, 161.734)])
def test_the_block_stands_as_high_as_its_channels_and_junctions(count: int, block: float) -> None:
    pages = ", ".join(['"plain leaf", "flap"'] * (count // 2) or ['"plain leaf"'])
    lines = [*EIGHTH, 'channel = "1/4"']
    book = plain(composed(album(pages, *lines)))
    assert block_of(closed(book)) == pytest.approx(block, abs=6e-4)


def test_reinforcement_thickens_each_junction_by_itself_and_by_the_lap_under_it() -> None:
    book = composed(album(FOUR, *EIGHTH))
    thicker = block_of(closed(book)) - block_of(closed(plain(book)))
    # Two at the cover tabs; at each of four junctions that of the tab and the lap of the page.
    assert thicker == pytest.approx((2 + 4 * 2) * 0.006 * INCH, abs=1e-9)


def test_the_play_is_what_the_spine_has_more_than_the_block() -> None:
    book = plain(composed(album(FOUR, *EIGHTH)))
    assembly = closed(book)
    spine = float(book.reasons.length("spine").mm)
    assert spine == pytest.approx(34.925)
    assert spine - block_of(assembly) == pytest.approx(7.5565, abs=1e-9)
    box = book.part("spine-board").part.panels[0].bounds()
    pose = assembly.places["spine-board"]["spine"]
    ends = sorted(float(pose.at((x, 0))[2]) for x in (box.left, box.right))
    assert ends == pytest.approx([-7.5565 / 2, block_of(assembly) + 7.5565 / 2])


# ------------------------------------------------------------------ any book


BOOKS = {
    "four": album(FOUR),
    "odd": album('"side pocket", "flap", "plain leaf"', 'extra_page = "back half"'),
    "one": album('"side pocket"'),
    "fins": album(
        '"side pocket", "flap", "plain leaf", "tiered pockets"', binding="concertina spine"
    ),
    "card": album('"library-card pocket", "gate doors"', 'mats = "both sides"'),
    **{f"random {seed}": random_book(seed) for seed in (3, 7, 11, 20, 28, 41)},
}


@pytest.fixture(scope="module", params=BOOKS)
def whole(request):
    book = composed(BOOKS[request.param])
    return book, closed(book)


def test_every_part_has_a_place(whole) -> None:
    book, assembly = whole
    assert assembly.loose == ()
    found = set(assembly.places) | set(assembly.bent)
    assert found == {entry.key for entry in book.parts}


def test_no_panel_changes_its_shape(whole) -> None:
    _, assembly = whole
    for poses in assembly.places.values():
        for pose in poses.values():
            assert _is_rigid(pose)
    for pieces in assembly.bent.values():
        assert all(_is_rigid(piece.pose) for piece in pieces)


def _is_rigid(pose: Pose) -> bool:
    rows = [[float(v) for v in row] for row in pose.rotation]
    products = [
        sum(a * b for a, b in zip(first, second, strict=True)) - (first is second)
        for first in rows
        for second in rows
    ]
    (a, b, c), (d, e, f), (g, h, i) = rows
    turn = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return max(map(abs, products)) < 1e-12 and turn == pytest.approx(1)


def test_pages_are_folded_as_their_parts_are(whole) -> None:
    book, assembly = whole
    for entry in book.parts:
        if entry.role == "pages" and entry.key in assembly.places:
            part = assembly.bench.parts[entry.key]
            root = assembly.places[entry.key][part.root]
            for name, pose in assembly.places[entry.key].items():
                assert root.compose(part.poses[name]) == pose


def test_the_tape_of_each_join_in_the_tree_lies_on_its_target(whole) -> None:
    book, assembly = whole
    boards = ("front-board", "back-board")
    joins = [join for join in assembly.tree if join.onto_part not in boards]
    assert len(assembly.tree) > 1
    for join in joins:
        zone = bounds_of([zone_of(book.part(join.part).part, join.zone).path])
        pose = assembly.places[join.part][join.panel]
        target = assembly.places[join.onto_part][join.onto_panel]
        seen = target.inverse()
        corners = [
            pose.at((x, y)) for x in (zone.left, zone.right) for y in (zone.bottom, zone.top)
        ]
        lying = [seen.at(corner[:2], corner[2]) for corner in corners]
        box = landing_box(join)
        assert min(p[0] for p in lying) == pytest.approx(float(box.left), abs=1e-9)
        assert max(p[0] for p in lying) == pytest.approx(float(box.right), abs=1e-9)
        assert min(p[1] for p in lying) == pytest.approx(float(box.bottom), abs=1e-9)
        assert max(p[1] for p in lying) == pytest.approx(float(box.top), abs=1e-9)
        height = float(assembly.bench.height(join))
        sign = 1 if join.onto_side.value == "face" else -1
        assert [float(p[2]) for p in lying] == pytest.approx([sign * height] * 4, abs=1e-9)


def test_the_frame_begins_at_the_binding_edge_the_tail_and_the_back_board(whole) -> None:
    book, assembly = whole
    first = next(entry for entry in book.parts if entry.part.bound)
    bound = first.part.bound
    pose = assembly.places[first.key][bound.panel.split(" ")[0]]
    ends = [pose.at(end) for end in (bound.start, bound.end)]
    assert [float(end[0]) for end in ends] == pytest.approx([0, 0], abs=1e-9)
    assert min(float(end[1]) for end in ends) == pytest.approx(0, abs=1e-9)
    back = assembly.places["back-board"]["board"]
    inside = float(back.translation[2]) + float(assembly.bench.calipers["back-board"]) / 2
    assert inside == pytest.approx(0, abs=1e-9)


def test_pages_reach_from_the_binding_edge_to_the_fore_edge(whole) -> None:
    book, assembly = whole
    for entry in book.parts:
        if entry.part.bound:
            outline = entry.part.panel(assembly.bench.parts[entry.key].root).outline
            pose = assembly.places[entry.key][assembly.bench.parts[entry.key].root]
            xs = [float(pose.at(point)[0]) for point in outline.points]
            assert min(xs) == pytest.approx(0, abs=1e-6)
            assert max(xs) > 50


def test_boards_look_outwards_and_the_spine_board_stands_upright(whole) -> None:
    _, assembly = whole
    front = assembly.places["front-board"]["board"]
    back = assembly.places["back-board"]["board"]
    spine = assembly.places["spine-board"]["spine"]
    assert [float(v) for v in front.normal] == pytest.approx([0, 0, 1])
    assert [float(v) for v in back.normal] == pytest.approx([0, 0, -1])
    assert [float(v) for v in spine.normal] == pytest.approx([-1, 0, 0])


def test_joints_are_as_wide_in_space_as_the_wrap_leaves_them(whole) -> None:
    book, assembly = whole
    wrap = next(entry for entry in book.parts if entry.role == "wrap")
    poses = assembly.places[wrap.key]
    for side in ("front", "back"):
        joint, hold = wrap.part.panel(f"{side}_joint"), wrap.part.panel(f"{side}_hold")
        a, b = joint.bounds(), hold.bounds()
        x = b.right if b.right == a.left else b.left
        far, near = (
            poses[f"{side}_joint"].at((x, b.bottom)),
            poses[f"{side}_hold"].at((x, b.bottom)),
        )
        assert math.dist([float(v) for v in far], [float(v) for v in near]) < 1e-6


def test_joins_outside_the_tree_miss_by_nothing_but_thickness(whole) -> None:
    _, assembly = whole
    loop = {"front-board", "back-board", "spine-board"}
    for mismatch in assembly.mismatches:
        assert mismatch.angle_deg < 1e-6
        assert abs(float(mismatch.shift.y)) < 1e-6
        if mismatch.join.onto_part not in loop:
            assert mismatch.in_plane < 1e-6


def test_channels_miss_their_place_on_the_spine_by_what_junctions_add() -> None:
    book = plain(composed(album(FOUR, *EIGHTH)))
    assembly = closed(book)
    junction = (0.0095 + 0.005) * INCH
    missed = {
        m.join.part: m.in_plane for m in assembly.mismatches if m.join.onto_part == "spine-board"
    }
    assert missed["page-1"] == pytest.approx(2 * junction, abs=1e-9)
    assert missed["page-2"] == pytest.approx(junction, abs=1e-9)
    assert missed["hinge-strip"] == pytest.approx(0, abs=1e-9)


# ------------------------------------------------------------------ mirror images


@pytest.mark.parametrize("binding", ["tab and channel", "concertina spine"])
def test_a_symmetric_book_is_its_own_mirror_image(binding: str) -> None:
    pages = '"side pocket", "flap", "flap", "side pocket"'
    assembly = closed(composed(album(pages, binding=binding)))
    block = block_of(assembly)
    for left, right in (("page-1", "page-4"), ("page-2", "page-3"), ("front-board", "back-board")):
        assert _corners(assembly, left) == _mirrored(_corners(assembly, right), block)


def _corners(assembly: Assembly, key: str) -> Counter:
    outlines = assembly.bench.parts[key].outlines
    return Counter(
        (name, *(round(float(v), 6) + 0.0 for v in pose.at(point)))
        for name, pose in assembly.places[key].items()
        for point in outlines[name].points
    )


def _mirrored(corners: Counter, block: float) -> Counter:
    return Counter({(n, x, y, round(block - z, 6) + 0.0): k for (n, x, y, z), k in corners.items()})


# ------------------------------------------------------------------ spoiled joins


def test_a_join_moved_along_the_board_moves_the_case_and_shows_on_the_spine() -> None:
    book = composed(album(FOUR))
    old = next(j for j in book.joins if j.part == "page-2" and j.zone == "binding.tab")
    seventh = Fraction(10, 7)
    offset = old.offset._replace(y=old.offset.y + seventh)
    assembly = closed(changed_join(book, "page-2", "binding.tab", offset=offset))
    missed = assembly.mismatch("page-2", "binding.channel")
    assert abs(float(missed.shift.y)) == pytest.approx(10 / 7, abs=1e-9)


def test_without_its_joins_a_page_is_loose_with_all_that_hangs_on_it() -> None:
    book = composed(album(FOUR, 'mats = "inner side"'))
    book = without_join(without_join(book, "page-2", "binding.tab"), "hinge-strip", "front_tab")
    assembly = closed(book)
    assert "page-2" in assembly.loose
    assert any(key.startswith("mat-2-") for key in assembly.loose)
    assert "page-1" not in assembly.loose


# ------------------------------------------------------------------ hosts


def test_mats_lie_against_their_side_of_their_panel() -> None:
    book = composed(album(FOUR, 'mats = "both sides"'))
    assembly = closed(book)
    card = 0.0095 * INCH
    for key, host in assembly.hosts.items():
        if key.startswith("mat-"):
            mat, under = assembly.places[key]["mat"], assembly.places[host.part][host.panel]
            middle = mat.at(_middle(book.part(key).part.panels[0].bounds()))
            x, y, z = under.inverse().at(middle[:2], middle[2])
            assert (x, y) == pytest.approx(
                _middle(book.part(host.part).part.panel(host.panel).bounds())
            )
            assert float(z) == pytest.approx(card if host.side.value == "face" else -card)


def _middle(box) -> tuple[float, float]:
    return float(box.left + box.right) / 2, float(box.bottom + box.top) / 2


def test_reinforcement_lies_on_the_convex_side_of_what_it_covers() -> None:
    book = composed(album(FOUR))
    assembly = closed(book)
    apart = (0.0095 + 0.006) / 2 * INCH
    found = assembly.places["page-2-reinforcement"]
    for own, under in (
        ("tab", "binding.tab"),
        ("channel", "binding.channel"),
        ("lap_page", "page"),
    ):
        seen = assembly.places["page-2"][under].inverse().compose(found[own])
        assert float(seen.translation[2]) == pytest.approx(apart)
        panel = book.part("page-2-reinforcement").part.panel(own).bounds()
        target = book.part("page-2").part.panel(under).bounds()
        low = seen.at((panel.left, panel.bottom))
        assert float(low[0]) > float(target.left) - 1e-9
        assert float(low[1]) == pytest.approx(float(target.bottom), abs=1e-9)


def test_inserts_go_into_the_pocket_of_the_page_that_they_are_made_for() -> None:
    text = album(
        '"side pocket", "flap"',
        "[page.1]",
        'holds = { what = "tag", size = "4 x 3", thick = "1/32", count = 2 }',
    )
    assembly = closed(composed(text))
    front, back = (float(assembly.places["page-1"][p].translation[2]) for p in ("front", "back"))
    tags = [float(assembly.places[f"insert-1-1-{n}-tag"]["tag"].translation[2]) for n in (1, 2)]
    third = (back - front) / 3
    assert sorted(tags) == pytest.approx(sorted([front + third, front + 2 * third]))


# ------------------------------------------------------------------ work


def test_the_work_grows_with_the_pages_and_no_faster(monkeypatch) -> None:
    counted = Counter()
    compose = Pose.compose

    def counting(self, inner):
        counted["compose"] += 1
        return compose(self, inner)

    monkeypatch.setattr(Pose, "compose", counting)
    work = []
    for count in (8, 16, 32):
        book = composed(album(", ".join(['"flap"'] * count)))
        parts = folded(book)
        counted.clear()
        assembled(book, parts)
        work.append(counted["compose"])
    assert work[2] - work[1] == pytest.approx(2 * (work[1] - work[0]), abs=4)


def test_a_mat_lies_on_the_side_that_its_name_tells() -> None:
    book = composed(album('"flap", "flap"', 'mats = "both sides"'))
    hosts = closed(book).hosts
    sides = {key: hosts[key].side.value for key in hosts if key.startswith("mat-1-")}
    # The face of a page is its inner side; a flap is turned over onto it.
    assert sides == {
        "mat-1-page-inner": "face",
        "mat-1-page-outer": "reverse",
        "mat-1-flap-inner": "reverse",
        "mat-1-flap-under": "face",
    }
    assembly = closed(book)
    heights = {
        key: float(assembly.places[key]["mat"].translation[2])
        for key in hosts
        if key.startswith("mat-1-")
    }
    order = sorted(heights, key=heights.__getitem__, reverse=True)
    assert order == ["mat-1-page-outer", "mat-1-page-inner", "mat-1-flap-under", "mat-1-flap-inner"]


def test_the_shared_fin_of_two_pieces_carries_what_follows_on_its_far_side() -> None:
    pages = ", ".join(['"plain leaf"'] * 9)
    book = composed(album(pages, binding="concertina spine"))
    assembly = closed(book)
    overlaps = [join for join in assembly.tree if join.zone.startswith("overlap")]
    assert overlaps
    for join in overlaps:
        box = assembly.bench.parts[join.part].part.panels
        assert len(box) > 4
        assert join.panel.startswith("down")
    heights = [
        float(assembly.places[f"page-{n}"][assembly.bench.parts[f"page-{n}"].root].translation[2])
        for n in range(1, 10)
    ]
    gaps = [a - b for a, b in pairwise(heights)]
    gap = float(book.reasons.length("gap").mm)
    assert min(gaps) > gap - 1e-9


@pytest.mark.parametrize("lines", [(), ("[usual]", 'edge_scores = "twice"')])
def test_edge_strips_bend_round_the_edges_that_they_are_named_for(lines) -> None:
    book = composed(album(FOUR, *lines))
    assembly = closed(book)
    for board in ("front", "back"):
        pose = assembly.places[f"{board}-board"]["board"]
        outline = assembly.bench.parts[f"{board}-board"].outlines["board"].points
        xs = [float(pose.at(p)[0]) for p in outline]
        ys = [float(pose.at(p)[1]) for p in outline]
        edges = {"fore-edge": (0, max(xs)), "head": (1, max(ys)), "tail": (1, min(ys))}
        for edge, (axis, at) in edges.items():
            strip = assembly.places[f"edge-{board}-{edge}"]
            name = "edge" if "edge" in strip else "bend"
            points = assembly.bench.parts[f"edge-{board}-{edge}"].outlines[name].points
            for point in points:
                assert float(strip[name].at(point)[axis]) == pytest.approx(at, abs=1e-6)


def test_cards_hang_upright_from_their_hinges() -> None:
    book = composed(album('"plain leaf", "waterfall", "waterfall", "plain leaf"'))
    assembly = closed(book)
    height = float(book.reasons.length("page_height").mm)
    for page in ("page-2", "page-3"):
        cards = [key for key in assembly.places if key.startswith(f"{page}-card")]
        assert len(cards) == 4
        for number, key in enumerate(cards):
            pose = assembly.places[key]["card"]
            assert float(pose.rotation[1][1]) == 1
            box = book.part(key).part.panel("card").bounds()
            top = float(pose.at((box.left, box.top))[1])
            pitch = 12.7
            assert top == pytest.approx(height - 3.175 - (3 - number) * pitch)
            assert float(pose.at((box.left, box.bottom))[1]) == pytest.approx(top - 50.8)
