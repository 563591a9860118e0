"""The command make: what it writes, what it says, how it ends."""

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.kinds import machine_formats, read_file
from dielines.paths import rectangle, translated
from dielines_cli.commands.make import typical_words
from dielines_cli.main import main

LAKE = """units = "in"
title = "A weekend at the lake"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["side pocket", "flap", "plain leaf", "plain leaf", "flap"]
mats = "both sides"
[page.2]
flap = "2 1/3"
"""
SUFFIXES = [kind.suffix for kind in machine_formats()]
DRAWINGS = [f"{what}{suffix}" for what in ("cut", "guide") for suffix in SUFFIXES]
GUIDES = [f"guide{suffix}" for suffix in SUFFIXES]
CUT = re.compile(r"lake\.sheet-\d+\.cut\.(svg|dxf)")
TEXTS = (
    "cut-list.txt",
    "sizes.toml",
    "tape-plan.txt",
    "sheets.txt",
    "cutting-by-hand.txt",
    "shopping-list.txt",
)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch) -> Path:
    """A folder with a book, and a workshop of which nothing is told."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workshop.toml").write_text('units = "in"\n', encoding="utf-8")
    (tmp_path / "lake.toml").write_text(LAKE, encoding="utf-8")
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_a_book_is_guides_a_cut_file_for_every_sheet_its_lists_and_its_sizes(capsys):
    assert main(["make", "lake.toml"]) == 0
    names = {*(f"lake.{name}" for name in GUIDES), "lake.sheets.pdf", "lake.sheets.svg", *TEXTS}
    cut = {name for name in contents(Path("lake")) if CUT.fullmatch(name)}
    assert set(contents(Path("lake"))) == names | cut
    assert len(cut) >= 2 * 5
    said = capsys.readouterr().out
    assert set(said.split()) >= {str(Path("lake") / name) for name in names | cut}
    assert float(re.search(r"largest deviation is (\d\.\d+) mm", said)[1]) <= 0.001


def test_the_table_tells_the_true_size_of_each_page_in_mm(capsys):
    main(["make", "lake.toml"])
    said = capsys.readouterr().out
    for name in (*GUIDES, "sheet-1.cut.svg"):
        drawing = read_file(Path("lake") / f"lake.{name}").drawing
        size = f"{drawing.width:.2f} x {drawing.height:.2f}"
        assert re.search(rf"lake\.{re.escape(name)} +{re.escape(size)} +\d+ ", said), name


def words_in(path: Path) -> list[str]:
    """The captions of a file; our reader of SVG takes paths only."""
    if path.suffix == ".svg":
        return re.findall(r">([^<]*)</text>", path.read_text("utf-8"))
    return [text.text for group in read_file(path).drawing.groups for text in group.captions]


@pytest.mark.parametrize("suffix", SUFFIXES)
def test_the_guide_names_every_part_and_the_cut_files_hold_no_word(suffix):
    main(["make", "lake.toml"])
    guide = read_file(Path(f"lake/lake.guide{suffix}")).drawing
    words = words_in(Path(f"lake/lake.guide{suffix}"))
    parts = [group for group in guide.groups if group.key != "legend"]
    assert len(parts) == 38
    assert [group.title for group in parts if group.title not in words] == []
    assert words.count("D") == 3  # the reinforcements of the hinge tabs are cut alike
    cut = sorted(Path("lake").glob(f"lake.sheet-*.cut{suffix}"))
    assert [word for path in cut for word in words_in(path)] == []
    layers = {item.layer for path in cut for item in read_file(path).drawing.items()}
    assert layers == {Layer.CUT, Layer.SCORE_VALLEY}


def test_templates_versions_and_sizes_travel_with_the_files():
    main(["make", "lake.toml"])
    for suffix in SUFFIXES:
        told = dict(read_file(Path(f"lake/lake.guide{suffix}")).drawing.metadata)
        assert re.match(r"side-pocket \d+ \(.*width=133.35 mm.*; cover-tab \d+ \(.*", told["A"])
        assert "flap=889/15 mm" in told["C"]  # 2 1/3 in


def test_the_same_book_gives_the_same_bytes_whatever_the_order_of_hashes(folder):
    for seed in ("0", "7"):
        run = [sys.executable, "-m", "dielines_cli", "make", "lake.toml", "--out", seed]
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        subprocess.run(run, check=True, capture_output=True, env=environment, cwd=folder)
    assert contents(folder / "0") == contents(folder / "7")


def test_one_part_is_made_alone_to_the_byte_the_same_from_book_and_sizes(capsys):
    main(["make", "lake.toml", "--out", "all"])
    before = contents(Path("all"))
    assert main(["make", "lake.toml", "--out", "one", "--only", "page 2"]) == 0
    assert "C: page 2: flap" in capsys.readouterr().out
    one = contents(Path("one"))
    assert set(one) == {f"lake.C.{name}" for name in DRAWINGS}
    Path("lake.toml").unlink()
    assert main(["make", "all/sizes.toml", "--only", "c"]) == 0  # lands beside the file
    after = contents(Path("all"))
    assert after == {**before, **one}


def test_one_part_alone_comes_with_its_rows_of_the_cut_list(capsys):
    main(["make", "lake.toml"])
    listed = Path("lake/cut-list.txt").read_text("utf-8").splitlines()
    capsys.readouterr()
    assert main(["make", "lake.toml", "--only", "page 2"]) == 0
    said = capsys.readouterr().out.splitlines()
    row = next(line for line in listed if re.match(r"C +1 ", line))
    start = listed.index(next(line for line in listed if line.startswith("C   page 2")))
    block = listed[start : listed.index("", start)]
    assert row in said
    assert len(block) >= 5
    assert [line for line in block if line not in said] == []
    assert not [line for line in said if re.match(r"[ABD] ", line)]
    Path("lake.toml").unlink()
    assert main(["make", "lake/sizes.toml", "--only", "page 2"]) == 0
    again = capsys.readouterr().out.splitlines()
    scores = [line for line in block if " score " in line]
    assert scores
    assert [line for line in scores if line not in again] == []


def test_a_word_that_names_many_parts_lists_them_with_their_letters(capsys):
    main(["make", "lake.toml"])
    capsys.readouterr()
    for source in ("lake.toml", "lake/sizes.toml"):
        assert main(["make", source, "--only", "flap"]) == 2
        lines = capsys.readouterr().err.splitlines()[1:]
        assert any(re.match(r"  C +page 2: flap", line) for line in lines)
        assert not any("plain leaf" in line or "board" in line for line in lines)
        assert main(["make", source, "--only", "zzzz"]) == 2
        lines = capsys.readouterr().err.splitlines()[1:]
        starts = {line.split()[0] for line in lines if line[2] != " "}
        assert starts == set(re.findall(r"^\[parts\.(\w+)\]", sizes(), re.MULTILINE))
        assert max(map(len, lines)) <= 100


def sizes() -> str:
    return Path("lake/sizes.toml").read_text("utf-8")


def test_what_is_set_at_the_command_line_goes_before_the_book():
    main(["make", "lake.toml", "--out", "a"])
    assert main(["make", "lake.toml", "--out", "b", "--set", "page.2.flap=2 1/2"]) == 0
    told = [made_in(Path(folder))["C"] for folder in "ab"]
    assert "flap=889/15 mm" in told[0]
    assert "flap=63.5 mm" in told[1]


def made_in(folder: Path) -> dict[str, str]:
    """What the cut files of all sheets tell of the making of their parts."""
    files = sorted(folder.glob("lake.sheet-*.cut.svg"))
    return {k: v for file in files for k, v in read_file(file).drawing.metadata}


def test_copies_are_counted_in_the_cut_list_and_on_the_sheets_and_the_guide_holds_one(capsys):
    main(["make", "lake.toml", "--out", "a"])
    assert main(["make", "lake.toml", "--out", "b", "--copies", "12"]) == 0
    assert "are for 12" in capsys.readouterr().out
    assert Path("a/lake.guide.svg").read_bytes() == Path("b/lake.guide.svg").read_bytes()
    assert re.search(r"\d+ times", Path("b/sheets.txt").read_text("utf-8"))
    assert re.search(r"^K +24 ", Path("b/cut-list.txt").read_text("utf-8"), re.MULTILINE)


def test_what_a_person_should_know_is_told_and_what_was_assumed_is_counted(capsys):
    wide = LAKE.replace("5 x 3 1/2", "9 x 6")
    Path("lake.toml").write_text(wide, encoding="utf-8")
    assert main(["make", "lake.toml"]) == 0
    said = capsys.readouterr().out
    assert "fits no sheet" in said
    count = int(re.search(r"(\d+) values are typical", said)[1])
    assumed = Path("lake/cut-list.txt").read_text("utf-8").partition("ASSUMED")[2]
    assert assumed.partition("MIND")[0].count("\n- ") == count
    assert "measure yours" not in said


def test_one_value_is_and_two_are():
    assert typical_words(1).split()[:3] == ["1", "value", "is"]
    assert typical_words(2).split()[:3] == ["2", "values", "are"]


def test_a_file_that_reads_back_differently_ends_in_1_and_leaves_nothing(monkeypatch, capsys):
    real = machine_formats()[0]

    def shifted(drawing: Drawing, choices):
        first, *others = drawing.groups
        moved = tuple(replace(i, path=translated(i.path, 0.002, 0)) for i in first.items)
        return real.write(replace(drawing, groups=(replace(first, items=moved), *others)), choices)

    monkeypatch.setattr(
        "dielines.machine_files.machine_formats",
        lambda: (replace(real, write=shifted), machine_formats()[1]),
    )
    assert main(["make", "lake.toml"]) == 1
    captured = capsys.readouterr()
    assert "0.002" in captured.err
    assert captured.out == ""
    assert not Path("lake").exists()


def test_files_that_were_there_stay_when_the_new_ones_are_no_good(monkeypatch):
    main(["make", "lake.toml"])
    before = contents(Path("lake"))
    item = Item(Layer.CUT, rectangle(0, 0, 7, 7))
    other = Drawing(10, 10, (Group("g", "", (item,)),))
    broken = tuple(
        replace(kind, write=lambda _, choices, kind=kind: kind.write(other, choices))
        for kind in machine_formats()
    )
    monkeypatch.setattr("dielines.machine_files.machine_formats", lambda: broken)
    assert main(["make", "lake.toml"]) == 1
    assert contents(Path("lake")) == before


@pytest.mark.parametrize(
    "arguments",
    [
        ["nothing.toml"],
        ["."],
        ["workshop.toml"],
        ["lake.toml", "--out", "lake.toml"],
        ["lake.toml", "--out", "lake.toml/below"],
        ["lake.toml", "--only", "page 9"],
        ["lake.toml", "--only", "CC"],
        ["lake.toml", "--set", "nonsense"],
        ["lake.toml", "--set", "page.2.flap=99"],
        ["lake.toml", "--set", "page.9.flap=2"],
        ["lake.toml", "--copies", "0"],
        ["lake.toml", "--copies", "many"],
        ["lake.toml", "--workshop", "nothing.toml"],
        ["a\x00b.toml"],
    ],
    ids=" ".join,
)
def test_what_cannot_be_made_ends_in_2_with_a_message_and_no_file(folder, capsys, arguments):
    before = contents(folder)
    assert main(["make", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.strip()
    assert "Traceback" not in captured.err
    assert contents(folder) == before


@pytest.mark.parametrize("text", [None, 'title = "notes"\n', "made = 3\n"])
def test_the_sizes_of_another_book_are_not_replaced(capsys, text):
    Path("sea.toml").write_text(LAKE, encoding="utf-8")
    main(["make", "sea.toml", "--out", "made"])
    if text:
        Path("made/sizes.toml").write_text(text, encoding="utf-8")
    before = contents(Path("made"))
    capsys.readouterr()
    assert main(["make", "lake.toml", "--out", "made"]) == 2
    assert "made/sizes.toml" in capsys.readouterr().err.replace("\\", "/")
    assert contents(Path("made")) == before
    assert main(["make", "lake.toml", "--out", "made", "--only", "A"]) == 0


@pytest.mark.parametrize("arguments", [[], ["--only", "A", "--set", "title=x"], ["--only", "A", "--copies", "2"], ["--only", "QQ"]])  # fmt: skip
def test_what_cannot_be_asked_of_a_made_book_ends_in_2(capsys, arguments):
    main(["make", "lake.toml"])
    before = contents(Path("lake"))
    capsys.readouterr()
    assert main(["make", "lake/sizes.toml", *arguments]) == 2
    assert capsys.readouterr().out == ""
    assert contents(Path("lake")) == before


def test_all_faults_of_a_book_are_told_at_once(capsys):
    Path("lake.toml").write_text(
        LAKE.replace('"2 1/3"', '"99"').replace("plain leaf", "plain lef", 1), encoding="utf-8"
    )
    assert main(["make", "lake.toml"]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert [line[:12] for line in lines] == ["lake.toml:5:"]  # kinds come first
    Path("lake.toml").write_text(LAKE.replace('"2 1/3"', '"99"') + "square = 1\n", "utf-8")
    assert main(["make", "lake.toml"]) == 2
    assert "lake.toml:9:" in capsys.readouterr().err


def test_templates_beside_the_book_are_pages_like_the_others():
    leaf = """template = "narrow-leaf"
kind = "page"
version = 1
units = "in"
[parameters]
width = { type = "length", default = 5 }
height = { type = "length", default = 4 }
[parts.page]
bound = "page left"
columns = ["width - 1/3"]
rows = ["height : page"]
"""
    Path("narrow-leaf.toml").write_text(leaf, encoding="utf-8")
    text = LAKE.replace('"plain leaf", "plain leaf"', '"narrow leaf", "plain leaf"')
    Path("lake.toml").write_text(text, encoding="utf-8")
    assert main(["make", "lake.toml"]) == 0
    assert "page 3: narrow leaf" in Path("lake/cut-list.txt").read_text("utf-8")
    assert main(["make", "lake/sizes.toml", "--only", "page 3", "--out", "again"]) == 0
    assert main(["make", "lake.toml", "--only", "page 3", "--out", "first"]) == 0
    assert contents(Path("again")) == contents(Path("first"))


def test_a_template_with_the_name_of_a_built_in_one_is_an_error(capsys):
    Path("flap.toml").write_text('template = "flap"\n', encoding="utf-8")
    assert main(["make", "lake.toml"]) == 2
    assert capsys.readouterr().err.startswith("flap.toml")
    assert not Path("lake").exists()


def test_nothing_is_said_of_progress_where_nobody_watches(capsys):
    main(["make", "lake.toml"])
    assert capsys.readouterr().err == ""


def test_each_stage_is_told_to_who_watches(monkeypatch, capsys):
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    main(["make", "lake.toml"])
    assert len(capsys.readouterr().err.splitlines()) == 4


@pytest.mark.parametrize(("word", "start"), [("png", b"\x89PNG"), ("pdf", b"%PDF")])
def test_the_guide_comes_as_a_picture_or_print_too_the_same_each_time(word, start):
    assert main(["make", "lake.toml", "--also", word]) == 0
    first = Path("lake", f"lake.guide.{word}").read_bytes()
    assert first.startswith(start)
    assert main(["make", "lake.toml", "--also", word, "--out", "again"]) == 0
    assert Path("again", f"lake.guide.{word}").read_bytes() == first


def test_another_word_for_a_picture_is_told_and_nothing_is_written(capsys):
    assert main(["make", "lake.toml", "--also", "gif"]) == 2
    assert "png and pdf" in capsys.readouterr().err
    assert not Path("lake").exists()


def test_a_part_that_fits_no_sheet_is_told_once_and_with_what_to_change(folder, capsys):
    text = f'size = "page 15 x 11"\n{LAKE.replace("size ", "# ")}'
    (folder / "wide.toml").write_text(text, "utf-8")
    main(["make", "wide.toml"])
    captured = capsys.readouterr()
    told = (captured.out + captured.err).splitlines()
    assert any("larger than sheet" in line for line in told)
    assert [line for line in told if line.startswith("- page")] == []
