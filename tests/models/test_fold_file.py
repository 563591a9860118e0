"""FOLD files: what is written reads back the same, and every fault of a stranger's file is told.

Source: FOLD specification 1.2, doc/spec.md, and its examples (tests/outside/data/fold).
"""

import json
from pathlib import Path

import pytest

from dielines.errors import ForeignFileError
from dielines.models.fold_file import MAX_FAULTS, read_fold, write_fold
from dielines.models.fold_frames import FoldFile, FoldFrame

EXAMPLES = Path(__file__).parents[1] / "outside" / "data" / "fold"
SHEET = FoldFrame(
    vertices=((0.0, 0.0), (100 / 3, 0.0), (100 / 3, 50 / 7), (0.0, 50 / 7)),
    edges=((0, 1), (1, 2), (2, 3), (0, 3), (0, 2)),
    assignments=("B", "B", "B", "B", "V"),
    angles_deg=(0.0, 0.0, 0.0, 0.0, 180.0),
    faces=((0, 1, 2), (0, 2, 3)),
    orders=((1, 0, 1),),
    title="Blatt „a“ & <b>",
    classes=("creasePattern",),
    unit="mm",
    panels=("left", "right"),
    lines=("", "", "", "", "left - right"),
)


def codes(content) -> list[str]:
    raw = content if isinstance(content, bytes) else json.dumps(content).encode()
    with pytest.raises(ForeignFileError) as caught:
        read_fold(raw, "from-afar.fold")
    assert all(fault.file == "from-afar.fold" for fault in caught.value.faults)
    return [fault.code for fault in caught.value.faults]


def table(**changed) -> dict:
    return json.loads(write_fold(FoldFile("sheet", (SHEET,)))) | changed


def test_what_is_written_reads_back_the_same_to_the_last_digit():
    model = FoldFile("a title", (SHEET, SHEET, SHEET), "words", ("singleModel",))
    assert read_fold(write_fold(model), "x") == model


def test_the_same_model_gives_the_same_bytes():
    assert write_fold(FoldFile("a", (SHEET,))) == write_fold(FoldFile("a", (SHEET,)))


def test_keys_of_our_own_carry_a_colon_and_all_others_are_of_the_specification():
    known = {
        "file_spec", "file_creator", "file_title", "file_classes", "frame_title", "frame_classes",
        "frame_unit", "vertices_coords", "edges_vertices", "edges_assignment", "edges_foldAngle",
        "faces_vertices", "faceOrders", "file_description",
    }  # fmt: skip
    keys = set(table())
    assert {key for key in keys if ":" not in key} <= known
    assert {key for key in keys if ":" in key} == {"faces_dielines:panel", "edges_dielines:line"}
    assert table()["file_spec"] == 1.2


@pytest.mark.parametrize("file", sorted(EXAMPLES.glob("*.fold")), ids=lambda file: file.stem)
def test_the_examples_of_the_specification_read_as_they_are(file):
    raw = json.loads(file.read_text("utf-8"))
    key = read_fold(file.read_bytes(), file.name).frames[0]
    assert [list(vertex) for vertex in key.vertices] == raw["vertices_coords"]
    assert [list(face) for face in key.faces] == raw["faces_vertices"]
    assert [list(edge) for edge in key.edges] == raw["edges_vertices"]
    assert list(key.assignments) == raw["edges_assignment"]
    assert list(key.classes) == raw.get("frame_classes", [])


def test_a_frame_inherits_what_it_does_not_say_itself():
    child = {"frame_parent": 0, "frame_inherit": True, "frame_title": "moved",
             "vertices_coords": [[0, 0, 1], [1, 0, 1], [1, 1, 1], [0, 1, 1]]}  # fmt: skip
    grandchild = {"frame_parent": 1, "frame_inherit": True, "frame_unit": "in"}
    alone = {"frame_parent": 0, "frame_title": "alone"}
    found = read_fold(json.dumps(table(file_frames=[child, grandchild, alone])).encode(), "x")
    key, first, second, third = found.frames
    assert first.faces == second.faces == key.faces
    assert (first.title, second.title, second.unit, first.unit) == ("moved", "moved", "in", "mm")
    assert second.vertices[2] == (1.0, 1.0, 1.0)
    assert (third.faces, third.title) == ((), "alone")


def test_parents_in_a_circle_are_told():
    frames = [
        {"frame_parent": 2, "frame_inherit": True},
        {"frame_parent": 1, "frame_inherit": True},
    ]
    assert set(codes(table(file_frames=frames))) == {"bad-parent"}
    assert codes(table(file_frames=[{"frame_parent": 7, "frame_inherit": True}])) == ["bad-parent"]


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"vertices_coords": [[0, 0], [1, "x"], [1, 1], [0, 1]]}, "bad-entry"),
        ({"vertices_coords": [[0, 0], [1, 1e12], [1, 1], [0, 1]]}, "bad-entry"),
        ({"vertices_coords": [[0, 0], [1], [1, 1], [0, 1]]}, "bad-entry"),
        ({"edges_vertices": [[0, 1], [1, 2], [2, 3], [0, 3], [0, 4]]}, "bad-entry"),
        ({"edges_vertices": [[0, 1], [1, 2], [2, 3], [0, 3], [0, -1]]}, "bad-entry"),
        ({"edges_vertices": [[0, 1], [1, 2], [2, 3], [0, 3], [0, 1.5]]}, "bad-entry"),
        ({"edges_vertices": [[0, 1], [1, 2], [2, 3], [0, 3], [0, True]]}, "bad-entry"),
        ({"edges_assignment": ["B", "B", "B", "B", "X"]}, "bad-entry"),
        ({"edges_assignment": ["B", "B", "V"]}, "wrong-length"),
        ({"edges_foldAngle": [0, 0, 0, 0, 181]}, "bad-entry"),
        ({"faces_vertices": [[0, 1], [0, 2, 3]]}, "bad-entry"),
        ({"faceOrders": [[0, 9, 1]]}, "bad-entry"),
        ({"faceOrders": [[0, 1, 2]]}, "bad-entry"),
        ({"faces_vertices": {"0": [0, 1, 2]}}, "bad-list"),
        ({"frame_classes": [1, 2]}, "bad-list"),
        ({"file_title": ["a"]}, "bad-text"),
        ({"file_spec": "newest"}, "bad-spec"),
        ({"file_spec": 2}, "bad-spec"),
        ({"file_frames": "many"}, "bad-frames"),
        ({"file_frames": [3]}, "bad-frame"),
    ],
)
def test_what_is_wrong_in_a_file_is_told(changed, code):
    assert code in codes(table(**changed))


def test_all_faults_are_told_at_once_up_to_a_bound():
    wrong = {"edges_foldAngle": [999] * 5, "faceOrders": [[8, 9, 1]], "file_title": 4}
    assert sorted(codes(table(**wrong))) == ["bad-entry"] * 6 + ["bad-text"]
    assert len(codes(table(edges_foldAngle=[999] * 500))) == MAX_FAULTS


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "not-json"),
        (b"\xff\xfe\x00", "not-json"),
        (b"[1, 2]", "not-fold"),
        (b'{"vertices_coords": [[0, 0], [1, 0], [1, NaN]]}', "bad-entry"),
        (b'{"vertices_coords": [[0, 0], [1, 0], [1, Infinity]]}', "bad-entry"),
        (b'{"vertices_coords": [[0, 1e999]]}', "bad-entry"),
        (b'{"vertices_coords": [[0, ' + b"9" * 5000 + b"]]}", "not-json"),
        (b"[" * 100_000, "too-deep"),
        (b" " * 5_000_001, "too-large"),
        (b'{"vertices_coords": [' + b"[0,0]," * 100_001 + b"[0,0]]}", "bad-list"),
    ],
    ids=range(10),
)
def test_what_is_no_fold_file_or_far_too_much_is_refused(content, code):
    assert codes(content) == [code]
