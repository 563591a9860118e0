"""The schema for editors, held against all templates and against slips of the pen.

Its dialect is JSON Schema, draft 2020-12; a published validator is asked as well
where one is installed.
"""

import json
import re
import tomllib

import pytest

from dielines.language.edit_lines import verbs
from dielines.language.library import built_in_library
from dielines.language.part_tables import PART_FIELDS
from dielines.language.schema import template_schema

SCHEMA = template_schema()
TEXTS = [path.read_text(encoding="utf-8") for _, path in built_in_library().files]
KINDS = {"string": str, "array": list, "object": dict, "boolean": bool}

LEAF = """template = "leaf"
kind = "page"
units = "mm"
[parameters]
width = { type = "length", default = 60 }
[parts.page]
bound = "leaf left"
columns = ["width", { repeat = 2, columns = [5] }]
rows = ["40 : leaf ( up# )", { repeat = 2, rows = ["3 : down# ( . )"] }]
edits = [
  { notch = "leaf", edge = "left", diameter = 9, through = ["up*"] },
  { cut = "leaf", line = [[1, 1], { through = [2, 2], to = [3, "1/3"] }] },
]
[parts.page.folds]
"* | *" = "valley"
"leaf / down1" = -90
"down1 / down2" = 0
"""


def is_kind(value, kind: str) -> bool:
    if kind in ("number", "integer"):
        wanted = int if kind == "integer" else (int, float)
        return isinstance(value, wanted) and not isinstance(value, bool)
    return isinstance(value, KINDS[kind])


def fits(value, schema) -> bool:
    """Return whether *value* fits the schema: just the keywords that ours uses."""
    if "$ref" in schema:
        return fits(value, SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]])
    kinds = schema.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    if kinds and not any(is_kind(value, kind) for kind in kinds):
        return False
    if "enum" in schema and value not in schema["enum"]:
        return False
    if isinstance(value, str) and not re.search(schema.get("pattern", ""), value):
        return False
    return fits_inside(value, schema) and fits_choices(value, schema)


def fits_inside(value, schema) -> bool:
    if isinstance(value, list):
        few, many = schema.get("minItems", 0), schema.get("maxItems", len(value))
        entry = schema.get("items", {})
        return few <= len(value) <= many and all(fits(inner, entry) for inner in value)
    if not isinstance(value, dict):
        return True
    if any(name not in value for name in schema.get("required", [])):
        return False
    return all(fits_entry(name, inner, schema) for name, inner in value.items())


def fits_entry(name: str, value, schema) -> bool:
    known = [s for key, s in schema.get("properties", {}).items() if key == name]
    known += [s for key, s in schema.get("patternProperties", {}).items() if re.search(key, name)]
    rest = schema.get("additionalProperties", True)
    if not known:
        return rest is True or (rest is not False and fits(value, rest))
    return all(fits(value, inner) for inner in known)


def fits_choices(value, schema) -> bool:
    if "if" in schema and fits(value, schema["if"]) and not fits(value, schema["then"]):
        return False
    if not all(fits(value, inner) for inner in schema.get("allOf", [])):
        return False
    if "anyOf" in schema and not any(fits(value, inner) for inner in schema["anyOf"]):
        return False
    return "oneOf" not in schema or sum(fits(value, s) for s in schema["oneOf"]) == 1


SLIPS = {
    "a key of the file": ('kind = "page"', 'knd = "page"'),
    "a kind": ('kind = "page"', 'kind = "leaf"'),
    "a unit": ('units = "mm"', 'units = "px"'),
    "a type": ('type = "length"', 'type = "lenght"'),
    "a field of a parameter": ("default = 60", "default = 60, mim = 3"),
    "no default": (", default = 60", ""),
    "a key of a part": ("bound =", "bond ="),
    "a list as a side": ('bound = "leaf left"', 'bound = ["leaf", "left"]'),
    "two layouts": ("[parts.page]\n", "[parts.page]\noutline = [[0, 0], [1, 1]]\n"),
    "a row without a colon": ('"40 : leaf ( up# )"', '"leaf"'),
    "a capital in a row": ('"40 : leaf ( up# )"', '"40 : Leaf ( up# )"'),
    "a repeat without a count": ("{ repeat = 2, columns", "{ columns"),
    "a verb": ("{ notch =", "{ noch ="),
    "a field of a verb": ("diameter = 9", "diametre = 9"),
    "a date as a size": ("diameter = 9", "diameter = true"),
    "a layer that is no list": ('through = ["up*"]', 'through = "up*"'),
    "a point of one": ("[[1, 1], {", "[[1], {"),
    "an arc without an end": (', to = [3, "1/3"]', ""),
    "a key that is no pair": ('"* | *"', '"* *"'),
    "a list as an angle": ("= -90", "= [-90]"),
}


def test_the_schema_knows_every_verb_and_every_field_of_a_part():
    branches = SCHEMA["$defs"]["edit"]["allOf"]
    assert [branch["if"]["required"][0] for branch in branches] == list(verbs())
    for branch, verb in zip(branches, verbs().values(), strict=True):
        assert {field.name for field in verb.FIELDS} < set(branch["then"]["properties"])
    (part,) = SCHEMA["properties"]["parts"]["patternProperties"].values()
    assert list(part["properties"]) == [field.name for field in PART_FIELDS]


@pytest.mark.parametrize("text", TEXTS, ids=lambda text: text.split('"')[1])
def test_all_built_in_templates_fit(text):
    assert fits(tomllib.loads(text), SCHEMA)


def test_templates_that_use_every_word_fit():
    assert fits(tomllib.loads(LEAF), SCHEMA)


@pytest.mark.parametrize("slip", SLIPS)
def test_a_slip_of_the_pen_does_not_fit(slip):
    old, new = SLIPS[slip]
    assert old in LEAF
    assert not fits(tomllib.loads(LEAF.replace(old, new, 1)), SCHEMA)


def test_the_schema_is_plain_json_and_the_same_each_time():
    assert json.dumps(template_schema()) == json.dumps(SCHEMA)
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


def test_a_published_validator_agrees():
    jsonschema = pytest.importorskip("jsonschema", reason="jsonschema is not installed")
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    validator = jsonschema.Draft202012Validator(SCHEMA)
    assert all(validator.is_valid(tomllib.loads(text)) for text in (*TEXTS, LEAF))
    for old, new in SLIPS.values():
        assert not validator.is_valid(tomllib.loads(LEAF.replace(old, new, 1)))
