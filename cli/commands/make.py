"""The command ``make``."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ..interrupting import Cutting, gap_said, laid_out
from ..output import print_outputs, stage

if TYPE_CHECKING:
    from dielines.book.book import Book
    from dielines.book.outputs import Outputs
    from dielines.book.pieces import Piece
    from dielines.book.previews import Preview
    from dielines.checks.checking import Report
    from dielines.documents import Document
    from dielines.folding.folded_book import FoldedBook
    from dielines.lengths import Unit
    from dielines.sheets.layout import BookLayout
    from dielines.workshop.sizes import Size

TAPE_PLAN = "tape-plan.txt"


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
        int | None, typer.Option(min=1, max=1000, help="How many books are cut.")
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
    by: Annotated[
        str, typer.Option(metavar="machine|trimmer", help="With what the paper is cut.")
    ] = "machine",
    gap: Annotated[
        str | None,
        typer.Option(help='Between parts on a sheet: "1/8 in"; by default the workshop\'s.'),
    ] = None,
    effort: Annotated[
        int, typer.Option(min=1, max=1000, help="So many times the usual work for few sheets.")
    ] = 1,
    keep_best: Annotated[
        bool, typer.Option("--keep-best", help="After Ctrl-C go on with the best layout so far.")
    ] = False,
    print_on: Annotated[
        str | None,
        typer.Option(
            "--print-on",
            metavar="A4|letter|SIZE",
            help="Also all sheets at true size on pages of this paper, to be joined.",
        ),
    ] = None,
    also: Annotated[
        list[str] | None,
        typer.Option(metavar="png|pdf", help="Also the guide as a picture, or to print at 1:1."),
    ] = None,
) -> None:
    """Make all files of a book: checked first, then each read back.

    All parts are laid out on sheets of their paper, with a file to cut for each
    different sheet. Beside them there are a guide with all layers and names, lists
    to work by, and sizes.toml: keep that, and one spoiled part can be made again.
    """
    from dielines.book.again import is_sizes_document
    from dielines.book.reading import book_document

    document = book_document(file)
    settings = [*(set_ or []), *([f"make.copies={copies}"] if copies else [])]
    if is_sizes_document(document):
        _refuse_for_sizes(settings, only)
        _make_again(document, only or "", out, workshop, beside, also or [])
    else:
        cutting = Cutting(by, effort, keep_best, print_on=print_on)
        _make_from_book(document, settings, only, out, workshop, also or [], cutting, gap)


def _refuse_for_sizes(settings: list[str], only: str | None) -> None:
    """Raise UsageError for what cannot be asked of a book that is made already."""
    from dielines.errors import UsageError

    if settings:
        raise UsageError("sizes.toml holds a book as it was made; --set and --copies need the book")
    if not only:
        raise UsageError("from sizes.toml one part is made at a time: --only with its letter")


def _make_again(
    document: Document,
    only: str,
    out: Path | None,
    workshop: Path | None,
    beside: Path | None,
    also: list[str],
) -> None:
    """Make one part of a book again from its ``sizes.toml``."""
    from dielines.book.again import library_for, made_again, workshop_for
    from dielines.book.outputs import piece_files

    again = made_again(document, only, library_for(document, beside))
    stage("Drawing, writing and reading back")
    machine = workshop_for(document, workshop).machine
    outputs = piece_files(again.book_name, again.piece, machine)
    folder = out or Path(document.name).parent
    outputs = _written(folder, outputs, also)
    print_piece(again.piece, document.data["units"])
    print_outputs(folder, outputs)


def _make_from_book(
    document: Document,
    settings: list[str],
    only: str | None,
    out: Path | None,
    workshop: Path | None,
    also: list[str],
    cutting: Cutting,
    gap: str | None,
) -> None:
    """Make all of a book, or one part of it."""
    from dataclasses import replace

    from dielines.book.again import refuse_other_book
    from dielines.book.composing import compose
    from dielines.book.from_file import book_source
    from dielines.book.outputs import book_files, piece_files
    from dielines.book.pieces import piece_named
    from dielines.checks.checking import check_book
    from dielines.checks.registry import rules
    from dielines.folding.folded_book import FoldedBook
    from dielines.sheets.files import with_prints

    name = Path(document.name).stem
    source = book_source(document, settings, workshop, rules())
    stage("Composing")
    book = compose(source.request, source.workshop, source.library)
    cutting = replace(cutting, gap=gap_said(gap, book, source.workshop, cutting.by))
    paper = _printer_paper(cutting.print_on, book)
    piece = piece_named(book, only) if only else None
    stage("Folding and checking")
    folded = FoldedBook(book, source.workshop)
    report = check_book(folded)
    refuse_unsound(book, report)
    folder = out or Path(name)
    if piece:
        stage("Drawing, writing and reading back")
        outputs = _written(folder, piece_files(name, piece, source.workshop.machine), also)
        print_letter(book, piece)
    else:
        refuse_other_book(folder, name)
        layout = laid_out(book, source.workshop, cutting)
        stage("Drawing, writing and reading back")
        outputs = with_tape_plan(book_files(name, book, source.workshop.machine), folded)
        outputs = with_all_sheets(name, outputs, folded, layout)
        if paper:
            outputs = with_prints(name, outputs, book, layout, paper)
        outputs = _written(folder, outputs, also)
        remove_old_sheets(folder, name, outputs)
        print_book(book)
        print_sheets(layout, book, source.workshop.currency)
        print_found(book, report, document.name)
    print_outputs(folder, outputs)


def with_tape_plan(outputs: Outputs, folded: FoldedBook) -> Outputs:
    """Return *outputs* with the plan of all strips of tape among its texts."""
    from dataclasses import replace

    from dielines.checks.tape_plans import tape_plan_of
    from dielines.taping.plan_text import tape_plan_text

    text = tape_plan_text(tape_plan_of(folded), folded.book)
    return replace(outputs, texts={**outputs.texts, TAPE_PLAN: text.encode()})


def with_all_sheets(name: str, outputs: Outputs, folded: FoldedBook, layout: BookLayout) -> Outputs:
    """Return *outputs* with the files of all sheets, a picture of them, and what is to be bought."""
    from dataclasses import replace

    from dielines.checks.tape_plans import tape_plan_of
    from dielines.pictures.sheets_picture import sheets_picture
    from dielines.sheets.files import with_sheets
    from dielines.sheets.shopping import shopping_for
    from dielines.sheets.shopping_text import SHOPPING_LIST, shopping_text

    book, workshop = folded.book, folded.workshop
    outputs = with_sheets(name, outputs, book, layout, workshop)
    shopping = shopping_for(book, layout, tape_plan_of(folded), workshop.currency)
    more = {
        SHOPPING_LIST: shopping_text(book.title, shopping, book.units).encode(),
        f"{name}.sheets.svg": sheets_picture(book.title, layout, book.units).encode(),
    }
    return replace(outputs, texts={**outputs.texts, **more})


def _printer_paper(words: str | None, book: Book) -> Size | None:
    """Return the size of the paper that a person prints on; raises UsageError for what is none."""
    from dielines.errors import LengthError, UsageError
    from dielines.workshop.sizes import parse_size

    try:
        return None if words is None else parse_size(words, book.units)
    except LengthError as problem:
        raise UsageError(f"--print-on {(words or '')[:40]!r}: {problem.message}") from None


def remove_old_sheets(folder: Path, name: str, outputs: Outputs) -> None:
    """Remove the files of sheets that an earlier layout had and this one has not.

    Whoever cut by one of them would cut parts that are on other sheets now.
    """
    for path in sorted(folder.glob("*")):
        if not _is_of_sheets(path.name, name) or path.name in outputs.contents:
            continue
        try:
            path.unlink()
        except OSError as problem:
            reason = problem.strerror or "it cannot be removed"
            typer.echo(f"- {path} is of an earlier layout: do not cut by it ({reason}).")
        else:
            typer.echo(f"- {path} was of an earlier layout and is removed.")


def _is_of_sheets(file: str, name: str) -> bool:
    """Return whether *file* is one that not every layout of the book has."""
    from dielines.sheets.cutting_by_hand import CUTTING_BY_HAND

    cut = rf"{re.escape(name)}\.sheet-\d+\.cut(\.\d+-[a-z-]+)?\.(svg|dxf)"
    pages = (CUTTING_BY_HAND, f"{name}.sheets-to-join.pdf", f"{name}.sheets.pdf")
    return file in pages or re.fullmatch(cut, file) is not None


def print_sheets(layout: BookLayout, book: Book, currency: str) -> None:
    """Print how many sheets of each stock there are."""
    from dielines.sheets.sheets_text import reaches, total

    for stock in layout.stocks:
        typer.echo(f"- {stock.stock.name}: {total(stock, book.units, currency)}.")
        for words in reaches(stock, book.units):
            typer.echo(f"  {words[0].upper()}{words[1:]}.")
    typer.echo()


def refuse_unsound(book: Book, report: Report) -> None:
    """Raise DoesNotHold where the checks found an error, with all of them."""
    from dielines.checks.checking import Report
    from dielines.checks.finding import Severity
    from dielines.checks.report_text import report_lines, summary
    from dielines.errors import DoesNotHold

    if not report.holds:
        errors = Report(report.of(Severity.ERROR), ())
        lines = [
            *report_lines(book, errors),
            f"{book.title}: {summary(errors)}; nothing is written",
        ]
        raise DoesNotHold("\n".join(lines))


def print_found(book: Book, report: Report, file: str) -> None:
    """Print the warnings that the checks gave, and how many remarks there are."""
    from dielines.checks.checking import Report
    from dielines.checks.finding import Severity
    from dielines.checks.report_text import report_lines

    for line in report_lines(book, Report(report.of(Severity.WARNING), report.silenced)):
        typer.echo(line)
    remarks = len(report.of(Severity.REMARK))
    if remarks:
        plural = "s" if remarks > 1 else ""
        typer.echo(f"- The checks have {remarks} remark{plural}: dielines check {file}\n")


def _written(folder: Path, outputs: Outputs, also: list[str]) -> Outputs:
    """Write *outputs* and what is also wanted before anything is said of them; return all."""
    from dielines.book.previews import with_previews
    from dielines.files import write_all

    outputs = with_previews(outputs, [_preview(word) for word in also])
    write_all(folder, outputs.contents)
    return outputs


def _preview(word: str) -> Preview:
    from dielines.book.previews import Preview
    from dielines.errors import UsageError

    if word not in {kind.value for kind in Preview}:
        raise UsageError(f"--also {word[:40]}: there are png and pdf")
    return Preview(word)


def print_piece(piece: Piece, units: Unit) -> None:
    """Print which part was made, its size, scores and notches."""
    from dielines.book.cut_list_text import piece_lines

    typer.echo(f"{piece.letter}: {piece.title}\n")
    typer.echo("\n".join([*piece_lines(piece.part, units), ""]))


def print_letter(book: Book, piece: Piece) -> None:
    """Print which part was made, and all that the cut list of its book says of it."""
    from dielines.book.cut_list import cut_list
    from dielines.book.cut_list_text import letter_lines

    typer.echo(f"{piece.letter}: {piece.title}\n")
    lines = letter_lines(cut_list(book), piece.letter, book.units)
    typer.echo("\n".join([*lines, ""]))


def print_book(book: Book) -> None:
    """Print how much there is to cut, and what a person should know of it."""
    from dielines.book.cut_list_text import ASSUMED, note_lines
    from dielines.book.outputs import CUT_LIST
    from dielines.book.sheets_fit import NO_SHEET

    letters = len({entry.letter for entry in book.parts})
    typer.echo(f"{book.title}: {len(book.parts)} parts of {letters} kinds")
    copies, spares = book.request.copies, book.request.spares
    if copies > 1 or spares:
        spare = f", each with {spares} spare of every kind" if spares else ""
        typer.echo(f"- The guide holds one copy; sheets and cut list are for {copies}{spare}.")
    # What fits no sheet is told by the checks, with what to change.
    for line in note_lines([note for note in book.notes if note.code != NO_SHEET]):
        typer.echo(line)
    assumed = sum(note.code == ASSUMED for note in book.notes)
    if assumed:
        typer.echo(
            f"- {typical_words(assumed)}; {CUT_LIST} names {'it' if assumed == 1 else 'them'}."
        )
    typer.echo()


def typical_words(count: int) -> str:
    """Return how many values are typical."""
    return f"{count} value{' is' if count == 1 else 's are'} typical, not measured by you"
