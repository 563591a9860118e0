"""The commands templates, show and part: what there is, what it takes, and one part alone."""

import json
import re
from pathlib import Path

import pytest

from dielines.formats.kinds import machine_formats, read_file
from dielines.language.library import built_in_library
from dielines_cli.commands.part import sizes_said
from dielines_cli.main import main

SUFFIXES = [kind.suffix for kind in machine_formats()]
OWN = """template = "my-card"
kind = "insert"
version = 2
units = "mm"
help = "A card of my own."
[parameters]
width = { type = "length", default = 70, min = 20, max = "2 * tall", help = "across" }
tall = { type = "length", default = "width + 20" }
turn = { type = "angle", default = 7.5 }
lip = { type = "choice", default = "plain", choices = ["plain", "arched"] }
open = { type = "flag", default = false }
[parts.card]
quantity = 3
columns = ["width"]
rows = ["tall : card"]
[parts.back]
stock = "board"
columns = ["width / 7"]
rows = ["tall : back"]
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workshop.toml").write_text('units = "in"\n', encoding="utf-8")
    (tmp_path / "my-card.toml").write_text(OWN, encoding="utf-8")
    return tmp_path


def said(capsys) -> str:
    return capsys.readouterr().out


def test_every_template_is_listed_with_its_sentence_and_ones_own_are_marked(capsys):
    assert main(["templates"]) == 0
    text = said(capsys)
    for template in built_in_library().templates():
        assert re.search(rf"^  {template.words} +{re.escape(template.help)}$", text, re.MULTILINE)
    assert re.search(r"^  my card +A card of my own\. \(your own\)$", text, re.MULTILINE)


def test_templates_are_found_beside_another_folder(tmp_path, capsys):
    (tmp_path / "elsewhere").mkdir()
    main(["templates", "--beside", "elsewhere"])
    assert "my card" not in said(capsys)
    assert main(["templates", "--beside", "nowhere"]) == 2


def test_a_program_gets_all_templates(capsys):
    main(["templates", "--json"])
    rows = {row["name"]: row for row in json.loads(said(capsys))}
    assert set(rows) == {*built_in_library().names(), "my-card"}
    assert rows["my-card"] == {
        "name": "my-card", "kind": "insert", "own": True, "version": 2, "help": "A card of my own.",
    }  # fmt: skip
    assert not rows["flap"]["own"]


def test_show_tells_defaults_limits_choices_and_the_sizes_of_the_parts(capsys):
    assert main(["show", "my card"]) == 0
    text = said(capsys)
    assert re.search(r"^width +70 mm +across +20 +2 \* tall$", text, re.MULTILINE)
    assert re.search(r"^tall +width \+ 20$", text, re.MULTILINE)
    assert re.search(r"^turn +7\.5", text, re.MULTILINE)
    assert re.search(r"^lip +plain +one of plain, arched", text, re.MULTILINE)
    assert re.search(r"^open +no", text, re.MULTILINE)
    assert re.search(r"^part +stock +size, mm +size, in$", text, re.MULTILINE)
    assert re.search(r"^my card: card +cardstock +70 x 90 ", text, re.MULTILINE)
    assert re.search(r"^my card: back +grey board +10 x 90 ", text, re.MULTILINE)


@pytest.mark.parametrize("name", built_in_library().names())
def test_every_template_can_be_shown(name, capsys):
    assert main(["show", name, "--json"]) == 0
    data = json.loads(said(capsys))
    assert data["name"] == name
    assert data["parts"] or data["kind"] == "fold"
    assert all(part["width"] > 0 and part["height"] > 0 for part in data["parts"])


@pytest.mark.parametrize(
    "sizes",
    [
        ["width=7 1/3", "height=5", "depth=1/7"],
        ["--width", "7 1/3", "--height=5", "depth=1/7"],
        ["--width=7 1/3 in", "height=127 mm", "--depth", "1/7"],
    ],
)
def test_sizes_are_given_as_pairs_or_as_options(sizes, capsys):
    assert main(["part", "side-pocket", *sizes, "--out", "out"]) == 0
    assert re.search(r"^A +1 +≈ 7 11/32 x 10 25/32", said(capsys), re.MULTILINE)
    for suffix in SUFFIXES:
        drawing = read_file(Path(f"out/side-pocket.cut{suffix}")).drawing
        assert drawing.width == pytest.approx(22 / 3 * 25.4, abs=1e-5)
        assert drawing.height == pytest.approx((10.5 + 2 / 7) * 25.4, abs=1e-5)


# Worked check of the trade (common practice, no source).
def test_what_a_binding_adds_is_asked_for_by_name(capsys):
    sizes = ["width=6 1/4", "height=4 1/4", "cover-tab.tab=2"]
    assert main(["part", "side-pocket", *sizes, "--with", "cover-tab"]) == 0
    assert re.search(r"^A +1 +8 3/8 x 9 1/4 ", said(capsys), re.MULTILINE)


def test_parts_are_drawn_as_often_as_their_template_says():
    assert main(["part", "my-card"]) == 0
    groups = read_file(Path("my-card.cut.svg")).drawing.groups
    assert [group.key for group in groups] == ["card-1", "card-2", "card-3", "back"]


def test_a_fragment_alone_takes_the_length_of_its_edge(capsys):
    assert main(["part", "cover-tab", "length=5"]) == 0
    assert re.search(r"^A +1 +4 1/8 x 5 ", said(capsys), re.MULTILINE)


def test_bare_numbers_count_in_the_units_that_are_asked_for(capsys):
    assert main(["part", "plain-leaf", "--units", "mm", "width=123.4", "height=80"]) == 0
    assert re.search(r"^A +1 +123\.4 x 80 ", said(capsys), re.MULTILINE)


@pytest.mark.parametrize(
    ("arguments", "lines"),
    [
        (["nothing"], 1),
        (["side-pocket", "widht=6"], 1),
        (["side-pocket", "width=6", "--width", "5"], 1),
        (["side-pocket", "width"], 1),
        (["side-pocket", "--width"], 1),
        (["side-pocket", "=6"], 1),
        (["side-pocket", "width=99", "depth=deep"], 2),
        (["side-pocket", "--with", "joint-wrap"], 1),
        (["side-pocket", "--with", "cover-tab", "cover-tab.taber=1"], 1),
        (["side-pocket", "cover-tab.tab=1"], 1),
        (["cover-tab", "length=0"], 1),
        (["cover-tab", "length=long"], 1),
        (["my-card", "lip=round"], 1),
        (["my-card", "open=perhaps"], 1),
        (["my-card", "width=1e9"], 1),
        (["side-pocket", "--beside", "nowhere"], 1),
        (["side-pocket", "--out", "my-card.toml"], 1),
    ],
)
def test_what_cannot_be_made_ends_in_2_with_a_line_for_each_fault(folder, capsys, arguments, lines):
    before = sorted(path.name for path in folder.iterdir())
    assert main(["part", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert len(captured.err.splitlines()) == lines, captured.err
    assert sorted(path.name for path in folder.iterdir()) == before


@pytest.mark.parametrize("command", ["show", "part"])
def test_an_unknown_template_gets_a_suggestion(command, capsys):
    assert main([command, "side-poket"]) == 2
    assert "side-pocket" in capsys.readouterr().err


def test_a_faulty_template_of_ones_own_is_told_with_its_place(capsys):
    Path("my-card.toml").write_text(OWN.replace("columns", "colums", 1), encoding="utf-8")
    assert main(["part", "my-card"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert [line.split(": ")[0] for line in lines] == ["my-card.toml:12:2", "my-card.toml:14:1"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["a=1", "--b", "2", "--c=3 1/2"], {"a": "1", "b": "2", "c": "3 1/2"}),
        (["--angle", "-30"], {"angle": "-30"}),
        (["note=a=b"], {"note": "a=b"}),
    ],
)
def test_all_ways_of_saying_a_size_say_the_same(words, said):
    assert sizes_said(words) == said
