"""The command ``new``."""

from pathlib import Path
from typing import Annotated

import typer

from dielines.lengths import Unit

USUAL_PHOTO = {"in": "4 x 6", "mm": "100 x 150"}


#: What is left over is told in our own words: most often a size that is not in quotes.
CONTEXT_SETTINGS = {"allow_extra_args": True}


def command(
    context: typer.Context,
    file: Annotated[Path, typer.Argument(help="The book file to write; its name ends in .toml.")],
    photo: Annotated[
        str | None, typer.Option(help='The photos that it is made for, across x up: "5 x 7".')
    ] = None,
    page: Annotated[
        str | None, typer.Option(help='The size of a page instead: "A5 wide", "95 x 135".')
    ] = None,
    pages: Annotated[int, typer.Option(help="How many pages.")] = 6,
    units: Annotated[Unit, typer.Option(help="What a bare number counts in.")] = "in",
    binding: Annotated[str, typer.Option(help="How the pages are bound.")] = "tab and channel",
) -> None:
    """Write a book file with the usual sizes, ready to edit.

    A file that is there already is left alone.
    """
    from dielines.bindings.registry import bindings
    from dielines.book.new_book import new_book_text
    from dielines.book.words import name_of
    from dielines.documents import Refusal
    from dielines.errors import UsageError
    from dielines.files import write_all

    if context.args:
        raise UsageError(_left_over(file, context.args, photo, page))
    if photo and page:
        raise UsageError("one size drives all others: give --photo or --page, not both")
    if file.suffix != ".toml":
        raise UsageError(f"{file}: the name of a book file ends in .toml")
    if file.exists():
        raise UsageError(f"{file} is there already; choose another name, or edit it")
    try:
        bound = name_of(binding, bindings(), "binding")
    except Refusal as refusal:
        raise UsageError(f"{refusal.message}. {refusal.remedy}".rstrip(". ")) from None
    size = f"page {page}" if page else f"photo {photo or USUAL_PHOTO[units]}"
    text = new_book_text(_title(file), size, pages, units, bound)
    write_all(file.parent, {file.name: text.encode()})
    typer.echo(f"{file} is a book of {pages} pages for {size} {units}. Edit it, then run:")
    typer.echo(f"  dielines make {file}")


def _left_over(file: Path, more: list[str], photo: str | None, page: str | None) -> str:
    """Return what to do about words that belong to no option."""
    words = " ".join([*([] if file.suffix == ".toml" else [str(file)]), *more])
    option = "--page" if page else "--photo"
    size = f"{photo or page or '5'} x 7"
    return (
        f"{words[:60]!r} belongs to no option. A text with spaces stands in quotes: "
        f'{option} "{size}"'
    )


def _title(file: Path) -> str:
    """Return a title from the name of the file: "my-lake" is "My lake"."""
    words = " ".join(file.stem.replace("-", " ").replace("_", " ").split())
    return words[:1].upper() + words[1:]
