"""Parts as FOLD files: held to the specification 1.2, to the part, and to rigid folding."""

import json
from collections import Counter
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import dist, hypot

import pytest
from shapely import Polygon, make_valid

from dielines.book.single import single_parts
from dielines.folding.folded_parts import fold_part
from dielines.language.library import BUILT_IN, built_in_library
from dielines.models.fold_file import read_fold, write_fold
from dielines.models.fold_model import fold_model
from dielines.part import LineKind
from dielines.paths import flattened, signed_area
from dielines.workshop.loading import load_workshop

LIBRARY = built_in_library()
NAMES = [template.name for template in LIBRARY.templates() if template.kind != "fold"]
LETTERS = {"B", "M", "V", "F", "C", "J"}


@cache
def parts(name: str):
    template = LIBRARY.find(name)
    entries = single_parts(template, {}, load_workshop(None, BUILT_IN, template.units or "mm"))
    return [fold_part(entry.part) for entry in {e.letter: e for e in entries}.values()]


def part(name: str, of: str = ""):
    return next(folded for folded in parts(name) if not of or folded.part.name == of)


@pytest.mark.parametrize("name", NAMES)
def test_every_part_reads_back_as_it_was_written(name):
    for folded in parts(name):
        model = fold_model(folded, f"{name} ‹é›")
        assert read_fold(write_fold(model), "x.fold") == model
        assert write_fold(model) == write_fold(fold_model(folded, f"{name} ‹é›"))


@pytest.mark.parametrize("name", NAMES)
def test_every_file_keeps_the_rules_of_the_specification(name):
    """Published: FOLD 1.2, sections edges_, faces_ and "Multiple Frames"."""
    for folded in parts(name):
        table = json.loads(write_fold(fold_model(folded)))
        assert table["file_spec"] == 1.2
        assert table["frame_classes"] == ["creasePattern"]
        for frame in (table, *table.get("file_frames", [])):
            assert frame["frame_unit"] == "mm"
            assert ("2D" in frame["frame_attributes"]) == (frame is table)
            edges = list(zip(frame["edges_assignment"], frame["edges_foldAngle"], strict=True))
            assert {letter for letter, _ in edges} <= LETTERS
            assert all((angle > 0) == (letter == "V") for letter, angle in edges)
            assert all((angle < 0) == (letter == "M") for letter, angle in edges)
            assert len(frame["edges_vertices"]) == len(edges)
            known = {tuple(sorted(edge)) for edge in frame["edges_vertices"]}
            for face in frame["faces_vertices"]:
                assert all(tuple(sorted(pair)) in known for pair in pairwise([*face, face[0]]))


@pytest.mark.parametrize("name", NAMES)
def test_faces_run_counter_clockwise_and_have_the_area_of_their_panels(name):
    for folded in parts(name):
        key = fold_model(folded).frames[0]
        for panel, face in zip(folded.part.panels, key.faces, strict=True):
            ring = [key.vertices[corner] for corner in face]
            twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise([*ring, ring[0]]))
            holes = sum(abs(signed_area(hole)) for hole in panel.holes)
            assert twice / 2 == pytest.approx(float(signed_area(panel.outline) - holes), rel=5e-3)


@pytest.mark.parametrize("name", NAMES)
def test_the_folded_form_has_every_corner_where_rigid_folding_puts_it(name):
    for folded in parts(name):
        key, *forms = fold_model(folded).frames
        for number, form in enumerate(forms, 1):
            poses = folded.at(Fraction(number, len(forms)))
            for panel, flat, face in zip(folded.part.panels, key.faces, form.faces, strict=True):
                for corner, place in zip(flat, face, strict=True):
                    wanted = poses[panel.name].at(key.vertices[corner])
                    assert dist([float(v) for v in wanted], form.vertices[place]) < 1e-4


def test_folds_slits_and_borders_have_the_lengths_that_they_have_on_the_part():
    """A slit is one edge C in the pattern, and two borders once it is folded."""
    folded = part("box-step")
    key, *_, last = fold_model(folded).frames

    def lengths(frame):
        found = Counter()
        for letter, (a, b) in zip(frame.assignments, frame.edges, strict=True):
            found[letter] += dist(frame.vertices[a], frame.vertices[b])
        return found

    def of(kind, sign=0):
        return sum(
            hypot(float(b[0] - a[0]), float(b[1] - a[1]))
            for line in folded.part.lines
            if line.kind is kind and (not sign or (line.angle_deg > 0) == (sign > 0))
            for piece in line.pieces
            for a, b in pairwise(piece.points)
        )

    flat, formed = lengths(key), lengths(last)
    assert flat["V"] == pytest.approx(of(LineKind.FOLD, 1))
    assert flat["M"] == pytest.approx(of(LineKind.FOLD, -1))
    assert flat["C"] == pytest.approx(of(LineKind.SLIT))
    assert formed["B"] == pytest.approx(flat["B"] + 2 * flat["C"])
    assert "C" not in formed
    assert "cuts" in key.attributes
    assert "noCuts" in last.attributes


def test_orders_are_those_of_the_layers():
    folded = part("side-pocket")
    last = fold_model(folded).frames[-1]
    found = {(last.panels[g], last.panels[f]): side for f, g, side in last.orders}
    assert found
    for pair, side in found.items():
        assert folded.side_of(*pair) == side
    assert len(found) * 2 == len([s for s in folded.layering.sides.values() if s])


def test_corners_along_a_slit_are_parted_when_it_is_folded():
    folded = part("box-step")
    key, *_, last = fold_model(folded).frames
    assert len(last.vertices) > len(key.vertices)


def test_a_window_is_joined_to_the_outline_by_an_edge_j():
    key = fold_model(part("frame-page")).frames[0]
    assert key.assignments.count("J") == 1
    assert "joins" in key.attributes
    face = key.faces[key.panels.index("frame")]
    assert len(face) > len(set(face))
    shape = make_valid(Polygon([key.vertices[corner] for corner in face]))
    frame = next(panel for panel in part("frame-page").part.panels if panel.name == "frame")
    whole = Polygon(flattened(frame.outline), [flattened(hole) for hole in frame.holes])
    assert shape.area == pytest.approx(whole.area, rel=1e-6)


def test_lines_and_panels_keep_their_names():
    key = fold_model(part("flap")).frames[0]
    assert key.panels == ("page", "gusset", "flap")
    named = {line: letter for line, letter in zip(key.lines, key.assignments, strict=True) if line}
    assert named == {"page | gusset": "V", "gusset | flap": "V"}


def test_what_is_never_folded_has_one_frame():
    assert len(fold_model(part("plain-leaf")).frames) == 1
    assert [frame.title for frame in fold_model(part("three-flaps")).frames] == [
        "flat", "after step 1 of 3", "after step 2 of 3", "folded",
    ]  # fmt: skip
