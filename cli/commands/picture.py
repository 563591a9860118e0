"""The command ``picture``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dielines.lengths import Unit

from ..output import library_in, print_table, stage
from .check import folded_from
from .part import sizes_said

if TYPE_CHECKING:
    from dielines.folding.folded_book import FoldedBook
    from dielines.pictures.book_picture import View
    from dielines.pictures.files import Also, Shown

#: What a template takes may be written as options, and no list of ours knows their names.
CONTEXT_SETTINGS = {"ignore_unknown_options": True}


def command(
    name: Annotated[str, typer.Argument(help="A book file, or a template such as side-pocket.")],
    sizes: Annotated[
        list[str] | None,
        typer.Argument(metavar="[NAME=VALUE]...", help="Sizes of a template, as with part."),
    ] = None,
    open_: Annotated[
        list[int] | None,
        typer.Option("--open", help="The book open behind this page; 0 opens its front cover."),
    ] = None,
    exploded: Annotated[
        bool, typer.Option("--exploded", help="The book with its parts pulled apart.")
    ] = False,
    checks: Annotated[
        bool, typer.Option("--checks", help="What the checks find, marked at its place.")
    ] = False,
    only: Annotated[
        str | None, typer.Option(help='How one part is folded: "page 2", or its letter.')
    ] = None,
    stage_: Annotated[
        float | None,
        typer.Option("--stage", min=0, max=1, help="A part folded so far: 0 flat, 1 finished."),
    ] = None,
    also: Annotated[
        list[str] | None,
        typer.Option(metavar="png|fold|glb", help="Also PNG, or models: FOLD, glTF of a book."),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="The folder for the files; of a book, called as the book.")
    ] = None,
    set_: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="In place of what the book says."),
    ] = None,
    with_: Annotated[
        str | None, typer.Option("--with", help="For a template: what a binding adds to it.")
    ] = None,
    units: Annotated[
        Unit | None, typer.Option(help="For a template: what a bare number counts in.")
    ] = None,
    beside: Annotated[
        Path, typer.Option(help="For a template: the folder of your own templates.")
    ] = Path(),
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
) -> None:
    """Draw a book closed, open, pulled apart, or how a part folds.

    Of a book without options: closed, pulled apart, and open in the middle. These
    are pictures to look at; what is cut comes from make and part.
    """
    from dielines.files import write_all

    kinds = [_kind(word) for word in also or []]
    at = None if stage_ is None else Fraction(str(stage_))
    if Path(name).suffix == ".toml" and not _is_template(Path(name)):
        _refuse({"NAME=VALUE": sizes, "--with": with_, "--units": units}, "a template")
        folder = out or Path(Path(name).stem)
        views = _views(open_ or [], exploded)
        _refuse_mixture(only, bool(views) or checks, at)
        book = Path(name).stem
        folded = folded_from(Path(name), set_ or [], workshop)
        stage("Folding and drawing")
        shown = (
            _of_one_part(book, folded, only, at, kinds)
            if only
            else _of_book(book, folded, views, checks, kinds)
        )
    else:
        given = {"--set": set_, "--only": only, "--open": open_}
        _refuse({**given, "--exploded": exploded, "--checks": checks}, "a book")
        folder = out or Path()
        shown = _of_template(name, sizes or [], at, kinds, (with_, units, beside, workshop))
    write_all(folder, {file.name: file.content for file in shown})
    rows = [(str(folder / file.name), file.words) for file in shown]
    print_table(("file", "shows"), rows)


def _kind(word: str) -> Also:
    from dielines.errors import UsageError
    from dielines.pictures.files import Also

    if word not in {kind.value for kind in Also}:
        raise UsageError(f"--also {word[:40]}: there are png, fold and glb")
    return Also(word)


def _is_template(path: Path) -> bool:
    from dielines.book.reading import book_document

    return "template" in book_document(path).data


def _refuse(options: Mapping[str, object], what: str) -> None:
    """Raise UsageError where one of *options* is given, which only *what* takes."""
    from dielines.errors import UsageError

    given = [name for name, value in options.items() if value]
    if given:
        raise UsageError(f"{', '.join(given)} can be said of {what} only")


def _refuse_mixture(only: str | None, is_of_book: bool, at: Fraction | None) -> None:
    """Raise UsageError where one part and the whole book are asked for at once."""
    from dielines.errors import UsageError

    if only and is_of_book:
        raise UsageError("--only draws one part; --open, --exploded and --checks the whole book")
    if at is not None and not only:
        raise UsageError("--stage is of one part: name it with --only")


def _views(openings: Sequence[int], exploded: bool) -> list[tuple[View, int]]:
    """Return the views of a book that are asked for by name."""
    from dielines.pictures.book_picture import View

    views = [(View.OPEN, opening) for opening in openings]
    return [*views, (View.EXPLODED, 0)] if exploded else views


def _of_book(
    name: str, folded: FoldedBook, views: list[tuple[View, int]], checks: bool, kinds: list[Also]
) -> Sequence[Shown]:
    """Return what is drawn of a whole book."""
    from dielines.checks.checking import check_book
    from dielines.pictures.files import book_pictures, report_picture, usual_views, with_more

    wanted = views if views or checks else usual_views(folded.book)
    pictures = book_pictures(name, folded, wanted)
    if checks:
        pictures = (*pictures, report_picture(name, folded, check_book(folded)))
    return with_more(name, folded, pictures, kinds)


def _of_one_part(
    name: str, folded: FoldedBook, only: str, at: Fraction | None, kinds: list[Also]
) -> Sequence[Shown]:
    """Return what is drawn of one part of a book."""
    from dielines.book.pieces import piece_named
    from dielines.pictures.files import part_files

    entry = folded.book.part(piece_named(folded.book, only).key)
    return part_files(f"{name}.{entry.letter}", entry, folded.parts[entry.key], at, kinds)


def _of_template(
    name: str,
    sizes: list[str],
    at: Fraction | None,
    kinds: list[Also],
    how: tuple[str | None, Unit | None, Path, Path | None],
) -> Sequence[Shown]:
    """Return what is drawn of the parts of a template."""
    from dielines.book.single import fragment_named, single_parts
    from dielines.folding.folded_parts import fold_part
    from dielines.pictures.files import part_files
    from dielines.workshop.loading import load_workshop

    with_, units, beside, workshop = how
    path = Path(name)
    folder = path.parent if path.suffix == ".toml" else beside
    library = library_in(folder)
    template = library.find(path.stem if path.suffix == ".toml" else name)
    fragment = fragment_named(with_, library) if with_ else None
    owned = load_workshop(workshop, folder, units or template.units or "mm")
    entries = single_parts(template, sizes_said(sizes), owned, units, fragment)
    found: list[Shown] = []
    for entry in {entry.letter: entry for entry in reversed(entries)}.values():
        key = f"{template.name}.{entry.key}" if len(entries) > 1 else template.name
        found = [*part_files(key, entry, fold_part(entry.part), at, kinds), *found]
    return found
