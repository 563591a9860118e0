"""The command ``compare``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ..output import Json, print_json, print_table

if TYPE_CHECKING:
    from dielines.formats.compare import Comparison

DIFFERENT = 1  #: exit code, as of other programs that compare
HEAD = ("layer", "in the first", "in the second", "missing", "extra", "open/closed", "deviation mm")


def command(
    first: Annotated[Path, typer.Argument(help="An SVG, DXF or PDF file.")],
    second: Annotated[Path, typer.Argument(help="Another, of the same format or not.")],
    tolerance: Annotated[
        str, typer.Option(help="How far paths may lie apart; a bare number is in mm.")
    ] = "0.001 mm",
    any_layer: Annotated[
        bool, typer.Option("--any-layer", help="Compare paths whatever their layers are called.")
    ] = False,
    page: Annotated[int, typer.Option(min=1, help="Which page, of those that are PDF.")] = 1,
    json: Json = False,
) -> None:
    """Tell what differs between two files, layer by layer.

    The exit code is 0 when both hold the same paths, 1 when they do not.
    """
    from dielines.formats.compare import compare, without_layers
    from dielines.formats.kinds import format_of, read_page
    from dielines.lengths import parse_length

    limit = float(parse_length(tolerance, "mm").mm)
    drawings = [
        read_page(path, page if format_of(path).read_pages else 1).drawing
        for path in (first, second)
    ]
    if any_layer:
        drawings = [without_layers(drawing) for drawing in drawings]
    comparison = compare(*drawings)
    is_same = comparison.has_equal_paths(limit)
    if json:
        print_json(as_json(comparison) | {"same": is_same})
    else:
        print_comparison(comparison)
        typer.echo(f"{'The same' if is_same else 'Not the same'} within {limit:g} mm.")
    raise typer.Exit(0 if is_same else DIFFERENT)


def print_comparison(comparison: Comparison) -> None:
    """Print *comparison* for people."""
    rows = as_json(comparison)["layers"]
    print_table(HEAD, [_cells(row) for row in rows])
    if comparison.page_deviation:
        typer.echo(f"The pages differ by {comparison.page_deviation:.6g} mm.")
    if comparison.misreading:
        typer.echo(f"The second looks like the first with {comparison.misreading}.")
    if comparison.moved:
        across, up = comparison.moved
        typer.echo(f"The second is the first, moved {across:.6g} mm across and {up:.6g} mm up.")


def _cells(row: dict[str, Any]) -> list[str]:
    *counts, deviation = row.values()
    return [*map(str, counts), f"{deviation:.6f}"]


def as_json(comparison: Comparison) -> dict[str, Any]:
    """Return *comparison* as tables, lists, numbers and texts; lengths in mm."""
    layers = [
        {
            "layer": row.layer.value,
            "first": row.written,
            "second": row.read,
            "missing": len(row.missing),
            "extra": len(row.extra),
            "open_or_closed": len(row.differently_closed),
            "deviation": round(row.largest_deviation, 9),
        }
        for row in comparison.rows
    ]
    return {
        "layers": layers,
        "page_deviation": round(comparison.page_deviation, 9),
        "misreading": str(comparison.misreading) if comparison.misreading else None,
        "moved": comparison.moved,
    }
