"""A JSON Schema of template files, made of the loader's own tables, for editors to complete and mark.

It knows keys, kinds and words. What sizes bring (a row with a cell too few, a
line of which nothing is said) only the tool itself can tell.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from ..fields import Field, Kind
from .cellmap import COLUMN_REPEAT, ROW_REPEAT
from .declarations import PARAMETER_FIELDS
from .edit_lines import EVERYWHERE, verbs
from .editing import Verb
from .joins import JOIN_FIELDS
from .part_tables import LAYOUTS, PART_FIELDS
from .template import TOP_FIELDS
from .wraps import BOARD_FIELDS, GAP_FIELDS

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ROW = r"^[^:]+:[ ().a-z0-9_#]*$"
_NAME = r"[a-z][a-z0-9_]*\*?|\*"
FOLD_KEY = rf"^\s*({_NAME}|[a-z][a-z0-9_]*#)\s*[|/-]\s*({_NAME}|[a-z][a-z0-9_]*#)\s*$"
PART_NAME = "^[a-z][a-z0-9_]*#?$"

_TEXT, _SIZE = {"type": "string"}, {"type": ["number", "string"]}
_TYPES: dict[Kind, Schema] = {
    Kind.TEXT: _TEXT,
    Kind.SIZE: _SIZE,
    Kind.WHOLE: {"type": "integer"},
    Kind.NUMBER: {"type": "number"},
    Kind.FLAG: {"type": "boolean"},
    Kind.LIST: {"type": "array"},
    Kind.TABLE: {"type": "object"},
    Kind.TEXT_OR_LIST: {"type": ["string", "array"]},
    Kind.SIZE_OR_LIST: {"type": ["number", "string", "array"]},
    Kind.ANY: {},
}


def template_schema() -> Schema:
    """Return the schema of a whole template file (JSON Schema, draft 2020-12)."""
    inner = {
        "parameters": _tables(_table(PARAMETER_FIELDS)),
        "derived": _tables({"type": ["number", "string", "boolean"]}),
        "parts": {"type": "object", "patternProperties": {PART_NAME: _part()}},
        "joins": _list_of(_table(JOIN_FIELDS)),
        "edits": _list_of({"$ref": "#/$defs/edit"}),
    }
    closed = {"additionalProperties": False, "type": "object"}
    inner["parts"] |= closed
    definitions = {"edit": _edit(), "point": _list_of(_SIZE, 2), "way": _way()}
    return {
        "$schema": DIALECT,
        "title": "template",
        **_table(TOP_FIELDS, inner),
        "$defs": definitions,
    }


def _table(fields: Iterable[Field], inner: Mapping[str, Schema] | None = None) -> Schema:
    """Return the schema of a table with these fields; *inner* says more of some."""
    fields = tuple(fields)
    return {
        "type": "object",
        "properties": {field.name: _field(field, inner or {}) for field in fields},
        "required": [field.name for field in fields if field.required],
        "additionalProperties": False,
    }


def _field(field: Field, inner: Mapping[str, Schema]) -> Schema:
    words = {"enum": list(field.words)} if field.words else {}
    said = {"description": field.help} if field.help else {}
    return {**_TYPES[field.kind], **words, **inner.get(field.name, {}), **said}


def _tables(entry: Schema) -> Schema:
    return {"type": "object", "additionalProperties": entry}


def _list_of(entry: Schema, count: int | None = None) -> Schema:
    size = {} if count is None else {"minItems": count, "maxItems": count}
    return {"type": "array", "items": entry, **size}


def _part() -> Schema:
    row, way = {"type": "string", "pattern": ROW}, {"$ref": "#/$defs/way"}
    inner = {
        "columns": _list_of({"anyOf": [_SIZE, _table(COLUMN_REPEAT)]}),
        "rows": _list_of({"anyOf": [row, _table(ROW_REPEAT, {"rows": _list_of(row)})]}),
        "edits": _list_of({"$ref": "#/$defs/edit"}),
        "steps": _list_of(_TEXT),
        "mouth": _tables(_TEXT),
        "folds": {
            "type": "object",
            "patternProperties": {FOLD_KEY: _SIZE},
            "additionalProperties": False,
        },
        "covers": _list_of(_TEXT),
        "lap": _tables(_SIZE),
        "boards": _list_of({"anyOf": [_table(BOARD_FIELDS, {"outline": way}), _table(GAP_FIELDS)]}),
        "outline": way,
        "panels": _tables({"$ref": "#/$defs/point"}),
        "lines": _tables(way),
    }
    one_layout = [{"required": [layout]} for layout in LAYOUTS]
    return {**_table(PART_FIELDS, inner), "oneOf": one_layout}


def _way() -> Schema:
    """Return the schema of points and arcs in a row."""
    point = {"$ref": "#/$defs/point"}
    arc = (Field("through", Kind.LIST, True), Field("to", Kind.LIST, True))
    return _list_of({"anyOf": [point, _table(arc, {"through": point, "to": point})]})


def _edit() -> Schema:
    """Return the schema of one line of edits: which fields it may have hangs on its verb.

    By ``if`` and ``then`` for each verb, so that an editor marks what is wrong
    with this one, instead of every verb that it is not.
    """
    return {
        "type": "object",
        "anyOf": [{"required": [word]} for word in verbs()],
        "allOf": [
            {"if": {"required": [word]}, "then": _edit_of(verb)} for word, verb in verbs().items()
        ],
    }


def _edit_of(verb: Verb) -> Schema:
    named = Field(verb.VERB, Kind.TEXT_OR_LIST, True)
    inner = {"line": {"$ref": "#/$defs/way"}, "through": _list_of(_TEXT)}
    return _table((named, *verb.FIELDS, *EVERYWHERE), inner)
