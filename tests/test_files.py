"""Files are written all or none; names stay in their folder."""

import os
import shutil
import signal
import threading
from pathlib import Path

import pytest

from dielines.errors import UsageError
from dielines.files import write_all


def everything_under(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def failing_at(call: int, function):
    """Return *function*, which from its nth call on finds the disk full."""
    calls = iter(range(1, 1000))

    def failing(*arguments, **keywords):
        if next(calls) == call:
            raise OSError(28, "No space left on device", str(arguments[-1]))
        return function(*arguments, **keywords)

    return failing


def test_writes_every_file_and_nothing_else(tmp_path):
    written = write_all(tmp_path / "a/b", {"z.svg": b"1", "parts/y.dxf": b"2"})
    assert written == (tmp_path / "a/b/z.svg", tmp_path / "a/b/parts/y.dxf")
    assert everything_under(tmp_path) == {"a/b/z.svg": b"1", "a/b/parts/y.dxf": b"2"}


def test_replaces_what_is_there_and_leaves_the_rest(tmp_path):
    (tmp_path / "old.svg").write_bytes(b"old")
    (tmp_path / "mine.txt").write_bytes(b"mine")
    write_all(tmp_path, {"old.svg": b"new"})
    assert everything_under(tmp_path) == {"mine.txt": b"mine", "old.svg": b"new"}


@pytest.mark.parametrize("call", [1, 2, 3])
def test_a_failure_while_renaming_puts_everything_back(tmp_path, monkeypatch, call):
    (tmp_path / "b").write_bytes(b"old b")
    before = everything_under(tmp_path)
    monkeypatch.setattr(os, "replace", failing_at(call, os.replace))
    with pytest.raises(UsageError):
        write_all(tmp_path, {"a": b"1", "b": b"2", "new/c": b"3"})
    assert everything_under(tmp_path) == before
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize("call", [1, 2])
def test_a_failure_while_keeping_the_old_files_leaves_them(tmp_path, monkeypatch, call):
    (tmp_path / "a").write_bytes(b"old a")
    (tmp_path / "b").write_bytes(b"old b")
    before = everything_under(tmp_path)
    monkeypatch.setattr("shutil.copy2", failing_at(call, __import__("shutil").copy2))
    with pytest.raises(UsageError):
        write_all(tmp_path, {"a": b"1", "b": b"2"})
    assert everything_under(tmp_path) == before


def test_an_interruption_puts_everything_back(tmp_path, monkeypatch):
    def interrupted(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_all(tmp_path / "out", {"a": b"1"})
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("where", "name"),
    [(os, "replace"), (shutil, "copy2"), (Path, "unlink"), (Path, "mkdir"), (Path, "open")],
)
def test_ctrl_c_while_writing_waits_until_all_is_written(tmp_path, monkeypatch, where, name):
    function = getattr(where, name)

    def interrupted(*arguments, **keywords):
        answer = function(*arguments, **keywords)
        signal.raise_signal(signal.SIGINT)
        return answer

    (tmp_path / "a").write_bytes(b"old a")
    monkeypatch.setattr(where, name, interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_all(tmp_path, {"a": b"1", "new/b": b"2"})
    monkeypatch.undo()
    assert everything_under(tmp_path) == {"a": b"1", "new/b": b"2"}


def test_ctrl_c_while_taking_back_waits_until_all_is_back(tmp_path, monkeypatch):
    unlink = Path.unlink

    def interrupted(path, **keywords):
        signal.raise_signal(signal.SIGINT)
        unlink(path, **keywords)

    (tmp_path / "a").write_bytes(b"old a")
    monkeypatch.setattr(Path, "unlink", interrupted)
    monkeypatch.setattr(os, "replace", failing_at(2, os.replace))
    with pytest.raises(UsageError):
        write_all(tmp_path, {"a": b"1", "b": b"2"})
    monkeypatch.undo()
    assert everything_under(tmp_path) == {"a": b"old a"}


def test_ctrl_c_does_again_after_writing_what_it_did_before(tmp_path):
    before = signal.getsignal(signal.SIGINT)
    write_all(tmp_path, {"a": b"1"})
    assert signal.getsignal(signal.SIGINT) is before


def test_another_thread_than_the_main_one_writes_too(tmp_path):
    thread = threading.Thread(target=write_all, args=(tmp_path, {"a": b"1"}))
    thread.start()
    thread.join()
    assert everything_under(tmp_path) == {"a": b"1"}


def test_a_folder_in_the_way_is_an_error_and_nothing_is_written(tmp_path):
    (tmp_path / "b").mkdir()
    with pytest.raises(UsageError):
        write_all(tmp_path, {"a": b"1", "b": b"2"})
    assert everything_under(tmp_path) == {}


def test_a_file_where_the_folder_should_be_is_an_error(tmp_path):
    (tmp_path / "out").write_bytes(b"not a folder")
    with pytest.raises(UsageError):
        write_all(tmp_path / "out", {"a": b"1"})
    assert everything_under(tmp_path) == {"out": b"not a folder"}


@pytest.mark.parametrize(
    "name",
    ["../a", "/etc/a", "a/../../b", "a\\b", "c:a", "", ".", "a/", "nul", "NUL.svg", "a\0b", "a\nb",
     "end.", " a", "x" * 300],
)  # fmt: skip
def test_refuses_names_that_leave_the_folder_or_are_no_names(tmp_path, name):
    with pytest.raises(UsageError):
        write_all(tmp_path / "out", {"good": b"1", name: b"2"})
    assert everything_under(tmp_path) == {}


def test_refuses_a_link_that_leads_out_of_the_folder(tmp_path):
    (tmp_path / "out").mkdir()
    (tmp_path / "out/elsewhere").symlink_to(tmp_path)
    with pytest.raises(UsageError):
        write_all(tmp_path / "out", {"elsewhere/a": b"1"})
    assert everything_under(tmp_path) == {}


@pytest.mark.parametrize("other", ["A.svg", "é.svg"])
def test_refuses_two_names_that_are_one_file_on_some_machines(tmp_path, other):
    first = {"A.svg": "a.svg", "é.svg": "e\u0301.svg"}[other]
    with pytest.raises(UsageError):
        write_all(tmp_path, {first: b"1", other: b"2"})
    assert everything_under(tmp_path) == {}
