"""The command ``test-piece``."""

from pathlib import Path
from typing import Annotated

import typer

from ..output import print_table


def command(
    out: Annotated[Path, typer.Option(help="The folder for the files.")] = Path(),
) -> None:
    """Write a small file to cut first.

    Two squares tell whether your programs keep the true size: measure 1 in and
    25 mm. Fold the eight strips to see which way of scoring suits your paper,
    and turn the sheet for a second piece to feel its grain. Fold the tab over
    its tape: its edge ends on the short slit.
    """
    from dielines.files import write_all
    from dielines.formats.proving import proved_files
    from dielines.proof_piece import SETTINGS, proof_piece

    files = proved_files("test-piece", proof_piece())
    write_all(out, {file.name: file.content for file in files})
    strips = [(str(number), setting.name) for number, setting in enumerate(SETTINGS, 1)]
    print_table(("strip", "scored"), strips)
    typer.echo()
    rows = [(str(out / file.name), str(file.paths), f"{file.deviation:.6f}") for file in files]
    print_table(("file", "paths", "deviation mm"), rows)
