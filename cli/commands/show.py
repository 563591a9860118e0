"""The command ``show``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ..output import Json, library_in, print_json, print_table

if TYPE_CHECKING:
    from dielines.book.book import BookPart
    from dielines.language.parameters import Parameter
    from dielines.language.template import Template
    from dielines.lengths import Unit


def command(
    name: Annotated[str, typer.Argument(help="A template, such as side-pocket.")],
    beside: Annotated[Path, typer.Option(help="The folder of your own templates.")] = Path(),
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
    json: Json = False,
) -> None:
    """Show what a template takes, and the sizes of its parts.

    A default or a limit may be a formula over the other sizes.
    """
    from dielines.book.single import single_parts
    from dielines.workshop.loading import load_workshop

    template = library_in(beside).find(name)
    units = template.units or "mm"
    owned = load_workshop(workshop, beside, units)
    parts = () if template.kind == "fold" else single_parts(template, {}, owned)
    if json:
        print_json(as_json(template, parts))
    else:
        print_template(template, parts, units)


def print_template(template: Template, parts: tuple[BookPart, ...], units: Unit) -> None:
    """Print *template* for people; *parts* are those in its usual sizes."""
    from dielines.book.single import USUAL_EDGE
    from dielines.book.spans import OTHER_UNIT

    typer.echo(f"{template.words} (version {template.version}): {template.help}\n")
    rows = [_cells(parameter, units) for parameter in template.parameters]
    if rows:
        print_table(("", "as a rule", "", "from", "to"), rows)
    else:
        typer.echo("It takes no sizes.")
    if parts:
        edge = f", for an edge of {USUAL_EDGE[units]}" if template.kind == "edge" else ""
        typer.echo(f"\nIn its usual sizes{edge}:")
        head = ("part", "stock", f"size, {units}", f"size, {OTHER_UNIT[units]}")
        print_table(head, [_part_cells(part, units) for part in parts])


def _cells(parameter: Parameter, units: Unit) -> tuple[str, ...]:
    limits = (_said(parameter.min), _said(parameter.max))
    help_words = parameter.help
    if parameter.choices:
        help_words = ", ".join(filter(None, [help_words, f"one of {', '.join(parameter.choices)}"]))
    is_length = parameter.type.value == "length"
    unit = f" {units}" if is_length and _is_bare(parameter.default) else ""
    return (parameter.name, f"{_said(parameter.default)}{unit}", help_words, *limits)


def _said(raw: Any) -> str:
    """Return a default or a limit as people read it."""
    if isinstance(raw, bool):
        return "yes" if raw else "no"
    return "" if raw is None else str(raw)


def _is_bare(raw: Any) -> bool:
    """Return whether *raw* is a number and no formula."""
    return not any(sign.isalpha() for sign in str(raw))


def _part_cells(entry: BookPart, units: Unit) -> tuple[str, ...]:
    from dielines.book.spans import OTHER_UNIT, measured, shown_sides

    sides = measured(entry.part.width), measured(entry.part.height)
    sizes = (shown_sides(*sides, unit) for unit in (units, OTHER_UNIT[units]))
    return (entry.title, entry.stock.name, *sizes)


def as_json(template: Template, parts: tuple[BookPart, ...]) -> dict[str, Any]:
    """Return *template* as tables, lists and texts; sizes of parts in mm."""
    return {
        "name": template.name,
        "kind": template.kind,
        "version": template.version,
        "units": template.units,
        "help": template.help,
        "parameters": [
            {
                "name": parameter.name,
                "type": parameter.type.value,
                "default": _said(parameter.default),
                "min": _said(parameter.min),
                "max": _said(parameter.max),
                "choices": list(parameter.choices),
                "help": parameter.help,
            }
            for parameter in template.parameters
        ],
        "parts": [
            {
                "key": entry.key,
                "name": entry.part.name,
                "stock": entry.part.stock,
                "width": round(float(entry.part.width), 6),
                "height": round(float(entry.part.height), 6),
            }
            for entry in parts
        ],
    }
