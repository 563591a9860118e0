"""The published problems of irregular shapes as orders, and the lengths of their records."""

import json
from pathlib import Path

from dielines.packing.strips.outline import Outline, StripOrder

FOLDER = Path(__file__).parent.parent / "outside" / "data" / "irregular"
#: Length of the record and raster points to a unit. Records: the table published with
#: the problems (see README.md there). Points: the most, in powers of two, that make no
#: more than 20,000 on the strip of the record.
RECORDS = {
    "shapes0": (57.012, 2),
    "shirts": (59.393, 2),
    "trousers": (235.172, 1),
    "fu": (30.843, 4),
    "jakobs1": (10.980, 4),
    "dagli": (56.087, 2),
    "blaz1": (25.049, 4),
}
UNIT = 8  #: of ours to one of theirs


def problem(name):
    """Return a published problem; its corners are whole numbers of its own units."""
    found = json.loads((FOLDER / f"{name}.json").read_text())
    items = found["items"]
    rings = [item["shape"]["data"][:-1] for item in items]
    return StripOrder(
        outlines=tuple(
            Outline(tuple((int(x * UNIT), int(y * UNIT)) for x, y in ring)) for ring in rings
        ),
        turns=tuple(
            tuple(int(turn // 90) for turn in item["allowed_orientations"]) for item in items
        ),
        counts=tuple(item["demand"] for item in items),
        width=int(found["strip_height"] * UNIT),
        pitch=UNIT // RECORDS[name][1],
    )
