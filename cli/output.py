"""What commands print: tables for people, JSON for programs, progress for the patient."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer

if TYPE_CHECKING:
    from dielines.book.outputs import Outputs
    from dielines.formats.proving import ProvedFile
    from dielines.language.library import Library

Thing = TypeVar("Thing")

#: The option of every command whose result a program may want to read.
Json = Annotated[bool, typer.Option("--json", help="Print JSON for a program to read.")]


def print_json(value: Any) -> None:
    """Print *value* (tables, lists, texts, numbers) as JSON, its keys in their order."""
    typer.echo(json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False))


def both_units(width: float, height: float) -> str:
    """Return a size in mm, as people read it: millimetres, then inches.

    >>> both_units(123.825, 25.4)
    '123.825 x 25.400 mm (4 7/8 in x 1 in)'
    """
    from dielines.lengths import Length, show

    inches = [show(Length(Fraction(f"{side:.6f}")), "in", 32) for side in (width, height)]
    return f"{width:.3f} x {height:.3f} mm ({' x '.join(inches)})"


def print_table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Print *rows* in columns under *head*."""
    for line in table_lines(head, rows):
        typer.echo(line)


def print_files(folder: Path, files: Sequence[ProvedFile], texts: Sequence[str] = ()) -> None:
    """Print which files were written into *folder*, and how far they deviate on re-reading."""
    rows = [(str(folder / file.name), *_proof(file)) for file in files]
    rows += [(str(folder / name), "", "", "") for name in texts]
    print_table(("file", "page in mm", "paths", "deviation mm"), rows)


def print_outputs(folder: Path, outputs: Outputs) -> None:
    """Print what was written into *folder*, and the largest deviation that re-reading found."""
    print_files(folder, outputs.drawings, tuple(outputs.texts))
    typer.echo(f"\nAll read back; the largest deviation is {outputs.deviation:.9f} mm.")


def _proof(file: ProvedFile) -> tuple[str, str, str]:
    size = f"{file.width:.2f} x {file.height:.2f}"
    return size, str(file.paths), f"{file.deviation:.6f}"


def table_lines(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Return the lines of a table; a column of numbers is set to the right.

    >>> for line in table_lines(["part", "mm"], [["page", "4.5"], ["mat", "12.25"]]): print(line)
    part     mm
    page    4.5
    mat   12.25
    """
    laid = [_column(cells) for cells in zip(head, *rows, strict=True)]
    return ["  ".join(cells).rstrip() for cells in zip(*laid, strict=True)]


def _column(cells: Sequence[str]) -> list[str]:
    width = max(len(cell) for cell in cells)
    if any(cells[1:]) and all(not cell or cell[-1].isdigit() for cell in cells[1:]):
        return [cell.rjust(width) for cell in cells]
    return [cell.ljust(width) for cell in cells]


def library_in(folder: Path) -> Library:
    """Return the built-in templates and those in *folder*; raises UsageError where that is none."""
    from dielines.errors import UsageError
    from dielines.language.library import library_beside

    if not folder.is_dir():
        raise UsageError(f"{folder} is no folder; templates of your own lie in one")
    return library_beside(folder)


def stage(words: str) -> None:
    """Say on standard error, where that is a terminal, what is being done now."""
    if sys.stderr.isatty():
        typer.echo(f"{words} ...", err=True)


@contextmanager
def progress(things: Sequence[Thing], label: str) -> Iterator[Iterator[Thing]]:
    """Yield *things* one by one while a bar on standard error shows how many are done.

    Nothing is shown where standard error is no terminal.
    """
    if not sys.stderr.isatty():
        yield iter(things)
        return
    with typer.progressbar(things, label=label, file=sys.stderr) as bar:
        yield iter(bar)
