"""What turns about what: sides by looking beside the fold, trees, loops, parts that fall apart."""

from fractions import Fraction

import pytest

from dielines.errors import UsageError
from dielines.hinges import Hinge, Skeleton, loose_panels, skeleton
from dielines.part import FoldKey, Line, LineKind
from dielines.paths import Path, Point, Vertex, line, polyline, rectangle

THIRD, SEVENTH = Fraction(100, 3), Fraction(100, 7)


def key(text: str) -> FoldKey:
    return FoldKey(*text.split())


def fold(
    text: str, *pieces: Path, angle: Fraction = Fraction(90), kind: LineKind = LineKind.FOLD
) -> Line:
    return Line(key(text), kind, angle, pieces)


def strip(*names: str, width: Fraction = THIRD) -> dict[str, Path]:
    """Return panels of equal width side by side."""
    return {
        name: rectangle(i * width, Fraction(0), (i + 1) * width, SEVENTH)
        for i, name in enumerate(names)
    }


def upright(number: int, width: Fraction = THIRD) -> Path:
    return line((number * width, Fraction(0)), (number * width, SEVENTH))


def tree(bones: Skeleton) -> list[tuple[str, str]]:
    return [(link.parent, link.child) for link in bones.links]


def cross_of(hinge: Hinge, point: Point) -> Fraction:
    """Return more than 0 where *point* lies left of the hinge."""
    dx, dy = hinge.end.x - hinge.start.x, hinge.end.y - hinge.start.y
    return dx * (point.y - hinge.start.y) - dy * (point.x - hinge.start.x)


@pytest.mark.parametrize("piece", [upright(1), line((THIRD, SEVENTH), (THIRD, Fraction(0)))])
@pytest.mark.parametrize(("root", "child_middle"), [("a", 1.5), ("b", 0.5)])
def test_a_hinge_has_its_child_on_the_left_however_its_piece_was_drawn(piece, root, child_middle):
    bones = skeleton(strip("a", "b"), [fold("a | b", piece)], root=root)
    hinge = bones.links[0].hinge
    assert hinge.parent == root
    assert cross_of(hinge, Point(THIRD * Fraction(child_middle), SEVENTH / 2)) > 0


def u_and_tongue() -> dict[str, Path]:
    """Return a U, open at the top, that holds a low tongue by the bottom of its bay.

    The middle of the U lies above the fold, on the tongue's side.
    """
    u = [(0, 0), (90, 0), (90, 70), (60, 70), (60, 10), (30, 10), (30, 70), (0, 70)]
    return {
        "u": polyline([(Fraction(x), Fraction(y)) for x, y in u], closed=True),
        "tongue": rectangle(Fraction(30), Fraction(10), Fraction(60), Fraction(20)),
    }


@pytest.mark.parametrize("root", ["u", "tongue"])
def test_the_side_of_a_u_shaped_panel_is_seen_beside_the_fold_not_at_its_middle(root):
    bones = skeleton(u_and_tongue(), [fold("tongue / u", line((60, 10), (30, 10)))], root=root)
    hinge = bones.links[0].hinge
    beyond = {"u": Point(Fraction(45), Fraction(20)), "tongue": Point(Fraction(45), Fraction(5))}[
        root
    ]
    assert cross_of(hinge, beyond) > 0


def test_where_only_one_panel_reaches_its_fold_that_one_tells_the_sides():
    panels = u_and_tongue()
    panels["tongue"] = rectangle(Fraction(30), Fraction(21, 2), Fraction(60), Fraction(20))
    bones = skeleton(panels, [fold("tongue / u", line((60, 10), (30, 10)))], root="u")
    assert cross_of(bones.links[0].hinge, Point(Fraction(45), Fraction(20))) > 0


@pytest.mark.parametrize(("root", "beyond"), [("low", 14), ("high", 5)])
def test_panels_drawn_back_from_their_fold_still_have_sides(root, beyond):
    panels = {
        "low": rectangle(Fraction(0), Fraction(0), Fraction(30), Fraction(9)),
        "high": rectangle(Fraction(0), Fraction(11), Fraction(30), Fraction(17)),
    }
    hinge = skeleton(panels, [fold("high / low", line((0, 10), (30, 10)))], root).links[0].hinge
    assert cross_of(hinge, Point(Fraction(15), Fraction(beyond))) > 0


def test_the_root_is_the_largest_panel_and_of_equal_ones_the_first():
    panels = strip("a", "b", "c")
    lines = [fold("a | b", upright(1)), fold("b | c", upright(2))]
    assert skeleton(panels, lines).root == "a"
    panels["c"] = rectangle(2 * THIRD, Fraction(0), 4 * THIRD, SEVENTH)
    assert skeleton(panels, lines).root == "c"
    assert tree(skeleton(panels, lines)) == [("c", "b"), ("b", "a")]


def test_a_panel_hangs_on_the_nearest_one_to_the_root():
    panels = strip("a", "b", "c", "d")
    lines = [
        fold("c | d", upright(3)),
        fold("a | b", upright(1)),
        fold("a - c", upright(2)),
        fold("b | c", upright(2)),
    ]
    found = skeleton(panels, lines, root="a")
    assert tree(found) == [
        ("a", "b"),
        ("a", "c"),
        ("c", "d"),
    ]
    assert [str(hinge.key) for hinge in found.loops] == ["b | c"]


def test_a_slit_holds_nothing():
    lines = [fold("a | b", upright(1), kind=LineKind.SLIT)]
    with pytest.raises(UsageError, match="b"):
        skeleton(strip("a", "b"), lines, root="a")
    assert loose_panels(["a", "b"], lines, "a") == ("b",)


def test_a_perforation_holds_without_a_hinge():
    lines = [fold("a | b", upright(1), kind=LineKind.PERFORATE)]
    found = skeleton(strip("a", "b"), lines)
    assert [link.hinge for link in found.links] == [None]
    assert loose_panels(["a", "b"], lines, "a") == ()


def test_panels_of_one_face_are_followed_before_any_fold():
    panels = strip("a", "b", "c")
    lines = [fold("a | b", upright(1)), fold("b | c", upright(2))]
    found = skeleton(panels, lines, root="a", rigid=[("c", "a")])
    assert [(link.parent, link.child, link.hinge is None) for link in found.links] == [
        ("a", "c", True),
        ("a", "b", False),
    ]
    assert [str(hinge.key) for hinge in found.loops] == ["b | c"]


def curved(number: int) -> Path:
    return Path(
        (Vertex(number * THIRD, Fraction(0), Fraction(1, 7)), Vertex(number * THIRD, SEVENTH)),
        False,
    )


def test_a_curved_fold_holds_only_what_nothing_else_does():
    lines = [fold("a | b", curved(1)), fold("b | c", upright(2)), fold("a - c", upright(1))]
    found = skeleton(strip("a", "b", "c"), lines, root="a")
    assert tree(found) == [("a", "c"), ("c", "b")]
    assert found.loops == ()
    alone = skeleton(strip("a", "b"), lines[:1])
    assert [link.hinge for link in alone.links] == [None]


def test_a_fold_without_length_holds_nothing():
    speck = line((THIRD, Fraction(0)), (THIRD, Fraction(0)))
    assert loose_panels(["a", "b"], [fold("a | b", speck)], "a") == ("b",)
    assert loose_panels(["a", "b"], [fold("a | b", speck, upright(1))], "a") == ()


def test_pieces_on_one_line_are_one_hinge_and_pieces_off_it_a_loop():
    panels = strip("a", "b")
    low, high = (
        line((THIRD, Fraction(0)), (THIRD, Fraction(3))),
        line((THIRD, Fraction(11)), (THIRD, SEVENTH)),
    )
    stepped = line((THIRD + 1, Fraction(11)), (THIRD + 1, SEVENTH))
    assert skeleton(panels, [fold("a | b", low, high)]).loops == ()
    uneven = skeleton(panels, [fold("a | b", low, stepped)])
    assert [str(hinge.key) for hinge in uneven.loops] == ["a | b"]


def test_all_panels_that_fall_off_are_named():
    lines = [fold("a | b", upright(1)), fold("c | d", upright(3))]
    assert loose_panels(strip("a", "b", "c", "d"), lines, "a") == ("c", "d")
    with pytest.raises(UsageError) as caught:
        skeleton(strip("a", "b", "c", "d"), lines, root="a")
    assert "c, d" in str(caught.value)


@pytest.mark.parametrize(
    "arguments",
    [
        {"panels": {}, "lines": []},
        {"panels": strip("a"), "lines": [], "root": "b"},
        {"panels": strip("a"), "lines": [fold("a | b", upright(1))]},
        {"panels": strip("a"), "lines": [], "rigid": [("a", "b")]},
    ],
)
def test_panels_that_are_not_there_are_refused(arguments):
    with pytest.raises(UsageError):
        skeleton(**arguments)
