"""Pictures and models of books and parts as files: what there is to show, by file name."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from ..book.book import Book, BookPart
from ..checks.checking import Report
from ..errors import UsageError
from ..folding.folded_book import FoldedBook
from ..folding.folded_part import FoldedPart
from ..paths import Number
from .book_picture import View, book_picture, view_words
from .findings_picture import findings_picture
from .part_picture import folding_picture, part_picture
from .part_stage import step_words

PIXELS_PER_MM = 8  #: of a PNG: about 200 to the inch
_WIDTH = re.compile(r'<svg[^>]* width="([0-9.]+)mm"')


class Also(Enum):
    """What can be written beside the pictures."""

    PNG = "png"  #: each picture
    FOLD = "fold"  #: the part that is pictured, or each kind of part of a book that folds
    GLB = "glb"  #: the closed book as glTF 2.0


@dataclass(frozen=True)
class Shown:
    """A file and what it shows, in words."""

    name: str
    words: str
    content: bytes


def book_pictures(
    name: str, folded: FoldedBook, views: Sequence[tuple[View, int]]
) -> tuple[Shown, ...]:
    """Return the pictures of a book called *name*; raises UsageError for an opening that it has not."""
    return tuple(
        Shown(
            f"{name}.{_view_word(view, opening)}.svg",
            view_words(folded.book, view, opening),
            book_picture(folded, view, opening).encode(),
        )
        for view, opening in views
    )


def report_picture(name: str, folded: FoldedBook, report: Report) -> Shown:
    """Return the picture of what the checks found in a book called *name*."""
    content = findings_picture(folded, report).encode()
    return Shown(f"{name}.checks.svg", "what the checks found", content)


def with_more(
    name: str, folded: FoldedBook, pictures: Sequence[Shown], also: Iterable[Also]
) -> tuple[Shown, ...]:
    """Return *pictures* of a book, and what is also wanted of them and of it."""
    kinds = dict.fromkeys(also)
    return (*pictures, *(made for kind in kinds for made in _more(name, folded, kind, pictures)))


def usual_views(book: Book) -> tuple[tuple[View, int], ...]:
    """Return the views that show a book at a glance: closed, pulled apart, open in the middle."""
    middle = (len(book.request.pages) + 1) // 2
    return ((View.CLOSED, 0), (View.EXPLODED, 0), (View.OPEN, middle))


def _view_word(view: View, opening: int) -> str:
    return f"open-{opening}" if view is View.OPEN else view.value


def _more(name: str, folded: FoldedBook, kind: Also, pictures: Sequence[Shown]) -> Iterator[Shown]:
    if kind is Also.PNG:
        yield from map(_png, pictures)
    elif kind is Also.GLB:
        from ..models.gltf_file import write_gltf

        yield Shown(f"{name}.glb", "the closed book as glTF, in metres", write_gltf(folded))
    else:
        kinds = {entry.letter: entry for entry in reversed(folded.book.parts) if entry.part.folds}
        for letter, entry in reversed(kinds.items()):
            yield _fold(f"{name}.{letter}", entry, folded.parts[entry.key])


def part_files(
    name: str,
    entry: BookPart,
    folded: FoldedPart,
    stage: Number | None,
    also: Iterable[Also] = (),
) -> tuple[Shown, ...]:
    """Return the picture of one part, called *name*: how it is folded, or it at one *stage*.

    Raises UsageError for glTF, which is of whole books.
    """
    if stage is None:
        words, svg = "how it is folded", folding_picture(folded, entry.title)
        file = f"{name}.svg"
    else:
        words, svg = step_words(folded, stage), part_picture(folded, stage, entry.title)
        file = f"{name}.stage-{float(stage):g}.svg"
    picture = Shown(file, f"{entry.title}, {words}", svg.encode())
    more = [_of_part(name, entry, folded, kind, picture) for kind in dict.fromkeys(also)]
    return (picture, *more)


def _of_part(name: str, entry: BookPart, folded: FoldedPart, kind: Also, picture: Shown) -> Shown:
    if kind is Also.PNG:
        return _png(picture)
    if kind is Also.FOLD:
        return _fold(name, entry, folded)
    raise UsageError("--also glb is for a whole book; of a part there are png and fold")


def _fold(name: str, entry: BookPart, folded: FoldedPart) -> Shown:
    from ..models.fold_file import write_fold
    from ..models.fold_model import fold_model

    content = write_fold(fold_model(folded, entry.title))
    return Shown(f"{name}.fold", f"{entry.title}, its creases and steps as FOLD", content)


def _png(picture: Shown) -> Shown:
    """Return the same picture as PNG; raises MissingLibrary where cairo is missing."""
    from ..formats.png import MAX_WIDTH, write_png

    svg = picture.content.decode()
    found = _WIDTH.search(svg)
    assert found is not None
    width = min(round(float(found[1]) * PIXELS_PER_MM), MAX_WIDTH)
    name = picture.name.removesuffix(".svg") + ".png"
    return Shown(name, picture.words, write_png(svg, width))
