"""The commands test-piece, look and compare: what they say, what they write, how they end."""

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.choices import Choices
from dielines.formats.kinds import formats, machine_formats, read_file
from dielines.formats.pdf import write_pages
from dielines.paths import line, rectangle, translated
from dielines_cli.main import main

SUFFIXES = [kind.suffix for kind in machine_formats()]
EVERY = [kind.suffix for kind in formats()]
THIRD = Fraction(1, 3)


def write(path: Path, *items: Item, width: float = 100 + 1 / 3) -> str:
    kind = next(kind for kind in formats() if kind.suffix == path.suffix)
    drawing = Drawing(width, 90.0, (Group("page", "Page", items),))
    path.write_bytes(kind.write(drawing, Choices()))
    return str(path)


PANEL = Item(Layer.CUT, rectangle(0, 0, 60 + THIRD, 50), "panel")
SCORE = Item(Layer.SCORE_VALLEY, line((20 * THIRD, 0), (20 * THIRD, 50)), "fold")


def said(capsys) -> dict:
    return json.loads(capsys.readouterr().out)


def test_the_test_piece_is_a_cut_file_and_a_guide_in_every_format(tmp_path, capsys):
    assert main(["test-piece", "--out", str(tmp_path / "out")]) == 0
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names == {f"test-piece.{p}{suffix}" for p in ("cut", "guide") for suffix in SUFFIXES}
    assert set(capsys.readouterr().out.split()) >= {str(tmp_path / "out" / name) for name in names}


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_the_cut_file_holds_what_a_machine_acts_on_and_nothing_outside(tmp_path, suffix):
    main(["test-piece", "--out", str(tmp_path)])
    cut = read_file(tmp_path / f"test-piece.cut{suffix}").drawing
    guide = read_file(tmp_path / f"test-piece.guide{suffix}").drawing
    assert {item.layer for item in cut.items()} == {
        Layer.CUT, Layer.PERFORATE, Layer.SCORE_VALLEY,  # one tool for both kinds of score
    }  # fmt: skip
    assert {item.layer for item in guide.items()} >= {Layer.SCORE_MOUNTAIN, Layer.TAPE_FACE}
    assert (cut.width, cut.height) == pytest.approx((132, 90))


def test_the_test_piece_is_the_same_to_the_byte_each_time(tmp_path):
    for folder in ("a", "b"):
        main(["test-piece", "--out", str(tmp_path / folder)])
    for path in (tmp_path / "a").iterdir():
        assert path.read_bytes() == (tmp_path / "b" / path.name).read_bytes()


def test_a_file_that_reads_back_differently_is_not_written(tmp_path, monkeypatch, capsys):
    def another(drawing, choices):
        other = Drawing(drawing.width, drawing.height, (Group("g", "", (PANEL,)),))
        return machine_formats()[0].write(other, choices)

    broken = replace(machine_formats()[0], write=another)
    monkeypatch.setattr("dielines.machine_files.machine_formats", lambda: (broken,))
    assert main(["test-piece", "--out", str(tmp_path / "out")]) == 1
    assert not (tmp_path / "out").exists()
    assert "test-piece.cut" in capsys.readouterr().err


def test_the_test_piece_is_for_the_machine_of_the_workshop_file(tmp_path, monkeypatch):
    text = 'units = "mm"\n[machine]\nreads = ["svg"]\n'
    (tmp_path / "workshop.toml").write_text(text, encoding="utf-8")
    (tmp_path / "other.toml").write_text(text.replace("svg", "dxf"), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert main(["test-piece", "--out", "a"]) == 0
    assert main(["test-piece", "--out", "b", "--workshop", "other.toml"]) == 0
    assert [path.name for path in (tmp_path / "a").glob("*.cut.*")] == ["test-piece.cut.svg"]
    assert [path.name for path in (tmp_path / "b").glob("*.cut.*")] == ["test-piece.cut.dxf"]


@pytest.mark.parametrize("suffix", EVERY)
def test_look_tells_size_layers_and_lengths(tmp_path, capsys, suffix):
    file = write(tmp_path / f"page{suffix}", PANEL, SCORE)
    assert main(["look", file, "--json"]) == 0
    report = said(capsys)
    assert report["page"] == pytest.approx({"width": 100 + 1 / 3, "height": 90})
    assert report["contents"]["right"] == pytest.approx(60 + 1 / 3)
    rows = {row["layer"]: row for row in report["layers"]}
    assert rows["CUT"]["closed"] == rows["SCORE_VALLEY"]["open"] == 1
    assert rows["CUT"]["length"] == pytest.approx(2 * (60 + 1 / 3 + 50))


@pytest.mark.parametrize("suffix", EVERY)
def test_look_says_the_same_to_people(tmp_path, capsys, suffix):
    assert main(["look", write(tmp_path / f"page{suffix}", PANEL, SCORE)]) == 0
    words = capsys.readouterr().out
    assert "100.333 x 90.000 mm" in words
    assert "60.333 x 50.000 mm" in words
    assert "220.667" in words


def test_look_doubts_a_file_that_was_read_at_72_units_to_the_inch(tmp_path, capsys):
    main(["test-piece", "--out", str(tmp_path)])
    file = tmp_path / "test-piece.cut.svg"
    text = file.read_text(encoding="utf-8")
    larger = text.replace('width="132mm"', 'width="176mm"').replace(
        'height="90mm"', 'height="120mm"'
    )
    assert larger != text
    file.write_text(larger, encoding="utf-8")
    capsys.readouterr()
    assert main(["look", str(file), "--json"]) == 0
    report = said(capsys)
    assert not report["size_proved"]
    assert report["suspicions"][0]["factor"] == pytest.approx(96 / 72)
    assert report["suspicions"][0]["certain"]
    assert main(["look", str(file)]) == 0
    assert "96/72" in capsys.readouterr().out


@pytest.mark.parametrize("one", EVERY)
@pytest.mark.parametrize("other", EVERY)
def test_the_same_drawing_is_the_same_in_any_format(tmp_path, one, other):
    first = write(tmp_path / f"a{one}", PANEL, SCORE)
    assert main(["compare", first, write(tmp_path / f"b{other}", PANEL, SCORE)]) == 0


def test_any_page_of_a_pdf_can_be_looked_at_and_compared(tmp_path, capsys):
    sheets = [
        Drawing(100 + n / 3, 90.0, (Group("p", "", (item,)),))
        for n, item in enumerate((PANEL, SCORE))
    ]
    (tmp_path / "sheets.pdf").write_bytes(write_pages(sheets, Choices()))
    several, one = str(tmp_path / "sheets.pdf"), write(tmp_path / "two.svg", SCORE)
    assert main(["look", several, "--page", "2", "--json"]) == 0
    report = said(capsys)
    assert [row["layer"] for row in report["layers"]] == ["SCORE_VALLEY"]
    assert report["remarks"] == []
    assert main(["look", several, "--json"]) == 0
    assert [remark["code"] for remark in said(capsys)["remarks"]] == ["several-pages"]
    assert main(["compare", one, several, "--page", "2"]) == 0
    assert main(["compare", one, several]) == 1
    for number in ("3", "0"):
        assert main(["look", several, "--page", number]) == 2
    assert main(["look", one, "--page", "2"]) == 2
    assert "no page 2" in capsys.readouterr().err


def test_compare_counts_what_is_missing_and_measures_what_is_off(tmp_path, capsys):
    off = Item(Layer.CUT, rectangle(0, 0, 60 + THIRD, Fraction(50_004, 1000)), "panel")
    files = [write(tmp_path / "a.svg", PANEL, SCORE), write(tmp_path / "b.dxf", off)]
    assert main(["compare", *files, "--json"]) == 1
    result = said(capsys)
    rows = {row["layer"]: row for row in result["layers"]}
    assert rows["CUT"]["deviation"] == pytest.approx(0.004, abs=1e-5)
    assert rows["SCORE_VALLEY"]["missing"] == 1
    assert result["same"] is False
    assert main(["compare", *files]) == 1
    assert "0.00400" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("tolerance", "code"),
    [("0.005", 0), ("0.003", 1), ("1/64 in", 0), ("ten", 2), ("1 furlong", 2)],
)
def test_the_tolerance_is_a_length(tmp_path, tolerance, code):
    off = Item(Layer.CUT, rectangle(0, 0, 60 + THIRD, Fraction(50_004, 1000)), "panel")
    files = [write(tmp_path / "a.svg", PANEL), write(tmp_path / "b.svg", off)]
    assert main(["compare", *files, "--tolerance", tolerance]) == code


def test_compare_tells_a_drawing_that_was_moved(tmp_path, capsys):
    moved = Item(Layer.CUT, translated(PANEL.path, 7, 9 + THIRD), "panel")
    files = [write(tmp_path / "a.svg", PANEL), write(tmp_path / "b.svg", moved)]
    assert main(["compare", *files, "--json"]) == 1
    assert said(capsys)["moved"] == pytest.approx([7, 9 + 1 / 3], abs=1e-4)


def test_compare_may_look_past_the_names_of_layers(tmp_path):
    other = Item(Layer.PERFORATE, PANEL.path, "panel")
    files = [write(tmp_path / "a.svg", PANEL), write(tmp_path / "b.svg", other)]
    assert main(["compare", *files]) == 1
    assert main(["compare", *files, "--any-layer"]) == 0


@pytest.mark.parametrize("command", [["look"], ["compare", "good.svg"]])
@pytest.mark.parametrize("name", ["none.svg", "none.dxf", "picture.jpeg", "words.svg", "words.dxf"])
def test_a_file_that_cannot_be_read_is_named_and_means_2(
    tmp_path, monkeypatch, capsys, command, name
):
    monkeypatch.chdir(tmp_path)
    write(tmp_path / "good.svg", PANEL)
    for words in ("words.svg", "words.dxf"):
        (tmp_path / words).write_text("Dear all,\n", encoding="utf-8")
    assert main([*command, name]) == 2
    captured = capsys.readouterr()
    assert captured.err.startswith(name)
    assert captured.out == ""
