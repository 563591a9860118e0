"""A picture as SVG: fills, lines, words; a page in millimetres that is not for cutting."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ..formats.svg.metadata import printable
from ..models.patches import EdgeKind
from .covering import minus
from .painting import Fill, Line, Painting
from .tints import ACCENT, INK

OUTLINE, FOLD, THIN, SEAM = 0.5, 0.22, 0.15, 0.12  #: widths of lines on the page, mm
NO_CUT_FILE = "A picture to look at, not to cut from."
FONT = "sans-serif"
TEXT, SMALL = 3.4, 2.8  #: font sizes, mm
LETTER = 0.52  #: mean width of a letter as a share of the font size, from memory


@dataclass(frozen=True)
class Pens:
    """Widths of lines on the page, mm."""

    outline: float = OUTLINE
    fold: float = FOLD


PART_PENS = Pens()
BOOK_PENS = Pens(0.3, 0.16)  #: finer, for many parts near each other


def number(value: float) -> str:
    """Return *value* in hundredths, as short as it can be written.

    >>> number(-0.001), number(12.5), number(3)
    ('0', '12.5', '3')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def text_width(text: str, size: float) -> float:
    """Return about how wide *text* is, mm."""
    return len(text) * size * LETTER


class Page:
    """A page to put pictures on; y runs up, as everywhere else, from the lower left corner."""

    def __init__(self, width: float, height: float, title: str, description: str) -> None:
        import svgwrite  # type: ignore[import-untyped]

        self.width, self.height = width, height
        self.groups: dict[str, int] = {}
        self.root: Any = svgwrite.Drawing(
            size=(f"{number(width)}mm", f"{number(height)}mm"),
            viewBox=f"0 0 {number(width)} {number(height)}",
            debug=False,
        )
        self.root["role"] = "img"
        self.root["data-purpose"] = "picture"
        self.root.set_desc(printable(title), f"{printable(description)} {NO_CUT_FILE}".strip())
        self.root.add(self.root.rect((0, 0), (number(width), number(height)), fill="#ffffff"))

    def at(self, x: float, y: float) -> str:
        """Return a place as SVG writes it."""
        return f"{number(x)} {number(self.height - y)}"

    def group(self, name: str) -> Any:
        """Return a new group on top of all others, with an id that begins with *name*."""
        self.groups[name] = self.groups.get(name, 0) + 1
        count = self.groups[name]
        group = self.root.g(id=name if count == 1 else f"{name}-{count}")
        self.root.add(group)
        return group

    def words(
        self, group: Any, text: str, x: float, y: float, size: float = TEXT, anchor: str = "start",
        colour: str = INK, weight: str = "normal",
    ) -> None:  # fmt: skip
        """Write *text* from (or around, or up to) a place on its base line."""
        element = self.root.text(
            printable(text), font_family=FONT, font_size=number(size), fill=colour
        )
        element.update({"x": number(x), "y": number(self.height - y)})
        if anchor != "start":
            element["text-anchor"] = anchor
        if weight != "normal":
            element["font-weight"] = weight
        group.add(element)

    def line(
        self, group: Any, lines: Iterable[Line], width: float, dashes: str = "", colour: str = INK
    ) -> None:
        """Draw *lines* as one path."""
        data = "".join(self.row(points) for points in lines)
        if data:
            path = self.root.path(
                d=data, fill="none", stroke=colour, stroke_width=number(width),
                stroke_linejoin="round", stroke_linecap="butt" if dashes else "round",
            )  # fmt: skip
            if dashes:
                path["stroke-dasharray"] = dashes
            group.add(path)

    def row(self, points: Sequence[tuple[float, float]]) -> str:
        """Return the path data of an open or closed row of points."""
        is_closed = len(points) > 2 and points[0] == points[-1]
        kept = [self.at(*point) for point in (points[:-1] if is_closed else points)]
        return f"M{kept[0]}L" + " ".join(kept[1:]) + ("Z" if is_closed else "")

    def fill(self, group: Any, shape: Any, colour: str) -> None:
        """Fill *shape* (shapely) with a colour, a little over its border so that no seam shows."""
        import shapely

        rings = [
            ring
            for part in shapely.get_parts(shape)
            if part.geom_type == "Polygon"
            for ring in (part.exterior, *part.interiors)
        ]
        data = "".join(self.row([(x, y) for x, y in ring.coords]) for ring in rings)
        if data:
            path = self.root.path(d=data, fill=colour, fill_rule="evenodd", stroke=colour)
            path["stroke-width"] = number(SEAM)
            group.add(path)

    def disc(self, group: Any, at: tuple[float, float], radius: float, colour: str) -> None:
        """Draw a disc with a border of the colour of marks."""
        x, y = number(at[0]), number(self.height - at[1])
        circle = self.root.circle((x, y), number(radius), fill=colour, stroke=ACCENT)
        circle["stroke-width"] = number(OUTLINE)
        group.add(circle)

    def square(self, group: Any, at: tuple[float, float], half: float, colour: str) -> None:
        """Draw a white square with a border of *colour*."""
        (x, y), side = at, number(2 * half)
        corner = number(x - half), number(self.height - y - half)
        square = self.root.rect(corner, (side, side), fill="#ffffff", stroke=colour)
        square["stroke-width"] = number(OUTLINE)
        group.add(square)

    def swatch(self, group: Any, x: float, y: float, colour: str) -> None:
        """Draw a small sample of a colour."""
        row = self.row([(x, y), (x + 4, y), (x + 4, y + 3), (x, y + 3), (x, y)])
        group.add(self.root.path(d=row, fill=colour, stroke=INK, stroke_width=number(FOLD)))

    def text(self) -> str:
        """Return the whole SVG."""
        from xml.etree import ElementTree

        tree = self.root.get_xml()
        ElementTree.indent(tree, " ")
        return f'<?xml version="1.0" encoding="utf-8"?>\n{ElementTree.tostring(tree, "unicode")}\n'


class Placement:
    """Where a painting goes on the page: scaled, its lower left at *x*, *y*."""

    def __init__(self, painted: Painting, scale: float, x: float, y: float) -> None:
        self.scale = scale
        self.dx = x - painted.bounds[0] * scale
        self.dy = y - painted.bounds[1] * scale

    def line(self, points: Iterable[tuple[float, float]]) -> Line:
        """Return *points* on the page."""
        return tuple((px * self.scale + self.dx, py * self.scale + self.dy) for px, py in points)

    def shape(self, shape: Any) -> Any:
        """Return a shapely geometry on the page."""
        from shapely.affinity import affine_transform

        return affine_transform(shape, [self.scale, 0, 0, self.scale, self.dx, self.dy])


def paint(page: Page, painted: Painting, placement: Placement, pens: Pens = PART_PENS) -> None:
    """Put *painted* onto *page*: fills, then dashes of what is covered, then lines."""
    fills = page.group("papers")
    for fill in painted.fills:
        page.fill(fills, placement.shape(fill.shape), fill.colour)
    if painted.hidden:
        under = page.group("under")
        page.line(under, map(placement.line, painted.hidden), THIN, "1 0.8")
    lines = page.group("lines")
    for kind, width, dashes in (
        (EdgeKind.FOLD, pens.fold, ""),
        (EdgeKind.PERFORATION, pens.fold, "0.6 0.6"),
        (EdgeKind.OUTLINE, pens.outline, ""),
    ):
        page.line(lines, map(placement.line, painted.lines[kind]), width, dashes)


def name_panels(
    page: Page,
    fills: Sequence[Fill],
    placement: Placement,
    names: Mapping[str, str],
    free_of: Sequence[Line] = (),
    rather_free_of: Sequence[Line] = (),
) -> None:
    """Write the name of each panel on what can be seen of it, where it fits, on no line of *free_of*."""
    group = page.group("names")
    taken, avoided = _round(free_of), _round([*free_of, *rather_free_of])
    for fill in fills:
        words = names.get(fill.facet.panel, "")
        if words:
            region = placement.shape(fill.region)
            region = region if region.is_valid else region.buffer(0)
            places = (_place_for(words, minus(region, lines)) for lines in (avoided, taken))
            place = next(filter(None, places), None)
            if place is not None:
                page.words(group, words, place[0], place[1] - SMALL * 0.35, SMALL, "middle")


def _round(lines: Iterable[Line]) -> Any:
    """Return the room that lines take."""
    import shapely

    return shapely.MultiLineString([line for line in lines if len(line) > 1]).buffer(0.8)


def _place_for(words: str, region: Any) -> tuple[float, float] | None:
    """Return the middle of a place in *region* where *words* fit, or None."""
    import shapely

    if region.is_empty:
        return None
    half, rise = text_width(words, SMALL) / 2 + 0.6, SMALL * 0.62
    middle, inner = region.centroid, region.representative_point()
    places = [(p.x, p.y + step * SMALL) for p in (middle, inner) for step in (0, -1.6, 1.6, -3.2)]
    for x, y in places:
        if region.contains(shapely.box(x - half, y - rise, x + half, y + rise)):
            return x, y
    return None


def arrow(page: Page, points: Line) -> None:
    """Draw the way along *points* with a head at its end."""
    if len(points) < 2:
        return
    group = page.group("next")
    (x0, y0), (x1, y1) = points[-2], points[-1]
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 or 1.0
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    neck = (x1 - dx * 3, y1 - dy * 3)
    kept = tuple(p for p in points[:-1] if (p[0] - x1) ** 2 + (p[1] - y1) ** 2 > 9)
    page.line(group, [(*kept, neck)], 1.7, colour="#ffffff")
    page.line(group, [(*kept, neck)], 0.8, colour=ACCENT)
    left, right = (neck[0] - dy * 1.5, neck[1] + dx * 1.5), (neck[0] + dy * 1.5, neck[1] - dx * 1.5)
    tip = (x1, y1)
    data = page.row([tip, left, right, tip])
    group.add(page.root.path(d=data, fill=ACCENT, stroke="#ffffff", stroke_width="0.3"))
