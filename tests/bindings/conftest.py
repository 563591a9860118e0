"""All parts of a book put where they belong in space, by hand.

The space of the closed book: x runs from the spine to the fore-edge, y from tail
to head, z from the back cover towards the front cover, so that somebody who looks
at the front cover has x at the right and z towards the eyes. The binding edges of
all pages stand on x = 0. Nothing here asks ``bindings.joining`` or the motions of
the code: parts are folded with ``dielines.poses`` and set down by the rules of the
trade (``put_pages``, ``put_strip`` ... say which).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product

import pytest
from shapely import Polygon

from dielines.bindings.bound import Join
from dielines.book.book import Book
from dielines.part import Part, Side
from dielines.paths import Path, bounds_of, flattened
from dielines.poses import poses
from dielines.rigid import Pose

INCH = Fraction(254, 10)
NEAR = 1e-6  #: mm
CASE = ("joint-wrap", "spine-lining", "edge-")  #: parts that are set down on the open case


# ------------------------------------------------------------------ space


def pose(x: Sequence[int], y: Sequence[int], origin: Sequence[object]) -> Pose:
    """The pose whose flat x and y run along *x* and *y* in space, (0, 0) at *origin*."""
    z = (
        x[1] * y[2] - x[2] * y[1],
        x[2] * y[0] - x[0] * y[2],
        x[0] * y[1] - x[1] * y[0],
    )
    rows = tuple((x[i], y[i], z[i]) for i in range(3))
    return Pose(rows, tuple(origin))


UP = (0, 1, 0)
TO_FORE_EDGE, TO_SPINE = (1, 0, 0), (-1, 0, 0)
TO_FRONT, TO_BACK = (0, 0, 1), (0, 0, -1)


@dataclass
class Space:
    """Where each panel of each part is: (part, panel) -> pose."""

    book: Book
    at: dict[tuple[str, str], Pose] = field(default_factory=dict)

    def put(self, key: str, root: str, where: Pose) -> None:
        """Fold the part *key* around its panel *root*, which is put *where*."""
        part = self.book.part(key).part
        panels = {panel.name: panel.outline for panel in part.panels}
        folded = poses(panels, part.lines, part.steps, root=root, rigid=part.rigid)
        for name, relative in folded.items():
            self.at[key, name] = where.compose(relative)

    def normal(self, key: str, panel: str, side: Side) -> tuple[float, ...]:
        """The direction in which a side of a panel looks."""
        sign = 1 if side is Side.FACE else -1
        return tuple(round(float(sign * n), 9) for n in self.at[key, panel].normal)

    def onto(self, join: Join) -> tuple[Polygon, float, Polygon]:
        """The zone in the flat coordinates of its target, its largest height there, the target."""
        part, target = self.book.part(join.part).part, self.book.part(join.onto_part).part
        zone = next(zone for zone in part.zones if zone.name == join.zone)
        assert (zone.panel, zone.side) == (join.panel, join.side)
        here = self.at[join.part, join.panel]
        there = self.at[join.onto_part, join.onto_panel].inverse()
        places = [there.compose(here).at(point) for point in flattened(zone.path, 0.001)]
        panel = target.panel(join.onto_panel)
        holes = [flattened(hole, 0.001) for hole in panel.holes]
        shape = Polygon(flattened(panel.outline, 0.001), holes)
        height = max(abs(float(z)) for _, _, z in places)
        return Polygon([(float(x), float(y)) for x, y, _ in places]), height, shape


@dataclass
class Closed(Space):
    """The closed book, every channel standing, nothing of any thickness."""

    def length(self, name: str) -> Fraction:
        return self.book.reasons.length(name).mm

    @property
    def count(self) -> int:
        return len(self.book.request.pages)

    def widths(self) -> list[Fraction]:
        """How wide each channel is, from the front cover to the back cover."""
        between = [f"channel_{number}" for number in range(1, self.count)]
        if "gap" in self.book.reasons.by_name:
            between = ["gap"] * (self.count - 1)
        return [self.length(n) for n in ("end_channel_front", *between, "end_channel_back")]

    def depth(self, slot: int) -> Fraction:
        """How far behind the front cover channel *slot* (0 before page 1) begins."""
        return sum(self.widths()[:slot], Fraction(0))

    def put_pages(self) -> None:
        """Page k lies behind k channels, its binding edge on x = 0, its tail on y = 0.

        Which way its face looks follows: bound at its right as one sees its face, a
        page that runs to the fore-edge has its face to the back.
        """
        for number in range(1, self.count + 1):
            key = f"page-{number}"
            bound = self.book.part(key).part.bound
            x, y = bound.start.x, min(bound.start.y, bound.end.y)
            depth = -self.depth(number)
            if bound.side == "right":
                where = pose(TO_SPINE, UP, (x, -y, depth))
            else:
                where = pose(TO_FORE_EDGE, UP, (-x, -y, depth))
            self.put(key, bound.panel, where)

    def put_boards(self) -> None:
        """Boards lie on the block, flush with what reach says; head and tail squares are equal.

        The front board seen from outside has its spine edge at the left. A cover tab
        goes along the spare of the spine, through the joint and round two board
        thicknesses before it lies on the board (TRADE.md, reach).
        """
        spine, total = self.length("spine"), sum(self.widths())
        spare = max((spine - total) / 2, Fraction(0))
        start = spare + self.length("joint") + 2 * self.length("board_thickness")
        width, square = self.length("board_width"), self.length("square")
        self.put("front-board", "board", pose(TO_FORE_EDGE, UP, (start, -square, 0)))
        self.put("back-board", "board", pose(TO_SPINE, UP, (start + width, -square, -total)))
        # seen from outside, with the head up, the front of the book is at the right
        self.put("spine-board", "spine", pose(TO_FRONT, UP, (0, -square, spare - spine)))

    def put_strip(self) -> None:
        """The strip of the middle opening: its channel on the spine, its tabs to the fore-edge.

        Its tape lies on its reverse, so that its face looks to the fore-edge, and
        who looks at it from there has the front of the book at the left. The strip
        of a book of one page has its tape on its face: seen from the spine the tab
        for the back board is at the left.
        """
        strip = self.book.part("hinge-strip").part
        if "channel" not in {panel.name for panel in strip.panels}:
            self._put_flat_strip(strip)
            return
        box = strip.panel("channel").bounds()
        if self.count == 1:
            where = pose(TO_FRONT, UP, (0, -box.bottom, -self.depth(2) - box.left))
        else:
            middle = self.depth(self.middle)
            where = pose(TO_BACK, UP, (0, -box.bottom, box.left - middle))
        self.put("hinge-strip", "channel", where)

    def _put_flat_strip(self, strip: Part) -> None:
        """Without a channel: its fold on x = 0, a tab with its tape against its page's inner side."""
        depth = -self.depth(self.middle)
        if self.count == 1:
            fold = strip.panel("hinge").bounds().left
            self.put("hinge-strip", "hinge", pose(TO_FORE_EDGE, UP, (-fold, 0, depth)))
        else:
            fold = strip.panel("front_tab").bounds().right
            self.put("hinge-strip", "front_tab", pose(TO_SPINE, UP, (fold, 0, depth)))

    @property
    def middle(self) -> int:
        """How many pages the front half has, from what the file says."""
        extra = self.count % 2 if self.book.request.extra_page.value == "front half" else 0
        return self.count // 2 + extra if self.count > 1 else 1

    def put_comb(self) -> None:
        """Each piece of the pleated strip with its first room where that belongs on the spine."""
        for key, first in self.comb_pieces():
            part = self.book.part(key).part
            names = [panel.name for panel in part.panels]
            if "room_first" in names:
                panel, slot = "room_first", 0
            elif "room1" in names:
                panel, slot = "room1", first
            else:
                panel, slot = "room_last", self.count
            box = part.panel(panel).bounds()
            origin = (0, -box.bottom, box.left - self.depth(slot))
            self.put(key, panel, pose(TO_BACK, UP, origin))

    def comb_pieces(self) -> Iterator[tuple[str, int]]:
        """Each piece with the number of the page whose fin is its first."""
        first = 1
        for entry in self.book.parts:
            if entry.key.startswith("comb-spine"):
                yield entry.key, first
                fins = sum(panel.name.startswith("up") for panel in entry.part.panels)
                first += fins - 1

    def put_small_parts(self) -> None:
        """Parts of a page that only its own template joins: each where its tape says."""
        for entry in self.book.parts:
            is_small = entry.key.startswith("page-") and entry.key.count("-") > 1
            if is_small and entry.role == "pages":
                root = entry.part.panels[0].name
                self.put(entry.key, root, pose(TO_FORE_EDGE, UP, (0, 0, 0)))


@dataclass
class Opened(Space):
    """The case lying open, its outside up: back board, joint, spine, joint, front board.

    x runs to the right, y to the head, and z to the eyes, which see the outside.
    """

    def length(self, name: str) -> Fraction:
        return self.book.reasons.length(name).mm

    def starts(self) -> dict[str, Fraction]:
        """Where each board begins, from the left."""
        joint, board, spine = (self.length(n) for n in ("joint", "board_width", "spine"))
        return {
            "back-board": Fraction(0),
            "spine-board": board + joint,
            "front-board": board + spine + 2 * joint,
        }

    def put_case(self) -> None:
        """Boards face up; the wrap under nothing but its glue, face down; the lining below all."""
        starts, turn_in = self.starts(), self.length("turn_in")
        for key, start in starts.items():
            panel = "spine" if key == "spine-board" else "board"
            self.put(key, panel, pose((1, 0, 0), UP, (start, 0, 0)))
        # the wrap's face is glued: it looks down. Its front hold is at the left of its face,
        # so at the right here, one hold in from the spine edge of the front board
        far = starts["front-board"] + self.length("hold")
        self.put("joint-wrap", "spine", pose((-1, 0, 0), UP, (far, -turn_in, 0)))
        # the lining lies inside, its reverse up against the spine board, centred on it
        lining = self.book.part("spine-lining").part
        middle = starts["spine-board"] + self.length("spine") / 2 + Fraction(lining.width) / 2
        rise = turn_in - self.length("lining_end")
        self.put("spine-lining", "lining", pose((-1, 0, 0), UP, (middle, rise, 0)))

    def put_strips(self) -> None:
        """Each edge strip face down, wherever it can lie by the rules of ``_ways``."""
        for entry in self.book.parts:
            if entry.key.startswith("edge-"):
                _, cover, edge = entry.key.split("-", 2)
                ways = list(self._ways(entry.part, cover, edge))
                assert ways, f"{entry.key} cannot lie on its board"
                landed = {self._outside(entry.part, way) for way in ways}
                assert len(landed) == 1, f"{entry.key} could lie in {len(landed)} ways"
                self.put(entry.key, "outside", ways[0])
                self._bend_round_the_board(entry.key, cover, edge)

    def _bend_round_the_board(self, key: str, cover: str, edge: str) -> None:
        """Bend what is not scored at both ridges: inside it lies nearer to the edge by a thickness."""
        thick = self.length("board_thickness")
        names = [panel.name for panel in self.book.part(key).part.panels]
        outward = {"head": (0, 1), "tail": (0, -1)}.get(edge, (1 if cover == "front" else -1, 0))
        for name in names:
            if name == "inside" and "edge" not in names:
                self._shift(key, name, outward[0] * thick, outward[1] * thick)
            if name.startswith("over"):
                low = self.at[key, name].at(self.book.part(key).part.panel(name).outline.points[0])
                is_low = low[1] < self.length("board_height") / 2
                self._shift(key, name, 0, -thick if is_low else thick)

    def _shift(self, key: str, panel: str, dx: Fraction, dy: Fraction) -> None:
        old = self.at[key, panel]
        x, y, z = old.translation
        self.at[key, panel] = Pose(old.rotation, (x + dx, y + dy, z))

    def _outside(self, part: Part, way: Pose) -> frozenset[tuple[float, ...]]:
        points = part.panel("outside").outline.points
        return frozenset(tuple(round(float(n), 6) + 0.0 for n in way.at(p)) for p in points)

    def _ways(self, part: Part, cover: str, edge: str) -> Iterator[Pose]:
        """Yield every pose, face down, in which the outside half lies on its board, its fold on the edge.

        The fold runs along the edge from the corner at the fore-edge to where the
        joint wrap ends, or along the whole fore-edge.
        """
        start, width = self.starts()[f"{cover}-board"], self.length("board_width")
        height, hold = self.length("board_height"), self.length("hold")
        spine_edge = start if cover == "front" else start + width
        fore_edge = start + width if cover == "front" else start
        bare = spine_edge + hold if cover == "front" else spine_edge - hold
        if edge == "fore-edge":
            wanted = {(fore_edge, Fraction(0)), (fore_edge, height)}
        else:
            level = height if edge == "head" else Fraction(0)
            wanted = {(fore_edge, level), (bare, level)}
        length = height if edge == "fore-edge" else width - hold
        slack = (Fraction(part.height) - length) / 2
        fold = self._fold_of(part, slack)
        for x, y in product(((1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)), repeat=2):
            turned = pose(x, y, (0, 0, 0))
            if turned.normal != (0, 0, -1):
                continue
            corners = [turned.at(point)[:2] for point in fold]
            target = sorted(wanted)
            for first in corners:
                dx, dy = target[0][0] - first[0], target[0][1] - first[1]
                moved = sorted((cx + dx, cy + dy) for cx, cy in corners)
                way = pose(x, y, (dx, dy, 0))
                if moved == target and self._lies_on(
                    part, way, start, width, -slack, height + slack
                ):
                    yield way

    def _fold_of(self, part: Part, slack: Fraction) -> list[tuple[Fraction, Fraction]]:
        """The ends of the edge of the outside half that lies along the board's edge.

        A strip that overlaps is longer than its edge, by *slack* at each end.
        """
        outside, inside = part.panel("outside").bounds(), part.panel("inside").bounds()
        x = outside.right if outside.left < inside.left else outside.left
        return [(x, slack), (x, Fraction(part.height) - slack)]

    def _lies_on(
        self, part: Part, way: Pose, left: Fraction, width: Fraction, low: Fraction, high: Fraction
    ) -> bool:
        """Whether the outside half lies inside the board."""
        places = [way.at(point) for point in part.panel("outside").outline.points]
        xs, ys = [p[0] for p in places], [p[1] for p in places]
        return min(xs) >= left and max(xs) <= left + width and min(ys) >= low and max(ys) <= high


@pytest.fixture(scope="session")
def closed() -> Callable[[Book], Closed]:
    """The closed book with all parts of its block and its boards in place."""

    def build(book: Book) -> Closed:
        space = Closed(book)
        space.put_pages()
        space.put_boards()
        space.put_small_parts()
        if any(entry.key == "hinge-strip" for entry in book.parts):
            space.put_strip()
        space.put_comb()
        return space

    return build


@pytest.fixture(scope="session")
def opened() -> Callable[[Book], Opened]:
    """The case lying open."""

    def build(book: Book) -> Opened:
        space = Opened(book)
        space.put_case()
        space.put_strips()
        return space

    return build


@pytest.fixture(scope="session")
def prove(closed, opened) -> Callable[[Book], None]:
    """Hold every join of a book against where its parts lie in space."""

    def check(book: Book) -> None:
        spaces = {False: closed(book), True: opened(book)}
        for join in book.joins:
            if is_between_small_parts(join):
                continue  # declared by the template; tests of their own
            check_join(spaces[join.part.startswith(CASE)], join)

    return check


def is_between_small_parts(join: Join) -> bool:
    """Whether a template, not the binding, says where a part of its own goes."""
    own = join.part.split("-")[:2] == join.onto_part.split("-")[:2]
    return own and join.part != join.onto_part and join.part.startswith("page-")


def check_join(space: Space, join: Join) -> None:
    """Tape and target lie in one plane, look at each other, and the tape lies on the target."""
    zone, height, target = space.onto(join)
    told = f"{join.part} {join.zone} onto {join.onto_part} {join.onto_panel}"
    apart = 0 if not is_scored_twice(space, join) else space.length("board_thickness")
    assert abs(height - apart) < NEAR, f"{told}: {height} mm apart"
    looks = space.normal(join.part, join.panel, join.side)
    towards = space.normal(join.onto_part, join.onto_panel, join.onto_side)
    assert looks == tuple(-n + 0.0 for n in towards), f"{told}: {looks} to {towards}"
    x, y = join.offset
    landed = Polygon(
        [(x, y), (x + join.width, y), (x + join.width, y + join.height), (x, y + join.height)]
    )
    shared = zone if spans_boards(join) is False else zone.intersection(target)
    assert shared.bounds == pytest.approx(landed.bounds, abs=NEAR), told
    assert target.buffer(NEAR).contains(shared), f"{told}: sticks out"


def is_scored_twice(space: Space, join: Join) -> bool:
    """Whether an edge strip goes round the ridges of its board, so that its inside lies below it."""
    names = [panel.name for panel in space.book.part(join.part).part.panels]
    return join.panel == "inside" and "edge" in names


def spans_boards(join: Join) -> bool:
    """Whether one zone of the case lies on several boards: a join tells of each its share."""
    is_turn_in = join.part == "joint-wrap" and join.panel in ("head", "tail")
    return is_turn_in or join.part == "spine-lining" or join.part.startswith("edge-")


def bounds(path: Path):
    return bounds_of([path])
