"""Bad inputs of one mistake each: code, line, column, and the word that shows the way out.

The mistakes are those met when the language was tried on some forty templates;
codes, places and words are the project's own, nothing here is published. In
the texts ``¶`` marks where the fault is expected; each text is a whole file.
"""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import build
from dielines.language.template import template_from_text

CALIPERS = {"cardstock": Fraction(2, 7), "board": Fraction(2)}
INCHES = 'template = "t"\nkind = "insert"\nunits = "in"\n'
MILLIMETRES = INCHES.replace('"in"', '"mm"')

#: head and tail fold to a front of 6 1/4 x 4 1/4 in, a tab at the top and a back below
POCKET = """{keys}columns = ["6 1/4"]
rows = ["1/2 : tab", "1/8 : head", "4 1/4 : front", "1/8 : tail", "4 1/4 : back"]
{edits}[parts.pocket.folds]
{folds}"""


def pocket(*edits: str, keys: str = "", folds: str = '"* / *" = -90\n') -> str:
    """Return a template of one pocket with these *edits*, further *keys* and *folds*."""
    lines = "".join(f"  {edit},\n" for edit in edits)
    shown = f"edits = [\n{lines}]\n" if edits else ""
    return f"{INCHES}[parts.pocket]\n{POCKET.format(keys=keys, edits=shown, folds=folds)}"


def leaf(columns: str, *rows: str, rest: str = "") -> str:
    """Return a template of one part by its map: columns, rows, and what follows them."""
    lines = "".join(f'  "{row}",\n' for row in rows)
    return f"{INCHES}[parts.leaf]\ncolumns = {columns}\nrows = [\n{lines}]\n{rest}"


def sized(derived: str, size: str = "seam", parameters: str = "") -> str:
    """Return a template of one panel of the width *size*, after parameters and derived values."""
    return f"""{INCHES}[parameters]
depth = {{ type = "length", default = "1/8", min = "1/16" }}
{parameters}[derived]
{derived}[parts.leaf]
columns = ["{size}"]
rows = ["2 3/7 : leaf"]
"""


def card(outline: str, panels: str, lines: str = "") -> str:
    """Return a template of one part by its outline."""
    return f"""{INCHES}[parts.card]
outline = {outline}
panels = {panels}
folds = {{ "* - *" = "valley" }}
[parts.card.lines]
{lines}"""


SQUARE = "[[0, 0], [10, 0], [10, 10], [0, 10]]"
DIAGONAL = "across = [[-1, -1], [11, 11]]\n"
SEAM = 'seam = "max(1/2, depth * 2)"\n'
FLAG = 'thumb = { type = "flag", default = true }\n'
LIP = 'lip = { type = "choice", default = "plain", choices = ["plain", "arched"] }\n'
EDGES = ', "* | *" = 90'

#: what: (text, code, words of the message or the way out)
KEYS = {
    "a slip in a key of a part": (
        leaf("[3]", "2 : leaf", rest='¶stok = "cardstock"\n'), "unknown-key", ["'stok'", "'stock'"],
    ),
    "a slip in a field of an edit": (
        pocket('{ notch = "front", edge = "right", ¶diametre = 1 }'), "unknown-key",
        ["'diametre'", "'diameter'"],
    ),
    "a slip in a verb": (pocket('{ ¶tapper = "tab", inset = 1 }'), "no-verb", ["'taper'"]),
    "two verbs in one line": (
        pocket('{ clip = "tab", ¶taper = "tab", inset = "1/7" }'), "no-verb", ["clip", "taper"],
    ),
    "no verb in a line": (pocket("¶{ inset = 1 }"), "no-verb", ["taper", "notch", "tape"]),
    "a slip in the panel that tape goes onto": (
        pocket('{ tape = "tab", side = "face", onto = ¶"bak" }'), "no-panel",
        ["'bak'", "'back'", "part.panel"],
    ),
    "edits below the header of the folds": (
        pocket() + '¶edits = [{ taper = "tab", inset = "1/7" }]\n', "key-among-folds",
        ["'edits'", "header of the folds", "above"],
    ),
    "a grain that there is not": (
        leaf("[3]", "2 : leaf", rest='grain = ¶"long"\n'), "unknown-word",
        ["'long'", "spine", "up", "across", "free"],
    ),
    "a list as the stock": (
        leaf("[3]", "2 : leaf", rest='stock = ¶["x"]\n'), "wrong-kind", ["text", "a list"],
    ),
    "columns and an outline together": (
        leaf("[3]", "2 : leaf", rest="outline = []\n").replace("[parts.leaf]", "[¶parts.leaf]"),
        "which-layout", ["columns", "outline"],
    ),
    "a date as a diameter": (
        pocket('{ notch = "front", edge = "right", diameter = ¶2026-11-25 }'), "wrong-kind",
        ["a size", "a date"],
    ),
    "no parts": (INCHES, "no-parts", ["[parts."]),
    "an empty table of parts": (INCHES + "[parts]\n", "no-parts", ["[parts."]),
}  # fmt: skip

NAMES = {
    "a slip in a name": (
        sized("seam = 1\n").replace('"2 3/7 :', '¶"dept :'), "unknown-name", ["'dept'", "'depth'"],
    ),
    "an unknown function": (
        sized(SEAM, "seam").replace('["seam"]', '[¶"ceil(seam)"]'), "unknown-function",
        ["'ceil'", "min", "max", "round_up"],
    ),
    "a parameter called as a function": (
        sized(SEAM, parameters=FLAG.replace("thumb", "¶max")), "reserved", ["'max'"],
    ),
    "a parameter that begins with a digit": (
        sized(SEAM, parameters=FLAG.replace("thumb", "¶2thumb")), "bad-name", ["'2thumb'"],
    ),
    "a derived value called as a choice": (
        sized(SEAM + "¶arched = 1\n", parameters=LIP), "also-a-choice", ["'arched'", "otherwise"],
    ),
    "a default that is no choice": (
        sized(SEAM, parameters=LIP.replace('"plain", ch', '¶"wavy", ch')), "unknown-word",
        ["'wavy'", "plain", "arched"],
    ),
    "a circle of two": (
        sized('seam = 1\na = ¶"b + 1"\nb = "2 * a"\n'), "circle", ["a -> b -> a"],
    ),
    "a circle of one": (sized('seam = ¶"seam / 3"\n'), "circle", ["seam -> seam"]),
    "the caliper of a part outside of parts": (
        sized('seam = "3 * ¶caliper"\n'), "unknown-name", ["'caliper'", "cardstock.caliper"],
    ),
}  # fmt: skip

SIZES = {
    "half a part": (
        leaf("[3]", "2 : leaf", rest="quantity = ¶1.5\n"), "not-whole", ["whole number", "3/2"],
    ),
    "as many parts as a length": (
        sized(SEAM) + 'quantity = ¶"depth"\n', "wrong-kind", ["a plain number", "a length"],
    ),
    "a length times a length": (
        sized(SEAM, "seam ¶* depth"), "wrong-kind", ["a length times a length"],
    ),
    "powers": (leaf('["9¶**9**9"]', "2 : leaf"), "powers", ["a * a"]),
    "a number of forty digits": (
        leaf(f'[¶"{"7" * 40}"]', "2 : leaf"), "digits", ["12 digits"],
    ),
    "thirty brackets": (
        leaf(f'["{"(" * 13}¶{"(" * 17}3{")" * 30}"]', "2 : leaf"), "too-deep", ["12"],
    ),
    "ten factors of twelve digits": (
        leaf(f'["123456789012 * 123456789012 ¶* 123456789012{" * 123456789012" * 7}"]', "2 : leaf"),
        "out-of-bounds", ["out of bounds"],
    ),
    "a division by what comes to nothing": (
        sized(SEAM, "seam * 3 ¶/ (depth - 1/8)"), "zero-division", ["depth = 1/8 in"],
    ),
    "a height below zero": (
        sized(SEAM).replace('"2 3/7 : leaf"', '¶"depth - seam : leaf"'), "negative", ["-3/8 in"],
    ),
    "a bare number without units": (
        leaf('["3 mm"]', "¶2 : leaf").replace('units = "in"\n', "").replace('"¶', '¶"'),
        "no-units", ['units = "in"', '"mm"'],
    ),
    "a unit of the screen": (leaf("[3]", "12 ¶px : leaf"), "unknown-unit", ["'px'", "in", "mm", "cm"]),
    "a condition that is a length": (
        sized(SEAM) + 'edits = [{ clip = "leaf", corner = "top", by = "1/7", when = ¶"depth" }]\n', "wrong-kind",
        ["yes or no", "a comparison"],
    ),
    "a usual size below its limit": (
        sized(SEAM, parameters='width = { type = "length", default = ¶"2 7/8", min = 3 }\n'),
        "out-of-range", ["width = 2 7/8 in", "at least 3 in"],
    ),
    "a usual size above a limit that is a formula": (
        sized(
            SEAM,
            parameters='step = { type = "length", default = ¶2, max = "8 * depth" }\n',
        ),
        "out-of-range", ["step = 2 in", "at most 1 in", "8 * depth"],
    ),
}  # fmt: skip

MAPS = {
    "a row of one cell over two columns": (
        leaf("[3, 4]", "2 : leaf").replace('"2 :', '¶"2 :'), "cell-count", ["1 cell", "2 columns"],
    ),
    "a row of three cells over two columns": (
        leaf("[3, 4]", "2 : leaf leaf ¶leaf"), "cell-count", ["3 cells", "2 columns"],
    ),
    "a row without a colon": (
        leaf("[3]", "2 : leaf", "¶flap").replace('"¶flap', '¶"flap'), "no-colon", ['"height : cells"'],
    ),
    "one word in places that do not touch": (
        leaf("[3]", "1 : head", "2 : front", "1 : head", rest='folds = { "* / *" = 90 }\n')
        .replace("rows = [", "rows = ¶["),
        "apart", ["'head'", "head1", "head2"],
    ),
    "a row of dots in the middle": (
        leaf("[3]", "2 : front", "1 : .", "2 : back").replace("[parts.leaf]", "[¶parts.leaf]"),
        "falls-apart", ["front", "back"],
    ),
    "nothing but dots": (
        leaf("[3]", "2 : .", "1 : .").replace("rows = [", "rows = ¶["), "empty-map", ["cut away"],
    ),
    "no rows": (
        leaf("[3]").replace("rows = [\n]", "rows = ¶[]"), "empty-map", ["no cells"],
    ),
    "a capital letter": (leaf("[3]", "2 : ¶Front"), "bad-name", ["'Front'", "small letters", "dot"]),
    "a letter of another script": (leaf("[3]", "2 : ¶fr\u043ent"), "bad-name", ["small letters"]),
    "a counter outside of repeats": (leaf("[3]", "2 : ¶seam#"), "bad-name", ["#", "repeat"]),
    "a bracket that stays open": (leaf("[3]", "2 : ¶( seam"), "bracket", ["'('", "')'"]),
    "a bracket that was never opened": (leaf("[3]", "2 : seam ¶)"), "bracket", ["'('", "')'"]),
    "brackets over a column that stands once": (
        leaf("[3]", "2 : ¶( seam )"), "not-repeated", ["column 1"],
    ),
    "a repeat of a hundred thousand columns": (
        leaf("[{ repeat = ¶100000, columns = [3] }]", "2 : ( a# )", rest='folds = { "* | *" = 9 }\n'),
        "too-many", ["100000", "0 to 200"],
    ),
    "an edit a hundred thousand times": (
        pocket('{ clip = "tab", corner = "top", by = "1/7", repeat = ¶100000 }'), "too-many", ["100000", "0 to 200"],
    ),
}  # fmt: skip

FOLDS = {
    "a line of which nothing is said": (
        pocket(folds='"head / *" = 90\n"* / tail" = 90\n"* / back" = 90\n')
        .replace("[parts.pocket.folds]", "[¶parts.pocket.folds]"),
        "no-fold-key", ["'tab'", "'head'", '"tab / head"', '"slit"'],
    ),
    "two panels the other way round": (
        pocket(folds='"* / *" = -90\n¶"tail / front" = 90\n'), "fold-turned",
        ["'tail'", "'front'", '"front / tail"'],
    ),
    "two panels that do not touch": (
        pocket(folds='"* / *" = -90\n¶"tab / back" = 90\n'), "no-contact", ["'tab'", "'back'"],
    ),
    "two panels without a line between": (
        pocket(folds='"* / *" = -90\n¶"front tail" = 90\n'), "bad-key",
        ['"left | right"', '"upper / lower"'],
    ),
    "two keys that say different things": (
        pocket(folds='"* / *" = -90\n"front / *" = 90\n¶"* / tail" = -90\n'), "fold-tie",
        ["'front / *'", "'* / tail'", '"front / tail"'],
    ),
    "an angle beyond a half turn": (
        pocket(folds='"* / *" = ¶200\n'), "angle-range", ["200", "-180 to 180"],
    ),
    "a slip in the word for a fold": (
        pocket(folds='"* / *" = ¶"mountian"\n'), "unknown-word", ["'mountian'", "'mountain'"],
    ),
    "an angle that is no number": (pocket(folds='"* / *" = ¶nan\n'), "wrong-kind", ["not a finite number"]),
}  # fmt: skip

EDITS = {
    "two ends of a taper that overlap": (
        pocket('{ taper = "tab", inset = ¶4 }'), "ends-overlap", ["4 + 4", "6 1/4 in"],
    ),
    "a taper of a panel that is folded twice": (
        pocket('¶{ taper = "head", inset = "1/32" }'), "which-side", ["2 sides", "top", "bottom", "from"],
    ),
    "a hole half outside of its panel": (
        pocket('¶{ hole = "tab", at = ["1/8", "1/8"], diameter = 1 }'), "outside", ["'tab'"],
    ),
    "margins that leave no window": (
        pocket('{ window = "front", margin = ¶[2, 1, "2 1/3", 1] }'), "no-window", ["margins"],
    ),
    "through a panel that lies elsewhere": (
        pocket('{ notch = "front", edge = "right", diameter = "3/7", through = [¶"tail"] }'),
        "not-over", ["'tail'", "'front'"],
    ),
    "through yes": (
        pocket('{ notch = "front", edge = "right", diameter = "3/7", through = ¶true }'),
        "wrong-kind", ["a list"],
    ),
    "a bound side that is folded": (
        pocket(keys='bound = ¶"front top"\n'), "bound-folded", ["top", "'front'", "folded"],
    ),
}  # fmt: skip

OUTLINES = {
    "an outline that crosses itself": (
        card("¶[[0, 0], [10, 0], [0, 10], [10, 10]]", "{ a = [5, 1] }"), "crossed-outline", ["(5, 5)"],
    ),
    "a named point on a line": (
        card(SQUARE, "{ a = ¶[5, 5], b = [5, 1] }", DIAGONAL), "no-face", ["no panel"],
    ),
    "a piece without a name": (
        card(SQUARE, "{ a = [1, 5], b = [5, 1] }", DIAGONAL + "up = [[8, -1], [8, 9]]\n")
        .replace("panels =", "¶panels ="),
        "unnamed-face", ["3 panels", "2 are named"],
    ),
}  # fmt: skip

CASES = {**KEYS, **NAMES, **SIZES, **MAPS, **FOLDS, **EDITS, **OUTLINES}


def told(text, **arguments):
    """Return the faults that *text* raises, all of one raise; none where it is made."""
    try:
        build(template_from_text(text, "t.toml"), arguments, CALIPERS)
    except TemplateError as error:
        return error.faults
    return ()


def without_mark(text):
    """Return *text* without its mark, and the mark's line and column (0 and 0 where there is none)."""
    before, mark, after = text.partition("¶")
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    return before + after, ((line, column) if mark else (1, 1))


def test_the_texts_are_made_where_nothing_is_spoiled():
    edit = '{ notch = "front", edge = "right", diameter = "3/7", through = ["back"] }'
    texts = [
        leaf("[3]", "2 : leaf"),
        pocket(),
        pocket(edit, keys='bound = "front left"\n'),
        sized(SEAM, parameters=FLAG + LIP),
        sized(SEAM, "seam * 3 / depth * 1 mm"),
        card(SQUARE, "{ a = [1, 5], b = [5, 1] }", DIAGONAL),
    ]
    assert [told(text) for text in texts] == [()] * len(texts)


@pytest.mark.parametrize("what", CASES)
def test_one_mistake_is_one_fault_at_its_place_with_the_way_out(what):
    spoiled, code, words = CASES[what]
    text, place = without_mark(spoiled)
    (fault,) = told(text)
    assert (fault.file, fault.code, fault.line, fault.column) == ("t.toml", code, *place)
    said = f"{fault.message} {fault.remedy}"
    assert [word for word in words if word not in said] == []
