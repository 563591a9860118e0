"""The command ``sizes``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ..output import Json, print_json, stage

if TYPE_CHECKING:
    from dielines.book.book import Book
    from dielines.sizes.reasons import Reason


def command(
    file: Annotated[Path, typer.Argument(help="A book file.")],
    why: Annotated[
        str | None,
        typer.Option(help='Why a size is what it is: "board width", "page 2 flap"; or all sizes.'),
    ] = None,
    set_: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="In place of what the book says."),
    ] = None,
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
    json: Json = False,
) -> None:
    """Show the cut list, every score position, or why a size is so.

    With --why, each size that another comes from stands below it, further in.
    """
    from dielines.book.again import is_sizes_document
    from dielines.book.composing import compose
    from dielines.book.from_file import book_source
    from dielines.book.reading import book_document
    from dielines.errors import UsageError

    document = book_document(file)
    if is_sizes_document(document):
        raise UsageError(_instead(file))
    source = book_source(document, set_ or [], workshop)
    stage("Composing")
    book = compose(source.request, source.workshop, source.library)
    if json:
        print_json(as_json(book, why))
    elif why:
        print_why(book, why)
    else:
        for line in lines_of(book):
            typer.echo(line)


def _instead(file: Path) -> str:
    """Return what to do with the sizes.toml of a made book."""
    return (
        f"{file} holds the sizes of a book as it was made. To see the cut list and reasons, name "
        f"the book file itself; for one part with its scores: dielines make {file} --only A"
    )


def print_why(book: Book, name: str) -> None:
    """Print the reason for the size called *name*, and for all sizes that it comes from."""
    from dielines.book.page_sizes import reasons_with_pages
    from dielines.sizes.explaining import value_lines, why
    from dielines.sizes.naming import ALL

    reasons = reasons_with_pages(book)
    typer.echo("\n".join(value_lines(reasons)) if name == ALL else why(reasons, name))


def lines_of(book: Book) -> Iterator[str]:
    """Yield the cut list as it is shown in a terminal."""
    from dielines.book.cut_list import cut_list
    from dielines.book.cut_list_text import assumed_lines, note_lines, part_lines, work_lines

    rows = cut_list(book)
    yield from part_lines(rows, book.units)
    yield ""
    yield from work_lines(rows, book.units)
    for lines in (list(note_lines(book.notes)), list(assumed_lines(book.notes))):
        yield from ["", *lines] if lines else []
    yield ""
    names = [name for name, reason in book.reasons.by_name.items() if reason.formula]
    example = names[0] if names else "spine"
    yield f"Ask for the reason of any size: --why {example}; --why all shows every size."


def as_json(book: Book, name: str | None) -> dict[str, Any]:
    """Return the cut list and all sizes, or one size, with the reason of each; sizes in mm."""
    from dielines.book.cut_list import as_json as rows_as_json
    from dielines.book.cut_list import cut_list
    from dielines.book.page_sizes import reasons_with_pages
    from dielines.sizes.explaining import reasons_behind
    from dielines.sizes.naming import ALL

    reasons = reasons_with_pages(book)
    is_all = name is None or name == ALL
    wanted = reasons.by_name if is_all else reasons_behind(reasons, name or "")
    sizes = {key: _reason_as_json(reason) for key, reason in wanted.items()}
    if name is not None:
        return {"sizes": sizes}
    notes = [{"code": n.code, "subject": n.subject, "text": n.text} for n in book.notes]
    return {
        "title": book.title,
        "units": book.units,
        "copies": book.request.copies,
        "parts": rows_as_json(cut_list(book)),
        "sizes": sizes,
        "notes": notes,
    }


def _reason_as_json(reason: Reason) -> dict[str, Any]:
    from dielines.lengths import Length

    value = reason.value
    amount = {"mm": float(value.mm)} if isinstance(value, Length) else {"number": float(value)}
    return {
        **amount,
        "formula": reason.formula,
        "from": list(reason.inputs),
        "source": reason.source,
        "note": reason.note,
    }
