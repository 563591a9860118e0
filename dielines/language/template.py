"""Reading template files: every fault that shows without sizes, at once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any, cast

from ..documents import Document, Place, parse_document, read_template_document
from ..errors import TemplateError
from ..fields import Field, Kind, checked
from ..lengths import Unit
from .building import rehearse
from .edit_lines import read_lines
from .joins import read_join_tables
from .parameters import read_derived, read_parameters
from .part_tables import read_parts
from .written_template import Template

__all__ = [
    "KINDS", "NAME", "Template", "cached_template", "load_template", "read_template",
    "template_from_text",
]  # fmt: skip

KINDS = ("page", "insert", "case", "edge", "fold")
NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")

TOP_FIELDS = (
    Field("template", Kind.TEXT, True, help="The file's name without .toml."),
    Field("kind", Kind.TEXT, True, words=KINDS, help=f"One of {', '.join(KINDS)}."),
    Field("version", Kind.WHOLE, help="Counted up when the shape changes."),
    Field("units", Kind.TEXT, words=("in", "mm")),
    Field("help", Kind.TEXT, help="What it is, in a sentence."),
    Field("parameters", Kind.TABLE),
    Field("derived", Kind.TABLE),
    Field("parts", Kind.TABLE),
    Field("joins", Kind.LIST),
    Field("edits", Kind.LIST, help="For kind fold: what is done on the bound fold."),
)


def load_template(path: FilePath) -> Template:
    """Return the template in the file at *path*; raises TemplateError."""
    template = read_template(read_template_document(path))
    if template.name != path.stem:
        template.document.root.report_key(
            "wrong-name",
            f"the file is called {path.name}, but it says template = {template.name!r}",
            "Make both the same.",
        )
        template.document.settle()
    return template


def template_from_text(text: str, name: str = "template.toml") -> Template:
    """Return the template that *text* says; raises TemplateError."""
    return read_template(parse_document(name, text, TemplateError))


def read_template(document: Document) -> Template:
    """Return the template in *document*; raises TemplateError with all faults."""
    root = document.root
    top = checked(root, document.data, TOP_FIELDS)
    _check_name(root, top)
    _check_kind(root, top)
    parameters = read_parameters(root / "parameters", top.get("parameters", {}))
    template = Template(
        name=top.get("template", ""),
        kind=top.get("kind", ""),
        version=top.get("version", 1),
        units=cast("Unit | None", top.get("units")),
        help=top.get("help", ""),
        parameters=parameters,
        derived=read_derived(root / "derived", top.get("derived", {}), parameters),
        parts=top.get("parts", {}),
        tables=read_parts(root / "parts", top.get("parts", {})),
        joins=read_join_tables(root / "joins", top.get("joins", [])),
        edits=read_lines(root / "edits", top.get("edits", [])),
        document=document,
    )
    if document.faults and not any(fault.code == "too-many" for fault in document.faults):
        rehearse(template, document, _stand_in_calipers(document.text))
    document.settle()
    return template


def _stand_in_calipers(text: str) -> dict[str, Fraction]:
    """Return a thickness for each stock that the text speaks of, to look at a faulty file with."""
    roles = {"cardstock", *re.findall(r"\b([a-z][a-z0-9_]*)\.caliper\b", text)}
    stocks = re.findall(r"""\bstock *= *["']([a-z][a-z0-9_]*)["']""", text)
    return dict.fromkeys(sorted({*roles, *stocks}), Fraction(1, 4))


def _check_kind(root: Place, top: Mapping[str, Any]) -> None:
    """Report what a kind of template needs and is not there, or has no use for."""
    kind = top.get("kind")
    if kind == "fold":
        _refuse_field(root, top, "parts", "a template of kind fold says in edits what is done")
        if not top.get("edits"):
            root.report("no-edits", "a template of kind fold says in edits what is done on it")
        return
    _refuse_field(root, top, "edits", "edits belong to a part: move them under [parts.NAME]")
    if kind == "edge":
        _refuse_field(root, top, "joins", "a fragment has no joins: its tape says onto what")
    if "parts" not in top or not top["parts"]:
        root.report("no-parts", "a template has at least one part", "Add [parts.NAME].")


def _refuse_field(root: Place, top: Mapping[str, Any], key: str, why: str) -> None:
    if key in top:
        (root / key).report_key("not-here", why)


def _check_name(root: Place, top: Mapping[str, Any]) -> None:
    name = top.get("template")
    if name is not None and not NAME.fullmatch(name):
        (root / "template").report(
            "bad-name",
            f"{name!r} is no name for a template",
            "Use small letters, digits and single dashes.",
        )


@lru_cache(maxsize=256)
def _cached(path: FilePath, stamp: tuple[int, int]) -> Template:
    return load_template(path)


def cached_template(path: FilePath) -> Template:
    """Return the template at *path*, read again only when the file has changed."""
    try:
        status = path.stat()
    except OSError as problem:
        raise TemplateError.of(str(path), "unreadable", str(problem.strerror)) from problem
    return _cached(path, (status.st_mtime_ns, status.st_size))
