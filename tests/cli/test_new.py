"""The command new: a book to begin with, which can be made as it is."""

from pathlib import Path

import pytest

from dielines_cli.main import main


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "workshop.toml").write_text('units = "in"\n', encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("options", "size"),
    [
        ([], "photo 4 x 6"),
        (["--units", "mm"], "photo 100 x 150"),
        (["--photo", "5 x 3 1/2"], "photo 5 x 3 1/2"),
        (["--page", "A6 wide", "--units", "mm"], "page A6 wide"),
    ],
)
def test_a_new_book_can_be_made_as_it_is(options, size):
    assert main(["new", "my-lake.toml", "--pages", "3", *options]) == 0
    text = Path("my-lake.toml").read_text(encoding="utf-8")
    assert f'size    = "{size}"' in text
    assert 'title   = "My lake"' in text
    assert main(["make", "my-lake.toml", "--out", "out"]) == 0


def test_what_the_command_says_to_run_next_is_right(capsys):
    main(["new", "my lake.toml"])
    assert "dielines make" in capsys.readouterr().out


def test_a_book_may_stand_in_a_folder_that_is_made_for_it():
    assert main(["new", "books/one/lake.toml"]) == 0
    assert Path("books/one/lake.toml").is_file()


def test_a_file_that_is_there_is_left_alone(capsys):
    Path("lake.toml").write_text("mine", encoding="utf-8")
    assert main(["new", "lake.toml"]) == 2
    assert Path("lake.toml").read_text(encoding="utf-8") == "mine"
    assert capsys.readouterr().err.startswith("lake.toml")


@pytest.mark.parametrize(
    "arguments",
    [
        ["lake.txt"],
        ["lake"],
        ["lake.toml", "--pages", "0"],
        ["lake.toml", "--pages", "five"],
        ["lake.toml", "--photo", "5 by 7"],
        ["lake.toml", "--photo", "5 x 7", "--page", "6 x 8"],
        ["lake.toml", "--units", "ft"],
        ["lake.toml", "--binding", "glue and hope"],
        ["workshop.toml"],
        ["workshop.toml/lake.toml"],
        ["nul.toml"],
        [],
    ],
    ids=" ".join,
)
def test_what_no_book_can_be_ends_in_2_and_writes_nothing(folder, capsys, arguments):
    before = sorted(path.name for path in folder.rglob("*"))
    assert main(["new", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.err.strip()
    assert captured.out == ""
    assert sorted(path.name for path in folder.rglob("*")) == before


@pytest.mark.parametrize(
    "words",
    [["lake.toml", "--photo", "5", "x", "7"], ["--photo", "5", "x", "7", "lake.toml"],
     ["lake.toml", "--page", "5", "x", "7"]],
    ids=" ".join,
)  # fmt: skip
def test_a_size_without_quotes_is_told_how_it_is_written(folder, capsys, words):
    assert main(["new", *words]) == 2
    error = capsys.readouterr().err
    option = "--page" if "--page" in words else "--photo"
    assert f'{option} "5 x 7"' in error
    assert len(error.splitlines()) == 1
    assert not (folder / "lake.toml").exists()
