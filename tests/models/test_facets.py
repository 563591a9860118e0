"""Panels in space: shapes stay as they are, walls follow what they stand on, half turns get a side."""

from fractions import Fraction

import numpy as np
import pytest
from shapely import Polygon

from dielines.book.single import single_parts
from dielines.folding.folded_parts import fold_part
from dielines.language.library import BUILT_IN, built_in_library
from dielines.models.facets import facets_of, placed
from dielines.models.patches import EdgeKind, patches_of
from dielines.workshop.loading import load_workshop

LIBRARY = built_in_library()
STAGES = [0, Fraction(1, 7), Fraction(3, 5), 1]


def folded(name: str, of: str = ""):
    template = LIBRARY.find(name)
    entries = single_parts(template, {}, load_workshop(None, BUILT_IN, template.units or "mm"))
    return fold_part(next(entry.part for entry in entries if not of or entry.part.name == of))


def facets(part, stage, shifts=None):
    places = {
        name: placed(pose).shifted((shifts or {}).get(name, 0.0))
        for name, pose in part.at(stage).items()
    }
    return {f.panel: f for f in facets_of("a", patches_of(part.part), places) if f.panel}, [
        f for f in facets_of("a", patches_of(part.part), places) if not f.panel
    ]


def area(ring) -> float:
    """Newell's formula, in space."""
    return float(np.linalg.norm(np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0))) / 2


@pytest.mark.parametrize(
    "name", ["side-pocket", "three-flaps", "tray", "bellows-pocket", "round-card"]
)
@pytest.mark.parametrize("stage", STAGES)
def test_folding_keeps_the_area_and_the_shape_of_every_panel(name, stage):
    part = folded(name)
    found, joints = facets(part, stage)
    assert joints == []
    for panel, patch in patches_of(part.part).panels.items():
        flat = np.array(patch.rings[0])
        ring = found[panel].rings[0]
        assert area(ring) == pytest.approx(
            Polygon(flat).area, abs=1e-9 * max(1, Polygon(flat).area)
        )
        sides = np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1)
        assert np.allclose(
            sides, np.linalg.norm(flat - np.roll(flat, 1, axis=0), axis=1), atol=1e-9
        )


@pytest.mark.parametrize("name", ["side-pocket", "tray", "bellows-pocket"])
def test_unfolding_what_was_folded_gives_the_flat_part(name):
    part = folded(name)
    for stage in STAGES:
        found, _ = facets(part, stage)
        for panel, pose in part.at(stage).items():
            place = placed(pose)
            back = (found[panel].rings[0] - place.translation) @ place.rotation
            flat = np.array(patches_of(part.part).panels[panel].rings[0])
            assert np.allclose(back[:, :2], flat, atol=1e-9)
            assert np.allclose(back[:, 2], 0, atol=1e-9)


def test_the_wall_of_a_pocket_follows_its_front_and_its_back():
    part = folded("flap")
    plain, _ = facets(part, 1)
    moved, joints = facets(part, 1, {"flap": -1.25})
    assert joints == []
    height = np.ptp(plain["gusset"].rings[0][:, 2])
    assert np.ptp(moved["gusset"].rings[0][:, 2]) == pytest.approx(height + 1.25)
    assert np.ptp(moved["flap"].rings[0][:, 2]) == pytest.approx(0, abs=1e-9)


def test_a_half_turn_whose_panels_lie_apart_gets_a_narrow_side():
    part = folded("folio")
    names = [panel.name for panel in part.part.panels]
    other = next(name for name in names if name != part.root)
    found, joints = facets(part, 1, {other: -2 / 3})
    assert len(joints) == 1
    assert area(joints[0].rings[0]) == pytest.approx(float(part.part.height) * 2 / 3)
    assert joints[0].kinds[0].count(EdgeKind.OUTLINE) == 2
    assert found[other].rings[0].shape == facets(part, 1)[0][other].rings[0].shape


def test_edges_are_free_or_folds_and_nothing_is_lost_between():
    """Of each panel the lengths of free edges, folds and lines that are none make its outline."""
    for name in ("side-pocket", "index-tab", "box-step"):
        part = folded(name)
        for patch in patches_of(part.part).panels.values():
            for ring, kinds in zip(patch.rings, patch.kinds, strict=True):
                assert len(ring) == len(kinds)
        kinds = {k for p in patches_of(part.part).panels.values() for ring in p.kinds for k in ring}
        assert EdgeKind.OUTLINE in kinds
        assert (EdgeKind.NONE in kinds) == (name == "index-tab")


def test_the_ends_of_folds_are_corners_of_both_panels():
    for name in ("side-pocket", "three-flaps", "box-step", "maze-booklet"):
        patches = patches_of(folded(name).part)
        for crease in patches.creases:
            for panel in (crease.left, crease.right):
                ring = np.array(patches.panels[panel].rings[0])
                for end in (crease.start, crease.end):
                    assert np.linalg.norm(ring - np.array(end), axis=1).min() < 1e-6
