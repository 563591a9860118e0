from __future__ import annotations

from pathlib import Path

import pytest

from dielines.errors import BookError
from dielines.lengths import inches, millimetres
from dielines.workshop.loading import find_workshop, load_workshop, own_folder, typical_workshop


def paper(file: Path, name: str) -> Path:
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(f'[papers."{name}"]\n', encoding="utf-8")
    return file


@pytest.fixture
def home(tmp_path, monkeypatch):
    """Return the person's own folder, which is made to lie in a folder of the test."""
    for name in ("XDG_CONFIG_HOME", "APPDATA"):
        monkeypatch.setenv(name, str(tmp_path / "config"))
    monkeypatch.setattr("sys.platform", "linux")
    return tmp_path / "config" / "dielines"


def test_a_named_file_goes_before_all_others(tmp_path, home):
    paper(tmp_path / "books" / "workshop.toml", "beside")
    named = paper(tmp_path / "elsewhere.toml", "named")
    workshop = load_workshop(named, tmp_path / "books")
    assert workshop.stock_for("pages").name == "named"
    assert workshop.source == str(named)


def test_the_file_beside_the_book_goes_before_that_in_ones_own_folder(tmp_path, home):
    paper(home / "workshop.toml", "own")
    paper(tmp_path / "books" / "workshop.toml", "beside")
    book = tmp_path / "books" / "book.toml"
    book.touch()
    assert load_workshop(None, tmp_path / "books").stock_for("pages").name == "beside"
    assert load_workshop(None, book).stock_for("pages").name == "beside"
    assert load_workshop(None, tmp_path).stock_for("pages").name == "own"


@pytest.mark.parametrize(("units", "across"), [("in", inches(12)), ("mm", millimetres(210))])
def test_without_any_file_the_workshop_is_typical_in_the_units_of_the_book(
    tmp_path, home, units, across
):
    workshop = load_workshop(None, tmp_path, units)
    assert workshop.source == ""
    assert workshop.stock_for("pages").sheets[0].size.across == across
    assert workshop == typical_workshop(units)


def test_the_units_of_the_file_choose_the_typical_values_before_those_of_the_book(tmp_path, home):
    file = tmp_path / "workshop.toml"
    file.write_text('units = "mm"\n', encoding="utf-8")
    assert load_workshop(None, tmp_path, "in").stock_for("pages").sheets[
        0
    ].size.across == millimetres(210)
    file.write_text("", encoding="utf-8")
    assert load_workshop(None, tmp_path, "mm").stock_for("pages").sheets[
        0
    ].size.across == millimetres(210)
    assert load_workshop(None, tmp_path, "in").stock_for("pages").sheets[0].size.across == inches(
        12
    )


@pytest.mark.parametrize("content", [b"\xff\xfe", b"x" * 200_001, b"[[[[[", b"a = 1\na = 2"])
def test_a_file_that_cannot_be_read_is_one_fault_with_its_name(tmp_path, content):
    file = tmp_path / "workshop.toml"
    file.write_bytes(content)
    with pytest.raises(BookError) as error:
        load_workshop(file, tmp_path)
    assert [fault.file for fault in error.value.faults] == [str(file)]


def test_a_named_file_that_is_not_there_is_a_fault_and_no_typical_workshop(tmp_path):
    with pytest.raises(BookError) as error:
        load_workshop(tmp_path / "none.toml", tmp_path)
    assert [fault.code for fault in error.value.faults] == ["unreadable"]


def test_a_folder_called_like_the_file_is_passed_over(tmp_path):
    (tmp_path / "workshop.toml").mkdir()
    assert find_workshop(tmp_path, tmp_path / "own") is None


@pytest.mark.parametrize(
    ("environment", "platform", "folder"),
    [
        ({}, "linux", "/home/ada/.config/dielines"),
        ({"XDG_CONFIG_HOME": "/etc/ada"}, "linux", "/etc/ada/dielines"),
        ({"XDG_CONFIG_HOME": ""}, "linux", "/home/ada/.config/dielines"),
        ({"XDG_CONFIG_HOME": "relative"}, "linux", "/home/ada/.config/dielines"),
        (
            {"XDG_CONFIG_HOME": "/etc/ada"},
            "darwin",
            "/home/ada/Library/Application Support/dielines",
        ),
        ({"APPDATA": "/roaming"}, "win32", "/roaming/dielines"),
        ({}, "win32", "/home/ada/AppData/Roaming/dielines"),
    ],
)
def test_ones_own_folder_is_where_each_system_has_it(environment, platform, folder):
    assert own_folder(environment, platform, Path("/home/ada")) == Path(folder)


def test_a_folder_that_cannot_be_looked_into_is_a_fault_with_a_way_round(tmp_path):
    with pytest.raises(BookError) as error:
        find_workshop(tmp_path, tmp_path / ("long" * 100))  # no file system takes such a name
    assert [fault.code for fault in error.value.faults] == ["unreadable"]
    assert "--workshop" in str(error.value)
