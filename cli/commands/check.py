"""The command ``check``."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ..output import Json, print_json, stage

if TYPE_CHECKING:
    from dielines.checks.checking import Report
    from dielines.folding.folded_book import FoldedBook


def command(
    file: Annotated[Path | None, typer.Argument(help="A book file.")] = None,
    set_: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="In place of what the book says."),
    ] = None,
    only: Annotated[
        list[str] | None, typer.Option("--only", metavar="RULE", help="Hold this rule alone.")
    ] = None,
    rules: Annotated[
        bool, typer.Option("--rules", help="Show all rules, with the reason for each.")
    ] = False,
    thickness: Annotated[
        bool,
        typer.Option("--thickness", help="Also how thick the book is, and how deep its pockets."),
    ] = False,
    tolerance: Annotated[
        bool, typer.Option("--tolerance", help="Also how likely errors of the hand spoil it.")
    ] = False,
    workshop: Annotated[
        Path | None, typer.Option(help="The workshop file; by default the one that is found.")
    ] = None,
    json: Json = False,
) -> None:
    """Tell what would not fold, fit or hold before paper is cut.

    The book is folded and bound in thought. Where there is an error the command ends
    with the code 1. A rule is silenced in the book file, below [ignore], with the reason.
    """
    from dielines.checks.registry import rules as all_rules
    from dielines.errors import UsageError

    if rules:
        print_rules(json)
        return
    if file is None:
        raise UsageError("name the book file to check, or ask for --rules")
    chosen = {name: all_rules()[name] for name in rule_names(only or list(all_rules()))}
    folded = folded_from(file, set_ or [], workshop)
    from dielines.checks.checking import check_book

    stage("Folding and checking")
    report = check_book(folded, chosen)
    if json:
        print_json(as_json(folded, report, thickness, tolerance))
    else:
        print_all(folded, report, thickness, tolerance)
    if not report.holds:
        raise typer.Exit(1)


def rule_names(wanted: list[str]) -> list[str]:
    """Return the names of the rules that are *wanted*; raises UsageError with a suggestion."""
    from dielines.book.words import name_of
    from dielines.checks.registry import rules
    from dielines.documents import Refusal
    from dielines.errors import UsageError

    try:
        return [name_of(name, rules(), "rule") for name in wanted]
    except Refusal as refusal:
        stop = "" if refusal.message.endswith("?") else "."
        raise UsageError(f"{refusal.message}{stop} {refusal.remedy}".strip()) from None


def folded_from(file: Path, settings: list[str], workshop: Path | None) -> FoldedBook:
    """Return the book in *file*, composed and ready to be folded."""
    from dielines.book.again import is_sizes_document
    from dielines.book.composing import compose
    from dielines.book.from_file import book_source
    from dielines.book.reading import book_document
    from dielines.checks.registry import rules
    from dielines.errors import UsageError
    from dielines.folding.folded_book import FoldedBook

    document = book_document(file)
    if is_sizes_document(document):
        raise UsageError(f"{file} holds the sizes of a book as it was made; name the book file")
    source = book_source(document, settings, workshop, rules())
    stage("Composing")
    return FoldedBook(compose(source.request, source.workshop, source.library), source.workshop)


def print_all(folded: FoldedBook, report: Report, thickness: bool, tolerance: bool) -> None:
    """Print what was found, and what else was asked for, for a person."""
    from dielines.checks.report_text import report_lines, summary

    for line in report_lines(folded.book, report):
        typer.echo(line)
    if thickness:
        from dielines.checks.thickness_text import thickness_lines

        typer.echo("\n".join([*thickness_lines(folded), ""]))
    if tolerance:
        from dielines.tolerance.tolerance import tolerance_of
        from dielines.tolerance.tolerance_text import tolerance_text

        typer.echo(tolerance_text(folded.book, tolerance_of(folded)))
    typer.echo(f"{folded.book.title}: {summary(report)}")


def as_json(folded: FoldedBook, report: Report, thickness: bool, tolerance: bool) -> dict[str, Any]:
    """Return the same as tables and lists; lengths in mm."""
    from dielines.checks.report_text import as_data

    data = as_data(folded.book, report)
    if thickness:
        from dielines.checks.thickness_text import thickness_data

        data["thickness"] = thickness_data(folded.thickness)
    if tolerance:
        from dielines.tolerance.tolerance import tolerance_of
        from dielines.tolerance.tolerance_text import tolerance_data

        data["tolerance"] = tolerance_data(tolerance_of(folded))
    return data


def print_rules(as_json: bool) -> None:
    """Print all rules: name, worst severity, why, source."""
    from dielines.checks.registry import rules
    from dielines.checks.report_text import rule_rows

    rows = rule_rows(rules())
    if as_json:
        keys = ("rule", "worst", "why", "source")
        print_json([dict(zip(keys, row, strict=True)) for row in rows])
        return
    for name, worst, why, source in rows:
        typer.echo(f"{name} ({worst})\n  {why}\n  Source: {source}\n")
