"""The command ``check``, and the checks before ``make``."""

import json

import pytest

from dielines.checks.registry import rules
from dielines_cli.main import main

LAKE = """\
title   = "A weekend at the lake"
units   = "in"
size    = "page 6 1/4 x 4 1/4"
binding = "tab and channel"
pages   = ["side pocket", "flap", "side pocket"]
"""
#: a page drawn with the back of its pocket half an inch too long
LONG_BACK = """\
template = "long-back"
kind     = "page"
units    = "in"
[parameters]
width  = { type = "length", default = "6 1/4", help = "across" }
height = { type = "length", default = "4 1/4", help = "up" }
[parts.page]
stock = "cardstock"
grain = "spine"
bound = "front left"
mouth = { front = "right" }
columns = ["width"]
rows = ["1/2 : seam", "1/8 : head", "height : front", "1/8 : tail", "height + 1/2 : back"]
edits = [{ tape = "seam", side = "face", inset = "1/16", onto = "back" }]
steps = ["seam / head, head / front", "front / tail, tail / back"]
[parts.page.folds]
"* / *" = -90
"""


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "lake.toml").write_text(LAKE, "utf-8")
    (tmp_path / "long-back.toml").write_text(LONG_BACK, "utf-8")
    spoilt = LAKE.replace('"flap"', '"long back"')
    (tmp_path / "spoilt.toml").write_text(spoilt, "utf-8")
    return tmp_path


def test_a_sound_book_passes(capsys):
    assert main(["check", "lake.toml"]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[-1].startswith("A weekend at the lake: ")
    assert "error" not in out


def test_a_spoilt_book_ends_with_1_and_says_where_and_what_to_do(capsys):
    assert main(["check", "spoilt.toml"]) == 1
    out = capsys.readouterr().out
    assert "error: sticks out" in out
    assert "page 2" in out
    assert "1/2 in" in out


def test_make_stops_at_an_error_and_writes_nothing(folder, capsys):
    assert main(["make", "spoilt.toml"]) == 1
    captured = capsys.readouterr()
    assert "sticks out" in captured.err
    assert captured.out == ""
    assert not (folder / "spoilt").exists()


def test_a_rule_that_is_ignored_with_a_reason_lets_the_book_be_made(folder, capsys):
    text = (folder / "spoilt.toml").read_text("utf-8")
    for name, rule in rules().items():
        assert name == rule.NAME
    wrong = {f["rule"] for f in findings(capsys, "spoilt.toml") if f["severity"] == "error"}
    lines = "".join(f'"{name}" = "I trim it"\n' for name in sorted(wrong))
    (folder / "spoilt.toml").write_text(f"{text}[ignore]\n{lines}", "utf-8")
    assert main(["make", "spoilt.toml"]) == 0
    assert "I trim it" in capsys.readouterr().out
    assert (folder / "spoilt" / "tape-plan.txt").exists()


def findings(capsys, *arguments):
    main(["check", *arguments, "--json"])
    return json.loads(capsys.readouterr().out)["findings"]


def test_one_rule_alone_is_held(capsys):
    found = findings(capsys, "spoilt.toml", "--only", "Sticks-out")
    assert {f["rule"] for f in found} == {"sticks out"}
    assert any(abs(f["amount"]["value"] - 25.4 / 2) < 1e-6 for f in found)


def test_settings_change_what_is_checked(capsys):
    narrow = findings(capsys, "lake.toml", "--set", "usual.joint=1/16", "--only", "joint")
    assert narrow
    assert findings(capsys, "lake.toml", "--only", "joint") == []


def test_thickness_and_tolerance_are_told_in_mm(capsys):
    assert main(["check", "lake.toml", "--thickness", "--tolerance", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    thick = data["thickness"]
    assert thick["at_binding"]["upright"] > thick["at_binding"]["pressed"] > 0
    assert thick["play"] == pytest.approx(thick["spine"] - thick["at_binding"]["upright"])
    assert len(thick["pockets"]) == 2
    assert data["tolerance"]
    assert main(["check", "lake.toml", "--thickness", "--tolerance"]) == 0
    assert "upright" in capsys.readouterr().out


def test_all_rules_are_listed_with_their_sources(capsys):
    assert main(["check", "--rules", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [row["rule"] for row in listed] == list(rules())
    assert all(row["why"] and row["source"] for row in listed)
    assert main(["check", "--rules"]) == 0
    assert capsys.readouterr().out.count("Source: ") == len(rules())


@pytest.mark.parametrize(
    "arguments",
    [
        ["check"],
        ["check", "missing.toml"],
        ["check", "lake.toml", "--only", "no such rule"],
        ["check", "lake.toml", "--set", "page.2.flap=7"],
    ],
)
def test_misuse_ends_with_2(arguments, capsys):
    assert main(arguments) == 2
    assert capsys.readouterr().err


def test_a_rule_that_nobody_knows_is_told_with_its_line(folder, capsys):
    (folder / "lake.toml").write_text(LAKE + '[ignore]\n"stiks out" = "x"\n', "utf-8")
    assert main(["check", "lake.toml"]) == 2
    assert "lake.toml:7" in capsys.readouterr().err


def test_the_same_book_gives_the_same_words(capsys):
    main(["check", "lake.toml"])
    first = capsys.readouterr().out
    main(["check", "lake.toml"])
    assert capsys.readouterr().out == first
