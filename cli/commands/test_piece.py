"""The command ``test-piece``."""

from pathlib import Path
from typing import Annotated

import typer

from ..output import print_files, print_table


def command(
    out: Annotated[Path, typer.Option(help="The folder for the files.")] = Path(),
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
) -> None:
    """Write a small file to cut first.

    Two squares tell whether your programs keep the true size: measure 1 in and
    25 mm. Fold the eight strips to see which way of scoring suits your paper,
    and turn the sheet for a second piece to feel its grain. Fold the tab over
    its tape: its edge ends on the short slit.
    """
    from dielines.files import write_all
    from dielines.machine_files import proved_files
    from dielines.proof_piece import SETTINGS, proof_piece
    from dielines.workshop.loading import load_workshop

    machine = load_workshop(workshop, Path.cwd()).machine
    files = proved_files("test-piece", proof_piece(), machine)
    write_all(out, {file.name: file.content for file in files})
    strips = [(str(number), setting.name) for number, setting in enumerate(SETTINGS, 1)]
    print_table(("strip", "scored"), strips)
    typer.echo()
    print_files(out, files)
