"""What each part was made from, kept in ``sizes.toml``, so that it can be made again.

A part that a template made is kept as the name and version of that template
with what it was given, usual values included, and what a binding grafted onto
it; a plain piece, such as a mat, as its outline. *proof* is a digest of all that
is cut, scored, taped and written on it: what is made again is held to it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import cast

from .. import __version__
from ..lengths import Length
from ..part import Fragment, Part
from ..part_drawing import part_group
from ..paths import Number, Path, Vertex
from ..sizes.sizes_file import Setting
from .book import Book, BookPart
from .cut_list import merged_titles
from .materials import Materials
from .spans import measured

SIZES = "sizes.toml"  #: the name of the file
FARTHEST = 1e6  #: mm; no sheet is so large
PROOF_DIGITS = 16  #: of the digest; a slip is found by far fewer


def recipes(parts: Sequence[BookPart]) -> dict[str, Mapping[str, Setting]]:
    """Return what the parts of each letter were made from."""
    by_letter: dict[str, list[BookPart]] = {}
    for entry in parts:
        by_letter.setdefault(entry.letter, []).append(entry)
    return {letter: _recipe(entries) for letter, entries in by_letter.items()}


def _recipe(entries: Sequence[BookPart]) -> Mapping[str, Setting]:
    first = entries[0]
    part = first.part
    return {
        "what": "; ".join(merged_titles([entry.title for entry in entries])),
        "title": first.title,
        "keys": ", ".join(entry.key for entry in entries),
        "stock": first.stock.name,
        "pieces": len(entries),
        "width": measured(part.width),
        "height": measured(part.height),
        "proof": proof_of(part),
        **(_plain(part) if is_plain(part) else _made(part)),
    }


def is_plain(part: Part) -> bool:
    """Return whether *part* is nothing but its outline, and no template gave it sizes."""
    marked = part.lines or part.strokes or part.zones or part.lettering or part.parameters
    return not marked and len(part.panels) == 1


def _plain(part: Part) -> dict[str, Setting]:
    return {
        f"outline_{number}": path_text(path) for number, path in enumerate(part.outline, start=1)
    }


def _made(part: Part) -> dict[str, Setting]:
    graft = {} if part.graft is None else {"graft": _fragment(part.graft)}
    return {
        "template": part.template,
        "version": part.version,
        "part": part.name,
        "mirrored": part.is_mirrored,
        "parameters": _settings(part.parameters),
        **graft,
    }


def _fragment(fragment: Fragment) -> Mapping[str, Setting]:
    return {
        "template": fragment.template,
        "version": fragment.version,
        "parameters": _settings(fragment.parameters),
    }


def _settings(parameters: Mapping[str, object]) -> Mapping[str, Setting]:
    return {name: cast("Setting", value) for name, value in parameters.items()}


def made_of(name: str, book: Book) -> dict[str, Setting]:
    """Return what else making a part of *book* again needs: the book's name, how thick things are."""
    calipers = Materials(book.stocks, book.tape).calipers()
    thickness = {stock: Length(caliper) for stock, caliper in calipers.items()}
    return {"name": name, "dielines": __version__, "thickness": thickness}


def proof_of(part: Part) -> str:
    """Return a digest that is the same for parts that are drawn alike, to the last digit."""
    lines = "\n".join(_proof_lines(part))
    return hashlib.sha256(lines.encode()).hexdigest()[:PROOF_DIGITS]


def _proof_lines(part: Part) -> Iterator[str]:
    group = part_group(part, "part", "")
    for item in group.items:
        path = item.path
        places = " ".join(
            f"{float(v.x)!r},{float(v.y)!r},{float(v.bulge)!r}" for v in path.vertices
        )
        yield f"{item.layer.value} {item.name!r} {path.closed} {places}"
    for text in group.captions:
        yield f"{text.text!r} {float(text.at.x)!r} {float(text.at.y)!r} {text.height!r}"


def path_text(path: Path) -> str:
    """Return a closed path as text, exactly; ``path_from`` reads it.

    >>> from dielines.paths import rectangle
    >>> path_text(rectangle(0, 0, Fraction(10, 3), 0.1))
    '0 0, 10/3 0, 10/3 0.1, 0 0.1'
    """
    return ", ".join(" ".join(_vertex_words(vertex)) for vertex in path.vertices)


def _vertex_words(vertex: Vertex) -> list[str]:
    numbers = [vertex.x, vertex.y, *([vertex.bulge] if vertex.bulge else [])]
    return [repr(n) if isinstance(n, float) else str(n) for n in numbers]


def path_from(text: str) -> Path:
    """Return the closed path that ``path_text`` wrote; raises ValueError for any other text.

    >>> path_text(path_from("0 0, 10/3 0 -1, 10/3 0.1"))
    '0 0, 10/3 0 -1, 10/3 0.1'
    """
    vertices = tuple(_vertex(words.split()) for words in text.split(","))
    if len(vertices) < 2:
        raise ValueError("a path has two corners at least")
    return Path(vertices)


def _vertex(words: Sequence[str]) -> Vertex:
    if len(words) not in (2, 3) or any(len(word) > 60 for word in words):
        raise ValueError("expected two or three numbers")
    return Vertex(*(_number(word) for word in words))


def _number(word: str) -> Number:
    """Return the number that *word* says: a fraction where it was one, else a float."""
    is_float = any(sign in word for sign in ".eE")
    try:
        value: Number = float(word) if is_float else Fraction(word)
    except ZeroDivisionError:
        raise ValueError(f"{word} divides by zero") from None
    if not -FARTHEST < value < FARTHEST:
        raise ValueError(f"{word} is no place on a sheet")
    return value
