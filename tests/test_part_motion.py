"""A whole part moved in its plane: shifted, turned by quarter turns, mirrored.

Plane geometry; that a mirrored part keeps the signs of its folds is this
project's own convention (its face is still the face).
"""

from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.part import (
    Edge,
    FoldKey,
    Lettering,
    Line,
    LineKind,
    Panel,
    Part,
    Purpose,
    Side,
    Step,
    Stroke,
    Zone,
)
from dielines.part_motion import (
    LEFT_EDGE_TO,
    MIRROR,
    Motion,
    at_origin,
    mirrored,
    moved,
    moved_key,
    shift,
)
from dielines.paths import Path, Point, Vertex, bounds_of, line, rectangle, signed_area

F = Fraction
UPRIGHT, LEVEL = FoldKey("tab", "|", "leaf"), FoldKey("leaf", "/", "foot")
OBLIQUE = FoldKey("leaf", "-", "ear")
TURNS = ("left", "right", "top", "bottom")


def part() -> Part:
    """A tab at the left of a leaf with a rounded corner, a foot below it."""
    leaf = Path(
        (Vertex(7, 10), Vertex(47, 10), Vertex(47, 50, F(1, 3)), Vertex(40, 57), Vertex(7, 57))
    )
    return Part(
        name="page",
        template="leaf",
        version=1,
        stock="cardstock",
        grain="up",
        quantity=2,
        panels=(
            Panel("tab", rectangle(0, 10, 7, 57)),
            Panel("leaf", leaf, (rectangle(20, 20, F(85, 3), 30),)),
            Panel("foot", rectangle(7, 0, 47, 10)),
        ),
        lines=(
            Line(UPRIGHT, LineKind.FOLD, -90, (line((7, 10), (7, 57)),)),
            Line(LEVEL, LineKind.SLIT, 0, (line((7, 10), (47, 10)),)),
        ),
        outline=(
            Path((*rectangle(0, 0, 47, 57).vertices[:2], *leaf.vertices[2:4], Vertex(0, 57))),
            Path(tuple(reversed(rectangle(20, 20, F(85, 3), 30).vertices))),
        ),
        strokes=(
            Stroke("leaf", Purpose.CUT, Path((Vertex(30, 30, F(1, 2)), Vertex(35, 30)), False)),
        ),
        zones=(Zone("tab", "tab", Side.FACE, rectangle(1, 11, 6, 20), "leaf"),),
        lettering=(Lettering("leaf", "abcde", Point(F(10), F(40)), F(10, 3)),),
        steps=(Step(((UPRIGHT, -45),), (("tab", "leaf"),)),),
        bound=Edge("tab", "left", Point(0, 57), Point(0, 10)),
        mouths=(Edge("leaf", "top", Point(7, 57), Point(40, 57)),),
    )


@pytest.mark.parametrize(
    ("side", "place"),
    [("left", (3, 5)), ("right", (-3, 5)), ("top", (5, -3)), ("bottom", (-5, 3))],
)
def test_a_left_edge_comes_to_each_side(side, place):
    motion = LEFT_EDGE_TO[side]
    assert motion.place(Point(3, 5)) == place
    assert motion.side("left") == side
    assert motion.mirrors == (side == "right")
    assert motion.swaps_axes == (side in ("top", "bottom"))


def test_a_motion_shifts_after_it_turns():
    motion = Motion(0, -1, 1, 0, dx=F(1, 3), dy=F(2, 7))
    assert motion.place(Point(F(5), F(7))) == (F(1, 3) - 7, 5 + F(2, 7))
    assert shift(F(1, 3), 0).place(Point(1, 2)) == (F(4, 3), 2)


@pytest.mark.parametrize(
    ("side", "upright", "level"),
    [
        ("left", "tab | leaf", "leaf / foot"),
        ("right", "leaf | tab", "leaf / foot"),
        ("top", "tab / leaf", "foot | leaf"),
        ("bottom", "leaf / tab", "leaf | foot"),
    ],
)
def test_lines_are_named_as_one_reads_them_afterwards(side, upright, level):
    motion = LEFT_EDGE_TO[side]
    assert (str(moved_key(UPRIGHT, motion)), str(moved_key(LEVEL, motion))) == (upright, level)
    assert moved_key(OBLIQUE, motion) == OBLIQUE
    turned = moved(part(), motion)
    assert [str(fold.key) for fold in turned.lines] == [upright, level]
    assert [str(key) for key, _ in turned.steps[0].angles_deg] == [upright]
    assert turned.steps[0].under == (("tab", "leaf"),)


@pytest.mark.parametrize("side", TURNS)
def test_keys_tell_the_truth_wherever_the_part_is_turned(side):
    turned = moved(part(), LEFT_EDGE_TO[side])
    for fold in turned.lines:
        first, second = (turned.panel(name).bounds() for name in (fold.key.first, fold.key.second))
        if fold.key.relation == "|":
            assert first.right == second.left
        else:
            assert first.bottom == second.top


@pytest.mark.parametrize("side", TURNS)
def test_folds_keep_their_signs_and_areas_their_size(side):
    turned = moved(part(), LEFT_EDGE_TO[side])
    assert [(fold.kind, fold.angle_deg) for fold in turned.lines] == [
        (LineKind.FOLD, -90),
        (LineKind.SLIT, 0),
    ]
    before, after = part(), turned
    for old, new in zip(before.outline, after.outline, strict=True):
        assert signed_area(new) == pytest.approx(signed_area(old))
    for old, new in zip(before.panels, after.panels, strict=True):
        assert signed_area(new.outline) == pytest.approx(signed_area(old.outline))
        assert len(new.holes) == len(old.holes)


@pytest.mark.parametrize("side", TURNS)
def test_everything_on_the_part_goes_along(side):
    motion = LEFT_EDGE_TO[side]
    turned = moved(part(), motion)
    bulge = turned.strokes[0].path.vertices[0].bulge
    assert bulge == (F(-1, 2) if side == "right" else F(1, 2))
    assert bounds_of([turned.zones[0].path]) == bounds_of([motion.path(part().zones[0].path)])
    assert turned.zones[0].side is Side.FACE
    assert turned.bound.side == side
    assert {turned.bound.start, turned.bound.end} == {
        motion.place(Point(0, 57)),
        motion.place(Point(0, 10)),
    }
    assert turned.mouths[0].side == motion.side("top")
    assert turned.grain == ("across" if motion.swaps_axes else "up")
    assert turned.quantity == 2


def test_an_edge_begins_at_its_top_or_left_end_wherever_it_is_turned():
    for motion in LEFT_EDGE_TO.values():
        turned = moved(part(), motion)
        for edge in (turned.bound, *turned.mouths):
            assert (-edge.start.y, edge.start.x) < (
                -edge.end.y,
                edge.end.x,
            ) or edge.start.x < edge.end.x


def test_mirroring_is_told_and_twice_is_none():
    assert mirrored(part()).is_mirrored
    assert not moved(part(), LEFT_EDGE_TO["top"]).is_mirrored
    twice = mirrored(mirrored(part()))
    assert not twice.is_mirrored
    assert [panel.bounds() for panel in twice.panels] == [panel.bounds() for panel in part().panels]
    assert [str(fold.key) for fold in twice.lines] == [str(fold.key) for fold in part().lines]


def test_a_mirror_image_stands_at_its_origin():
    turned = mirrored(part())
    box = bounds_of(turned.outline)
    assert (box.left, box.bottom, box.right, box.top) == (0, 0, 47, 57)
    assert turned.panel("tab").bounds().left == 40


def test_letters_are_still_read_from_left_to_right_about_the_same_middle():
    width = 5 * F(10, 3) * F(6, 10)
    middle = Point(10 + width / 2, 40 + F(5, 3))
    for motion in LEFT_EDGE_TO.values():
        text = moved(part(), motion).lettering[0]
        assert (text.at.x + width / 2, text.at.y + F(5, 3)) == motion.place(middle)
        assert (text.text, text.height) == ("abcde", F(10, 3))
    assert moved(part(), shift(1, F(1, 3))).lettering[0].at == (11, 40 + F(1, 3))


def test_a_part_goes_to_its_origin_exactly_and_stays_there():
    away = moved(part(), shift(F(100, 7), F(-10, 3)))
    back = at_origin(away)
    assert [panel.outline for panel in back.panels] == [panel.outline for panel in part().panels]
    assert at_origin(back) is back
    assert moved(part(), MIRROR).outline != part().outline


def test_an_arc_that_reaches_farthest_leaves_the_other_corners_exact():
    bowl = Path(
        (
            Vertex(F(0), F(5), F(1, 2)),
            Vertex(F(20), F(5)),
            Vertex(F(20), F(25, 3)),
            Vertex(F(0), F(25, 3)),
        )
    )
    moved_part = at_origin(replace(part(), outline=(bowl,), panels=(Panel("a", bowl),)))
    assert all(isinstance(v, Fraction) for point in moved_part.outline[0].points for v in point)
    assert abs(float(bounds_of(moved_part.outline).bottom)) < 1e-9
