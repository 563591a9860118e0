"""The command picture: which files it writes of a book, a part and a template."""

import io
import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
import trimesh
from PIL import Image

from dielines.formats.kinds import formats
from dielines_cli.main import main

LAKE = """units = "in"
title = "A weekend at the lake"
size = "page 6 1/4 x 4 1/4"
binding = "tab and channel"
pages = ["side pocket", "flap", "plain leaf"]
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch) -> Path:
    """A folder with a book, and a workshop of which nothing is told."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workshop.toml").write_text('units = "in"\n', encoding="utf-8")
    (tmp_path / "lake.toml").write_text(LAKE, encoding="utf-8")
    return tmp_path


def written(folder: str = "lake") -> set[str]:
    return {path.name for path in Path(folder).iterdir()} if Path(folder).is_dir() else set()


def title(file: str) -> str:
    return ElementTree.parse(file).getroot().find("{http://www.w3.org/2000/svg}title").text


def test_a_book_is_drawn_closed_pulled_apart_and_open_in_the_middle(capsys):
    assert main(["picture", "lake.toml"]) == 0
    assert written() == {"lake.closed.svg", "lake.exploded.svg", "lake.open-2.svg"}
    assert title("lake/lake.open-2.svg").endswith("open between page 2 and page 3")
    said = capsys.readouterr().out
    assert all(str(Path("lake") / name) in said for name in written())


def test_what_is_asked_for_is_all_that_is_drawn():
    assert main(["picture", "lake.toml", "--open", "0", "--open", "1", "--exploded"]) == 0
    assert written() == {"lake.open-0.svg", "lake.open-1.svg", "lake.exploded.svg"}


def test_what_the_checks_find_is_drawn_too():
    settings = ["--set", "page.2.flap=6"]
    assert main(["picture", "lake.toml", "--checks", "--also", "png", *settings]) == 0
    assert written() == {"lake.checks.svg", "lake.checks.png"}
    assert "what the checks found" in title("lake/lake.checks.svg")


def test_one_part_is_shown_as_it_is_folded():
    assert main(["picture", "lake.toml", "--only", "page 2"]) == 0
    (name,) = written()
    assert title(f"lake/{name}") == "page 2: flap, how it is folded"


def test_one_part_at_one_stage():
    assert (
        main(["picture", "lake.toml", "--only", "page 2", "--stage", "0.25", "--out", "here"]) == 0
    )
    (name,) = written("here")
    assert name.endswith(".stage-0.25.svg")
    assert "step 1" in title(f"here/{name}")


def test_a_template_is_drawn_where_one_is_in_sizes_that_are_given():
    assert main(["picture", "flap", "width=7", "--stage", "1/2"]) == 2
    assert main(["picture", "flap", "width=7", "--stage", "0.5"]) == 0
    assert main(["picture", "side-pocket", "--width", "7", "--with", "cover-tab"]) == 0
    names = {path.name for path in Path().glob("*.svg")}
    assert names == {"flap.stage-0.5.svg", "side-pocket.page.svg", "side-pocket.reinforcement.svg"}


def test_a_template_file_of_ones_own_is_drawn(folder):
    text = """
template = "ring"
kind = "insert"
units = "mm"
[parts.ring]
columns = [100]
rows = ["60 : ring", "30 : foot"]
folds = { "ring / foot" = "valley" }
"""
    (folder / "own").mkdir()
    (folder / "own" / "ring.toml").write_text(text, encoding="utf-8")
    assert main(["picture", "own/ring.toml"]) == 0
    assert title("ring.svg") == "ring, how it is folded"


def test_pictures_are_written_as_png_too():
    assert main(["picture", "lake.toml", "--open", "1", "--also", "png"]) == 0
    assert written() == {"lake.open-1.svg", "lake.open-1.png"}
    image = Image.open(io.BytesIO(Path("lake/lake.open-1.png").read_bytes()))
    assert image.width > 1000
    assert len(image.convert("RGB").getcolors(1 << 24)) > 20


def test_models_are_written_of_what_folds():
    assert main(["picture", "lake.toml", "--exploded", "--also", "fold", "--also", "glb"]) == 0
    folds = sorted(name for name in written() if name.endswith(".fold"))
    assert "lake.A.fold" in folds
    for name in folds:
        table = json.loads(Path("lake", name).read_text("utf-8"))
        assert table["file_spec"] == 1.2
        assert {"V", "M"} & set(table["edges_assignment"])
    assert trimesh.load("lake/lake.glb").geometry


def test_nothing_that_is_drawn_can_be_taken_for_a_cut_file():
    main(["picture", "lake.toml", "--only", "page 1"])
    svg = next(kind for kind in formats() if kind.suffix == ".svg")
    content = next(Path("lake").glob("*.svg")).read_bytes()
    reading = svg.read(content, "x.svg")
    assert b"not to cut" in content
    assert "size-mm" not in dict(reading.drawing.metadata)


def test_the_same_command_gives_the_same_bytes():
    for out in ("one", "two"):
        main(["picture", "lake.toml", "--also", "glb", "--also", "png", "--out", out])
    assert written("one") == written("two")
    for name in written("one"):
        assert Path("one", name).read_bytes() == Path("two", name).read_bytes(), name


def test_a_setting_counts_for_the_picture():
    main(["picture", "lake.toml", "--only", "page 2", "--stage", "1", "--out", "one"])
    main(
        [
            "picture",
            "lake.toml",
            "--only",
            "page 2",
            "--stage",
            "1",
            "--out",
            "two",
            "--set",
            "page.2.flap=2",
        ]
    )
    (name,) = written("one")
    assert Path("one", name).read_bytes() != Path("two", name).read_bytes()


@pytest.mark.parametrize(
    "arguments",
    [
        ["lake.toml", "--open", "4"],
        ["lake.toml", "--open", "-1"],
        ["lake.toml", "--open", "1", "--only", "page 2"],
        ["lake.toml", "--stage", "0.5"],
        ["lake.toml", "--stage", "2", "--only", "page 2"],
        ["lake.toml", "--stage", "nan", "--only", "page 2"],
        ["lake.toml", "--only", "page 9"],
        ["lake.toml", "--only", "page 2", "--also", "glb"],
        ["lake.toml", "--also", "gif"],
        ["lake.toml", "width=7"],
        ["lake.toml", "--with", "cover-tab"],
        ["lake.toml", "--set", "page.9.flap=2"],
        ["flap", "--open", "1"],
        ["flap", "--exploded"],
        ["flap", "--checks"],
        ["lake.toml", "--checks", "--only", "page 2"],
        ["flap", "--only", "page 2"],
        ["flap", "--set", "a=1"],
        ["flap", "--also", "glb"],
        ["flap", "width=900"],
        ["no-such-thing"],
        ["nothing.toml"],
    ],
)
def test_what_cannot_be_drawn_is_told_and_nothing_is_written(arguments, capsys):
    before = sorted(Path().rglob("*"))
    assert main(["picture", *arguments]) == 2
    assert sorted(Path().rglob("*")) == before
    captured = capsys.readouterr()
    assert captured.err
    assert "Traceback" not in captured.err
