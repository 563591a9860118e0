"""Leaves that turn: strokes of the cross-section that cross, and the work that it takes."""

from __future__ import annotations

import pytest
from composed import album, bound, composed

from dielines.folding import turning_pages
from dielines.folding.turning_pages import Stroke, _crossing, collisions


def stroke(start, end, low=0.0, high=10.0) -> Stroke:
    return Stroke(("part", "panel"), start, end, low, high, False)


def test_strokes_that_cross_reach_through_each_other_by_the_shortest_end() -> None:
    level, steep = stroke((0, 0), (10, 0)), stroke((4, -2), (4, 3))
    assert _crossing(level, steep) == pytest.approx(2)
    assert _crossing(steep, level) == pytest.approx(2)


@pytest.mark.parametrize(
    "other",
    [
        stroke((4, 0), (4, 3)),  # stands on it
        stroke((10, -2), (10, 3)),  # meets its end
        stroke((0, 1), (10, 1)),  # lies over it
        stroke((2, 0), (20, 0)),  # lies along it
        stroke((4, -2), (4, 3), low=11, high=20),  # is nearer to the head
    ],
)
def test_strokes_that_touch_or_pass_do_not_cross(other) -> None:
    assert _crossing(stroke((0, 0), (10, 0)), other) == 0


def test_the_work_grows_with_the_openings_and_no_faster(monkeypatch) -> None:
    asked = []
    crossing = turning_pages._crossing
    monkeypatch.setattr(turning_pages, "_crossing", lambda a, b: asked.append(1) or crossing(a, b))
    work = []
    for count in (6, 12, 24):
        whole = bound(composed(album(", ".join(['"flap"'] * count))))
        asked.clear()
        assert list(collisions(whole.book, whole.parts, whole.assembly)) == []
        work.append(len(asked) / (count - 1))
    assert work[0] == work[1] == work[2]
