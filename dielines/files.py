"""Writing files so that either all of them are there, whole, or nothing has changed."""

from __future__ import annotations

import os
import shutil
import signal
import threading
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path as FilePath

from .errors import UsageError

#: Names that a common file system keeps for devices, whatever the suffix.
_DEVICES = frozenset(
    ["con", "prn", "aux", "nul"] + [f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)]
)
_FORBIDDEN = frozenset('<>:"\\|?*')  # in a name, on at least one common file system


def write_all(folder: FilePath, contents: Mapping[str, bytes]) -> tuple[FilePath, ...]:
    """Return the paths of the files written under *folder*, in the order of *contents*.

    A name may have folders in it (``"parts/page.svg"``) but never leaves
    *folder*; folders that are missing are made, files that are there are
    replaced. Everything is first written beside its place and then renamed;
    whatever fails, the folder is left as it was. Ctrl-C waits until all is written.

    Raises UsageError for a name that cannot be used and for a file that cannot
    be written.
    """
    targets = _targets(folder, contents)
    with _interruption_put_off():
        with ExitStack() as undo:
            try:
                backups = _write(targets, undo)
            except OSError as problem:
                place = problem.filename2 or problem.filename or folder
                raise UsageError(f"{place}: cannot be written: {problem.strerror}") from problem
            undo.pop_all()
        for backup in backups:
            backup.unlink(missing_ok=True)
    return tuple(targets)


@contextmanager
def _interruption_put_off() -> Iterator[None]:
    """Let Ctrl-C take effect afterwards only: between two steps it would leave half of them.

    Only the main thread can do so; in others Python never raises KeyboardInterrupt.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    wanted: list[int] = []
    before = signal.signal(signal.SIGINT, lambda number, frame: wanted.append(number))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before or signal.SIG_DFL)
    if wanted:
        signal.raise_signal(signal.SIGINT)


def _write(targets: Mapping[FilePath, bytes], undo: ExitStack) -> list[FilePath]:
    """Write everything; return the copies of what was replaced. *undo* takes it all back."""
    for target in targets:
        _make_folder(target.parent, undo)
    staged = [(_stage(target, content, undo), target) for target, content in targets.items()]
    kept = [_keep(target, undo) for target in targets]
    for new, target in staged:
        os.replace(new, target)
    return [backup for backup in kept if backup]


def _make_folder(folder: FilePath, undo: ExitStack) -> None:
    """Make *folder* and what is missing above it."""
    if folder.is_dir():
        return
    _make_folder(folder.parent, undo)
    folder.mkdir()
    undo.callback(folder.rmdir)


def _stage(target: FilePath, content: bytes, undo: ExitStack) -> FilePath:
    """Write *content* beside *target* and return where."""
    if target.is_dir():
        raise IsADirectoryError(None, "there is a folder of that name", str(target))
    new = target.with_name(f".{target.name}.{os.getpid()}.new")
    with new.open("xb") as file:
        undo.callback(new.unlink, missing_ok=True)
        file.write(content)
    return new


def _keep(target: FilePath, undo: ExitStack) -> FilePath | None:
    """Copy what is at *target*, if anything, so that it can be put back."""
    if not target.exists():
        undo.callback(target.unlink, missing_ok=True)
        return None
    backup = target.with_name(f".{target.name}.{os.getpid()}.old")
    undo.callback(backup.unlink, missing_ok=True)
    shutil.copy2(target, backup)
    undo.callback(os.replace, backup, target)
    return backup


def _targets(folder: FilePath, contents: Mapping[str, bytes]) -> dict[FilePath, bytes]:
    """Return where each file goes; refuses names that no or only some file systems take."""
    seen: dict[str, str] = {}
    targets: dict[FilePath, bytes] = {}
    for name, content in contents.items():
        other = seen.setdefault(unicodedata.normalize("NFC", name).casefold(), name)
        if other != name:
            raise UsageError(f"{other!r} and {name!r} are the same file on some machines")
        targets[_target(folder, name)] = content
    return targets


def _target(folder: FilePath, name: str) -> FilePath:
    if not all(is_plain_name(piece) for piece in name.split("/")):
        raise UsageError(f"{name[:100]!r} cannot be the name of a file")
    target = folder.joinpath(*name.split("/"))
    if not target.parent.resolve().is_relative_to(folder.resolve()):
        raise UsageError(f"{name!r} leads out of the folder {folder}")
    return target


def is_plain_name(name: str) -> bool:
    """Return whether *name* is a file name that every common file system takes.

    >>> [is_plain_name(n) for n in ("lake.cut.svg", "..", "a/b", "nul.txt", "end ", "")]
    [True, False, False, False, False, False]
    """
    return (
        0 < len(name.encode("utf-8", "replace")) <= 200
        and name == name.strip()
        and not name.endswith(".")
        and not any(sign in _FORBIDDEN or sign == "/" or ord(sign) < 32 for sign in name)
        and name.isprintable()
        and name.split(".")[0].casefold() not in _DEVICES
    )
