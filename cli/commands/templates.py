"""The command ``templates``."""

from pathlib import Path
from typing import Annotated

import typer

from ..output import Json, print_json, print_table

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
    from dielines.language.library import library_beside

    library = library_beside(beside)
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
            print_table(
                (heading, ""),
                [
                    (f"  {t.words}", f"{t.help}{' (your own)' if t.name in library.own else ''}")
                    for t in found
                ],
            )
            typer.echo()
    typer.echo("See what one takes, and its sizes: dielines show NAME")
