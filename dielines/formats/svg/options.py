"""Choices for writing SVG: size unit, grouping, layer order, colours, dashes.

The usual colours are five of the eight of Okabe & Ito (Color Universal Design,
2002) and a grey; as thin lines on white all reach a contrast of 3:1 (WCAG 2.2,
1.4.11). The three others of the eight do not. Layers that a machine acts on
never share a colour; the two sides of tape do, and the guide file tells them
apart by dashes (WCAG 2.2, 1.4.1: colour is not the only means).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from types import MappingProxyType

from ...drawing import Layer
from ..choices import Grouping

BLACK = "#000000"
GREY = "#767676"
BLUE = "#0072B2"
VERMILLION = "#D55E00"
BLUISH_GREEN = "#009E73"
REDDISH_PURPLE = "#CC79A7"


class SizeUnit(Enum):
    """The unit in which the file states its page size."""

    MILLIMETRES = "mm"
    INCHES = "in"


class UserUnit(Enum):
    """How many coordinate units make an inch."""

    CSS = 96  #: CSS Values 4, absolute lengths: 1 in = 96 px
    POINT = 72  #: for readers that assume points


class Cue(Enum):
    """By what the layers can be told apart."""

    COLOUR = "colour"
    COLOUR_AND_DASH = "colour and dash"


@dataclass(frozen=True, slots=True)
class Style:
    """How the lines of a layer look; *dashes* are lengths on, off, on, off ... in mm."""

    colour: str
    dashes: tuple[float, ...] = ()
    width: float = 0.2  #: of the line, mm


#: Dashed valley and dash-dotted mountain are common practice with no source.
USUAL_STYLES: Mapping[Layer, Style] = MappingProxyType(
    {
        Layer.CUT: Style(BLACK),
        # finer than the dashes of a score that is cut in dashes, so that both can be seen
        Layer.PERFORATE: Style(REDDISH_PURPLE, (0.4, 0.4)),
        Layer.SCORE_VALLEY: Style(BLUE, (4.0, 2.0)),
        Layer.SCORE_MOUNTAIN: Style(VERMILLION, (6.0, 1.5, 1.0, 1.5)),
        Layer.TAPE_FACE: Style(BLUISH_GREEN, (9.0, 2.0)),
        Layer.TAPE_REVERSE: Style(BLUISH_GREEN, (9.0, 1.5, 1.0, 1.5, 1.0, 1.5)),
        Layer.MARK: Style(GREY, (0.5, 1.5)),
        Layer.LABEL: Style(GREY),
    }
)

#: What holds a sheet together is cut last.
USUAL_ORDER = (
    Layer.LABEL,
    Layer.MARK,
    Layer.TAPE_REVERSE,
    Layer.TAPE_FACE,
    Layer.SCORE_MOUNTAIN,
    Layer.SCORE_VALLEY,
    Layer.PERFORATE,
    Layer.CUT,
)


@dataclass(frozen=True)
class Options:
    """How a drawing is written as SVG.

    *layer_order* says which layers come first; those it leaves out follow in
    the usual order. *language* is that of the titles (BCP 47).
    """

    size_unit: SizeUnit = SizeUnit.MILLIMETRES
    user_unit: UserUnit = UserUnit.CSS
    grouping: Grouping = Grouping.PART_THEN_LAYER
    cue: Cue = Cue.COLOUR
    layer_order: tuple[Layer, ...] = USUAL_ORDER
    styles: Mapping[Layer, Style] = field(default_factory=lambda: USUAL_STYLES)
    language: str = "en"

    @property
    def layers(self) -> tuple[Layer, ...]:
        """Every layer once, in the order of the file."""
        return tuple(dict.fromkeys((*self.layer_order, *USUAL_ORDER)))


CUT_FILE = Options()
GUIDE_FILE = Options(cue=Cue.COLOUR_AND_DASH)


def with_colours(options: Options, colours: Iterable[tuple[Layer, str]]) -> Options:
    """Return *options* with the colour of some layers changed.

    >>> with_colours(CUT_FILE, [(Layer.CUT, "#ff0000")]).styles[Layer.CUT].colour
    '#ff0000'
    """
    changed = {layer: replace(options.styles[layer], colour=colour) for layer, colour in colours}
    return replace(options, styles=MappingProxyType({**options.styles, **changed}))
