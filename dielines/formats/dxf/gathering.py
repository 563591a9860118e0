"""What lies in the model space of a DXF document: paths and captions in mm, and what was left out."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from ...drawing import Caption, Item, Layer
from ...paths import Path, Point
from ..layer_words import layer_named
from ..readings import Remark
from .blocks import taken_apart
from .entities import FARTHEST, Unreadable, path_of
from .library import Entity, Sheet
from .sheet import APPLICATION

MAX_VERTICES = 2_000_000

_XML_NAME = re.compile(r"[A-Za-z_][\w.-]{0,200}", re.ASCII)
_CODE = re.compile(r"\\U\+([0-9A-Fa-f]{4})")
_LETTERING = frozenset(("TEXT", "MTEXT"))


class TooManyVertices(Exception):
    """More vertices than a drawing of this program could need."""


@dataclass(frozen=True, slots=True)
class Found:
    """A path or a caption, the layer's name in the file, and the part that it names ("" for none)."""

    thing: Item | Caption
    source_layer: str
    part: str


@dataclass(slots=True)
class Gathering:
    """What was found, in order, and counts of what was left out, by kind or by layer."""

    found: list[Found] = field(default_factory=list)
    other_kinds: Counter[str] = field(default_factory=Counter)
    broken: Counter[str] = field(default_factory=Counter)
    hidden: Counter[str] = field(default_factory=Counter)
    vertices: int = 0
    unknown: Counter[str] = field(default_factory=Counter)

    def remarks(self) -> Iterator[Remark]:
        """Yield one remark on each kind of thing that was left out or had to be guessed."""
        if self.unknown:
            words = (
                f"Read as marks, because their layers are none of ours: {_listed(self.unknown)}."
            )
            yield Remark("unknown-layer", words)
        if self.hidden:
            words = f"Left out, because they lie on layers that are off or frozen: {_listed(self.hidden)}."
            yield Remark("hidden-left-out", words)
        if self.other_kinds:
            yield Remark(
                "left-out",
                f"Left out, because only lines, arcs, curves and text are read: {_listed(self.other_kinds)}.",
            )
        if self.broken:
            words = f"Left out, because their numbers make no sense: {_listed(self.broken)}."
            yield Remark("broken", words)


def _listed(counts: Counter[str]) -> str:
    return ", ".join(f"{count} x {name[:40]}" for name, count in sorted(counts.items()))


def layer_of(name: str) -> Layer:
    """Return our layer of that *name*; for any other name MARK, which nothing acts on."""
    return layer_named(name) or Layer.MARK


def gathered(sheet: Sheet, mm_per_unit: float) -> Gathering:
    """Return what lies in the model space of *sheet*; raises Unbounded or TooManyVertices."""
    result = Gathering()
    hidden = _hidden_layers(sheet)
    for entity, layer in taken_apart(sheet.modelspace(), result.other_kinds):
        if layer.lower() in hidden or _is_invisible(entity):
            result.hidden[layer] += 1
        else:
            _gather(entity, layer, mm_per_unit, result)
    return result


def _hidden_layers(sheet: Sheet) -> frozenset[str]:
    """Return the names, in lower case, of the layers that are frozen or off."""
    return frozenset(
        entry.dxf.name.lower() for entry in sheet.layers if entry.is_frozen() or entry.is_off()
    )


def _is_invisible(entity: Entity) -> bool:
    return entity.dxf.is_supported("invisible") and bool(entity.dxf.get("invisible", 0))


def _gather(entity: Entity, layer: str, mm_per_unit: float, result: Gathering) -> None:
    kind, layer = entity.dxftype(), whole(layer)
    part, name = _part_and_name(entity)
    try:
        thing: Item | Caption
        if kind in _LETTERING:
            thing = _caption(entity, layer_of(layer), mm_per_unit)
        else:
            thing = Item(layer_of(layer), _counted(path_of(entity, mm_per_unit), result), name)
    except TooManyVertices:
        raise
    except Unreadable as reason:
        (result.other_kinds if str(reason) == "kind" else result.broken)[kind] += 1
    except Exception:  # the library raises all kinds of errors for senseless numbers
        result.broken[kind] += 1
    else:
        if layer_named(layer) is None:
            result.unknown[layer] += 1
        result.found.append(Found(thing, layer, part))


def _counted(path: Path, result: Gathering) -> Path:
    result.vertices += len(path.vertices)
    if result.vertices > MAX_VERTICES:
        raise TooManyVertices
    return path


def _part_and_name(entity: Entity) -> tuple[str, str]:
    """Return the part and the name that our extended data tell, "" where there are none."""
    if not entity.has_xdata(APPLICATION):
        return "", ""
    texts = [str(tag.value) for tag in entity.get_xdata(APPLICATION) if tag.code == 1000]
    part, name = (_joined(texts, key) for key in ("part=", "name="))
    return (part if _XML_NAME.fullmatch(part) else ""), name


def _joined(texts: Iterable[str], key: str) -> str:
    pieces = (text.removeprefix(key) for text in texts if text.startswith(key))
    return whole("".join(pieces))


def whole(text: str) -> str:
    r"""Return *text* with each ``\U+XXXX`` as the sign that it means.

    Two of them make one sign beyond 16 bits.

    >>> whole(r"\U+00C9t\U+00E9"), len(whole(r"\U+D83C\U+DF31"))
    ('Été', 1)
    """
    if text.isascii() and "\\U+" not in text:
        return text
    signs = _CODE.sub(lambda match: chr(int(match[1], 16)), text)
    return signs.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _caption(entity: Entity, layer: Layer, mm_per_unit: float) -> Caption:
    if entity.dxftype() == "MTEXT":
        text, height = " ".join(entity.plain_text().split()), entity.dxf.char_height
        angle = entity.get_rotation()
    else:
        text, height, angle = entity.plain_text(), entity.dxf.height, entity.dxf.rotation
    at = entity.ocs().to_wcs(entity.dxf.insert)
    lengths = [float(length) * mm_per_unit for length in (at.x, at.y, height)]
    if not (all(abs(length) <= FARTHEST for length in lengths) and math.isfinite(angle)):
        raise Unreadable("too-far")
    x, y, size = lengths
    return Caption(layer, whole(text), Point(x, y), size, float(angle))
