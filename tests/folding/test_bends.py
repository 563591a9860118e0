"""Bend allowance: BA = pi/180 A (R + K t), as texts on sheet metal give it.

The factors .7854, 1.5708, .5184 and 1.0367 are from such texts, by calculation; for
cardstock no K is published, so only the formula and its bounds are held here.
"""

from __future__ import annotations

import math

import pytest

from dielines.folding.bends import bend_allowance, bends_of
from dielines.language.building import build
from dielines.language.library import built_in_library

PAPER = 0.2413


@pytest.mark.parametrize(
    ("angle", "neutral_axis", "factor"),
    [(90, 0.5, 0.7854), (180, 0.5, 1.5708), (90, 0.33, 0.5184), (180, 0.33, 1.0367), (180, 0, 0)],
)
def test_allowance_of_a_sharp_fold_is_the_factor_of_the_texts(angle, neutral_axis, factor):
    found = bend_allowance(angle, PAPER, 0, neutral_axis)
    assert found == pytest.approx(factor * PAPER, abs=5e-5)


def test_a_half_turn_in_cardstock_takes_a_quarter_of_a_millimetre():
    assert bend_allowance(180, PAPER) == pytest.approx(0.250, abs=5e-4)
    assert bend_allowance(180, PAPER, 0, 0.5) == pytest.approx(0.379, abs=5e-4)


def test_a_radius_adds_its_own_arc():
    assert bend_allowance(60, 0.3, 5 / 7, 0) == pytest.approx(math.pi / 3 * 5 / 7)
    assert bend_allowance(-60, 0.3, 5 / 7, 0) == bend_allowance(60, 0.3, 5 / 7, 0)


@pytest.mark.parametrize("neutral_axis", [-0.01, 0.51, math.inf])
def test_a_neutral_axis_outside_of_the_paper_is_refused(neutral_axis):
    with pytest.raises(ValueError, match="between 0 and"):
        bend_allowance(90, PAPER, 0, neutral_axis)


def test_allowance_grows_with_the_neutral_axis_between_its_bounds():
    found = [bend_allowance(90, PAPER, 0, k / 14) for k in range(8)]
    assert found[0] == 0
    assert found == sorted(found)


def test_every_fold_of_a_part_has_its_bend_and_a_score_at_rest_has_none():
    library = built_in_library()
    part = build(library.find("side-pocket"), {}, {}).parts[0]
    bends = list(bends_of("page-1", part, PAPER))
    assert {b.fold for b in bends} == {line.key for line in part.folds}
    assert {b.allowance for b in bends} == {bend_allowance(90, PAPER)}
