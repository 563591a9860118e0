"""The command sheets, and what make does with sheets."""

import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from dielines.formats.pdf import read_pages
from dielines_cli.main import main

LAKE = """units = "in"
title = "A weekend at the lake"
size = "photo 5 x 3 1/2"
binding = "tab and channel"
pages = ["side pocket", "flap", "plain leaf"]
mats = "both sides"
"""
WORKSHOP = """units = "in"
currency = "EUR"
[papers."card"]
roles = ["pages", "inserts"]
caliper = "0.24 mm"
grain = "long"
sheets = [{ size = "12 x 12", price = 0.6 }]
[papers."print"]
roles = ["mats"]
caliper = "0.17 mm"
one_way_up = true
sheets = [{ size = "12 x 12", grain = "up", price = 0.9 }, { size = "6 x 12", grain = "up", have = 2 }]
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workshop.toml").write_text(WORKSHOP, encoding="utf-8")
    (tmp_path / "lake.toml").write_text(LAKE, encoding="utf-8")
    return tmp_path


def test_sheets_tells_every_stock_its_sheets_and_the_bound(capsys):
    assert main(["sheets", "lake.toml"]) == 0
    said = capsys.readouterr().out
    assert re.search(r"^card, by machine: \d+ sheets? of 12 x 12 in, \d\.\d\d EUR; ", said, re.M)
    assert "grey board, with knife and rule" in said
    assert "of the 2 you have" in said
    assert max(map(len, said.splitlines())) <= 100
    assert not Path("lake").exists()


def test_the_same_in_json_with_every_part_and_the_shopping_list(capsys):
    assert main(["sheets", "lake.toml", "--json", "--copies", "3"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["copies"] == 3
    stocks = {stock["stock"]: stock for stock in data["stocks"]}
    card = stocks["card"]
    assert card["sheets"] == sum(sheet["times"] for sheet in card["layouts"])
    assert all(
        part["turned_deg"] in (0, 180) for sheet in card["layouts"] for part in sheet["parts"]
    )
    assert float(card["at_least_price"]) <= float(card["price"])
    assert data["shopping"]["copies"] == 3
    assert any(need["is_at_hand"] for need in data["shopping"]["needs"])


def test_a_trimmer_cuts_everything_from_edge_to_edge(capsys):
    assert main(["sheets", "lake.toml", "--by", "trimmer"]) == 0
    said = capsys.readouterr().out
    assert "by machine" not in said
    assert "with the trimmer" in said


@pytest.mark.parametrize(
    "arguments",
    [["--by", "laser"], ["--gap", "many"], ["--gap", "-1"], ["--gap", "200 mm"], ["--also", "pdf"]],
)
def test_what_cannot_be_meant_is_refused(capsys, arguments):
    assert main(["sheets", "lake.toml", *arguments]) == 2
    caught = capsys.readouterr()
    assert arguments[0] in caught.err
    assert caught.out == ""
    assert not Path("lake").exists()


def test_a_picture_of_all_sheets_is_drawn(capsys):
    assert main(["sheets", "lake.toml", "--out", "seen", "--also", "png"]) == 0
    assert sorted(path.name for path in Path("seen").iterdir()) == [
        "lake.sheets.png",
        "lake.sheets.svg",
    ]
    assert Path("seen/lake.sheets.png").read_bytes().startswith(b"\x89PNG")


def test_a_wider_gap_is_told_and_kept(capsys):
    main(["sheets", "lake.toml", "--gap", "1/3"])
    assert "1/3 in between parts" in capsys.readouterr().out.replace("≈ 5/16", "1/3")


def cut_files(folder: str) -> set[str]:
    return {path.name for path in Path(folder).glob("*.cut.*")}


def test_make_by_trimmer_writes_no_file_to_cut_but_how_to_cut(capsys):
    assert main(["make", "lake.toml", "--by", "trimmer"]) == 0
    assert cut_files("lake") == set()
    text = Path("lake/cutting-by-hand.txt").read_text("utf-8")
    assert "Sheet 1, card" in text


def test_files_of_an_earlier_layout_are_removed_and_nothing_else(capsys):
    main(["make", "lake.toml"])
    before = cut_files("lake")
    Path("lake/lake.sheet-7.cut.svg.mine").write_text("keep", "utf-8")
    Path("lake/other.sheet-1.cut.svg").write_text("keep", "utf-8")
    capsys.readouterr()
    assert main(["make", "lake.toml", "--by", "trimmer"]) == 0
    said = capsys.readouterr().out
    assert cut_files("lake") == {"other.sheet-1.cut.svg", "lake.sheet-7.cut.svg.mine"}
    assert all(name in said for name in before)


def test_files_of_single_layers_of_an_earlier_layout_are_removed_too():
    one_a_layer = f"{WORKSHOP}\n[machine]\none_file_per_layer = true\n"
    Path("workshop.toml").write_text(one_a_layer, "utf-8")
    main(["make", "lake.toml"])
    assert any(re.search(r"\.cut\.1-score", name) for name in cut_files("lake"))
    assert main(["make", "lake.toml", "--by", "trimmer"]) == 0
    assert cut_files("lake") == set()


def test_what_cannot_be_removed_is_told_not_to_be_cut_by(capsys):
    Path("lake/lake.sheet-99.cut.svg").mkdir(parents=True)
    assert main(["make", "lake.toml"]) == 0
    assert (
        "lake.sheet-99.cut.svg is of an earlier layout: do not cut by it" in capsys.readouterr().out
    )
    assert Path("lake/sheets.txt").exists()


def test_sheets_come_on_paper_of_a_printer_to_be_joined(capsys):
    assert main(["make", "lake.toml", "--print-on", "A4"]) == 0
    pages = read_pages(Path("lake/lake.sheets-to-join.pdf").read_bytes(), "x")
    assert len(pages) > 5
    sizes = {(round(p.drawing.width), round(p.drawing.height)) for p in pages}
    assert sizes <= {(210, 297), (297, 210)}
    assert main(["make", "lake.toml", "--print-on", "stamp", "--out", "b"]) == 2
    assert not Path("b").exists()


def test_every_different_sheet_is_a_page_at_true_size():
    main(["make", "lake.toml"])
    pages = read_pages(Path("lake/lake.sheets.pdf").read_bytes(), "x")
    sheets = re.findall(r"^  sheet \d+", Path("lake/sheets.txt").read_text("utf-8"), re.M)
    assert len(pages) == len(sheets)
    assert (pages[0].drawing.width, pages[0].drawing.height) == pytest.approx((304.8, 304.8))


#: A process that is interrupted as soon as it lays out, for each stock anew.
INTERRUPTED = """
import os, signal, sys
import dielines.sheets.laying_out as laying_out
from dielines_cli.main import main

solve = laying_out.solve
def slow(*arguments):
    os.kill(os.getpid(), signal.SIGINT)
    return solve(*arguments)
laying_out.solve = slow
sys.exit(main(sys.argv[1:]))
"""


def interrupted(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", INTERRUPTED, *arguments], capture_output=True, text=True, check=False
    )


def test_ctrl_c_leaves_nothing():
    run = interrupted("make", "lake.toml")
    assert run.returncode not in (0, 2)
    assert "Traceback" not in run.stderr
    assert not Path("lake").exists()


def test_ctrl_c_keeps_the_best_so_far_where_that_is_asked_for():
    run = interrupted("make", "lake.toml", "--keep-best")
    assert run.returncode == 0, run.stderr
    assert "best layout so far" in run.stderr
    assert Path("lake/sheets.txt").exists()
    assert cut_files("lake")


def test_a_real_ctrl_c_ends_the_command_at_once(folder):
    process = subprocess.Popen(
        [sys.executable, "-m", "dielines_cli", "sheets", "lake.toml", "--effort", "1000", "--copies", "40"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=folder, env=dict(os.environ),
    )  # fmt: skip
    time.sleep(1.0)
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=120)
    assert "Traceback" not in said


def test_the_same_book_gives_the_same_sheets_whatever_the_order_of_hashes(folder):
    told = []
    for seed in ("1", "23"):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        run = subprocess.run(
            [sys.executable, "-m", "dielines_cli", "sheets", "lake.toml", "--copies", "9", "--json"],
            check=True, capture_output=True, env=environment, cwd=folder,
        )  # fmt: skip
        told.append(run.stdout)
    assert told[0] == told[1]


def test_prints_and_cuts_by_hand_of_an_earlier_layout_are_removed(capsys):
    assert main(["make", "lake.toml", "--by", "trimmer", "--print-on", "A4"]) == 0
    assert Path("lake/lake.sheets-to-join.pdf").exists()
    laser = f'{WORKSHOP}\n[machine]\nlike = "laser"\nthickest = "3 mm"\n'
    Path("workshop.toml").write_text(laser, "utf-8")
    capsys.readouterr()
    assert main(["make", "lake.toml"]) == 0
    said = capsys.readouterr().out
    for name in ("lake.sheets-to-join.pdf", "cutting-by-hand.txt"):
        assert not Path("lake", name).exists()
        assert f"{name} was of an earlier layout" in said
    assert Path("lake/lake.sheets.pdf").exists()


def test_make_keeps_a_gap_for_one_run():
    for gap, told in (("1/3 in", "\u2248 5/16 in between parts"), ("0", "parts may touch")):
        assert main(["make", "lake.toml", "--gap", gap]) == 0
        assert told in Path("lake/sheets.txt").read_text("utf-8")


@pytest.mark.parametrize("arguments", [["--gap", "wide"], ["--print-on", "wall"]])
def test_make_refuses_what_cannot_be_meant_before_anything_is_laid_out(capsys, arguments):
    assert main(["make", "lake.toml", *arguments]) == 2
    caught = capsys.readouterr()
    assert arguments[0] in caught.err
    assert "Laying out" not in caught.err
    assert not Path("lake").exists()


def test_a_gap_is_no_less_than_what_a_laser_burns_away(capsys):
    laser = f'{WORKSHOP}\n[machine]\nlike = "laser"\nkerf = "0.3 mm"\n'
    Path("workshop.toml").write_text(laser, "utf-8")
    assert main(["sheets", "lake.toml", "--gap", "0.29 mm"]) == 2
    assert "0.3 mm" in capsys.readouterr().err
    assert main(["sheets", "lake.toml", "--gap", "0.3 mm"]) == 0
    assert main(["sheets", "lake.toml", "--gap", "0", "--by", "trimmer"]) == 0


def test_make_tells_of_sheets_that_the_machine_reaches_in_part(capsys):
    small = f'{WORKSHOP}\n[machine]\narea = "8 1/7 x 11 in"\n'
    for workshop, is_told in ((small, True), (WORKSHOP, False)):
        Path("workshop.toml").write_text(workshop, "utf-8")
        assert main(["make", "lake.toml", "--set", "size=page 4 x 3"]) == 0
        assert ("The machine reaches only" in capsys.readouterr().out) == is_told
