"""An album of 60 parts, made in fresh processes; then albums of up to 200 pages.

Printed: the time from the command to the written files, its share by stage,
beside what the libraries alone need for the same paths and texts, the memory,
and whether time and memory per part stay the same in larger albums.
"""

import gc
import io
import json
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

from fresh import Run, comparable_processes, median, run

ROOT = Path(__file__).parent.parent
WORKSHOP = ROOT / "samples" / "lakeside" / "workshop.toml"
TIMES = 7
SECONDS, TIMES_THE_LIBRARIES, MEGABYTES = 1.5, 3, 150
LAYOUT, SHEETS = "laying out on sheets", "files of sheets, written and read back"
GROWING = (5, 10, 25, 50, 100, 200)  #: pages

ALBUM = """
title   = "Sixty parts"
units   = "in"
size    = "photo 5 x 3 1/2"
binding = "tab and channel"
pages   = [
  "2 x side pocket", "flap", "gate doors", "2 x plain leaf", "2 x flap", "side pocket",
]
mats    = "both sides"
"""
#: Narrow channels, for the spine board of all books has to stay below its largest width.
LARGE = """
title   = "Many parts"
units   = "in"
size    = "photo 5 x 3 1/2"
binding = "tab and channel"
pages   = [{pages}]
mats    = "both sides"

[usual]
channel = "1/64"
depth   = "1/16"
"""
CYCLE = ("ticket page", "concertina page", "flap", "ticket page", "ticket page")


class Stages:
    """Processor seconds since the last stage, by the name of what was done."""

    def __init__(self) -> None:
        self.taken = {}
        self.last = 0.0  # what the interpreter took to start counts for the first stage

    def done(self, name: str) -> None:
        """Note how long *name* took."""
        now = time.process_time()
        self.taken[name] = now - self.last
        self.last = now


def composed(file: str, stages: Stages):
    """Return the book and its workshop, and note how long each step took."""
    from dielines.book.composing import compose
    from dielines.book.from_file import book_source
    from dielines.book.outputs import book_files  # noqa: F401  # loads what writes the book
    from dielines.book.reading import book_document
    from dielines_cli.main import RARE_COLLECTIONS

    gc.set_threshold(*RARE_COLLECTIONS)
    stages.done("starting, loading our modules")
    source = book_source(book_document(Path(file)), [], None)
    stages.done("reading the book file")
    book = compose(source.request, source.workshop, source.library)
    stages.done("composing")
    return book, source.workshop


def drawn(book, stages: Stages):
    """Return the drawing of *book* with all libraries loaded."""
    from dielines.book.outputs import parts_in_rows
    from dielines.book.pieces import pieces_of

    drawing = parts_in_rows(pieces_of(book), book.title)
    stages.done("drawing")
    load_libraries()
    # The command makes an album of 60 parts without one full collection of garbage. Here one
    # may be due, for more is loaded; it then has little to look at, wherever it falls.
    gc.freeze()
    stages.done("loading libraries, readers and writers")
    return drawing


def load_libraries() -> None:
    """Load all that writes and reads files."""
    import ezdxf.document  # noqa: F401
    import svgwrite  # noqa: F401
    from defusedxml import ElementTree, expatreader  # noqa: F401

    import dielines.formats.dxf.reading
    import dielines.formats.dxf.writing
    import dielines.formats.svg.reading
    import dielines.formats.svg.writing  # noqa: F401


def ours(file: str) -> None:
    """Make the album of *file* and print what each stage took, as JSON."""
    from dielines.book.cut_list_text import cut_list_text
    from dielines.book.recipes import made_of, recipes
    from dielines.machine_files import proved_files
    from dielines.sizes.sizes_file import sizes_text

    stages = Stages()
    book, workshop = composed(file, stages)
    machine = workshop.machine
    drawing = drawn(book, stages)
    files = proved_files("album", drawing, machine)
    stages.done("writing, re-reading, comparing")
    cut_list_text(book, machine)
    sizes_text(book.title, book.reasons, recipes(book.parts), made_of("album", book))
    stages.done("cut list and sizes")
    on_sheets(book, workshop, stages)
    paths = sum(file.paths for file in files)
    print(json.dumps({"stages": stages.taken, "parts": len(book.parts), "paths": paths}))


def on_sheets(book, workshop, stages: Stages) -> None:
    """Lay the parts out on sheets and make their files."""
    from dielines.book.outputs import Outputs
    from dielines.sheets.files import with_sheets
    from dielines.sheets.laying_out import lay_out
    from dielines.sheets.way_of_cutting import By

    layout = lay_out(book, workshop, By.MACHINE)
    stages.done(LAYOUT)
    with_sheets("album", Outputs((), {}), book, layout, workshop)
    stages.done(SHEETS)


def libraries(file: str) -> None:
    """Write and load the same paths and texts with the libraries alone; print what it took.

    Without the collection of garbage, whose pauses would fall here by chance.
    """
    from dielines.formats.legend import with_legend
    from dielines.machine_files import cut_drawing

    stages = Stages()
    book, workshop = composed(file, stages)
    machine = workshop.machine
    drawing = drawn(book, stages)
    gc.disable()
    plain = [plain_paths(shown) for shown in (cut_drawing(drawing, machine), with_legend(drawing))]
    stages.done("")
    contents = [written_alone(*paths_and_texts) for paths_and_texts in plain]
    stages.done("writing")
    for content in contents:
        loaded_alone(*content)
    stages.done("loading")
    print(json.dumps(stages.taken))


def plain_paths(drawing):
    """Return paths (layer, numbers, whether closed) and texts (text, place, height) as numbers."""
    paths = [
        (
            i.layer.value,
            [(float(v.x), float(v.y), float(v.bulge)) for v in i.path.vertices],
            i.path.closed,
        )
        for i in drawing.items()
    ]
    captions = (caption for group in drawing.groups for caption in group.captions)
    return paths, [(c.text, (float(c.at.x), float(c.at.y)), c.height) for c in captions]


def written_alone(paths, texts) -> tuple[str, str]:
    """Return SVG and DXF files of nothing but *paths* and *texts*; arcs are straight in the SVG."""
    import ezdxf
    import svgwrite

    picture, sheet = svgwrite.Drawing(debug=False), ezdxf.new("R2000")
    space = sheet.modelspace()
    for layer, points, closed in paths:
        words = " L ".join(f"{x:.7f} {y:.7f}" for x, y, _ in points)
        picture.add(picture.path(f"M {words}", stroke="black", fill="none"))
        space.add_lwpolyline(points, format="xyb", close=closed, dxfattribs={"layer": layer})
    for text, place, height in texts:
        picture.add(picture.text(text, insert=place, font_size=height))
        space.add_text(text, height=height, dxfattribs={"insert": place})
    stream = io.StringIO()
    sheet.write(stream)
    return picture.tostring(), stream.getvalue()


def loaded_alone(picture: str, sheet: str) -> None:
    """Load both files and look at nothing in them."""
    import ezdxf
    from defusedxml import ElementTree

    ElementTree.fromstring(picture)
    ezdxf.read(io.StringIO(sheet))


def print_album(folder: Path) -> None:
    """Print the figures of the album of 60 parts; what is compared takes turns."""
    file = folder / "album.toml"
    file.write_text(ALBUM)
    command = ("-m", "dielines_cli", "make", str(file), "--out", str(folder / "made"))
    run(*command)  # compiles the modules
    turns = [
        (
            run(*command),
            told(run(__file__, "ours", str(file))),
            told(run(__file__, "libraries", str(file))),
        )
        for _ in range(TIMES)
    ]
    made, mine, alone = zip(*turns, strict=True)
    processor = median(one.processor_seconds for one in made)
    print(
        f"an album of {mine[0]['parts']} parts, {mine[0]['paths']} paths in four files, from cold: "
        f"{median(one.seconds for one in made):.2f} s, {processor:.2f} s of a processor"
    )
    stages = medians(one["stages"] for one in mine)
    less = processor - stages[LAYOUT] - stages[SHEETS]
    print(f"  of it without sheets and their files: {less:.2f} s; at most {SECONDS} s")
    for name, taken in stages.items():
        print(f"  {name}: {taken * 1000:.0f} ms")
    rest = processor - sum(stages.values())
    print(f"  checking, tape plan, command line, writing to disk, printing: {rest * 1000:.0f} ms")
    print_beside_libraries(stages, medians(alone))
    print(f"  memory: {max(one.megabytes for one in made):.0f} MB; at most {MEGABYTES} MB")


def told(one: Run) -> dict[str, Any]:
    """Return what a child of this program printed."""
    return json.loads(one.output)


def medians(figures: Iterable[dict[str, float]]) -> dict[str, float]:
    """Return the median of each figure by name."""
    figures = list(figures)
    return {name: median(one[name] for one in figures) for name in figures[0]}


def print_beside_libraries(stages: dict[str, float], alone: dict[str, float]) -> None:
    """Print how drawing, writing and re-reading compare with the libraries alone."""
    taken = stages["drawing"] + stages["writing, re-reading, comparing"]
    writing, loading = alone["writing"], alone["loading"]
    print(
        f"  drawing to comparing: {taken * 1000:.0f} ms; the libraries alone write the same paths and "
        f"texts in {writing * 1000:.0f} ms and load them in {loading * 1000:.0f} ms: "
        f"{taken / (writing + loading):.2f} x (at most {TIMES_THE_LIBRARIES} x), "
        f"{taken / writing:.2f} x the writing alone"
    )


def print_growth(folder: Path) -> None:
    """Print time and memory of growing albums."""
    print("  processor time for each part in growing albums:")
    for pages in GROWING:
        file = folder / f"{pages}.toml"
        kinds = ", ".join(f'"{CYCLE[i % len(CYCLE)]}"' for i in range(pages))
        file.write_text(LARGE.format(pages=kinds))
        one = run(__file__, "ours", str(file))
        figures = told(one)
        parts, stages = figures["parts"], figures["stages"]
        shown = ", ".join(f"{name} {stages[name] / parts * 1000:.2f} ms" for name in GROWING_STAGES)
        print(f"    {pages} pages, {parts} parts: {shown}; {one.megabytes:.0f} MB in all")


GROWING_STAGES = ("composing", "drawing", "writing, re-reading, comparing", "cut list and sizes")


def main() -> None:
    """Print all figures."""
    with comparable_processes(), tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "workshop.toml").write_bytes(WORKSHOP.read_bytes())
        print_album(folder)
        print_growth(folder)


CHILDREN: dict[str, Callable[[str], None]] = {"ours": ours, "libraries": libraries}

if __name__ == "__main__":
    if len(sys.argv) == 3:
        CHILDREN[sys.argv[1]](sys.argv[2])
    else:
        main()
