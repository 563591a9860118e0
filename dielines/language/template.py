"""A template: what a file in the template language says before any size is known."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any, cast

from ..documents import Document, Place, parse_document, read_template_document
from ..errors import TemplateError
from ..fields import Field, Kind, checked
from ..lengths import Unit
from .parameters import Derived, Parameter, read_derived, read_parameters

KINDS = ("page", "insert", "case", "edge", "fold")
NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")

_TOP = (
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


@dataclass(frozen=True)
class Template:
    """A template file, checked as far as it can be without sizes."""

    name: str
    kind: str
    version: int
    units: Unit | None
    help: str
    parameters: tuple[Parameter, ...]
    derived: tuple[Derived, ...]
    parts: Mapping[str, Any]
    joins: tuple[Any, ...]
    edits: tuple[Any, ...]
    document: Document

    @property
    def words(self) -> str:
        """The name as a crafter says it: 'side pocket'."""
        return self.name.replace("-", " ")

    def fresh_document(self) -> Document:
        """Return the file with an empty list of faults, for one building."""
        return replace(self.document, faults=[])


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
    top = checked(root, document.data, _TOP)
    _check_name(root, top)
    parameters = read_parameters(root / "parameters", top.get("parameters", {}))
    derived = read_derived(root / "derived", top.get("derived", {}), parameters)
    if top.get("kind") != "fold" and not top.get("parts"):
        root.report("no-parts", "a template has at least one part", "Add [parts.NAME].")
    if top.get("kind") == "fold" and not top.get("edits"):
        root.report("no-edits", "a template of kind fold says in edits what is done on it")
    document.settle()
    return Template(
        name=top["template"],
        kind=top["kind"],
        version=top.get("version", 1),
        units=cast("Unit | None", top.get("units")),
        help=top.get("help", ""),
        parameters=parameters,
        derived=derived,
        parts=top.get("parts", {}),
        joins=tuple(top.get("joins", [])),
        edits=tuple(top.get("edits", [])),
        document=document,
    )


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
