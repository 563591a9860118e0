"""A walk through the content of a page that draws what is painted there."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ...drawing import Caption, Item, Layer
from ...paths import Point
from ..out_of_bounds import MAX_COORDINATE, OutOfBounds
from ..svg.transforms import IDENTITY, Matrix, after, apply, stretches
from .bounds import MAX_DEPTH, MAX_STACK, Allowance
from .content import CAPITAL_SHARE, PART, PATH, TEXT
from .layers import FileLayer
from .lexing import Broken, Name, Operand, Operation, operations
from .opening import unpacked
from .texts import from_text_string
from .tracing import Pen

_NO_LAYER = FileLayer("", None)


@dataclass(frozen=True, slots=True)
class Found:
    """A path or caption in mm, its layer in the file and the part that it names ("" for none)."""

    thing: Item | Caption
    source_layer: FileLayer
    part: str


@dataclass(frozen=True, slots=True)
class Marks:
    """What marked content says of everything within it."""

    layer: FileLayer = _NO_LAYER
    is_hidden: bool = False
    part: str = ""
    name: str = ""
    text: str | None = None


@dataclass(frozen=True, slots=True)
class Layers:
    """The layers of a file, and which are hidden, by number of their objects."""

    of: Callable[[Any], FileLayer]
    is_hidden: Callable[[Any], bool]


@dataclass
class Setting:
    """What holds where a stream is walked: its names, and where its units lie."""

    resources: Any
    matrix: Matrix
    marks: list[Marks]
    depth: int = 0


@dataclass
class _Text:
    """Where the next text goes, and how large it is."""

    matrix: Matrix = IDENTITY
    size: float = 0.0


class Walk:
    """Draws pages; what it found stands in *found*, what it left out in *counts*."""

    def __init__(self, layers: Layers, allowance: Allowance) -> None:
        """Start with nothing."""
        self.found: list[Found] = []
        self.counts: Counter[str] = Counter()
        self._layers = layers
        self.allowance = allowance

    def run(self, content: bytes, setting: Setting) -> None:
        """Draw *content*; raises OutOfBounds."""
        if setting.depth > MAX_DEPTH:
            raise OutOfBounds("too-deep", f"its forms lie more than {MAX_DEPTH} deep")
        stream = _Stream(self, setting)
        try:
            for operation in operations(content, self.allowance):
                stream.do(operation)
        except Broken:
            self.counts["broken-content"] += 1

    def pen(self) -> Pen:
        """Return a pen that spends what is left for this file."""
        return Pen(self.allowance)

    def form(self, form: Any, outer: Setting) -> None:
        """Draw a form, or count a picture, that a stream names."""
        if form is None:
            self.counts["broken-reference"] += 1
        elif form.get("/Subtype") != "/Form":
            self.counts["picture-left-out"] += 1
        else:
            own = form.get("/Matrix")
            inner = IDENTITY if own is None else Matrix(*_six([float(n) for n in own]))
            marks = self.layered(outer.marks[-1], form.get("/OC"))
            resources = form.get("/Resources", outer.resources)
            matrix = after(outer.matrix, inner)
            inside = Setting(resources, matrix, [marks], outer.depth + 1)
            self.run(unpacked(form, self.allowance), inside)

    def layered(self, marks: Marks, group: Any) -> Marks:
        """Return *marks* within the optional content *group*; the first of several counts."""
        if group is None:
            return marks
        if group.get("/Type") == "/OCMD":
            group = _first(group.get("/OCGs"))
        if group is None:
            return marks
        hidden = marks.is_hidden or self._layers.is_hidden(group)
        return replace(marks, layer=self._layers.of(group), is_hidden=hidden)

    def keep(self, thing: Item | Caption, marks: Marks) -> None:
        """Keep what was painted, unless its layer is hidden."""
        if marks.is_hidden:
            self.counts["hidden-left-out"] += 1
        else:
            self.found.append(Found(thing, marks.layer, marks.part))


class _Stream:
    """The state of one content stream."""

    def __init__(self, walk: Walk, setting: Setting) -> None:
        self._walk = walk
        self._setting = setting
        self._pen = walk.pen()
        self._saved: list[Matrix] = []
        self._text = _Text()

    def do(self, operation: Operation) -> None:
        """Do what *operation* says; operators that draw nothing are passed over."""
        act = _OPERATORS.get(operation.operator)
        if act is not None:
            act(self, operation.operands)

    @property
    def _matrix(self) -> Matrix:
        return self._setting.matrix

    def save(self, _: Sequence[Operand]) -> None:
        self._saved.append(self._matrix)
        if len(self._saved) > MAX_STACK:
            raise OutOfBounds("too-deep", f"it saves its state more than {MAX_STACK} times")

    def restore(self, _: Sequence[Operand]) -> None:
        if self._saved:
            self._setting.matrix = self._saved.pop()

    def transform(self, operands: Sequence[Operand]) -> None:
        self._setting.matrix = after(self._matrix, Matrix(*_six(operands)))

    def move(self, operands: Sequence[Operand]) -> None:
        self._pen.move(self._matrix, *_numbers(operands, 2))

    def line(self, operands: Sequence[Operand]) -> None:
        self._pen.line(self._matrix, *_numbers(operands, 2))

    def curve(self, operands: Sequence[Operand]) -> None:
        a, b, c, d, e, f = _numbers(operands, 6)
        self._pen.curve(self._matrix, (a, b), (c, d), (e, f))

    def curve_from_here(self, operands: Sequence[Operand]) -> None:
        c, d, e, f = _numbers(operands, 4)
        self._pen.curve(self._matrix, None, (c, d), (e, f))

    def curve_to_end(self, operands: Sequence[Operand]) -> None:
        a, b, e, f = _numbers(operands, 4)
        self._pen.curve(self._matrix, (a, b), (e, f), (e, f))

    def box(self, operands: Sequence[Operand]) -> None:
        x, y, width, height = _numbers(operands, 4)
        self._pen.box(self._matrix, x, y, width, height)

    def close(self, _: Sequence[Operand]) -> None:
        self._pen.close()

    def paint(self, _: Sequence[Operand]) -> None:
        marks = self._setting.marks[-1]
        for path in self._pen.painted():
            self._walk.keep(Item(marks.layer.layer or Layer.MARK, path, marks.name), marks)

    def close_and_paint(self, operands: Sequence[Operand]) -> None:
        self._pen.close()
        self.paint(operands)

    def drop(self, _: Sequence[Operand]) -> None:
        self._pen.painted()

    def clip(self, _: Sequence[Operand]) -> None:
        self._walk.counts["clipping-left-out"] += 1

    def show_form(self, operands: Sequence[Operand]) -> None:
        self._walk.form(_resource(self._setting.resources, "/XObject", operands), self._setting)

    def picture(self, _: Sequence[Operand]) -> None:
        self._walk.counts["picture-left-out"] += 1

    def begin(self, operands: Sequence[Operand]) -> None:
        """Enter marked content."""
        marks = self._setting.marks
        if len(marks) > MAX_STACK:
            raise OutOfBounds("too-deep", f"its marked content lies more than {MAX_STACK} deep")
        marks.append(self._marked(marks[-1], operands))

    def _marked(self, marks: Marks, operands: Sequence[Operand]) -> Marks:
        tag, told = (*operands, "", "")[:2]
        if tag == "OC" and isinstance(told, Name):
            group = _resource(self._setting.resources, "/Properties", [told])
            return self._walk.layered(marks, group)
        if not isinstance(told, Mapping):
            return marks
        texts = {key: from_text_string(v) for key, v in told.items() if isinstance(v, bytes)}
        if tag == PART:
            return replace(marks, part=texts.get("Key", ""))
        if tag == PATH:
            return replace(marks, name=texts.get("Name", ""))
        return replace(marks, text=texts.get("ActualText")) if tag == TEXT else marks

    def end(self, _: Sequence[Operand]) -> None:
        """Leave marked content."""
        if len(self._setting.marks) > 1:
            self._setting.marks.pop()

    def begin_text(self, _: Sequence[Operand]) -> None:
        self._text.matrix = IDENTITY

    def font(self, operands: Sequence[Operand]) -> None:
        self._text.size = _numbers(operands[1:], 1)[0]

    def place_text(self, operands: Sequence[Operand]) -> None:
        self._text.matrix = Matrix(*_six(operands))

    def show_text(self, _: Sequence[Operand]) -> None:
        """Keep a text whose signs the file tells; any other is counted."""
        marks = self._setting.marks[-1]
        if marks.text is None:
            self._walk.counts["text-left-out"] += 1
            return
        matrix = after(self._matrix, self._text.matrix)
        height = self._text.size * CAPITAL_SHARE * stretches(matrix)[0]
        x, y = apply(matrix, 0.0, 0.0)
        if not all(abs(side) <= MAX_COORDINATE for side in (x, y, height)):
            raise OutOfBounds("number-out-of-range", "a text lies more than a kilometre away")
        layer = marks.layer.layer or Layer.MARK
        angle = round(math.degrees(math.atan2(matrix.b, matrix.a)), 4) + 0.0
        self._walk.keep(Caption(layer, marks.text, Point(x, y), height, angle), marks)


def _numbers(operands: Sequence[Operand], count: int) -> list[float]:
    """Return the last *count* operands; raises Broken where they are no numbers."""
    numbers = [value for value in operands[-count:] if isinstance(value, float)]
    if len(numbers) < count:
        raise Broken
    return numbers


def _six(operands: Sequence[Operand]) -> list[float]:
    return _numbers(operands, 6)


def _first(groups: Any) -> Any:
    """Return the first of a list of layers, or the only one that is no list, or None."""
    from pikepdf import Array

    if not isinstance(groups, Array):
        return groups
    return groups[0] if len(groups) else None


def _resource(resources: Any, kind: str, operands: Sequence[Operand]) -> Any:
    """Return what a name means, None where nothing is called so."""
    named = None if resources is None else resources.get(kind)
    if named is None or not operands or not isinstance(operands[0], Name):
        return None
    return named.get(f"/{operands[0]}")


_OPERATORS: dict[str, Callable[[_Stream, Sequence[Operand]], None]] = {
    "q": _Stream.save, "Q": _Stream.restore, "cm": _Stream.transform,
    "m": _Stream.move, "l": _Stream.line, "c": _Stream.curve, "v": _Stream.curve_from_here,
    "y": _Stream.curve_to_end, "re": _Stream.box, "h": _Stream.close,
    "S": _Stream.paint, "s": _Stream.close_and_paint, "n": _Stream.drop,
    **dict.fromkeys(("B", "B*"), _Stream.paint),
    **dict.fromkeys(("f", "F", "f*", "b", "b*"), _Stream.close_and_paint),
    **dict.fromkeys(("W", "W*"), _Stream.clip),
    "Do": _Stream.show_form, **dict.fromkeys(("BI", "sh"), _Stream.picture),
    "BDC": _Stream.begin, "BMC": _Stream.begin, "EMC": _Stream.end,
    "BT": _Stream.begin_text, "Tf": _Stream.font, "Tm": _Stream.place_text,
    **dict.fromkeys(("Tj", "TJ", "'", '"'), _Stream.show_text),
}  # fmt: skip
