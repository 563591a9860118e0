"""Books that a person might ask for, at random from a seed; all of them are correct."""

from __future__ import annotations

import random

PHOTOS_IN = ("5 x 3 1/2", "6 x 4", "4 x 6", "5 x 7", "3 1/2 x 5", "4 x 4", "7 x 5", "6 1/8 x 4 3/8")
PHOTOS_MM = ("90 x 130", "150 x 100", "100 x 150", "130 x 90", "133 x 97", "90 x 90")
KINDS = (
    "side pocket", "top pocket", "flap", "gate doors", "plain leaf", "three flaps", "half pocket",
    "roll fold", "photo slits", "frame page", "library-card pocket", "ticket page", "double pocket",
    "fore-edge fold pocket", "concertina page", "index tab", "tiered pockets",
)  # fmt: skip


def random_book(seed: int) -> str:
    """Return the text of the book of this seed."""
    dice = random.Random(f"a correct book, number {seed}")
    unit = dice.choice(("in", "mm"))
    photo = dice.choice(PHOTOS_IN if unit == "in" else PHOTOS_MM)
    count = dice.choice((1, 2, 3, 4, 5, 6, 8))
    pages = ", ".join(f'"{dice.choice(KINDS)}"' for _ in range(count))
    lines = [
        f'title = "Number {seed}"',
        f'units = "{unit}"',
        f'size = "photo {photo}"',
        f'binding = "{dice.choice(("tab and channel", "tab and channel", "concertina spine"))}"',
        f"pages = [{pages}]",
        f'mats = "{dice.choice(("none", "inner side", "both sides"))}"',
        *_usual(dice, unit),
        *_spine(dice),
    ]
    return "\n".join(lines) + "\n"


def _usual(dice: random.Random, unit: str) -> list[str]:
    sizes = {
        "square": (("1/8", "3/16", "1/4"), ("3", "4", "7/2")),
        "channel": (("1/4", "5/16", "3/8"), ("6", "7", "9")),
        "depth": (("1/8", "3/16", "5/32"), ("3", "4", "5")),
        "seam_tab": (("1/2", "5/8", "7/16"), ("12", "14", "11")),
        "hinge_tab": (("1/2", "5/8"), ("12", "15")),
        "cover_tab": (("2", "2 1/4"), ("50", "55")),
        "joint": (("5/16", "3/8"), ("8", "9")),
    }
    chosen = [name for name in sizes if dice.random() < 0.3]
    if not chosen:
        return []
    values = {name: dice.choice(sizes[name][unit == "mm"]) for name in chosen}
    return ["[usual]", *(f'{name} = "{value}"' for name, value in values.items())]


def _spine(dice: random.Random) -> list[str]:
    return ["[spine]", 'width = "to fit"'] if dice.random() < 0.3 else []
