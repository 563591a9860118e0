"""The content of a page: a drawing as the operators of PDF (ISO 32000-1, 8.5 and 14.6).

One unit of the page is a point. What a part and a path are called travels in
marked content, which programs pass over; its tags begin with XX, as ISO 32000-1,
annex E, wants it of private names.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from ...drawing import Caption, Drawing, Group, Item, Layer
from ...paths import Number, Path, Segment, distance
from ..beziers import curves_of
from ..choices import Choices, Grouping, Reader
from ..svg.options import CUT_FILE, USUAL_ORDER, Style, with_colours
from .texts import literal, number, shown, text_string

PART, PATH, TEXT = "XXPart", "XXPath", "Span"  #: tags of marked content
FONT = "/F"
CAPITAL_SHARE = 0.718  #: height of a capital letter of Helvetica (its metrics: CapHeight 718)
WITHIN = 1e-4  #: mm; how far a curve may lie off its arc
_FLAT = 1e-7  # mm; an arc that rises less over its chord is a straight line


@dataclass(frozen=True, slots=True)
class _Pen:
    """What every line needs to know."""

    scale: float  #: units of the page to a millimetre
    styles: dict[Layer, Style]
    has_dashes: bool

    def words(self, *lengths: Number) -> str:
        """Return lengths in mm as units of the page."""
        return " ".join(number(float(length) * self.scale) for length in lengths)


def content_of(drawing: Drawing, choices: Choices, scale: float) -> bytes:
    """Return the content stream of *drawing*, *scale* units of the page to a millimetre."""
    styles = dict(with_colours(CUT_FILE, choices.colours).styles)
    pen = _Pen(scale, styles, choices.reader is Reader.PEOPLE)
    return "".join(f"{line}\n" for line in _lines(drawing, choices, pen)).encode("ascii")


def layers_in(drawing: Drawing) -> frozenset[Layer]:
    """Return the layers that a drawing has anything on."""
    return frozenset(thing.layer for group in drawing.groups for thing in _things(group))


def _things(group: Group) -> tuple[Item | Caption, ...]:
    return *group.items, *group.captions


def _lines(drawing: Drawing, choices: Choices, pen: _Pen) -> Iterator[str]:
    """Yield the operators, part by part and layer by layer, in the order of the choices."""
    runs = groupby(_in_order(drawing, choices), key=lambda pair: (pair[0].key, pair[1].layer))
    for (key, layer), pairs in runs:
        yield f"/{PART} <</Key {literal(text_string(key))}>> BDC"
        yield f"/OC /{layer.value} BDC"
        yield "q"
        yield from _style(pen.styles[layer], pen)
        for _, thing in pairs:
            yield from _text(thing, pen) if isinstance(thing, Caption) else _item(thing, pen)
        yield from ("Q", "EMC", "EMC")


def _in_order(drawing: Drawing, choices: Choices) -> list[tuple[Group, Item | Caption]]:
    """Return all paths and captions with their part, in the order of the file."""
    order = dict.fromkeys((*choices.layer_order, *USUAL_ORDER))
    layers = {layer: rank for rank, layer in enumerate(order)}
    ranked = [
        (_rank(choices.grouping, part, layers[thing.layer]), group, thing)
        for part, group in enumerate(drawing.groups)
        for thing in _things(group)
    ]
    return [(group, thing) for _, group, thing in sorted(ranked, key=lambda entry: entry[0])]


def _rank(grouping: Grouping, part: int, layer: int) -> tuple[int, int]:
    """Return what the order goes by; for ways that sort nothing, nothing."""
    if grouping is Grouping.PART_THEN_LAYER:
        return part, layer
    return (0, layer) if grouping in (Grouping.LAYER_THEN_PART, Grouping.NONE) else (0, 0)


def _style(style: Style, pen: _Pen) -> Iterator[str]:
    red, green, blue = (int(style.colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    colour = f"{red:.4g} {green:.4g} {blue:.4g}"
    yield f"{colour} RG {colour} rg {pen.words(style.width)} w"
    if pen.has_dashes and style.dashes:
        yield f"[{pen.words(*style.dashes)}] 0 d"


def _item(item: Item, pen: _Pen) -> Iterator[str]:
    if not item.path.vertices:
        return
    if item.name:
        yield f"/{PATH} <</Name {literal(text_string(item.name))}>> BDC"
    yield from _path(item.path, pen)
    if item.name:
        yield "EMC"


def _path(path: Path, pen: _Pen) -> Iterator[str]:
    first = path.vertices[0]
    yield f"{pen.words(first.x, first.y)} m"
    segments = list(path.segments())
    if path.closed and len(segments) > 1 and not segments[-1].bulge:
        segments.pop()
    for segment in segments:
        if _is_curved(segment):
            for curve in curves_of(segment, WITHIN):
                yield f"{pen.words(*curve.first, *curve.second, *curve.end)} c"
        else:
            yield f"{pen.words(*segment.end)} l"
    yield "s" if path.closed else "S"


def _is_curved(segment: Segment) -> bool:
    return float(distance(segment.start, segment.end)) * abs(float(segment.bulge)) / 2 >= _FLAT


def _text(caption: Caption, pen: _Pen) -> Iterator[str]:
    angle = math.radians(caption.angle_deg)
    cosine, sine = (number(value) for value in (math.cos(angle), math.sin(angle)))
    turn = f"{cosine} {sine} {number(-math.sin(angle))} {cosine}"
    yield f"/{TEXT} <</ActualText {literal(text_string(caption.text))}>> BDC BT"
    yield f"{FONT} {pen.words(caption.height / CAPITAL_SHARE)} Tf"
    yield f"{turn} {pen.words(*caption.at)} Tm {literal(shown(caption.text))} Tj ET EMC"
