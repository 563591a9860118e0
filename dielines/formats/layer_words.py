"""What the layers are called where people read them: titles in files and legends."""

from __future__ import annotations

from ..drawing import PROCESSING_STEPS, Layer

TITLES: dict[Layer, str] = {
    Layer.CUT: "Cut",
    Layer.PERFORATE: "Perforate",
    Layer.SCORE_VALLEY: "Score, valley fold: closes towards you",
    Layer.SCORE_MOUNTAIN: "Score, mountain fold: closes away from you",
    Layer.TAPE_FACE: "Tape on the side that lies up",
    Layer.TAPE_REVERSE: "Tape on the side that lies down",
    Layer.MARK: "Mark, nothing is cut here",
    Layer.LABEL: "Label",
}


def step_words(layer: Layer) -> str:
    """Return the processing step of *layer* in words: ``Structural, Cutting``.

    >>> step_words(Layer.SCORE_MOUNTAIN), step_words(Layer.MARK)
    ('Structural, ReverseCreasing', 'Legend')
    """
    group, kind = PROCESSING_STEPS[layer]
    return f"{group}, {kind}" if kind else group


def layer_named(name: str) -> Layer | None:
    """Return the layer that a file calls *name*, in whatever case, or None.

    >>> layer_named("cut"), layer_named("engrave")
    (<Layer.CUT: 'CUT'>, None)
    """
    return _BY_NAME.get(name.strip().upper())


_BY_NAME = {layer.value: layer for layer in Layer}
