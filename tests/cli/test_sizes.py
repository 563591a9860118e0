"""The command sizes: the cut list and every reason, for people and for programs."""

import json
import re
from pathlib import Path

import pytest

from dielines_cli.main import main

LAKE = """units = "in"
size = "page 6 1/4 x 4 1/4"
binding = "tab and channel"
pages = ["side pocket", "flap", "side pocket"]
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workshop.toml").write_text('units = "in"\n', encoding="utf-8")
    (tmp_path / "lake.toml").write_text(LAKE, encoding="utf-8")
    return tmp_path


def said(capsys) -> str:
    return capsys.readouterr().out


# Worked check of the trade (common practice, no source), the page mirrored: it is the first.
def test_the_cut_list_and_every_score_stand_in_the_terminal(folder, capsys):
    assert main(["sizes", "lake.toml"]) == 0
    text = said(capsys)
    assert re.search(r"^A +1 +8 3/8 x 9 1/4 .* up +page 1: side pocket$", text, re.MULTILINE)
    for pair in (r"1/2 +8 3/4", r"5/8 +8 5/8", r"4 7/8 +4 3/8", r"5 +4 1/4", r"6 1/4 +2 1/8"):
        assert re.search(rf"^    mountain score +{pair} ", text, re.MULTILINE), pair
    assert sorted(path.name for path in folder.iterdir()) == ["lake.toml", "workshop.toml"]


def test_a_size_is_told_with_its_formula_and_its_numbers(capsys):
    assert main(["sizes", "lake.toml", "--why", "board width"]) == 0
    first, *below = said(capsys).splitlines()
    assert first.startswith("board_width = page_width + fore_edge = 6 1/4 + 1/4 = 6 1/2 in")
    assert len(below) == 2


def test_a_size_of_one_page_is_told_and_who_says_it(capsys):
    assert main(["sizes", "lake.toml", "--why", "page 2 flap"]) == 0
    assert re.fullmatch(r"page_2\.flap = 3 1/4 in \(.*\bflap\)\n", said(capsys))
    main(["sizes", "lake.toml", "--why", "flap", "--set", "page.2.flap=2 1/7"])
    assert re.fullmatch(r"page_2\.flap = 2 1/7 in.* \(this book\)\n", said(capsys))


def test_all_sizes_are_shown_with_their_values(capsys):
    assert main(["sizes", "lake.toml", "--why", "all"]) == 0
    values = dict(line.split(maxsplit=1) for line in said(capsys).splitlines() if line[0] == " ")
    assert values["board_width"] == "6 1/2 in"
    assert values["page_2.flap"] == "3 1/4 in"
    assert main(["sizes", "lake.toml", "--why", "all", "--json"]) == 0
    assert json.loads(said(capsys))["sizes"].keys() == values.keys()


def test_what_is_set_changes_the_reason(capsys):
    main(["sizes", "lake.toml", "--why", "board_width", "--set", "usual.fore_edge=1/3"])
    assert "6 7/12 in" in said(capsys)


def test_a_program_gets_the_parts_the_sizes_and_the_notes(capsys):
    assert main(["sizes", "lake.toml", "--json"]) == 0
    data = json.loads(said(capsys))
    assert data["units"] == "in"
    page = data["parts"][0]
    assert (page["width"], page["height"]) == (212.725, 234.95)  # 8 3/8 x 9 1/4 in
    levels = [line["up"]["from_top"] for line in page["lines"] if line["way"] == "level"]
    assert levels == pytest.approx([12.7, 15.875, 123.825, 127.0])
    assert data["sizes"]["board_width"]["mm"] == pytest.approx(165.1)
    assert data["sizes"]["board_width"]["from"] == ["page_width", "fore_edge"]
    assert data["sizes"]["junctions"]["number"] == 3
    assert {"code", "subject", "text"} == set(data["notes"][0])


def test_a_program_gets_one_size_with_all_that_it_comes_from(capsys):
    assert main(["sizes", "lake.toml", "--why", "board_width", "--json"]) == 0
    data = json.loads(said(capsys))
    assert list(data["sizes"]) == ["board_width", "page_width", "fore_edge"]


@pytest.mark.parametrize(
    "arguments",
    [["lake.toml", "--why", "spin"], ["nothing.toml"], ["."], ["workshop.toml"],
     ["lake.toml", "--json", "--why", "nothing"], ["lake.toml", "--set", "usual.squar=1"]],
    ids=" ".join,
)  # fmt: skip
def test_what_cannot_be_shown_ends_in_2(capsys, arguments):
    assert main(["sizes", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.strip()


def test_the_sizes_of_a_made_book_are_asked_of_the_book(capsys):
    main(["make", "lake.toml"])
    capsys.readouterr()
    assert main(["sizes", "lake/sizes.toml"]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
