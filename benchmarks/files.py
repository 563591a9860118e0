"""What drawing files costs, beside what the libraries alone need for the same paths.

A page with an outline, a notch, folds, tape and a label, 60 times, is written as
SVG and DXF, read back and compared; then in growing numbers, to see that the
cost per part stays the same.
"""

import gc
import io
import subprocess
import sys
import time
from collections.abc import Callable
from fractions import Fraction

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.formats.choices import Choices
from dielines.formats.compare import compare
from dielines.formats.kinds import machine_formats
from dielines.paths import Path, Point, Vertex, line, rectangle, translated
from dielines_cli.main import RARE_COLLECTIONS

PARTS, MANY = 60, (125, 250, 500, 1000, 2000)
SEVENTH = Fraction(1, 7)


def page(number: int) -> Group:
    """Return one part of ordinary richness, away from the others."""
    notch = Path((Vertex(70, 0), Vertex(60, 0, Fraction(-1)), Vertex(40, 0), Vertex(0, 0),
                  Vertex(0, 100), Vertex(100 + SEVENTH, 100), Vertex(100 + SEVENTH, 0)))  # fmt: skip
    folds = [line((x, 0), (x, 100)) for x in (12, 18 + SEVENTH, 80, 84 + SEVENTH)]
    tapes = [rectangle(1, y, 10, y + 20) for y in (5, 35, 65)]
    items = [
        *(Item(Layer.SCORE_VALLEY, path, "fold") for path in folds),
        *(Item(Layer.TAPE_FACE, path, "tape") for path in tapes),
        Item(Layer.CUT, notch, "outline"),
    ]
    dx, dy = 110 * (number % 40), 110 * (number // 40)
    placed = tuple(Item(i.layer, translated(i.path, dx, dy), i.name) for i in items)
    label = Caption(Layer.LABEL, f"A{number}", Point(dx + 20, dy + 20), 3)
    return Group(f"page-{number}", f"Page {number}", placed, (label,))


def drawing(parts: int) -> Drawing:
    """Return that many parts on one sheet."""
    rows = -(-parts // 40)
    return Drawing(110.0 * 40, 110.0 * rows, tuple(page(number) for number in range(parts)))


def timed(work: Callable[[], object]) -> float:
    """Return how long *work* takes, the better of three times."""
    taken = []
    for _ in range(3):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def libraries_alone(shown: Drawing) -> None:
    """Write the paths of *shown* with nothing but svgwrite and ezdxf."""
    import ezdxf
    import svgwrite

    picture = svgwrite.Drawing(debug=False)
    sheet = ezdxf.new("R2000")
    for item in shown.items():
        points = [(float(v.x), float(v.y), float(v.bulge)) for v in item.path.vertices]
        words = " L ".join(f"{x:.5f} {y:.5f}" for x, y, _ in points)
        picture.add(picture.path(f"M {words}", stroke="black", fill="none"))
        sheet.modelspace().add_lwpolyline(
            points, format="xyb", close=item.path.closed, dxfattribs={"layer": item.layer.value}
        )
    picture.tostring()
    sheet.write(io.StringIO())


def libraries_reading(contents: dict[str, str]) -> None:
    """Load the files with ezdxf and the XML parser, and look at nothing in them."""
    import ezdxf
    from defusedxml import ElementTree

    ezdxf.read(io.StringIO(contents[".dxf"]))
    ElementTree.fromstring(contents[".svg"])


def ours(shown: Drawing) -> None:
    """Write *shown* in every format, read it back and compare."""
    for kind in machine_formats():
        assert compare(shown, kind.read(kind.write(shown, Choices()), "x").drawing).is_equal(0.001)


def each_format(shown: Drawing) -> None:
    """Print how long each step takes in each format."""
    for kind in machine_formats():
        content = kind.write(shown, Choices())
        read = kind.read(content, "x").drawing
        steps = {
            "write": lambda kind=kind: kind.write(shown, Choices()),
            "read": lambda kind=kind, content=content: kind.read(content, "x"),
            "compare": lambda read=read: compare(shown, read),
        }
        words = ", ".join(f"{name} {timed(work) * 1000:.0f} ms" for name, work in steps.items())
        print(f"  {kind.name}: {words}; {len(content) / 1000:.0f} kB")


def cold_megabytes() -> float:
    """Return the largest memory of a fresh process that does all for PARTS parts."""
    code = (
        f"import sys; sys.path.insert(0, {sys.path[0]!r}); import files, resource; "
        f"files.ours(files.drawing({PARTS})); "
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)"
    )
    run = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    return float(run.stdout)


if __name__ == "__main__":
    gc.set_threshold(*RARE_COLLECTIONS)
    shown = drawing(PARTS)
    libraries_alone(shown), ours(shown)  # what is loaded at the first time
    alone, whole = timed(lambda: libraries_alone(shown)), timed(lambda: ours(shown))
    contents = {kind.suffix: kind.write(shown, Choices()).decode() for kind in machine_formats()}
    loading = timed(lambda: libraries_reading(contents))
    print(
        f"{PARTS} parts, written, read back and compared: {whole * 1000:.0f} ms; the libraries alone "
        f"write them in {alone * 1000:.0f} ms and load ours in {loading * 1000:.0f} ms: "
        f"{whole / (alone + loading):.2f} x, {whole / alone:.2f} x the writing alone"
    )
    each_format(shown)
    print(f"  memory of a fresh process: {cold_megabytes():.0f} MB; at most 150 MB")
    for count in MANY:
        taken = timed(lambda count=count: ours(drawing(count)))
        print(f"  {count} parts: {taken / count * 1000:.2f} ms for each")
