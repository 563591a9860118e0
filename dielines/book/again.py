"""One part made again from ``sizes.toml`` alone, and held to what it was then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path as FilePath
from typing import Any

from ..documents import Document, Place, read_book_document
from ..errors import UsageError
from ..fields import Field, Kind, checked
from ..language.building import ArgumentRefused, Graft, build, build_fragment
from ..language.library import Library, library_beside
from ..language.settings import LENGTH_OF_EDGE, value_of
from ..language.template import Template
from ..language.values import Value
from ..lengths import Length, Unit
from ..part import Panel, Part
from ..part_motion import mirrored
from ..sizes.sizes_file import SizesFile, sizes_of
from ..workshop.loading import FILE_NAME, load_workshop
from ..workshop.workshop import Workshop
from .pieces import Piece, letter_named
from .recipes import SIZES, path_from, proof_of

_OUTLINE = "outline_"
_PIECE = (
    Field("what", Kind.TEXT),
    Field("title", Kind.TEXT, required=True),
    Field("keys", Kind.TEXT, required=True),
    Field("stock", Kind.TEXT),
    Field("pieces", Kind.WHOLE),
    Field("width", Kind.TEXT),
    Field("height", Kind.TEXT),
    Field("proof", Kind.TEXT, required=True),
)
_RECIPE = (
    Field("template", Kind.TEXT, required=True),
    Field("version", Kind.WHOLE, required=True),
    Field("parameters", Kind.TABLE, required=True),
)
_TEMPLATE_PIECE = (
    *_PIECE,
    *_RECIPE,
    Field("part", Kind.TEXT, required=True),
    Field("mirrored", Kind.FLAG, required=True),
    Field("graft", Kind.TABLE),
)


def is_sizes_document(document: Document) -> bool:
    """Return whether *document* is a ``sizes.toml`` and no book."""
    return {"sizes", "parts"} <= document.data.keys() and "pages" not in document.data


def refuse_other_book(folder: FilePath, name: str) -> None:
    """Raise UsageError where *folder* has a ``sizes.toml`` that is not of the book called *name*.

    It would be replaced, and with it the way to make a part of that book again.
    """
    path = folder / SIZES
    if not path.is_file():
        return
    made = read_book_document(path).data.get("made")
    other = made.get("name") if isinstance(made, dict) else None
    if other != name:
        whose = f"of the book {other!r}" if isinstance(other, str) else "of no book"
        raise UsageError(f"{path} is {whose}; name another folder with --out, or move that file")


def library_for(document: Document, folder: FilePath | None) -> Library:
    """Return the built-in templates and the person's own in *folder*.

    Without it, those beside the ``sizes.toml`` and in the folder above, where
    the book lies as a rule.
    """
    if folder is not None:
        return library_beside(folder)
    near = FilePath(document.name).absolute().parent
    inner, outer = library_beside(near), library_beside(near.parent)
    files = sorted({**dict(outer.files), **dict(inner.files)}.items())
    return Library(tuple(files), inner.own | outer.own)


def workshop_for(document: Document, file: FilePath | None) -> Workshop:
    """Return the workshop in *file*, or the one beside the ``sizes.toml`` or in the folder above."""
    near = FilePath(document.name).absolute().parent
    if not (near / FILE_NAME).is_file():
        near = near.parent
    units: Unit = "mm" if document.data.get("units") == "mm" else "in"
    return load_workshop(file, near, units)


@dataclass(frozen=True)
class Again:
    """A part that was made again, and the name of the book that it is of."""

    book_name: str
    piece: Piece


def made_again(document: Document, wanted: str, library: Library) -> Again:
    """Return the part of the ``sizes.toml`` in *document* that *wanted* names.

    Raises UsageError where nothing is called so, BookError where the file is
    faulty or the part would not come out as it was, TemplateError for a template
    that is faulty now.
    """
    file = sizes_of(document)
    document.settle()
    letter = letter_named(_names(file), wanted)
    place = document.root / "parts" / letter
    entry = _entry(place, document.data["parts"][letter])
    part = (
        _from_template(place, entry, file, letter, library)
        if "template" in entry
        else _from_outline(place, entry)
    )
    document.settle()
    assert part is not None
    if proof_of(part) != entry["proof"]:
        _report_change(place, "it does not come out as it was made", file)
        document.settle()
    key = entry["keys"].split(",")[0]
    return Again(str(file.made.get("name", "book")), Piece(letter, key, entry["title"], part))


def _names(file: SizesFile) -> dict[str, str]:
    names: dict[str, str] = {}
    for letter, settings in file.parts.items():
        keys = str(settings.get("keys", "")).split(", ")
        for name in (letter, *keys, str(settings.get("title", ""))):
            names.setdefault(name, letter)
    return names


def _entry(place: Place, table: Mapping[str, Any]) -> dict[str, Any]:
    """Return the checked table of one letter; raises BookError."""
    outlines = {key: value for key, value in table.items() if key.startswith(_OUTLINE)}
    others = {key: value for key, value in table.items() if key not in outlines}
    texts = tuple(Field(key, Kind.TEXT, required=True) for key in outlines)
    fields = (*_PIECE, *texts) if outlines else _TEMPLATE_PIECE
    entry = checked(place, {**others, **outlines}, fields)
    place.document.settle()
    return entry


def _report_change(place: Place, message: str, file: SizesFile) -> None:
    version = file.made.get("dielines", "the same version")
    place.report_key(
        "changed",
        message,
        f"Make it from the book, or with dielines {version} and the templates of that time.",
    )


def _from_outline(place: Place, entry: Mapping[str, Any]) -> Part | None:
    """Return a plain piece; what is no outline is reported."""
    try:
        outline = tuple(path_from(v) for key, v in entry.items() if key.startswith(_OUTLINE))
    except ValueError as problem:
        place.report("not-an-outline", str(problem)[:100])
        return None
    panel = Panel("mat", outline[0], outline[1:])
    return Part("piece", "", 1, "", "free", 1, (panel,), (), outline)


def _from_template(
    place: Place, entry: Mapping[str, Any], file: SizesFile, letter: str, library: Library
) -> Part | None:
    """Return the part that its template makes; None where that was reported as impossible."""
    template = _template(place, entry, file, library)
    settings = file.parts[letter]
    try:
        parts = _built(
            template, _arguments(settings), _graft(place, entry, file, letter, library), file
        )
    except ArgumentRefused as refused:
        for name, refusal in refused.refusals:
            (place / "parameters" / name).report(refusal.code, refusal.message, refusal.remedy)
        return None
    part = next((part for part in parts if part.name == entry["part"]), None)
    if part is None:
        _report_change(place, f"its template makes no part {entry['part']!r} any more", file)
        return None
    return mirrored(part) if entry["mirrored"] else part


def _built(
    template: Template, arguments: dict[str, Value], graft: Graft | None, file: SizesFile
) -> tuple[Part, ...]:
    thickness = file.made.get("thickness", {})
    calipers = {
        stock: caliper.mm
        for stock, caliper in (thickness.items() if isinstance(thickness, Mapping) else ())
        if isinstance(caliper, Length)
    }
    if template.kind != "edge":
        return build(template, arguments, calipers, graft).parts
    edge = arguments.pop(LENGTH_OF_EDGE, None)
    edge_mm = edge.payload if edge and isinstance(edge.payload, Fraction) else Fraction(0)
    return build_fragment(Graft(template, arguments), edge_mm, calipers)


def _graft(
    place: Place, entry: Mapping[str, Any], file: SizesFile, letter: str, library: Library
) -> Graft | None:
    if "graft" not in entry:
        return None
    here = place / "graft"
    told = checked(here, entry["graft"], _RECIPE)
    place.document.settle()
    settings = file.parts[letter]["graft"]
    assert isinstance(settings, Mapping)
    return Graft(_template(here, told, file, library), _arguments(settings))


def _template(
    place: Place, entry: Mapping[str, Any], file: SizesFile, library: Library
) -> Template:
    """Return the template as it is now; raises BookError where its version is another."""
    template = library.find(entry["template"])
    if template.version != entry["version"]:
        message = (
            f"it was made from {template.name} version {entry['version']}, "
            f"and that is version {template.version} now"
        )
        _report_change(place, message, file)
        place.document.settle()
    return template


def _arguments(settings: Mapping[str, object]) -> dict[str, Value]:
    parameters = settings.get("parameters", {})
    assert isinstance(parameters, Mapping)
    return {name: value_of(value) for name, value in parameters.items()}
