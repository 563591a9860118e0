"""Reading the machine of a workshop file: the table ``[machine]``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Literal

from ..documents import Place, Refusal, suggestion
from ..fields import Field, Kind
from ..lengths import ZERO, Length, Unit, millimetres
from .entries import Entry, table_at
from .machine import LAYERS, WORKED, Bridges, Dashes, Grouping, Machine, Scoring
from .machine_examples import MachineExample, machine_examples

THICKEST = millimetres(20)
WIDEST_MARGIN = millimetres(100)
WIDEST_KERF = millimetres(2)
WIDEST_GAP = millimetres(50)
WIDEST_BRIDGE = millimetres(10)
CLOSEST_BRIDGES = millimetres(20)
FARTHEST_BRIDGES = millimetres(2000)
LONGEST_OVERLAP = millimetres(10)
LONGEST_DASH = millimetres(50)
SHORTEST_DASH = millimetres("0.1")

FORMATS = ("svg", "dxf")
DXF_VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")
SVG_UNITS = (96, 72)  # CSS; and what some readers assume (common practice)

#: What the person calls each layer.
LAYER_WORDS: Mapping[str, str] = MappingProxyType(
    {layer.lower().replace("_", " "): layer for layer in LAYERS}
)

FIELDS = (
    Field("like", Kind.TEXT),
    Field("area", Kind.TEXT),
    Field("margin", Kind.SIZE),
    Field("reads", Kind.TEXT_OR_LIST),
    Field("svg_units_per_inch", Kind.WHOLE),
    Field("dxf_version", Kind.TEXT, words=DXF_VERSIONS),
    Field("layers", Kind.LIST),
    Field("grouping", Kind.TEXT, words=tuple(way.value for way in Grouping)),
    Field("colours", Kind.TABLE),
    Field("scoring", Kind.TEXT, words=tuple(way.value for way in Scoring)),
    Field("dashes", Kind.TABLE),
    Field("draws", Kind.FLAG),
    Field("one_scoring_tool", Kind.FLAG),
    Field("side_up", Kind.TEXT, words=("face", "reverse")),
    Field("thickest", Kind.SIZE),
    Field("kerf", Kind.SIZE),
    Field("gap", Kind.SIZE),
    Field("bridges", Kind.TABLE),
    Field("overlap", Kind.SIZE),
    Field("shared_edges", Kind.FLAG),
    Field("one_file_per_layer", Kind.FLAG),
    Field("registration_marks", Kind.FLAG),
)
BRIDGE_FIELDS = (Field("width", Kind.SIZE), Field("every", Kind.SIZE))
DASH_FIELDS = (
    Field("dash", Kind.SIZE),
    Field("gap", Kind.SIZE),
    Field("keep_off", Kind.SIZE),
)
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
_NO_DASHES = Dashes(ZERO, ZERO, ZERO)


def read_machine(entry: Entry) -> Machine:
    """Return the machine that the table says, with typical values for what it leaves out.

    Typical are those of the machine that it is like, as far as that has any.
    """
    example = entry.read("like", _example, None) if entry.says("like") else None
    if example is not None:
        entry = _before_typical(entry, example)
    draws = entry.flag("draws")
    kerf = entry.length("kerf", ZERO, WIDEST_KERF)
    bridges, shares = _bridges(entry), entry.flag("shared_edges")
    gap = ZERO if shares and not entry.says("gap") else _gap(entry, kerf)
    if shares:
        _report_what_sharing_excludes(entry.own.place / "shared_edges", gap, kerf, bridges)
    return Machine(
        area=entry.size("area"),
        margin=entry.length("margin", ZERO, WIDEST_MARGIN),
        reads=entry.read("reads", _formats, ()),
        svg_units_per_inch=entry.read("svg_units_per_inch", _svg_units, SVG_UNITS[0]),
        dxf_version=entry.word("dxf_version"),
        layers=_layers(entry, draws),
        grouping=_grouping(entry),
        colours=entry.read("colours", _colours, {}),
        scoring=_scoring(entry),
        dashes=_dashes(entry),
        draws=draws,
        shares_scoring_tool=entry.flag("one_scoring_tool"),
        side_up=_side(entry.word("side_up")),
        thickest=entry.length("thickest", millimetres("0.05"), THICKEST),
        kerf=kerf,
        gap=gap,
        bridges=bridges,
        overlap=entry.length("overlap", ZERO, LONGEST_OVERLAP),
        cuts_shared_edges_once=shares,
        has_file_per_layer=entry.flag("one_file_per_layer"),
        has_registration_marks=entry.flag("registration_marks"),
        caution=example.caution if example else "",
    )


def _example(value: str, units: Unit | None) -> MachineExample:
    examples = machine_examples()
    if value not in examples:
        hint = suggestion(value, examples)
        raise Refusal("unknown-word", f"{value[:40]!r} is none of {', '.join(examples)}{hint}")
    return examples[value]


def _before_typical(entry: Entry, example: MachineExample) -> Entry:
    """Return *entry* with the values of *example* before the typical ones behind it."""
    document = example.document
    table = table_at(document.root / "machine", document.data["machine"], FIELDS, None)
    if entry.typical is None:
        return replace(entry, typical=table)
    values = {**entry.typical.values, **table.values}
    return replace(entry, typical=replace(entry.typical, values=values))


def _gap(entry: Entry, kerf: Length) -> Length:
    """Return the distance between parts, which is no less than what the cut takes away."""
    gap = entry.length("gap", ZERO, WIDEST_GAP)
    if entry.says("gap") and gap < kerf:
        (entry.own.place / "gap").report(
            "too-narrow",
            "between two parts there must be room for the cut of each, half a kerf wide",
            "Make the gap as wide as the kerf, or wider.",
        )
    return gap


def _report_what_sharing_excludes(
    place: Place, gap: Length, kerf: Length, bridges: Bridges
) -> None:
    """Report what keeps an edge from being one cut for two parts."""
    for length, why, remedy in (
        (gap, "parts share edges only where they touch", 'Say gap = "0 mm".'),
        (kerf, "a cut that takes something away leaves two parts too small", "Leave sharing out."),
        (bridges.width, "what is cut for two parts cannot be held by bridges", "Choose one."),
    ):
        if length:
            place.report("not-together", why, remedy)


def _bridges(entry: Entry) -> Bridges:
    table = entry.table("bridges", BRIDGE_FIELDS)
    if table is None:
        return Bridges(ZERO, CLOSEST_BRIDGES)
    return Bridges(
        width=table.length("width", ZERO, WIDEST_BRIDGE),
        every=table.length("every", CLOSEST_BRIDGES, FARTHEST_BRIDGES),
    )


def _scoring(entry: Entry) -> Scoring:
    return entry.read("scoring", lambda value, units: Scoring(value), Scoring.TOOL)


def _grouping(entry: Entry) -> Grouping:
    return entry.read("grouping", lambda value, units: Grouping(value), Grouping.NONE)


def _side(word: str) -> Literal["face", "reverse"]:
    return "reverse" if word == "reverse" else "face"


def _formats(value: Any, units: Unit | None) -> tuple[str, ...]:
    words = [value] if isinstance(value, str) else value
    for word in words:
        if word not in FORMATS:
            hint = suggestion(str(word), FORMATS)
            raise Refusal("unknown-word", f"{word!r} is none of {', '.join(FORMATS)}{hint}")
    if not words:
        raise Refusal("empty", "a machine reads at least one of svg and dxf")
    return tuple(dict.fromkeys(words))


def _svg_units(value: int, units: Unit | None) -> int:
    if value not in SVG_UNITS:
        raise Refusal("unknown-word", f"{value} is none of {', '.join(map(str, SVG_UNITS))}")
    return value


def _layers(entry: Entry, draws: bool) -> tuple[str, ...]:
    """Return the layers of the cut file, in order; each must be one that the machine can do."""
    layers: tuple[str, ...] = entry.read("layers", _layers_of, ())
    if not entry.says("layers"):
        return layers
    place = entry.own.place / "layers"
    if not draws and not WORKED.issuperset(layers):
        place.report(
            "would-be-cut",
            "a machine without a pen would cut what is only to be drawn",
            "Leave tape, mark and label out, or say draws = true.",
        )
    return layers


def _layers_of(value: list[Any], units: Unit | None) -> tuple[str, ...]:
    layers = [_layer(word) for word in value]
    if len(set(layers)) < len(layers):
        raise Refusal("named-twice", "a layer is named twice")
    if "CUT" not in layers:
        raise Refusal("missing", "a cut file without the layer 'cut' cuts nothing out")
    return tuple(layers)


def _layer(word: object) -> str:
    if not isinstance(word, str) or word not in LAYER_WORDS:
        hint = suggestion(str(word), LAYER_WORDS)
        raise Refusal("unknown-word", f"{word!r} is no layer ({', '.join(LAYER_WORDS)}){hint}")
    return LAYER_WORDS[word]


def _colours(value: dict[str, Any], units: Unit | None) -> Mapping[str, str]:
    colours = {_layer(word): _colour(word, colour) for word, colour in value.items()}
    return MappingProxyType(colours)


def _colour(layer: str, colour: object) -> str:
    if not isinstance(colour, str) or not _COLOUR.fullmatch(colour):
        raise Refusal(
            "bad-colour", f"{layer}: {str(colour)[:20]!r} is no colour", 'Write it as "#0072b2".'
        )
    return colour.lower()


def _dashes(entry: Entry) -> Dashes:
    table = entry.table("dashes", DASH_FIELDS)
    if table is None:
        return _NO_DASHES
    return Dashes(
        dash=table.length("dash", SHORTEST_DASH, LONGEST_DASH),
        gap=table.length("gap", SHORTEST_DASH, LONGEST_DASH),
        keep_off=table.length("keep_off", ZERO, LONGEST_DASH),
    )
