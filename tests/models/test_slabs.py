"""Panels as bodies: closed, of the right volume, with outsides looking out (trimesh)."""

import numpy as np
import pytest
import trimesh

from dielines.models.facets import Facet, placed
from dielines.models.patches import EdgeKind
from dielines.models.slabs import slab
from dielines.paths import Point
from dielines.poses import Pose
from dielines.rigid import AT_REST, turn_about

SHEET = [(0, 0), (40 / 3, 0), (40 / 3, 60 / 7), (3, 60 / 7), (3, 5), (0, 5)]
HOLE = [(5, 2), (5, 4), (8, 4), (8, 2)]
AREA = 40 / 3 * 60 / 7 - 3 * (60 / 7 - 5)


def facet(rings, pose: Pose = AT_REST) -> Facet:
    place = placed(pose)
    kinds = tuple((EdgeKind.OUTLINE,) * len(ring) for ring in rings)
    return Facet("a", "page", tuple(place.at(ring) for ring in rings), kinds, place.normal)


def mesh(body) -> trimesh.Trimesh:
    faces = np.vstack([body.face, body.reverse, body.sides])
    return trimesh.Trimesh(body.corners, faces, process=False)


@pytest.mark.parametrize("angle", [0, 37, 90, 180, -123.4])
@pytest.mark.parametrize(
    ("holes", "area"), [([], AREA), ([HOLE], AREA - 6), ([HOLE[::-1]], AREA - 6)]
)
def test_a_panel_is_a_closed_body_with_its_area_times_its_thickness(angle, holes, area):
    pose = turn_about(Point(1, 2), Point(5, 3), angle)
    found = mesh(slab(facet([SHEET, *holes], pose), 1 / 7))
    assert found.is_watertight
    assert found.is_winding_consistent
    assert found.volume == pytest.approx(area / 7, rel=1e-9)


@pytest.mark.parametrize("angle", [0, 37, 180])
def test_the_face_looks_where_the_panel_does(angle):
    one = facet([SHEET], turn_about(Point(1, 2), Point(5, 3), angle))
    body = slab(one, 1 / 7)
    normals = mesh(body).face_normals[: len(body.face)]
    assert np.allclose(normals, one.normal, atol=1e-9)
    half = (body.corners[: len(SHEET)] - one.rings[0]) @ one.normal
    assert np.allclose(half, 1 / 14)
