"""Bad input in a template: each kind has its code, points at its place, and hides no other.

The kinds are those met when the language was tried on some forty templates; the
codes are the project's own. In the texts ``¶`` marks where a fault is expected.
"""

import pytest

from dielines.language.building import ArgumentRefused

BASE = """template = "leaf"
kind = "page"
units = "in"
[parameters]
width  = { type = "length", default = "6 1/4", min = 3, max = 12 }
height = { type = "length", default = "4 1/4", min = 3, max = 12 }
depth  = { type = "length", default = "1/8", min = "1/16", max = "width / 4" }
thumb  = { type = "flag", default = true }
lip    = { type = "choice", default = "plain", choices = ["plain", "arched"] }
[derived]
seam = "max(1/2, depth * 2)"
[parts.page]
bound = "front left"
mouth = { front = "right" }
columns = ["width"]
rows = [
  "seam   : seam",
  "depth  : head",
  "height : front",
  "depth  : tail",
  "height : back",
]
edits = [
  { taper = "seam", inset = "1/8" },
  { notch = "front", edge = "right", diameter = "3/4", through = ["back"] },
  { tape = "seam", side = "face", inset = "1/16", onto = "back" },
]
steps = ["seam / head, head / front", "front / tail, tail / back"]
[parts.page.folds]
"* / *" = -90
"""
CARD = """template = "card"
kind = "insert"
units = "in"
[parts.card]
outline = [[0, 0], [10, 0], [10, 10], [0, 10]]
panels = { a = [1, 5], b = [5, 1] }
folds = { "* - *" = "valley" }
[parts.card.lines]
across = [[-1, -1], [11, 11]]
"""
COMB = """template = "comb"
kind = "case"
units = "mm"
[parts.comb]
columns = [20, { repeat = 3, columns = [7, 7] }, 20]
rows = ["107 : a ( up# down# ) b"]
[parts.comb.folds]
"* | *" = 90
"""
TAPER = '{ taper = "seam", inset = "1/8" }'
NOTCH = 'notch = "front", edge = "right"'
LAST_FOLD = '"* / *" = -90\n'

#: name: the text that is replaced in BASE, what stands there instead, the codes at the marks
IN_BASE = {
    "a key with a slip": ("bound =", '¶stok = "cardstock"\nbound =', ["unknown-key"]),
    "a field with a slip": ('diameter = "3/4"', "¶diametre = 1", ["unknown-key"]),
    "a verb with a slip": ("{ taper =", "{ ¶tapper =", ["no-verb"]),
    "two verbs": ("{ taper =", '{ clip = "seam", ¶taper =', ["no-verb"]),
    "no verb at all": (TAPER, "¶{ inset = 1 }", ["no-verb"]),
    "a line that is no table": (TAPER, "¶3", ["wrong-kind"]),
    "a target with a slip": ('onto = "back"', 'onto = ¶"bak"', ["no-panel"]),
    "tape onto its own panel": ('onto = "back"', 'onto = ¶"seam"', ["own-panel"]),
    "a panel with a slip": ('notch = "front"', 'notch = ¶"frnt"', ["no-panel"]),
    "a name with a slip": ('"depth  : head"', '¶"dept : head"', ["unknown-name"]),
    "a name with a slip inside": ('"depth  : head"', '"2 * ¶dept : head"', ["unknown-name"]),
    "an unknown function": ('"seam   : seam"', '¶"ceil(seam) : seam"', ["unknown-function"]),
    "half a part": ("bound =", "quantity = ¶1.5\nbound =", ["not-whole"]),
    "as many parts as a length": ("bound =", 'quantity = ¶"width"\nbound =', ["wrong-kind"]),
    "an area as a height": ('"seam   : seam"', '"seam ¶* depth : seam"', ["wrong-kind"]),
    "a cell too many": ('"seam   : seam"', '"seam   : seam ¶head"', ["cell-count"]),
    "a row without a colon": ('"seam   : seam"', '¶"seam"', ["no-colon"]),
    "a row that is no text": ('"seam   : seam"', "¶7", ["wrong-kind"]),
    "a capital letter": ('"height : front"', '"height : ¶Front"', ["bad-name"]),
    "a letter of another script": ('"height : front"', '"height : ¶fr\u043ent"', ["bad-name"]),
    "a key the wrong way round": (LAST_FOLD, LAST_FOLD + '¶"tail / front" = -90\n', ["fold-turned"]),
    "a key of panels apart": (LAST_FOLD, LAST_FOLD + '¶"seam / back" = -90\n', ["no-contact"]),
    "a key with a slip in a name": (LAST_FOLD, LAST_FOLD + '¶"saem / head" = 9\n', ["no-panel"]),
    "a key that is no pair": (LAST_FOLD, LAST_FOLD + '¶"front tail" = 90\n', ["bad-key"]),
    "a key with a counter": (LAST_FOLD, LAST_FOLD + '¶"front# / tail" = 90\n', ["bad-name"]),
    "two keys that disagree": (
        LAST_FOLD,
        LAST_FOLD + '"front / *" = 90\n¶"* / tail" = -90\n',
        ["fold-tie"],
    ),
    "an angle beyond a half turn": ("= -90", "= ¶200", ["angle-range"]),
    "a fold word with a slip": ("= -90", '= ¶"mountian"', ["unknown-word"]),
    "an angle that is no number": ("= -90", "= ¶nan", ["wrong-kind"]),
    "an angle that is a list": ("= -90", "= ¶[90]", ["wrong-kind"]),
    "powers": ('"seam   : seam"', '"9¶**9**9 : seam"', ["powers"]),
    "forty digits": ('"seam   : seam"', f'¶"{"9" * 40} : seam"', ["digits"]),
    "thirty brackets": (
        '"max(1/2, depth * 2)"',
        f'"{"(" * 13}¶{"(" * 17}1{")" * 30}"',
        ["too-deep"],
    ),
    "factors of twelve digits": (
        '"max(1/2, depth * 2)"',
        f'"123456789012 * 123456789012 ¶* 123456789012{" * 123456789012" * 7}"',
        ["out-of-bounds"],
    ),
    "a division by zero": ('"seam   : seam"', '"seam * seam ¶/ (depth - 1/8) : seam"', ["zero-division"]),
    "a height below zero": ('"depth  : head"', '¶"depth - seam : head"', ["negative"]),
    "a unit of the screen": ('"depth  : head"', '"12 ¶px : head"', ["unknown-unit"]),
    "a circle": ("[derived]", '[derived]\na = ¶"b + 1"\nb = "2 * a"', ["circle"]),
    "a default that is no choice": ('"plain", choices', '¶"wavy", choices', ["unknown-word"]),
    "a parameter called as a function": ("thumb  =", "¶max  =", ["reserved"]),
    "a parameter that begins with a digit": ("thumb  =", "¶2thumb  =", ["bad-name"]),
    "a choice called as a derived value": ("[derived]", "[derived]\n¶arched = 1", ["also-a-choice"]),
    "a taper that crosses itself": ('inset = "1/8"', "inset = ¶4", ["ends-overlap"]),
    "a taper of a panel folded twice": (TAPER, TAPER.replace('{ taper = "seam"', '¶{ taper = "head"'), ["which-side"]),
    "a taper from nowhere": ('inset = "1/8"', 'from = ¶"lft", inset = "1/8"', ["unknown-word"]),
    "a hole half outside": (TAPER, '¶{ hole = "seam", at = ["1/8", "1/8"], diameter = 1 }', ["outside"]),
    "margins that leave no window": (TAPER, '{ window = "seam", margin = ¶2 }', ["no-window"]),
    "a layer that lies elsewhere": ('["back"]', '[¶"tail"]', ["not-over"]),
    "layers that are no list": ('["back"]', "¶true", ["wrong-kind"]),
    "a layer that is no text": ('["back"]', "[¶7]", ["wrong-kind"]),
    "a bound side that is folded": ('"front left"', '¶"front top"', ["bound-folded"]),
    "a bound side that is none": ('"front left"', '¶"front lft"', ["unknown-word"]),
    "a bound panel that is none": ('"front left"', '¶"frnt left"', ["no-panel"]),
    "a bound fold that is none": ('"front left"', '¶"front | tail"', ["no-contact"]),
    "a mouth that is no side": ('front = "right"', 'front = ¶"rigt"', ["unknown-word"]),
    "a mouth of no panel": ('front = "right"', 'frnt = ¶"right"', ["no-panel"]),
    "a mouth that is a number": ('front = "right"', "front = ¶3", ["wrong-kind"]),
    "a grain that is none": ("bound =", 'grain = ¶"long"\nbound =', ["unknown-word"]),
    "a list as a stock": ("bound =", 'stock = ¶["x"]\nbound =', ["wrong-kind"]),
    "very many repeats": (NOTCH, NOTCH + ", repeat = ¶100000", ["too-many"]),
    "a counter outside of repeats": ('"seam   : seam"', '"seam   : ¶seam#"', ["bad-name"]),
    "a counter in an edit outside of repeats": ('taper = "seam"', 'taper = ¶"seam#"', ["bad-name"]),
    "a bracket that stays open": ('"seam   : seam"', '"seam   : ¶( seam"', ["bracket"]),
    "brackets over a single column": ('"seam   : seam"', '"seam   : ¶( seam )"', ["not-repeated"]),
    "a condition that is a length": (NOTCH, NOTCH + ', when = ¶"depth"', ["wrong-kind"]),
    "a condition that is a number": (NOTCH, NOTCH + ", when = ¶3", ["wrong-kind"]),
    "a date as a size": ('diameter = "3/4"', "diameter = ¶2026-11-25", ["wrong-kind"]),
    "a table as a size": ('diameter = "3/4"', "diameter = ¶{ a = 1 }", ["wrong-kind"]),
    "infinity as a size": ('diameter = "3/4"', "diameter = ¶inf", ["not-finite"]),
    "an inset below zero": ('inset = "1/8"', "inset = ¶-1", ["negative"]),
    "an inset of three": ('inset = "1/8"', "inset = ¶[1, 1, 1]", ["list-length"]),
    "a step of no panel": ("tail / back", "¶tail / bck", ["no-panel"]),
    "a step the wrong way round": ("tail / back", "¶back / tail", ["fold-turned"]),
    "a step that stops too late": ("tail / back", "tail / back to ¶200", ["angle-range"]),
    "a step that is no text": ('"front / tail, tail / back"', "¶7", ["wrong-kind"]),
    "a tuck under no panel": ("tail / back", "¶back under frnt", ["no-panel"]),
    "a width without a width": ('onto = "back"', 'edge = "left"', ["which-size"]),
    "two layouts": ("columns =", "outline = []\ncolumns =", ["which-layout"]),
    "a field of another layout": ("columns =", "¶turn_in = 1\ncolumns =", ["not-here"]),
}  # fmt: skip

OTHERS = {
    "a bound panel without a size": (
        BASE.replace('"front left"', '¶"head left"').replace("depth  : head", "0 : head"),
        ["vanished"],
    ),
    "a row of too few cells": (
        BASE.replace('["width"]', '["width", 1]').replace('"seam   :', '¶"seam   :')
        .replace('"depth  :', '¶"depth  :').replace('"height :', '¶"height :'),
        ["cell-count"] * 5,
    ),
    "a word in places that do not touch": (
        BASE.replace("rows = [", "rows = ¶[").replace(": tail", ": head"),
        ["apart"],
    ),
    "a row of dots in the middle": (
        BASE.replace(": tail", ": .").replace("[parts.page]", "[¶parts.page]")
        .replace('"front / tail', '¶"front / tail'),
        ["falls-apart", "no-panel"],
    ),
    "every cell cut away": (
        "".join(BASE.partition("edits")[:1]).replace("rows = [", "rows = ¶[")
        .replace(": seam", ": .").replace(": head", ": .").replace(": front", ": .")
        .replace(": tail", ": .").replace(": back", ": ."),
        ["empty-map"],
    ),
    "no rows": (BASE.partition("rows = [")[0] + "rows = ¶[]\n", ["empty-map"]),
    "no parts": (BASE.partition("[parts.page]")[0], ["no-parts"]),
    "lines of which nothing is said": (
        BASE.partition("[parts.page.folds]")[0] + "[¶parts.page.folds]\n",
        ["no-fold-key"] * 4,
    ),
    "edits after the folds": (
        BASE.partition("edits = [")[0] + "[parts.page.folds]\n" + LAST_FOLD
        + "¶edits = [" + TAPER + "]\n",
        ["key-among-folds"],
    ),
    "no units": (
        BASE.replace('units = "in"\n', "").replace('"6 1/4"', '¶"6 1/4"')
        .replace('"4 1/4"', '¶"4 1/4"').replace('default = "1/8"', 'default = ¶"1/8"')
        ,
        ["no-units"] * 3,
    ),
    "a part called in capitals": (BASE.replace("[parts.page", "[¶parts.Page", 1).replace("parts.page.folds", "parts.Page.folds"), ["bad-name"]),
    "a part that repeats without a counter": (BASE.replace("[parts.page]", "[¶parts.page]\nrepeat = 2"), ["bad-name"]),
    "a counter without a repeat": (BASE.replace("[parts.page", '[¶parts."page#"', 1).replace("[parts.page", '[parts."page#"'), ["bad-name"]),
    "a part that is no table": (BASE.partition("[parts.page]")[0] + "[parts]\npage = ¶3\n", ["wrong-kind"]),
    "two layouts": (BASE.replace("[parts.page]", "[¶parts.page]\noutline = [[0, 0]]"), ["which-layout"]),
    "no layout": (BASE.partition("[parts.page]")[0] + "[¶parts.page]\n", ["which-layout"]),
    "edits that belong to no part": ("¶edits = []\n" + BASE, ["not-here"]),
    "a kind with a slip": (BASE.replace('"page"', '¶"pge"', 1), ["unknown-word"]),
    "no name": (BASE.partition("\n")[2], ["missing"]),
    "a name with capitals": (BASE.replace('"leaf"', '¶"Leaf"', 1), ["bad-name"]),
    "an outline that crosses itself": (
        CARD.replace("outline = [[0, 0], [10, 0], [10, 10], [0, 10]]", "outline = ¶[[0, 0], [10, 0], [0, 10], [10, 10]]"),
        ["crossed-outline"],
    ),
    "an outline that touches itself": (
        CARD.replace("[[0, 0], [10, 0],", "¶[[0, 0], [5, 10], [10, 0],"),
        ["crossed-outline"],
    ),
    "an outline of two points": (CARD.replace("[[0, 0], [10, 0], [10, 10], [0, 10]]", "¶[[0, 0], [10, 0]]"), ["bad-point"]),
    "an outline that is a text": (CARD.replace("[[0, 0], [10, 0], [10, 10], [0, 10]]", '¶"round"'), ["wrong-kind"]),
    "an arc with no middle": (
        CARD.replace("[10, 10], [0", "¶{ through = [10, 20], to = [10, 10] }, [0"),
        ["bad-arc"],
    ),
    "an arc that comes back to its start": (
        CARD.replace("[10, 10], [0", "¶{ through = [10, 5], to = [10, 0] }, [10, 10], [0"),
        ["bad-arc"],
    ),
    "a point of three": (CARD.replace("[10, 10], [0", "¶[10, 10, 10], [0"), ["bad-point"]),
    "a point of words": (CARD.replace("[10, 10], [0", "[10, ¶[10]], [0"), ["wrong-kind"]),
    "a point on a line": (CARD.replace("[1, 5]", "¶[5, 5]"), ["no-face"]),
    "a point in a panel named before": (CARD.replace("[5, 1]", "¶[1, 6]"), ["no-face"]),
    "a piece without a name": (CARD.replace(", b = [5, 1]", "").replace("panels =", "¶panels ="), ["unnamed-face"]),
    "a panel with a name of the wrong letters": (CARD.replace("{ a =", '{ "A b" = ¶').replace('¶ [1, 5]', '¶[1, 5]').replace('{ "A b" =', '{ "A b" ='), ["bad-name"]),
    "brackets missing": (COMB.replace('"107 : a ( up# down# ) b"', '"107 : a ¶up# down# b"'), ["not-repeated"]),
    "brackets that stay open": (COMB.replace("( up# down# )", "¶( up# down#"), ["bracket"]),
    "brackets with too few cells": (COMB.replace('"107 : a ( up# down# ) b"', '¶"107 : a ( up# ) b"'), ["cell-count"]),
    "a repeat of nothing": (COMB.replace("{ repeat = 3, columns = [7, 7] }", "¶{ repeat = 3, columns = [] }"), ["empty-map"]),
    "a repeat without a count": (COMB.replace("repeat = 3, ", "").replace("{ col", "¶{ col"), ["missing"]),
    "a repeat of a length": (COMB.replace("repeat = 3", 'repeat = ¶"7 mm"'), ["wrong-kind"]),
    "a repeat of half": (COMB.replace("repeat = 3", "repeat = ¶3.5"), ["not-whole"]),
    "very many columns": (COMB.replace("repeat = 3", "repeat = ¶201"), ["too-many"]),
}  # fmt: skip


def marked(text: str) -> tuple[str, list[tuple[int, int]]]:
    """Return *text* without its marks, and the line and column of each."""
    pieces = text.split("¶")
    places = []
    for index in range(1, len(pieces)):
        before = "".join(pieces[:index])
        places.append((before.count("\n") + 1, len(before) - before.rfind("\n")))
    return "".join(pieces), places


def hold(text: str, codes: list[str], faults_of) -> None:
    """The faults of *text* are these, at its marks where it has any."""
    clean, places = marked(text)
    faults = faults_of(clean)
    assert [fault.code for fault in faults] == codes
    if len(places) == 1:
        places *= len(codes)
    if places:
        assert [(fault.line, fault.column) for fault in faults] == places
    assert all(fault.file == "leaf.toml" and fault.message for fault in faults)


def test_the_texts_are_good_before_they_are_spoiled(faults_of):
    assert [faults_of(text) for text in (BASE, CARD, COMB)] == [(), (), ()]


@pytest.mark.parametrize("what", IN_BASE)
def test_bad_input_is_told_at_its_place(what, faults_of):
    old, new, codes = IN_BASE[what]
    assert old in BASE
    hold(BASE.replace(old, new, 1), codes, faults_of)


@pytest.mark.parametrize("what", OTHERS)
def test_bad_input_elsewhere_is_told_at_its_place(what, faults_of):
    text, codes = OTHERS[what]
    hold(text, codes, faults_of)


@pytest.mark.parametrize(
    ("arguments", "code"),
    [
        ({"width": "2 7/8 in"}, "out-of-range"),
        ({"depth": "1 9/16 in", "width": "6 in"}, "out-of-range"),
        ({"lip": "wavy"}, "unknown-word"),
        ({"widht": "7 in"}, "unknown-parameter"),
        ({"seam": "7 in"}, "derived"),
        ({"thumb": "perhaps"}, "unknown-name"),
    ],
)
def test_a_size_that_cannot_be_is_told_to_whoever_gave_it(arguments, code, faults_of):
    with pytest.raises(ArgumentRefused) as caught:
        faults_of(BASE, **arguments)
    assert [refusal.code for _, refusal in caught.value.refusals] == [code]
    assert caught.value.refusals[0][0] in arguments


def test_a_slip_of_the_pen_is_met_with_what_was_meant(faults_of):
    slips = {
        "stok": "stock",
        "diametre": "diameter",
        "tapper": "taper",
        "bak": "back",
        "dept": "depth",
    }
    for slip, meant in slips.items():
        old, new, _ = next(case for case in IN_BASE.values() if slip in case[1])
        told = faults_of(BASE.replace(old, new.replace("¶", ""), 1))[0]
        assert repr(meant) in told.message


ALL_OVER = """template = "leaf"
kind = "page"
units = "in"
[parameters]
width  = { type = "lenght", default = "6 1/4" }
height = { type = "length", default = "4 1/4", mim = 3 }
depth  = { type = "length", default = "1/0" }
[derived]
seam = "max(1/2, widht)"
[parts.page]
stok = "cardstock"
bound = "front lft"
columns = ["width", "widht"]
rows = [
  "seam : seam .",
  "3 furlongs : Front .",
  "height : front",
]
edits = [
  { tapper = "seam" },
  { notch = "front", edge = "right", diametre = 1 },
  7,
]
[parts.page.folds]
"seam front" = 90
"seam / front" = "mountian"
[parts.card]
outline = [[0, 0], ["1 px", 0], [1, 1]]
panels = { card = [1] }
[[joins]]
zonne = "card.card"
onto = "page.front"
"""


def test_all_faults_of_a_file_come_at_once(faults_of):
    found = [(fault.line, fault.code) for fault in faults_of(ALL_OVER)]
    assert found == [
        (5, "unknown-word"),
        (6, "unknown-key"),
        (7, "zero-division"),
        (9, "unknown-name"),
        (11, "unknown-key"),
        (13, "unknown-name"),
        (16, "unknown-unit"),
        (16, "bad-name"),
        (17, "cell-count"),
        (20, "no-verb"),
        (21, "unknown-key"),
        (22, "wrong-kind"),
        (25, "bad-key"),
        (26, "unknown-word"),
        (28, "unknown-unit"),
        (29, "bad-point"),
        (30, "missing"),
        (31, "unknown-key"),
    ]


VALUES_AT_FAULT = BASE.replace('inset = "1/8"', "inset = 4").replace('"front left"', '"front top"')


def test_all_faults_that_sizes_bring_come_at_once(faults_of):
    text = VALUES_AT_FAULT.replace('["back"]', '["tail"]').replace('= "back" }', '= "bak" }')
    found = [fault.code for fault in faults_of(text.replace("tail / back", "tail / bck"))]
    assert found == ["bound-folded", "ends-overlap", "not-over", "no-panel", "no-panel"]


def test_what_follows_from_a_name_at_fault_is_not_told_as_well(faults_of):
    text = BASE.replace('"4 1/4", min = 3', '"4 1/4 px", min = 3')
    assert [(fault.line, fault.code) for fault in faults_of(text)] == [(6, "unknown-unit")]


def test_a_part_that_repeats_tells_its_faults_once(faults_of):
    text = BASE.replace("parts.page", 'parts."page#"').replace("bound =", "repeat = 3\nbound =")
    text = text.replace('"depth  : head"', '"dept * i : head"')
    assert [fault.code for fault in faults_of(text)] == ["unknown-name"]


def test_no_value_of_the_wrong_kind_gets_through(faults_of):
    odd = [
        "true",
        "7",
        '"x"',
        "[1]",
        "{ a = 1 }",
        "2026-11-25",
        "12:00:00",
        "nan",
        "[[[1]]]",
        "[{}]",
    ]
    lines = BASE.splitlines()
    for number, line in enumerate(lines):
        key, sign, _ = line.partition(" = ")
        if not sign or line.startswith(" ") or key.startswith('"'):
            continue
        for value in odd:
            text = "\n".join([*lines[:number], f"{key} = {value}", *lines[number + 1 :]])
            faults_of(text)  # nothing but faults may come of it
