"""The command ``templates``."""

from pathlib import Path
from typing import Annotated

import typer

from ..output import Json, library_in, print_json, table_lines

HEADINGS = {
    "page": "Pages",
    "insert": "Inserts, and what else can be made by itself",
    "case": "The case",
    "edge": "What a binding adds at the bound edge of a page",
    "fold": "What a binding does on the bound fold of a page",
}


def command(
    beside: Annotated[Path, typer.Option(help="The folder of your own templates.")] = Path(),
    json: Json = False,
) -> None:
    """List all templates, the built-in ones and your own."""
    library = library_in(beside)
    templates = list(library.templates())
    if json:
        rows = [
            {
                "name": template.name,
                "kind": template.kind,
                "own": template.name in library.own,
                "version": template.version,
                "help": template.help,
            }
            for template in templates
        ]
        print_json(rows)
        return
    for kind, heading in HEADINGS.items():
        found = [template for template in templates if template.kind == kind]
        if found:
            owned = dict.fromkeys(library.own, " (your own)")
            lines = [(f"  {t.words}", t.help + owned.get(t.name, "")) for t in found]
            typer.echo(heading)
            for line in table_lines(lines[0], lines[1:]):
                typer.echo(line)
            typer.echo()
    typer.echo("See what one takes, and its sizes: dielines show NAME")
