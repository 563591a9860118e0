"""The bound book as glTF, read back by trimesh, which shares nothing with the writer."""

import io
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import trimesh
from shapely import Polygon

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.reading import book_document
from dielines.folding.folded_book import FoldedBook
from dielines.folding.hosts import hosts_of
from dielines.models.book_places import book_facets, true_shifts
from dielines.models.gltf_file import write_gltf
from dielines.part import Side
from dielines.paths import flattened

SAMPLES = Path(__file__).parents[2] / "samples"
NAMES = ("lakeside", "seed-swap", "first-year")
MM = 1e-3  #: metres


@cache
def folded(name: str) -> FoldedBook:
    source = book_source(book_document(SAMPLES / name / f"{name}.toml"))
    return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)


@cache
def read(name: str) -> trimesh.Scene:
    return trimesh.load(io.BytesIO(write_gltf(folded(name))), file_type="glb", process=False)


@cache
def bodies(name: str) -> dict[str, trimesh.Trimesh]:
    """Each part of the file as one body, its pieces put together again."""
    scene, found = read(name), {}
    for node in scene.graph.nodes_geometry:
        transform, geometry = scene.graph[node]
        mesh = scene.geometry[geometry].copy()
        mesh.apply_transform(transform)
        key = next(
            k
            for k in sorted((entry.key for entry in folded(name).book.parts), key=len, reverse=True)
            if geometry.startswith(k)
        )
        found.setdefault(key, []).append(mesh)
    joined = {key: trimesh.util.concatenate(meshes) for key, meshes in found.items()}
    for mesh in joined.values():
        mesh.merge_vertices(merge_tex=True, merge_norm=True, digits_vertex=8)
    return joined


@pytest.mark.parametrize("name", NAMES)
def test_there_is_a_node_for_every_part_that_has_a_place(name):
    book = folded(name)
    facets = book_facets(book, book.assembly, true_shifts(book))
    assert set(bodies(name)) == {key for key, found in facets.items() if found}
    assert set(book.assembly.places) <= {entry.key for entry in book.book.parts}


@pytest.mark.parametrize("name", NAMES)
def test_each_part_has_its_area_times_its_thickness_for_volume(name):
    book = folded(name)
    bent = {key for key, pieces in book.assembly.bent.items() if pieces}
    for key, mesh in bodies(name).items():
        entry = book.book.part(key)
        if key in bent:
            continue
        area = sum(
            Polygon(flattened(p.outline, 0.05), [flattened(h, 0.05) for h in p.holes]).area
            for p in entry.part.panels
            if p.name in book.assembly.places[key]
        )
        wanted = area * float(entry.stock.caliper.mm) * MM**3
        stretched = (
            0.12 if key.endswith(("reinforcement", "backing")) or entry.role != "boards" else 1e-3
        )
        assert mesh.volume == pytest.approx(wanted, rel=stretched), key


@pytest.mark.parametrize("name", NAMES)
def test_the_model_is_as_large_as_the_book_in_metres_and_lies_on_its_back(name):
    """The boards are the largest: width across (x), height to the back (z), all between them up (y)."""
    book = folded(name)
    board = book.book.part("front-board").part
    box = {key: bodies(name)[key].bounds for key in ("front-board", "back-board")}
    for low, high in box.values():
        assert high[0] - low[0] == pytest.approx(float(board.width) * MM, rel=1e-4)
        assert high[2] - low[2] == pytest.approx(float(board.height) * MM, rel=1e-4)
        assert high[1] - low[1] == pytest.approx(
            float(book.book.part("front-board").stock.caliper.mm) * MM, rel=1e-3
        )
    upright = book.thickness.upright
    apart = upright["front-board", "board"] - upright["back-board", "board"]
    middle = [box[key].mean(axis=0)[1] for key in ("front-board", "back-board")]
    assert middle[0] - middle[1] == pytest.approx(apart * MM, abs=1e-6)


@pytest.mark.parametrize("name", NAMES)
def test_boards_and_pages_are_closed_and_face_outwards(name):
    for key, mesh in bodies(name).items():
        if key.endswith("board"):
            assert mesh.is_watertight
            assert mesh.is_winding_consistent
        assert mesh.volume > 0


def test_no_page_reaches_into_a_board():
    name = "lakeside"
    top = bodies(name)["front-board"].bounds[0][1]
    bottom = bodies(name)["back-board"].bounds[1][1]
    pages = [bodies(name)[f"page-{k}"].bounds for k in range(1, 6)]
    assert max(box[1][1] for box in pages) <= top + 1e-6
    assert min(box[0][1] for box in pages) >= bottom - 1e-6


def test_the_tail_looks_to_the_viewer_and_the_spine_is_at_the_left():
    boxes = bodies("lakeside")
    assert boxes["spine-board"].bounds[1][0] < boxes["page-1"].bounds[1][0]
    assert boxes["edge-front-tail"].bounds[1][2] > boxes["edge-front-head"].bounds[1][2]


def test_faces_reverses_and_edges_have_materials_of_their_own():
    scene = read("lakeside")
    names = {g.visual.material.name for g in scene.geometry.values()}
    assert {"paper face", "paper reverse", "paper edge", "boards face", "covering reverse"} <= names
    page = [g for g in scene.geometry.items() if g[0].startswith("page-4")][:3]
    materials = {g.visual.material.name for _, g in page}
    assert materials == {"paper face", "paper reverse", "paper edge"}


def test_the_same_book_gives_the_same_bytes():
    book = folded("lakeside")
    again = FoldedBook(book.book, book.workshop)
    assert write_gltf(book) == write_gltf(again)


def test_every_corner_is_finite():
    assert all(np.isfinite(g.vertices).all() for g in read("first-year").geometry.values())


@pytest.mark.parametrize("name", NAMES)
def test_mats_lie_on_the_page_that_they_are_stuck_on(name):
    """However thickness moved the page: the middle of both is less than a millimetre apart."""
    book = folded(name)
    hosts = hosts_of(book.book, book.parts)
    mats = [entry.key for entry in book.book.parts if entry.role == "mats"]
    for key in mats:
        host = hosts[key]
        panels = [p for (k, p) in true_shifts(book) if k == host.part and p == host.panel]
        assert panels
        shift, own = true_shifts(book)[host.part, host.panel], true_shifts(book)[key, "mat"]
        places = book.assembly.places
        page = places[host.part][host.panel]
        mat = places[key]["mat"]
        page_height = float(page.translation[2]) + shift * (1 if page.normal[2] > 0 else -1)
        mat_height = float(mat.translation[2]) + own * (1 if mat.normal[2] > 0 else -1)
        away = (mat_height - page_height) * (1 if page.normal[2] > 0 else -1)
        assert 0 < away * (1 if host.side is Side.FACE else -1) < 1
