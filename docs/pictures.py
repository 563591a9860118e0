"""Pictures of all templates for these pages, and the page that lists them; run by ``make pictures``.

Each picture shows the parts flat, face up, with every layer and the name of every
panel. The same templates make the same bytes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path as FilePath
from types import MappingProxyType
from typing import NamedTuple

from dielines.book.composing import compose
from dielines.book.from_file import book_source
from dielines.book.outputs import parts_in_rows
from dielines.book.pieces import pieces_of
from dielines.book.reading import book_document
from dielines.drawing import Caption, Drawing, Group, Layer
from dielines.files import write_all
from dielines.folding.folded_book import FoldedBook
from dielines.formats.svg.options import GUIDE_FILE, USUAL_STYLES, Options
from dielines.formats.svg.writing import write_svg
from dielines.language.building import Graft, build, build_fragment
from dielines.language.library import built_in_library
from dielines.language.parameters import Parameter, ParameterType, Resolved, resolve
from dielines.language.template import Template, template_from_text
from dielines.language.values import length
from dielines.part import Panel, Part
from dielines.part_drawing import key_from, moved_group, part_group, rows_drawing
from dielines.paths import Path, Point, encloses, flattened
from dielines.pictures.book_picture import View, book_picture
from dielines.pictures.part_picture import folding_picture
from dielines.pictures.sheets_picture import sheets_picture
from dielines.sheets.laying_out import lay_out
from dielines.sheets.way_of_cutting import By

FOLDER = FilePath(__file__).parent
OPENING = 2  #: the page behind which the sample album lies open
SAMPLE = FOLDER.parent / "samples" / "lakeside" / "lakeside.toml"
#: mm; typical thicknesses (``dielines/data/materials.toml``)
CALIPERS = {
    "cardstock": Fraction(24, 100),
    "board": Fraction(2),
    "reinforcing": Fraction(15, 100),
    "covering": Fraction(15, 100),
    "tape": Fraction(13, 100),
}
EDGE = Fraction(10795, 100)  #: mm, of the page that a fragment is shown for: 4 1/4 in
#: a page to show what a binding does along a fold
FOLDED_SHEET = """
template = "folded-sheet"
kind = "page"
units = "in"
[parts.page]
bound = "left | right"
columns = [4, 4]
rows = ["4 1/4 : left right"]
folds = { "left | right" = "valley" }
"""
USUAL_WIDTH = 220.0  #: mm; letters and lines of a picture as wide as this have their usual size
LETTER, SMALLEST = 4.0, 1.3  #: mm, height of a capital letter
LETTER_WIDTH = 0.8  #: of one letter with its space, as a share of its height; from memory
HEADINGS = {
    "page": "Pages",
    "insert": "What goes into them",
    "case": "The case",
    "edge": "What a binding adds at the edge of a page",
    "fold": "What a binding does along a fold",
}
INTRODUCTION = """\
# Templates

<!-- made by `make pictures`: change the templates, or docs/pictures.py, not this page -->

All that the tool can make, as it lies flat with its face up, in its usual sizes. Pages are shown with a cover tab at their bound edge; another binding adds something else there. A page's face is its inner side, the one that looks to the middle of the book.

| line | means |
|---|---|
| black | cut |
| pink, short dashes | perforate |
| blue, dashed | score; a valley: the fold closes towards you |
| orange, dash and dot | score; a mountain: the fold closes away from you |
| green, long dashes | tape, on the face |
| green, dashes and two dots | tape, on the reverse |
| grey, dotted | a mark; nothing is cut |

Each template is a file of a few lines in [dielines/data/templates](../dielines/data/templates). Every size below can be given under its page in the [book file](book-file.md). A size written as a formula follows the others.
"""


class Spot(NamedTuple):
    """A place for a name: its middle, and how far the name may reach across and up, mm."""

    middle: Point
    across: float
    up: float


def files() -> dict[str, bytes]:
    """Return all files, by their names under docs/."""
    templates = list(built_in_library().templates())
    made = {f"pictures/{template.name}.svg": picture(template) for template in templates}
    made["pictures/lakeside.svg"] = album_picture()
    made |= bound_pictures()
    return {**made, "templates.md": page_text(templates).encode()}


def album_picture() -> bytes:
    """Return the pages of the sample album as SVG."""
    source = book_source(book_document(SAMPLE))
    book = compose(source.request, source.workshop, source.library)
    pages = [piece for piece in pieces_of(book) if piece.key.startswith("page-")]
    folded = [piece for piece in pages if "reinforcement" not in piece.key]
    drawing = parts_in_rows(folded, book.title)
    return write_svg(drawing, _scaled(GUIDE_FILE, _scale(drawing))).encode()


def bound_pictures() -> dict[str, bytes]:
    """Return the sample album closed, open, pulled apart and on its sheets, and how its pocket is folded."""
    source = book_source(book_document(SAMPLE))
    book = compose(source.request, source.workshop, source.library)
    folded = FoldedBook(book, source.workshop)
    drawn = {
        "closed": book_picture(folded, View.CLOSED),
        "open": book_picture(folded, View.OPEN, OPENING),
        "apart": book_picture(folded, View.EXPLODED),
        "sheets": sheets_picture(
            book.title, lay_out(book, source.workshop, By.MACHINE), book.units
        ),
        "pocket": folding_picture(folded.parts["page-1"], "Page 1, a side pocket"),
    }
    return {f"pictures/lakeside-{name}.svg": text.encode() for name, text in drawn.items()}


def picture(template: Template) -> bytes:
    """Return the picture of *template* as SVG."""
    drawing = drawing_of(template)
    return write_svg(drawing, _scaled(GUIDE_FILE, _scale(drawing))).encode()


def drawing_of(template: Template) -> Drawing:
    """Return the parts of *template* beside one another, with the names of their panels."""
    parts = parts_of(template)
    scale = _scale(_in_rows(template, [_group(part, len(parts), 1.0) for part in parts], 1.0))
    return _in_rows(template, [_group(part, len(parts), scale) for part in parts], scale)


def _in_rows(template: Template, groups: Sequence[Group], scale: float) -> Drawing:
    gap = Fraction(round(12 * scale))
    metadata = (("template", template.name), ("version", str(template.version)))
    rows = rows_drawing(groups, template.words, gap, metadata)
    margin = Fraction(round(8 * scale))
    moved = tuple(moved_group(group, Point(margin, margin)) for group in rows.groups)
    around = float(2 * margin)
    return replace(rows, width=rows.width + around, height=rows.height + around, groups=moved)


def _scale(drawing: Drawing) -> float:
    return max(drawing.width, drawing.height, USUAL_WIDTH) / USUAL_WIDTH


def parts_of(template: Template) -> tuple[Part, ...]:
    """Return what is shown of *template*: a page with a cover tab, a fragment alone."""
    if template.kind == "page":
        graft = Graft(built_in_library().find("cover-tab"))
        parts = build(template, {}, CALIPERS, graft).parts
        return tuple(part for part in parts if part.stock != "reinforcing")
    if template.kind == "edge":
        return build_fragment(Graft(template), EDGE, CALIPERS)
    if template.kind == "fold":
        sheet = template_from_text(FOLDED_SHEET, "folded-sheet.toml")
        return build(sheet, {}, CALIPERS, Graft(template)).parts
    return build(template, {}, CALIPERS).parts


# ------------------------------------------------------------------ names of panels


def _group(part: Part, count: int, scale: float) -> Group:
    """Return the part's paths with the names of its panels; of several parts, its own as well."""
    title = part.name.replace("_", " ")
    if part.quantity > 1:
        title += f", {part.quantity} of it"
    group = part_group(part, key_from(part.name), title)
    captions = [caption(panel, scale) for panel in part.panels if not part.covers]
    if count > 1:
        at = Point(Fraction(0), Fraction(part.height) + Fraction(2))
        captions.append(Caption(Layer.LABEL, title, at, LETTER * 0.8 * scale))
    return replace(group, captions=(*group.captions, *captions))


def caption(panel: Panel, scale: float) -> Caption:
    """Return the panel's name in the middle of it or, where cuts are in the way, at its widest place."""
    box = panel.bounds()
    middle = Point((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    found = _caption_at(panel, Spot(middle, float(box.width), float(box.height)), scale)
    if all(_is_inside(panel, place) for place in places_under(found)):
        return found
    place, reach = max(_inner_places(panel), key=lambda inner: inner[1])
    return _caption_at(panel, Spot(place, 12 * reach, 2 * reach), scale)


def _caption_at(panel: Panel, spot: Spot, scale: float) -> Caption:
    """Return the name at *spot*, upright where that gives larger letters."""
    text = panel.name.removeprefix("binding.").replace("_", " ")
    level = _letter(text, spot.across, spot.up, scale)
    upright = _letter(text, spot.up, spot.across, scale)
    x, y = (float(value) for value in spot.middle)
    if level >= upright:
        half = len(text) * LETTER_WIDTH * level / 2
        return Caption(Layer.LABEL, text, Point(x - half, y - level / 2), level)
    half = len(text) * LETTER_WIDTH * upright / 2
    return Caption(Layer.LABEL, text, Point(x + upright / 2, y - half), upright, 90.0)


def places_under(caption: Caption) -> Iterator[Point]:
    """Yield places all over a level or upright caption, its corners included."""
    x, y = (float(value) for value in caption.at)
    length = len(caption.text) * LETTER_WIDTH * caption.height
    for step in range(9):
        for up in (0, caption.height / 2, caption.height):
            along = length * step / 8
            yield Point(x - up, y + along) if caption.angle_deg else Point(x + along, y + up)


def _letter(text: str, along: float, across: float, scale: float) -> float:
    fitting = min(along * 0.9 / (LETTER_WIDTH * len(text)), across * 0.6, LETTER * scale)
    return max(fitting, SMALLEST)


def _is_inside(panel: Panel, place: Point) -> bool:
    return encloses(panel.outline, place) and not any(encloses(h, place) for h in panel.holes)


def _inner_places(panel: Panel) -> Iterator[tuple[Point, float]]:
    """Yield places in the panel and how far each lies from its edges, the middle column first."""
    box = panel.bounds()
    for column in (6, 3, 9, 1, 11):
        for row in range(1, 80):
            x, y = box.left + box.width * column / 12, box.bottom + box.height * row / 80
            place = Point(x, y)
            if _is_inside(panel, place):
                edges = (_distance(path, place) for path in (panel.outline, *panel.holes))
                yield place, round(min(edges), 3)


def _distance(path: Path, place: Point) -> float:
    corners = flattened(path, 0.5)
    pairs = zip(corners, corners[1:] + corners[:1], strict=True)
    return min(_to_line(float(place.x), float(place.y), *a, *b) for a, b in pairs)


def _to_line(x: float, y: float, ax: float, ay: float, bx: float, by: float) -> float:
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    share = min(max(((x - ax) * dx + (y - ay) * dy) / square, 0), 1) if square else 0
    return float(((ax + share * dx - x) ** 2 + (ay + share * dy - y) ** 2) ** 0.5)


def _scaled(options: Options, scale: float) -> Options:
    """Return *options* with lines and dashes *scale* times as large."""
    styles = {
        layer: replace(
            style,
            width=style.width * 1.5 * scale,
            dashes=tuple(dash * scale * 0.7 for dash in style.dashes),
        )
        for layer, style in USUAL_STYLES.items()
    }
    return replace(options, styles=MappingProxyType(styles))


# ------------------------------------------------------------------ the page


def page_text(templates: Sequence[Template]) -> str:
    """Return the page that lists all templates."""
    pieces = [INTRODUCTION]
    for kind, heading in HEADINGS.items():
        chosen = [template for template in templates if template.kind == kind]
        if chosen:
            pieces += [f"## {heading}\n", *(_entry(template) for template in chosen)]
    return "\n".join(pieces)


def _entry(template: Template) -> str:
    """Return what the page says of one template."""
    found = _resolved(template)
    lines = [
        f"### {template.words}\n",
        f"{template.help}\n",
        f"![{template.words}, flat](pictures/{template.name}.svg)\n",
        "| size | usual | from | to | what it is |",
        "|---|---|---|---|---|",
        *(_row(parameter, found, template) for parameter in template.parameters),
    ]
    return "\n".join(lines if template.parameters else lines[:3]) + "\n"


def _resolved(template: Template) -> Resolved:
    outer = {f"{role}.caliper": length(mm) for role, mm in CALIPERS.items()}
    if template.kind in ("edge", "fold"):
        outer["length"] = length(EDGE)
    root = template.fresh_document().root
    return resolve(template.parameters, template.derived, {}, outer, template.units, root)


def _row(parameter: Parameter, found: Resolved, template: Template) -> str:
    usual = found.values[parameter.name].shown(template.units)
    if isinstance(parameter.default, str) and _has_names(parameter.default, parameter):
        usual += f" ({_said(parameter.default)})"
    is_word = parameter.type is ParameterType.CHOICE
    low = ", ".join(parameter.choices) if is_word else _limit(parameter.min, template)
    cells = (parameter.name, usual, low, _limit(parameter.max, template), parameter.help)
    return "| " + " | ".join(cells) + " |"


def _limit(raw: object, template: Template) -> str:
    if raw is None:
        return ""
    return _said(raw) if isinstance(raw, str) and any(c.isalpha() for c in raw) else f"{raw}"


def _has_names(raw: str, parameter: Parameter) -> bool:
    return parameter.type is not ParameterType.CHOICE and any(c.isalpha() for c in raw)


def _said(raw: object) -> str:
    """Return a formula as people read it."""
    return str(raw).replace(" * ", " × ")


if __name__ == "__main__":
    for written in write_all(FOLDER, files()):
        print(written.relative_to(FOLDER.parent))
