"""A legend and a check square beside a drawing, for the guide file only.

They stand to the right of the page, which grows; nothing of the drawing moves.
A cut file never has them: a machine may cut whatever it finds.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..drawing import Caption, Drawing, Group, Item, Layer
from ..paths import Point, line, rectangle
from .layer_words import TITLES

MARGIN = 6.0  #: mm, around what is added
ROW = 6.0  #: from one line of the legend to the next
SAMPLE = 30.0  #: length of the sample lines
LETTER = 2.5  #: height of a capital letter
LETTER_WIDTH = 2.0  #: of one letter with its space; from memory, of common sans serifs
LEGEND_WIDTH = SAMPLE + MARGIN + LETTER_WIDTH * max(map(len, TITLES.values()))


@dataclass(frozen=True, slots=True)
class CheckSquare:
    """A square to measure after printing, with what is written in it."""

    side: float
    words: str


ONE_INCH = CheckSquare(25.4, "1 x 1 in")
TWENTY_FIVE_MM = CheckSquare(25.0, "25 x 25 mm")


def with_legend(drawing: Drawing) -> Drawing:
    """Return *drawing* with a line for each layer that it uses, and which side lies up."""
    used = _used(drawing)
    layers = [layer for layer in Layer if layer in used]
    wider = _with_column(drawing, LEGEND_WIDTH, ROW * (len(layers) + 1))
    left, top = drawing.width + MARGIN, wider.height - MARGIN
    side = "face" if drawing.face_up else "reverse"
    heading = Caption(
        Layer.LABEL, f"The {side} of the paper lies up", Point(left, top - LETTER), LETTER
    )
    words = [_words(layer, left, top - ROW * row) for row, layer in enumerate(layers, 1)]
    samples = [_sample(caption, layer) for caption, layer in zip(words, layers, strict=True)]
    legend = Group("legend", "Legend", tuple(samples), (heading, *words))
    return replace(wider, groups=(*drawing.groups, legend))


def with_check_square(drawing: Drawing, square: CheckSquare) -> Drawing:
    """Return *drawing* with *square* beside it, drawn solid on LABEL."""
    wider = _with_column(drawing, square.side, square.side)
    left, top = drawing.width + MARGIN, wider.height - MARGIN
    bottom = top - square.side
    outline = Item(
        Layer.LABEL, rectangle(left, bottom, left + square.side, top), f"square of {square.words}"
    )
    at = Point(left + 2, bottom + (square.side - LETTER) / 2)
    words = Caption(Layer.LABEL, square.words, at, LETTER)
    group = Group("check-square", "Check square", (outline,), (words,))
    return replace(wider, groups=(*drawing.groups, group))


def _used(drawing: Drawing) -> set[Layer]:
    captions = (caption for group in drawing.groups for caption in group.captions)
    return {item.layer for item in drawing.items()} | {caption.layer for caption in captions}


def _with_column(drawing: Drawing, width: float, height: float) -> Drawing:
    """Return *drawing* on a page with room for a column of this size at its right."""
    return replace(
        drawing,
        width=drawing.width + width + 2 * MARGIN,
        height=max(drawing.height, height + 2 * MARGIN),
    )


def _words(layer: Layer, left: float, top: float) -> Caption:
    at = Point(left + SAMPLE + MARGIN, top - LETTER)
    return Caption(Layer.LABEL, TITLES[layer], at, LETTER)


def _sample(words: Caption, layer: Layer) -> Item:
    """Return the sample line beside *words*, half as high as they are."""
    y = words.at.y + LETTER / 2
    start = words.at.x - MARGIN - SAMPLE
    return Item(layer, line((start, y), (start + SAMPLE, y)), TITLES[layer])
