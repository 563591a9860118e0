"""The command ``part``."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from dielines.lengths import Unit

from ..output import library_in, print_outputs

#: What a template takes may be written as options, and no list of ours knows their names.
CONTEXT_SETTINGS = {"ignore_unknown_options": True}


def command(
    name: Annotated[str, typer.Argument(help="A template, such as side-pocket.")],
    sizes: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[NAME=VALUE]...", help='Such as width="6 1/4"; or --width "6 1/4".'
        ),
    ] = None,
    with_: Annotated[
        str | None, typer.Option("--with", help="What is added at the bound edge: cover-tab, ...")
    ] = None,
    units: Annotated[
        Unit | None, typer.Option(help="What a bare number counts in; else as in the template.")
    ] = None,
    out: Annotated[Path, typer.Option(help="The folder for the files.")] = Path(),
    beside: Annotated[Path, typer.Option(help="The folder of your own templates.")] = Path(),
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
) -> None:
    """Make the parts of one template by themselves.

    All that a template takes has a usual value; "dielines show NAME" lists it.
    A size of what is added with --with has its name in front: cover-tab.tab=2.
    """
    from dielines.book.cut_list import rows_of
    from dielines.book.cut_list_text import part_lines, work_lines
    from dielines.book.outputs import single_files
    from dielines.book.single import fragment_named, single_parts
    from dielines.files import write_all
    from dielines.workshop.loading import load_workshop

    library = library_in(beside)
    template = library.find(name)
    fragment = fragment_named(with_, library) if with_ else None
    shown_in = units or template.units or "mm"
    owned = load_workshop(workshop, beside, shown_in)
    parts = single_parts(template, sizes_said(sizes or []), owned, units, fragment)
    outputs = single_files(template.name, parts, owned.machine)
    write_all(out, outputs.contents)
    rows = rows_of(parts)
    for line in (*part_lines(rows, shown_in), "", *work_lines(rows, shown_in), ""):
        typer.echo(line)
    print_outputs(out, outputs)


def sizes_said(words: Sequence[str]) -> dict[str, str]:
    """Return what NAME=VALUE, --NAME VALUE and --NAME=VALUE say; raises UsageError.

    >>> sizes_said(["width=6 1/4", "--depth", "1/8", "--cover-tab.tab=2"])
    {'width': '6 1/4', 'depth': '1/8', 'cover-tab.tab': '2'}
    """
    from dielines.errors import UsageError

    said: dict[str, str] = {}
    waiting = list(words)
    while waiting:
        word = waiting.pop(0)
        name, sign, value = word.removeprefix("--").partition("=")
        if not sign and word.startswith("--") and waiting:
            sign, value = "=", waiting.pop(0)
        if not sign or not name.strip():
            raise UsageError(f"{word[:60]!r} gives no size; write width=6 or --width 6")
        key = name.strip()
        if key in said:
            raise UsageError(f"{key} is given twice")
        said[key] = value.strip()
    return said
