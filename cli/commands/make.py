"""The command ``make``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ..output import print_outputs, stage

if TYPE_CHECKING:
    from dielines.book.book import Book
    from dielines.book.outputs import Outputs
    from dielines.documents import Document


def command(
    file: Annotated[Path, typer.Argument(help="A book file, or the sizes.toml of a made book.")],
    set_: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="In place of what the book says."),
    ] = None,
    only: Annotated[
        str | None, typer.Option(help='One part alone: "page 2", or a letter of the cut list.')
    ] = None,
    copies: Annotated[
        int | None, typer.Option(min=1, max=1000, help="How many books the cut list is for.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="The folder for the files; by default called as the book.")
    ] = None,
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
    beside: Annotated[
        Path | None, typer.Option(help="For a sizes.toml: the folder of your own templates.")
    ] = None,
) -> None:
    """Make the cut files of a book, each checked and read back.

    Beside the files to cut there is a guide with all layers and names, the cut
    list, and sizes.toml: keep that, and one spoiled part can be made again.
    """
    from dielines.book.again import is_sizes_document
    from dielines.book.reading import book_document

    document = book_document(file)
    settings = [*(set_ or []), *([f"make.copies={copies}"] if copies else [])]
    if is_sizes_document(document):
        _refuse_for_sizes(settings, only)
        _make_again(document, only or "", out, workshop, beside)
    else:
        _make_from_book(document, settings, only, out, workshop)


def _refuse_for_sizes(settings: list[str], only: str | None) -> None:
    """Raise UsageError for what cannot be asked of a book that is made already."""
    from dielines.errors import UsageError

    if settings:
        raise UsageError("sizes.toml holds a book as it was made; --set and --copies need the book")
    if not only:
        raise UsageError("from sizes.toml one part is made at a time: --only with its letter")


def _make_again(
    document: Document, only: str, out: Path | None, workshop: Path | None, beside: Path | None
) -> None:
    """Make one part of a book again from its ``sizes.toml``."""
    from dielines.book.again import library_for, made_again, workshop_for
    from dielines.book.outputs import piece_files

    again = made_again(document, only, library_for(document, beside))
    stage("Drawing, writing and reading back")
    machine = workshop_for(document, workshop).machine
    outputs = piece_files(again.book_name, again.piece, machine)
    _write(out or Path(document.name).parent, outputs)
    typer.echo(f"{again.piece.letter}: {again.piece.title}, as it was made.")


def _make_from_book(
    document: Document,
    settings: list[str],
    only: str | None,
    out: Path | None,
    workshop: Path | None,
) -> None:
    """Make all of a book, or one part of it."""
    from dielines.book.composing import compose
    from dielines.book.from_file import book_source
    from dielines.book.outputs import book_files, piece_files
    from dielines.book.pieces import piece_named

    name = Path(document.name).stem
    source = book_source(document, settings, workshop)
    stage("Composing")
    book = compose(source.request, source.workshop, source.library)
    machine = source.workshop.machine
    stage("Drawing, writing and reading back")
    if only:
        outputs = piece_files(name, piece_named(book, only), machine)
    else:
        outputs = book_files(name, book, machine)
    print_book(book)
    _write(out or Path(name), outputs)


def print_book(book: Book) -> None:
    """Print how much there is to cut, and what a person should know of it."""
    from dielines.book.cut_list_text import ASSUMED, note_lines
    from dielines.book.outputs import CUT_LIST

    letters = len({entry.letter for entry in book.parts})
    typer.echo(f"{book.title}: {len(book.parts)} parts, of {letters} kinds.")
    copies, spares = book.request.copies, book.request.spares
    if copies > 1 or spares:
        spare = f" and {spares} spare of each kind" if spares else ""
        typer.echo(f"The files hold one copy; the cut list counts for {copies}{spare}.")
    for line in note_lines(book.notes):
        typer.echo(line)
    assumed = sum(note.code == ASSUMED for note in book.notes)
    if assumed:
        typer.echo(f"- {assumed} values are typical and not measured by you; see {CUT_LIST}.")
    typer.echo()


def _write(folder: Path, outputs: Outputs) -> None:
    from dielines.files import write_all

    write_all(folder, outputs.contents)
    print_outputs(folder, outputs)
