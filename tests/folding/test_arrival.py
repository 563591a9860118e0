"""Which panel lies over which; stacks of FOLDING: common sense of the trade, tried by hand."""

import pytest
from spoiling import with_angle, with_steps

from dielines.folding.folded_parts import fold_part
from dielines.folding.layering import ClashKind, Outcome
from dielines.language.building import build
from dielines.language.library import built_in_library

LIBRARY = built_in_library()


def part_of(name, **given):
    return build(LIBRARY.find(name), given, {}).parts[0]


def stack(folded, *panels):
    """Return the panels from the lowest to the highest, as the root's face looks up."""
    up = {name: folded.poses[name].rotation[2][2] for name in panels}

    def below(name):
        return sum(
            folded.side_of(name, other) * (1 if up[name] > 0 else -1) < 0
            for other in panels
            if other != name
        )

    return sorted(panels, key=below)


def test_the_seam_of_a_pocket_folded_first_lies_inside_it():
    folded = fold_part(part_of("side-pocket"))
    assert folded.layering.outcome is Outcome.ONE
    assert folded.side_of("seam", "back") == 1  # its face, which bears the tape, looks to the back
    assert folded.side_of("back", "seam") == -1  # and meets the back's reverse


def test_the_seam_folded_last_lies_outside():
    part = part_of("side-pocket")
    last = with_steps(part, "front / tail, tail / back", "seam / head, head / front")
    first, other = fold_part(part), fold_part(last)
    assert other.side_of("back", "seam") == -first.side_of("back", "seam")


def test_a_map_in_four_has_the_one_order_that_hands_give_it():
    folded = fold_part(part_of("map-fold"))
    assert folded.layering.outcome is Outcome.ONE
    assert all(abs(side) == 1 for side in folded.layering.sides.values())


def test_all_flaps_of_an_envelope_at_once_come_through_each_other():
    part = part_of("envelope")
    together = with_steps(part, ", ".join(str(line.key) for line in part.folds))
    layering = fold_part(together).layering
    assert layering.outcome is Outcome.IMPOSSIBLE
    assert {clash.kind for clash in layering.clashes} == {ClashKind.THROUGH}


def test_sides_are_relative_to_each_panel_so_that_both_views_agree():
    folded = fold_part(part_of("envelope"))
    normals = {name: pose.rotation[2][2] for name, pose in folded.poses.items()}
    for (a, b), side in folded.layering.sides.items():
        same_way = normals[a] * normals[b] > 0
        assert folded.side_of(b, a) == (-side if same_way else side)


@pytest.mark.parametrize("angle", [180, -180])
def test_a_valley_brings_a_panel_to_the_face_and_a_mountain_to_the_reverse(angle):
    part = part_of("folio")
    (line,) = [str(line.key) for line in part.folds]
    first, second = line.split(" ")[::2]
    folded = fold_part(with_angle(part, line, angle))
    assert folded.side_of(first, second) == (1 if angle > 0 else -1)
