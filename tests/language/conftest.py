"""A machine that damages template files, and everything that such a text then meets.

For test_mutations.py, which runs very many texts in `make soak`, and for
benchmarks/templates.py. Same seed, same texts.
"""

from __future__ import annotations

import itertools
import random
import re
import tomllib
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from dielines.drawing import Drawing
from dielines.errors import Fault, TemplateError
from dielines.language.building import (
    ArgumentRefused,
    Built,
    Graft,
    build,
    build_fragment,
    with_graft,
)
from dielines.language.library import BUILT_IN
from dielines.language.template import Template, template_from_text
from dielines.part import Part
from dielines.part_drawing import part_drawing
from dielines.part_motion import LEFT_EDGE_TO, moved
from dielines.paths import signed_area

CALIPERS = {
    "cardstock": Fraction(2, 7),
    "board": Fraction(2),
    "reinforcing": Fraction(1, 7),
    "covering": Fraction(1, 8),
}
EDGE = Fraction(107)

FRAGMENT = """
template = "tab"
kind = "edge"
units = "mm"
[parts.edge]
columns = [20, 3, 30]
rows = ["length : tab channel page"]
edits = [{ taper = "tab", inset = "length / 7" }]
[parts.edge.folds]
"* | *" = -90
"""

ODD_VALUES: tuple[Any, ...] = (
    0, -1, 1, 2, 3, 200, 201, 10**11, 10**13, Decimal("0.1"), Decimal("-2.5"), Decimal("1e9"),
    Decimal("NaN"), Decimal("Infinity"), True, False, "", " ", ".", "*", "#", "a#", "i", "1/0",
    "1/3", "1/7 in", "9**9", "width", "height", "width / 7", "-width", "3 mm", "12 px", "middle",
    "top", "left", "right", "bottom", "top left", "all", "each corner", "square", "valley",
    "mountain", "none", "slit", "perforate", "page", "front", "back", "bound", "a / b", "a | b",
    "* / *", "* | *", "front | back", "front left", "i * 3", "caliper", "board.caliper", [], [[]],
    [1], [1, 2], [1, 2, 3], ["1/7", 2], [[0, 0], [1, 1]], [[0, 0], [5, 0], [5, 5]], {}, {"a": 1},
    {"repeat": 3, "columns": [1]}, {"repeat": 3, "rows": ["1 : a#"]}, {"through": [1, 1], "to": [2, 0]},
    ["front", "back"], ["*"], ["all", "top"],
)  # fmt: skip
ODD_KEYS = (
    "when", "repeat", "through", "edge", "from", "at", "inset", "width", "depth", "radius", "onto",
    "side", "corner", "by", "line", "diameter", "count", "start", "spacing", "columns", "rows",
    "outline", "boards", "covers", "lap", "folds", "steps", "edits", "bound", "mouth", "grain",
    "stock", "quantity", "panels", "lines", "turn_in", "mitre", "units", "kind", "parts", "joins",
    "tape", "taper", "notch", "hole", "holes", "slots", "window", "shape", "clip", "round", "cut",
    "score", "perforate", "mark", "label", "* / *", "* | *", "* - *", "a / b",
)  # fmt: skip


def mutated(texts: Sequence[str], seed: int, count: int) -> Iterator[str]:
    """Yield *count* damaged texts; two of three are still well-formed TOML."""
    chance = random.Random(seed)
    trees = [tomllib.loads(text, parse_float=Decimal) for text in texts]
    for _ in range(count):
        which = chance.randrange(len(texts))
        if chance.random() < 0.3:
            yield _damaged_text(chance, texts[which])
        else:
            tree = _copy(trees[which])
            for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
                _damage_tree(chance, tree, trees)
            yield written(tree)


def _damaged_text(chance: random.Random, text: str) -> str:
    for _ in range(chance.choice((1, 1, 2, 5))):
        text = chance.choice((_one_character, _one_word, _one_line))(chance, text)
    return text


def _one_character(chance: random.Random, text: str) -> str:
    at = chance.randrange(len(text) + 1)
    new = chance.choice(("", " ", "\n", chr(chance.randrange(32, 127)), "é", "\0", "[", "{", '"'))
    return text[:at] + new + text[at + chance.randrange(2) :]


def _one_word(chance: random.Random, text: str) -> str:
    words = list(re.finditer(r"[\w.*#/|-]+", text))
    if not words:
        return text
    here, other = chance.choice(words), chance.choice(words)
    return text[: here.start()] + other[0] + text[here.end() :]


def _one_line(chance: random.Random, text: str) -> str:
    lines = text.split("\n")
    at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    lines[at : at + chance.randrange(2)] = chance.choice(([], [lines[other]], [lines[at]] * 2))
    return "\n".join(lines)


def _copy(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _copy(inner) for key, inner in value.items()}
    return [_copy(inner) for inner in value] if isinstance(value, list) else value


def _holders(value: Any) -> Iterator[tuple[Any, Any]]:
    """Yield every table or list with each of its keys."""
    entries = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in list(entries):
        yield value, key
        if isinstance(inner, dict | list):
            yield from _holders(inner)


def _damage_tree(chance: random.Random, tree: Any, others: Sequence[Any]) -> None:
    """Damage one place: as a slip of the pen would mostly, as an enemy would now and then."""
    places = list(_holders(tree))
    if places:
        holder, key = chance.choice(places)
        damage = chance.choice((*_SLIPS, *_SLIPS, *_SLIPS, *_ENEMIES))
        damage(chance, tree, others, holder, key)


def _take_away(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    del holder[key]


def _put_odd(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    holder[key] = _copy(chance.choice(ODD_VALUES))


def _add_odd(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    if isinstance(holder, dict):
        holder[chance.choice(ODD_KEYS)] = _copy(chance.choice(ODD_VALUES))
    else:
        holder.insert(key, _copy(chance.choice(ODD_VALUES)))


def _put_other(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    other, other_key = chance.choice(list(_holders(chance.choice(others))))
    holder[key] = _copy(other[other_key])


def _put_alike(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    """Put what another template says under the same key, or at another place of this one."""
    found = [h[k] for h, k in _holders(chance.choice((*others, tree))) if k == key]
    if found:
        holder[key] = _copy(chance.choice(found))


def _double(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    if isinstance(holder, list):
        holder.insert(key, _copy(chance.choice(holder)))


def _change_size(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    sizes = [(h, k) for h, k in _holders(tree) if k not in _NO_SIZES and _is_size(h[k])]
    if sizes:
        holder, key = chance.choice(sizes)
        old = holder[key]
        holder[key] = chance.choice((*_SIZES, f"({old}) * 2", f"({old}) / 7", f"({old}) - 1 mm"))


def _change_words(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    texts = [(h, k) for h, k in _holders(tree) if isinstance(h[k], str)]
    if texts:
        holder, key = chance.choice(texts)
        holder[key] = _damaged_value(chance, holder[key], tree)


def _add_edit(chance: random.Random, tree: Any, others: Any, holder: Any, key: Any) -> None:
    """Add an edit as another template says it, or a made-up one, on a panel of this one."""
    parts = [part for part in _tables(tree.get("parts")) if isinstance(part.get("edits", []), list)]
    if not parts:
        return
    part = chance.choice(parts)
    edits = part.setdefault("edits", [])
    panels = _panels_of(part)
    entry = chance.choice((_borrowed_edit, _made_up_edit))(chance, others)
    for name, value in entry.items():
        if name in ("onto", "through") or value == "PANEL":
            panel = chance.choice(panels)
            entry[name] = [panel] if isinstance(value, list) else panel
    edits.insert(chance.randrange(len(edits) + 1), entry)


def _tables(value: Any) -> list[dict[str, Any]]:
    return [v for v in value.values() if isinstance(v, dict)] if isinstance(value, dict) else []


def _panels_of(part: dict[str, Any]) -> list[str]:
    rows = part.get("rows")
    rows = rows if isinstance(rows, list) else []
    words = [w for row in rows if isinstance(row, str) for w in row.partition(":")[2].split()]
    names = [word for word in words if re.fullmatch("[a-z][a-z0-9_]*", word)]
    lines = [f"{a} {sign} {b}" for a, b in itertools.pairwise(names) for sign in "/|"]
    return [*names, *names, *lines, "*"]


def _borrowed_edit(chance: random.Random, others: Any) -> dict[str, Any]:
    tables = [part for tree in others for part in _tables(tree.get("parts"))]
    edits = [e for part in tables for e in part.get("edits", ()) if isinstance(e, dict)]
    entry: dict[str, Any] = _copy(chance.choice(edits))
    verb = next((key for key in entry if key in _VERBS), None)
    return {**entry, verb: "PANEL"} if verb else entry


def _made_up_edit(chance: random.Random, others: Any) -> dict[str, Any]:
    verb = chance.choice(sorted(_VERBS))
    fields = {name: _copy(chance.choice(_FIELD_VALUES[name])) for name in _VERBS[verb].split()}
    some = {
        name.replace("insets", "inset"): v for name, v in fields.items() if chance.random() < 0.8
    }
    return {verb: "PANEL", **some}


_SLIPS = (_put_alike, _double, _change_size, _change_words, _add_edit)
_ENEMIES = (_take_away, _put_odd, _add_odd, _put_other)
_NO_SIZES = ("template", "kind", "units", "help", "type", "text", "stock", "grain", "bound", "side")
_SIZES: tuple[Any, ...] = (
    0, 1, "1/3", "2/7 in", "10 mm", "100 / 7", "caliper", "-1", 45, "i", "i * 3", 7, 200, "height",
    "1/1000 mm", "90 / 7", 180, -180, "width", "width / 2", "length", "100000",
)  # fmt: skip
_POINTS: tuple[Any, ...] = (
    ["middle", "middle"], [0, 0], ["1/3", "2/7"], [5, 5], [-1, 2], ["width", "height"], [1],
)  # fmt: skip
_SIDES = ("top", "right", "bottom", "left")
_FIELD_VALUES: dict[str, tuple[Any, ...]] = {
    **dict.fromkeys(("inset", "by", "radius", "depth", "diameter", "width", "start"), _SIZES),
    **dict.fromkeys(("spacing", "angle", "setback", "count", "parts", "height"), _SIZES),
    "insets": (["1/3", "1/7"], [0, 5], [0, 5, 0], [5, 0, 5], [1, 1], ["height", 0, 0]),
    "edge": _SIDES,
    "from": (*_SIDES, "top left", "bottom right", "each corner"),
    "corner": (*_SIDES, "all", "top left", ["top", "bottom left"]),
    "at": _POINTS,
    "size": _POINTS,
    "margin": (*_SIZES, ["1/3", "1/7", 1, 2]),
    "line": ([[0, 0], [5, 5]], [[1, 1], ["middle", 3], [7, 7]], [[0, 2], {"through": [3, 3], "to": [6, 2]}],
             [[1, 1], [1, 1]], [[0, 0], {"through": [1, 1], "to": [2, 2]}]),
    "style": ("round", "vee", "square"),
    "which": ("even", "odd"),
    "text": ("a", "äöü", ""),
    "through": (["PANEL"],),
    "onto": ("PANEL",),
    "side": ("face", "reverse"),
    "fold": ("valley", "mountain", 90, -180),
    "repeat": (0, 1, 3, 20),
    "when": (True, "1 > 0", "i > 1", "thumb"),
}  # fmt: skip
_VERBS = {
    "taper": "inset from when",
    "mitre": "angle setback from",
    "clip": "corner by",
    "round": "corner radius",
    "shape": "edge insets",
    "notch": "edge style diameter width depth through repeat",
    "hole": "from at diameter through",
    "holes": "edge inset diameter start count spacing through",
    "slots": "width parts which",
    "window": "margin radius through",
    "cut": "from line through repeat",
    "score": "from line through fold",
    "perforate": "line through",
    "mark": "from line",
    "tape": "side inset edge width onto repeat",
    "label": "text height at",
}


def _is_size(value: Any) -> bool:
    if isinstance(value, str):
        return ":" not in value and not re.fullmatch(r"[a-z# |/*-]+", value)
    return isinstance(value, int | Decimal) and not isinstance(value, bool)


def _damaged_value(chance: random.Random, text: str, tree: Any) -> str:
    """Return *text* with one of its words replaced by a word from elsewhere."""
    texts = [str(holder[key]) for holder, key in _holders(tree)] + ["* 7", "/ 3", "( a )", "0", "#"]
    words = re.findall(r"\S+", text) or [""]
    pool = re.findall(r"\S+", chance.choice(texts)) or [""]
    words[chance.randrange(len(words))] = chance.choice(pool)
    return " ".join(words)


def written(value: Any, top: bool = True) -> str:
    """Return *value* as TOML, everything below the top in inline tables."""
    if top:
        return "".join(f"{_text(key)} = {written(v, False)}\n" for key, v in value.items())
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_text(k)} = {written(v, False)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(written(inner, False) for inner in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return _text(value) if isinstance(value, str) else _number(value)


def _number(value: Any) -> str:
    if isinstance(value, Decimal) and not value.is_finite():
        return "nan" if value.is_nan() else "inf"
    text = str(value)
    return text.replace("E+", "e+") if "E" not in text or "." in text else text.replace("E", ".0e")


def _text(text: str) -> str:
    escaped = "".join(
        character if character >= " " and character not in '"\\\x7f' else f"\\u{ord(character):04x}"
        for character in text
    )
    return f'"{escaped}"'


def meet(text: str) -> str:
    """Return what became of a text: "faults", "refused" or "made"; anything else is raised."""
    try:
        template = template_from_text(text)
    except TemplateError as error:
        _hold_faults(error, text)
        return "faults"
    try:
        _use(template)
    except TemplateError as error:
        _hold_faults(error, text)
        return "faults"
    except ArgumentRefused:
        return "refused"
    return "made"


def _use(template: Template) -> None:
    """Build the template in every way that a book would."""
    page = template_from_text(PAGE)
    if template.kind == "fold":
        fold = template_from_text(PAGE.replace('"front left"', '"front | flap"'))
        _hold_parts(build(fold, {}, CALIPERS, Graft(template)).parts)
    elif template.kind == "edge":
        _hold_parts(build_fragment(Graft(template), EDGE, CALIPERS))
        _hold_parts(build(page, {}, CALIPERS, Graft(template)).parts)
    else:
        built = build(template, {}, CALIPERS)
        _hold_parts(built.parts)
        _bind(built)


def _bind(built: Built) -> None:
    if any(part.bound and part.bound.side != "fold" for part in built.parts):
        fragment = Graft(template_from_text(FRAGMENT))
        _hold_parts(with_graft(built, fragment, CALIPERS).parts)


PAGE = """
template = "stand-in"
kind = "page"
units = "mm"
[parts.page]
bound = "front left"
columns = [70, "100 / 3"]
rows = ["107 : front flap"]
[parts.page.folds]
"* | *" = 90
"""


def _hold_parts(parts: Sequence[Part]) -> None:
    for part in parts:
        for motion in LEFT_EDGE_TO.values():
            turned = moved(part, motion)
            drawing = part_drawing(turned, "a part")
            assert isinstance(drawing, Drawing)
        assert part.outline
        assert signed_area(part.outline[0]) > 0
        assert all(signed_area(ring) < 0 for ring in part.outline[1:])
        left_over = sum(signed_area(ring) for ring in part.outline)
        assert left_over > 0
        numbers = [n for ring in part.outline for v in ring.vertices for n in (v.x, v.y, v.bulge)]
        assert all(abs(float(number)) < 1e9 for number in numbers)


def _hold_faults(error: TemplateError, text: str) -> None:
    """Every fault has a code, a message and a place inside the text."""
    lines = text.split("\n")
    for fault in error.faults:
        assert fault.code
        assert fault.message
        assert "\n" not in str(fault)
        assert 0 <= fault.line <= len(lines) + 1, fault


@pytest.fixture
def damaged_texts():
    """Return what makes texts: (texts, seed, count) -> damaged texts."""
    return mutated


@pytest.fixture
def meeting():
    """Return what puts a text through everything: text -> what became of it."""
    return meet


@pytest.fixture
def template_texts():
    """Return the texts of all built-in templates, and of some that use every word of the language."""
    return texts()


def texts() -> list[str]:
    """Return the texts to damage; the rich ones count fourfold."""
    built_in = [path.read_text(encoding="utf-8") for path in sorted(BUILT_IN.rglob("*.toml"))]
    return [*built_in, *rich_texts() * 4]


def rich_texts() -> list[str]:
    """Return templates that use every word of the language, in awkward sizes."""
    folder = Path(__file__).parent / "rich"
    return [path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.toml"))]


@pytest.fixture
def faults_of():
    """Return what tells the faults of a text, none where its parts are made: text -> faults."""
    return faults


def faults(text: str, **arguments: object) -> tuple[Fault, ...]:
    """Return all faults of a template text."""
    try:
        template = template_from_text(text, "leaf.toml")
        if template.kind == "edge":
            build_fragment(Graft(template, arguments), EDGE, CALIPERS)
        else:
            build(template, arguments, CALIPERS)
    except TemplateError as error:
        return error.faults
    return ()
