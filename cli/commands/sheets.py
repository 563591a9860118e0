"""The command ``sheets``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ..advising import advice
from ..interrupting import Cutting, gap_said, laid_out
from ..output import Json, print_json, print_table

if TYPE_CHECKING:
    from dielines.book.book import Book
    from dielines.sheets.layout import BookLayout


def command(
    file: Annotated[Path, typer.Argument(help="A book file.")],
    by: Annotated[
        str, typer.Option(metavar="machine|trimmer", help="With what the paper is cut.")
    ] = "machine",
    copies: Annotated[int | None, typer.Option(min=1, max=1000, help="For how many books.")] = None,
    gap: Annotated[
        str | None, typer.Option(help='Between parts: "1/8 in"; by default the workshop\'s.')
    ] = None,
    set_: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="In place of what the book says."),
    ] = None,
    effort: Annotated[
        int, typer.Option(min=1, max=1000, help="So many times the usual work for a better layout.")
    ] = 1,
    keep_best: Annotated[
        bool, typer.Option("--keep-best", help="After Ctrl-C go on with the best layout so far.")
    ] = False,
    economy: Annotated[
        bool, typer.Option("--economy", help="Also which small change would save a sheet.")
    ] = False,
    out: Annotated[
        Path | None, typer.Option(help="The folder for a picture of all sheets.")
    ] = None,
    also: Annotated[
        list[str] | None, typer.Option(metavar="png", help="The picture as PNG, too.")
    ] = None,
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
    json: Json = False,
) -> None:
    """Lay the parts of a book, or of a class, on few sheets.

    Told with it is how few sheets any layout could do with. The same book always
    gives the same sheets; make writes the files to cut them by.
    """
    from .check import folded_from

    _refuse_other_pictures(also or [])
    settings = [*(set_ or []), *([f"make.copies={copies}"] if copies else [])]
    folded = folded_from(file, settings, workshop)
    book, shop = folded.book, folded.workshop
    cutting = Cutting(by, effort, keep_best, gap_said(gap, book, shop, by))
    layout = laid_out(book, shop, cutting)
    if json:
        from dielines.checks.tape_plans import tape_plan_of
        from dielines.sheets.economy_text import economy_data
        from dielines.sheets.sheets_data import sheets_data
        from dielines.sheets.shopping import shopping_for
        from dielines.sheets.shopping_text import shopping_data

        data = sheets_data(book, layout, shop.currency)
        shopping = shopping_for(book, layout, tape_plan_of(folded), shop.currency)
        data["shopping"] = shopping_data(shopping)
        if economy:
            found = advice(file, settings, folded, layout, cutting)
            data["economy"] = economy_data(*found, shop.currency)
        print_json(data)
    else:
        from dielines.sheets.economy_text import economy_lines
        from dielines.sheets.sheets_text import sheets_text

        typer.echo(sheets_text(book, layout, shop), nl=False)
        if economy:
            found = advice(file, settings, folded, layout, cutting)
            typer.echo("\n" + "\n".join(economy_lines(*found, book.units, shop.currency)))
    if out is not None or also:
        _draw(file.stem, book, layout, out or Path(file.stem), also or [], json)


def _refuse_other_pictures(also: list[str]) -> None:
    """Raise UsageError for a kind of picture that there is not, before anything is laid out."""
    from dielines.errors import UsageError

    if any(word != "png" for word in also):
        raise UsageError("--also: a picture of the sheets comes as SVG, and also as png")


def _draw(
    name: str, book: Book, layout: BookLayout, folder: Path, also: list[str], quiet: bool
) -> None:
    """Write the picture of all sheets."""
    from dielines.files import write_all
    from dielines.pictures.sheets_picture import sheets_picture

    svg = sheets_picture(book.title, layout, book.units)
    contents = {f"{name}.sheets.svg": svg.encode()}
    if also:
        from dielines.formats.png import write_png

        contents[f"{name}.sheets.png"] = write_png(svg, 2200)
    write_all(folder, contents)
    if not quiet:
        typer.echo()
        print_table(("file", "shows"), [(str(folder / file), "all sheets") for file in contents])
