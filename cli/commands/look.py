"""The command ``look``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ..output import Json, both_units, print_json, print_table

if TYPE_CHECKING:
    from dielines.formats.look import LayerReport, Report


def command(
    file: Annotated[Path, typer.Argument(help="An SVG, DXF or PDF file.")],
    page: Annotated[int, typer.Option(min=1, help="Which page of a PDF.")] = 1,
    json: Json = False,
) -> None:
    """Tell what is in a file, and whether its unit can be trusted."""
    from dielines.formats.kinds import read_page
    from dielines.formats.look import look

    report = look(read_page(file, page))
    if json:
        print_json(as_json(report))
    else:
        print_report(report)


def print_report(report: Report) -> None:
    """Print *report* for people."""
    width, height = report.page
    box = report.contents
    typer.echo(f"page      {both_units(width, height)}")
    typer.echo(f"contents  {both_units(float(box.width), float(box.height))}")
    typer.echo(f"unit      {report.unit}{', size proved' if report.is_size_proved else ''}\n")
    print_table(
        ("layer", "in the file", "paths", "closed", "open", "length mm"),
        [_cells(row) for row in report.rows],
    )
    doubts = [suspicion.text for suspicion in report.suspicions]
    for text in (*doubts, *(remark.text for remark in report.remarks)):
        typer.echo(f"! {text}")


def _cells(row: LayerReport) -> list[str]:
    counts = (row.paths, row.closed, row.open)
    return [row.layer.value, row.source_layer, *map(str, counts), f"{row.length:.3f}"]


def as_json(report: Report) -> dict[str, Any]:
    """Return *report* as tables, lists, numbers and texts; lengths in mm."""
    names = ("left", "bottom", "right", "top")
    return {
        "page": {"width": report.page[0], "height": report.page[1]},
        "contents": dict(zip(names, map(float, report.contents), strict=True)),
        "unit": report.unit,
        "version": report.version,
        "size_proved": report.is_size_proved,
        "layers": [
            {
                "layer": row.layer.value,
                "source_layer": row.source_layer,
                "paths": row.paths,
                "closed": row.closed,
                "open": row.open,
                "length": row.length,
            }
            for row in report.rows
        ],
        "suspicions": [
            {
                "evidence": suspicion.evidence.value,
                "factor": suspicion.factor,
                "certain": suspicion.is_certain,
                "text": suspicion.text,
            }
            for suspicion in report.suspicions
        ],
        "remarks": [{"code": remark.code, "text": remark.text} for remark in report.remarks],
    }
