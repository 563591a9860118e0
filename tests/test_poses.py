"""Rigid folding: stages, exact poses, and loops that close or gape.

Sizes of the shapes are common practice, no source. The residuals of the map, the
box step and the booklet were measured with a program of its own before this one
was written, and are derived here where a formula exists. The sign of a fold is
that of the FOLD specification 1.2: valley positive.
"""

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

import pytest

from dielines.errors import UsageError
from dielines.part import FoldKey, Line, LineKind, Step
from dielines.paths import Path, line, polyline, rectangle
from dielines.poses import (
    angles_after,
    fold_angles,
    poses,
    residuals,
    stages_to_ask,
)

INCH = Fraction(254, 10)
QUARTERS = [Fraction(n, 4) for n in range(1, 5)]


class Flat(NamedTuple):
    """What the folding needs of a part."""

    panels: dict[str, Path]
    lines: list[Line]


def key(text: str) -> FoldKey:
    return FoldKey(*text.split())


def steps(*said: Mapping[str, int]) -> tuple[Step, ...]:
    return tuple(
        Step(tuple((key(text), Fraction(angle)) for text, angle in one.items())) for one in said
    )


def cells(columns: Sequence[object], rows: Sequence[tuple[object, str]]) -> dict[str, Path]:
    """Return panels of one cell each, in inches, the rows from top to bottom."""
    panels = {}
    top = sum(inches(height) for height, _ in rows)
    for height, names in rows:
        left = Fraction(0)
        for width, name in zip(columns, names.split(), strict=True):
            if name != ".":
                panels[name] = rectangle(left, top - inches(height), left + inches(width), top)
            left += inches(width)
        top -= inches(height)
    return panels


def inches(text: object) -> Fraction:
    return sum((Fraction(word) for word in str(text).split()), Fraction(0)) * INCH


def fold(panels: Mapping[str, Path], text: str, angle: object) -> Line:
    """Return the fold between two panels along the edge that they share."""
    ours, theirs = (panels[name] for name in (key(text).first, key(text).second))
    shared = [point for point in ours.points if point in theirs.points]
    return Line(key(text), LineKind.FOLD, Fraction(str(angle)), (line(*shared),))


def flat(panels: dict[str, Path], folds: Mapping[str, object]) -> Flat:
    return Flat(panels, [fold(panels, text, angle) for text, angle in folds.items()])


def pocket(angle: int) -> Flat:
    panels = cells(
        ["6 1/4"],
        [("1/2", "seam"), ("1/8", "head"), ("4 1/4", "front"), ("1/8", "tail"), ("4 1/4", "back")],
    )
    names = list(panels)
    return flat(panels, {f"{a} / {b}": angle for a, b in pairwise(names)})


def map_in_four(last: int) -> Flat:
    """Return a map whose fold between c and d is a mountain, as it must be, or not."""
    panels = cells([3, 3], [(3, "a b"), (3, "c d")])
    return flat(panels, {"a / c": 180, "b / d": 180, "a | b": 180, "c | d": last})


def map_steps(last: int) -> tuple[Step, ...]:
    return steps({"a / c": 180, "b / d": 180}, {"a | b": 180, "c | d": last})


def test_a_flat_part_is_at_rest():
    panels, lines = pocket(-90)
    placed = poses(panels, lines, (), Fraction(0))
    assert {pose.at((Fraction(1, 7), Fraction(1, 3))) for pose in placed.values()} == {
        (Fraction(1, 7), Fraction(1, 3), Fraction(0))
    }


@pytest.mark.parametrize(("angle", "side"), [(-90, -1), (90, 1)])
def test_a_pocket_folds_exactly_whichever_side_it_is_drawn_from(angle, side):
    panels, lines = pocket(angle)
    placed = poses(panels, lines, root="front")
    middle_of_front = (inches("2 1/8"), inches("6 1/2"))
    middle_of_back = (inches("2 1/8"), inches("2 1/8"))
    x, y, z = placed["back"].at(middle_of_back)
    assert (x, y) == middle_of_front
    assert z == side * inches("1/8")
    assert placed["seam"].at((Fraction(0), inches("9 1/8")))[2] == z
    assert placed["back"].normal == placed["seam"].normal == (0, 0, -1)
    assert placed["head"].normal == (0, -side, 0)
    assert placed["tail"].normal == (0, side, 0)


def test_exact_poses_do_not_depend_on_the_root():
    panels, lines = pocket(-90)
    by_front, by_tail = (poses(panels, lines, root=root) for root in ("front", "tail"))
    inverse = by_front["tail"].inverse()
    assert {name: inverse.compose(pose) for name, pose in by_front.items()} == by_tail


def test_the_flaps_of_an_envelope_land_mirrored_on_its_face():
    panels = cells(
        ["1 3/8", 4, "1 3/8"], [("2 1/7", ". top ."), (3, "west face east"), (2, ". bottom .")]
    )
    folds = {"top / face": 180, "face / bottom": 180, "west | face": 180, "face | east": 180}
    placed = poses(*flat(panels, folds))
    assert placed["face"].at((Fraction(1), Fraction(1))) == (1, 1, 0)
    assert placed["west"].at((Fraction(0), Fraction(1))) == (2 * inches("1 3/8"), 1, 0)
    assert placed["east"].at((inches("6 3/4"), Fraction(1))) == (inches(4), 1, 0)
    assert placed["bottom"].at((Fraction(1), Fraction(0))) == (1, inches(4), 0)
    assert placed["top"].at((Fraction(1), inches("7 1/7"))) == (1, inches("2 6/7"), 0)


def test_each_step_has_an_equal_share_and_the_rest_moves_in_a_last_one():
    lines = pocket(-90).lines
    said = steps({"front / tail": -90, "tail / back": -45}, {"seam / head": -90})
    at = [fold_angles(lines, said, Fraction(n, 7)) for n in (0, 1, 2, 3, 4, 5, 6, 7)]
    assert [angles[key("front / tail")] for angles in at[:4]] == [
        0, Fraction(-270, 7), Fraction(-540, 7), -90,
    ]  # fmt: skip
    assert [angles[key("seam / head")] for angles in at[2:6]] == [
        0, Fraction(-180, 7), Fraction(-450, 7), -90,
    ]  # fmt: skip
    assert at[4][key("tail / back")] == -45
    assert at[5][key("tail / back")] == -45 - Fraction(45, 7)
    assert at[4][key("head / front")] == 0
    assert set(at[7].values()) == {-90}


def test_a_fold_can_stop_on_the_way_and_go_back_through_flat():
    lines = map_in_four(-180).lines
    said = steps({"c | d": 90}, {"c | d": -180})
    middle = [fold_angles(lines, said, Fraction(n, 12))[key("c | d")] for n in (2, 4, 5, 6, 8)]
    assert middle == [45, 90, Fraction(45, 2), -45, -180]


def test_a_step_that_ends_short_of_the_finished_angle_is_finished_last():
    lines = map_in_four(-180).lines
    reached = angles_after(lines, steps({"a | b": 90}))
    assert [angles[key("a | b")] for angles in reached] == [0, 90, 180]


def test_steps_that_finish_everything_need_no_last_one():
    lines = map_in_four(-180).lines
    assert len(angles_after(lines, map_steps(-180))) == 3
    assert len(angles_after(lines, ())) == 2


def test_a_step_may_speak_of_folds_that_are_not_there():
    lines = map_in_four(-180).lines
    assert key("x / y") not in fold_angles(lines, steps({"x / y": 90}), Fraction(1, 2))


@pytest.mark.parametrize("stage", [Fraction(-1, 7), Fraction(8, 7), 1.01])
def test_a_stage_outside_of_the_folding_is_refused(stage):
    with pytest.raises(ValueError, match="stage"):
        fold_angles([], (), stage)


def test_the_finished_stage_is_exact_as_a_float_too():
    panels, lines = pocket(-90)
    assert poses(panels, lines, (), 1.0) == poses(panels, lines)


def test_what_rests_flat_has_angles_at_every_stage_too():
    flat_fold = Line(key("a | b"), LineKind.FOLD, Fraction(0), ())
    assert fold_angles([flat_fold], (), Fraction(1, 3)) == {key("a | b"): 0}
    assert fold_angles([], (), Fraction(1)) == {}


def test_a_step_ends_at_its_angle_without_rounding():
    stop, finished = 171.9, 37.7
    assert stop + (finished - stop) * 1.0 != finished
    lines = [Line(key("a | b"), LineKind.FOLD, finished, ())]
    said = (Step(((key("a | b"), stop),)),)
    assert fold_angles(lines, said, 1.0) == {key("a | b"): finished}


def test_a_map_folded_one_after_the_other_closes_at_every_stage():
    panels, lines = map_in_four(-180)
    found = residuals(panels, lines, map_steps(-180))
    assert {residual.stage for residual in found} >= set(QUARTERS)
    assert all(residual.is_closed for residual in found)
    assert found[-1].gap == 0


@pytest.mark.parametrize("root", ["a", "b", "c", "d"])
@pytest.mark.parametrize("order", [1, -1])
def test_a_wrong_sign_in_a_map_shows_in_the_middle_only(root, order):
    """Whichever fold closes the loop; the corners beyond it move by twice 3 inches."""
    panels, lines = map_in_four(180)
    found = residuals(panels, lines[::order], map_steps(180), QUARTERS, root)
    assert [residual.gap / 25.4 for residual in found] == pytest.approx([0, 0, 6, 0], abs=1e-12)


def test_a_wrong_sign_shows_without_being_asked_where():
    said = steps({"a / c": 180}, {"b / d": 180}, {"a | b": 180}, {"c | d": 180})
    panels, lines = map_in_four(180)
    assert any(not residual.is_closed for residual in residuals(panels, lines, said))
    stages = stages_to_ask(lines, said)
    assert any(stage * 4 % 1 for stage in stages)
    assert stages[-1] == 1


def box_step(upper: object, lower: object, ridge: object) -> Flat:
    """Return a card with a step across its spine, folds so far above and below it, inches.

    The ridge lies so far above the spine.
    """
    w, spine = 2 * INCH, 4 * INCH
    high, middle, low = spine + inches(upper), spine + inches(ridge), spine - inches(lower)
    strip = [(w, high), (2 * w, high), (2 * w, spine), (3 * w, spine)]
    wall = [(0, spine), (w, spine), *strip, (3 * w, 2 * spine), (0, 2 * spine)]
    strip = [(2 * w, spine), (2 * w, low), (w, low), (w, spine)]
    floor = [(0, 0), (3 * w, 0), (3 * w, spine), *strip, (0, spine)]
    panels = {
        "wall": polyline(wall, closed=True),
        "floor": polyline(floor, closed=True),
        "tread": rectangle(w, middle, 2 * w, high),
        "riser": rectangle(w, low, 2 * w, middle),
    }
    across = [((w, y), (2 * w, y)) for y in (high, middle, low)]
    beside = [((0, spine), (w, spine)), ((2 * w, spine), (3 * w, spine))]
    lines = [
        hinge("wall / floor", 90, *beside),
        hinge("wall / tread", 90, across[0]),
        hinge("tread / riser", -90, across[1]),
        hinge("riser / floor", 90, across[2]),
    ]
    return Flat(panels, lines)


def hinge(text: str, angle: int, *pieces: tuple) -> Line:
    return Line(
        key(text), LineKind.FOLD, Fraction(angle), tuple(line(start, end) for start, end in pieces)
    )


@pytest.mark.parametrize("sizes", [(1, 1, 0), ("1 1/2", 1, "1/2"), ("1 1/3", "6/7", "10/21")])
def test_a_box_step_closes_when_its_ridge_lies_height_less_depth_from_the_spine(sizes):
    panels, lines = box_step(*sizes)
    found = residuals(panels, lines)
    assert found
    assert max(residual.gap for residual in found) < 1e-12


def test_a_box_step_with_its_ridge_on_the_spine_gapes_by_the_difference():
    """A parallelogram short of d on two sides gapes by d times the chord of the angle."""
    panels, lines = box_step(1, "1 1/2", 0)
    gaps = [residual.gap / 25.4 for residual in residuals(panels, lines, (), QUARTERS)]
    chords = [math.sin(math.radians(45 * stage)) for stage in QUARTERS]
    assert gaps == pytest.approx(chords, abs=1e-12)


def test_its_riser_ends_below_the_floor_by_as_much_as_was_measured():
    panels, lines = box_step(1, "1 1/2", 0)
    end, held = panels["riser"].points[0], lines[:3]
    at = [poses(panels, held, (), stage, "floor")["riser"].at(end) for stage in QUARTERS]
    depths = [-place[2] / 25.4 for place in at]
    assert depths == pytest.approx([0.191, 0.354, 0.462, 0.500], abs=5e-4)


BOOKLET = {
    "a1 | a2": 180, "a2 | a3": -180, "a3 | a4": 180, "a4 / b4": -180,
    "b1 | b2": -180, "b2 | b3": -180, "b3 | b4": 180, "a1 / b1": -180,
}  # fmt: skip
SPINES = ("a1 | a2", "a3 | a4", "b3 | b4", "b1 | b2")
BOOKLET_STEPS = steps(
    {"a1 / b1": -180, "a4 / b4": -180},
    {**dict.fromkeys(SPINES, 90), "a2 | a3": -180, "b2 | b3": -180},
    {**dict.fromkeys(SPINES[:3], 180), "b1 | b2": -180},
)


def booklet() -> Flat:
    """Return the ring of eight cells around one slit: a2, a3 do not hold b2, b3."""
    return flat(cells([2, 2, 2, 2], [(3, "a1 a2 a3 a4"), (3, "b1 b2 b3 b4")]), BOOKLET)


def test_a_one_slit_booklet_closes_in_the_steps_that_hands_make():
    panels, lines = booklet()
    found = residuals(panels, lines, BOOKLET_STEPS)
    assert {residual.stage for residual in found} >= {Fraction(1, 3), Fraction(2, 3), 1}
    assert max(residual.gap for residual in found) / 25.4 < 1e-14


def test_a_one_slit_booklet_folded_all_at_once_tears_and_closes_only_at_the_end():
    panels, lines = booklet()
    gaps = [residual.gap / 25.4 for residual in residuals(panels, lines, (), QUARTERS)]
    assert min(gaps[:3]) > 5
    assert gaps[3] < 1e-14


def test_a_part_without_loops_has_no_residuals():
    panels, lines = pocket(-90)
    assert residuals(panels, lines) == []


def test_a_ring_that_rests_flat_is_closed():
    panels, lines = map_in_four(180)
    resting = [Line(one.key, one.kind, Fraction(0), one.pieces) for one in lines]
    assert {residual.gap for residual in residuals(panels, resting)} == {0}


def test_a_fold_whose_pieces_lie_on_two_lines_gapes():
    panels, lines = pocket(90)
    tail = lines[3]
    raised = tuple(line((p.x, p.y + 1), (p.x + 1, p.y + 1)) for p in tail.pieces[0].points[:1])
    uneven = [*lines[:3], Line(tail.key, tail.kind, tail.angle_deg, (*tail.pieces, *raised))]
    (found,) = residuals(panels, uneven, (), [Fraction(1)])
    assert found.key == tail.key
    assert found.gap == pytest.approx(math.sqrt(2), abs=1e-12)


def test_panels_of_one_face_move_together():
    panels, lines = pocket(-90)
    held = [one for one in lines if str(one.key) != "tail / back"]
    placed = poses(panels, held, rigid=[("tail", "back")], root="front")
    assert placed["back"] == placed["tail"]


def test_a_part_that_falls_apart_is_refused():
    panels, lines = pocket(-90)
    with pytest.raises(UsageError):
        poses(panels, lines[1:], root="front")


def test_three_hundred_pleats_stand_exactly():
    names = [f"p{i}" for i in range(300)]
    panels = cells(["1/7"] * 300, [(3, " ".join(names))])
    folds = {f"{a} | {b}": 90 if i % 2 else -90 for i, (a, b) in enumerate(pairwise(names))}
    placed = poses(*flat(panels, folds), root="p0")
    last = panels["p299"].points[1]
    assert placed["p299"].at(last) == (inches("1/7") * 150, 0, -inches("1/7") * 150)
