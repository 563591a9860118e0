"""What a binding grafts onto a page: at each side, at a fold, with what strengthens it.

All of it is this project's own language; numbers are plane geometry.
"""

from fractions import Fraction

import pytest

from dielines.errors import TemplateError
from dielines.language.building import Graft, build, build_fragment
from dielines.language.template import template_from_text
from dielines.part import LineKind
from dielines.paths import bounds_of, signed_area

F = Fraction
CALIPERS = {"cardstock": F(2, 7), "reinforcing": F(1, 7)}
PAGE = """template = "leaf"
kind = "page"
units = "mm"
[parts.page]
bound = "leaf {side}"
columns = ["200 / 3"]
rows = ["107 : leaf", "30 : foot"]
folds = {{ "* / *" = 90 }}
"""
TAB = """template = "hold"
kind = "edge"
units = "mm"
[parameters]
tab = { type = "length", default = 21, min = 1 }
[parts.edge]
columns = ["tab", "22 / 7", 10]
rows = ["length : tab channel page"]
edits = [
  { taper = "tab", inset = ["length / 3", 5] },
  { tape = "tab", side = "face", edge = "left", width = 7, onto = "board" },
  { label = "tab", text = "tab" },
]
steps = ["tab | channel", "channel | page"]
[parts.edge.folds]
"tab | channel" = -30
"channel | page" = -60
[parts.backing]
stock = "reinforcing"
covers = ["tab", "channel"]
lap = { page = "20 / 3" }
"""
FLAT_PAGE = PAGE.replace(
    'rows = ["107 : leaf", "30 : foot"]\nfolds = {{ "* / *" = 90 }}', 'rows = ["107 : leaf"]'
)


def page(side: str, text: str = FLAT_PAGE, fragment: str = TAB, **sizes: object):
    template = template_from_text(text.format(side=side), "leaf.toml")
    return build(template, {}, CALIPERS, Graft(template_from_text(fragment, "hold.toml"), sizes))


def faults(side: str, text: str = FLAT_PAGE, fragment: str = TAB) -> list[str]:
    with pytest.raises(TemplateError) as caught:
        page(side, text, fragment)
    return [fault.code for fault in caught.value.faults]


def box(part, panel: str) -> tuple:
    return tuple(part.panel(panel).bounds())


CHANNEL = F(22, 7)
WIDTH = F(200, 3)


@pytest.mark.parametrize(
    ("side", "tab", "channel", "leaf", "keys"),
    [
        ("left", (0, 0, 21, 107), (21, 0, 21 + CHANNEL, 107), (21 + CHANNEL, 0, 21 + CHANNEL + WIDTH, 107),
         ["binding.tab | binding.channel", "binding.channel | leaf"]),
        ("right", (WIDTH + CHANNEL, 0, WIDTH + CHANNEL + 21, 107), (WIDTH, 0, WIDTH + CHANNEL, 107), (0, 0, WIDTH, 107),
         ["binding.channel | binding.tab", "leaf | binding.channel"]),
        ("top", (0, 107 + CHANNEL, WIDTH, 107 + CHANNEL + 21), (0, 107, WIDTH, 107 + CHANNEL), (0, 0, WIDTH, 107),
         ["binding.tab / binding.channel", "binding.channel / leaf"]),
        ("bottom", (0, 0, WIDTH, 21), (0, 21, WIDTH, 21 + CHANNEL), (0, 21 + CHANNEL, WIDTH, 128 + CHANNEL),
         ["binding.channel / binding.tab", "leaf / binding.channel"]),
    ],
)  # fmt: skip
def test_a_fragment_is_mirrored_or_turned_to_the_bound_side(side, tab, channel, leaf, keys):
    part = page(side).part("page")
    assert (box(part, "binding.tab"), box(part, "binding.channel"), box(part, "leaf")) == (
        tab,
        channel,
        leaf,
    )
    assert [(str(line.key), line.angle_deg) for line in part.lines] == [
        (keys[0], -30),
        (keys[1], -60),
    ]
    length = F(107) if side in ("left", "right") else WIDTH
    tapered = 21 * (length - (length / 3 + 5) / 2)
    assert signed_area(part.panel("binding.tab").outline) == tapered
    assert signed_area(part.outline[0]) == WIDTH * 107 + CHANNEL * length + tapered
    steps = [[str(key) for key, _ in step.angles_deg] for step in part.steps]
    assert steps == [[keys[0]], [keys[1]]]


@pytest.mark.parametrize(
    ("side", "corner"),
    [
        # written at the left, the larger inset is that at the top
        ("left", (0, 107 - F(107, 3))),
        ("right", (21 + CHANNEL + WIDTH, 107 - F(107, 3))),
        # turned a quarter, left becomes top: the top end goes to the right, then to the left
        ("top", (WIDTH - WIDTH / 3, 128 + CHANNEL)),
        ("bottom", (WIDTH / 3, 0)),
    ],
)
def test_an_uneven_taper_keeps_its_hand_where_turned_and_changes_it_where_mirrored(side, corner):
    assert corner in page(side).part("page").panel("binding.tab").outline.points


def test_zones_and_letters_go_along():
    part = page("right").part("page")
    (zone,) = part.zones
    assert (zone.name, zone.panel, zone.onto) == ("binding.tab", "binding.tab", "board")
    assert bounds_of([zone.path]).right == part.width
    assert bounds_of([zone.path]).left == part.width - 7
    assert part.lettering[0].panel == "binding.tab"
    assert part.lettering[0].at.x > WIDTH + CHANNEL


def test_the_length_of_the_edge_is_handed_on_exactly():
    parts = build_fragment(Graft(template_from_text(TAB)), F(321, 7), CALIPERS)
    assert parts[0].height == F(321, 7)
    assert signed_area(parts[0].panel("tab").outline) == 21 * (F(321, 7) - (F(107, 7) + 5) / 2)


def test_a_reinforcement_covers_the_named_panels_and_laps_onto_the_next():
    backing = page("left").part("backing")
    assert backing.covers == ("binding.tab", "binding.channel")
    assert [panel.name for panel in backing.panels] == ["tab", "channel", "lap_page"]
    assert backing.width == 21 + CHANNEL + F(20, 3)
    tapered = 21 * (107 - (F(107, 3) + 5) / 2)
    assert signed_area(backing.outline[0]) == tapered + (CHANNEL + F(20, 3)) * 107
    assert backing.lines == ()


@pytest.mark.parametrize("side", ["right", "top", "bottom"])
def test_a_reinforcement_has_the_hand_of_the_side_it_is_for(side):
    built = page(side)
    page_part, backing = built.part("page"), built.part("backing")
    tab, cover = page_part.panel("binding.tab"), backing.panel("tab")
    offset = (tab.bounds().left - cover.bounds().left, tab.bounds().bottom - cover.bounds().bottom)
    moved = {(p.x + offset[0], p.y + offset[1]) for p in cover.outline.points}
    assert moved == set(tab.outline.points)
    assert backing.grain == ("up" if side == "right" else "across")
    assert backing.is_mirrored == (side == "right")


def test_a_reinforcement_without_a_lap_or_of_vanished_panels_covers_what_is_there():
    text = TAB.replace('lap = { page = "20 / 3" }', "lap = { page = 0 }")
    text = text.replace('"channel | page" = -60', '"* | page" = -60').replace(
        '"22 / 7", 10', '"tab - 21 mm", 10'
    )
    backing = page("left", fragment=text).part("backing")
    assert [panel.name for panel in backing.panels] == ["tab"]


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('"tab", "channel"]', '"tab", "chanel"]', "no-panel"),
        ('"tab", "channel"]', '"tab", 7]', "wrong-kind"),
        ('page = "20 / 3"', 'pge = "20 / 3"', "no-panel"),
        ('page = "20 / 3"', "page = -1", "negative"),
        ('page = "20 / 3"', "page = [1]", "wrong-kind"),
        ('page = "20 / 3"', 'page = "10 + 1/7"', "outside"),
        ('covers = ["tab", "channel"]', 'covers = ["tab"]', "no-contact"),
        (
            'covers = ["tab", "channel"]\nlap = { page = "20 / 3" }',
            'covers = ["tab", "page"]',
            "falls-apart",
        ),
        ('covers = ["tab", "channel"]', "covers = []", "no-contact"),
    ],
)
def test_a_reinforcement_that_cannot_be_is_told(old, new, code):
    assert old in TAB
    assert faults("left", fragment=TAB.replace(old, new)) == [code]


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('"length : tab channel page"', '"length : tab channel pge"', "no-contact"),
        ('"length : tab channel page"', '"length - 1 : tab channel page"', "no-page"),
        ("[parts.edge]", "[parts.edge]\nwhen = false", "no-page"),
    ],
)
def test_a_fragment_has_a_place_holder_as_high_as_the_edge(old, new, code):
    text = TAB.replace(old, new)
    if code == "no-contact":
        text = text.replace("channel | page", "channel | pge").replace("page = ", "pge = ")
        code = "no-page"
    assert faults("left", fragment=text) == [code]


def test_a_page_without_a_bound_edge_takes_no_graft():
    assert faults("left", FLAT_PAGE.replace('bound = "leaf {side}"\n', "")) == ["not-bound"]


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        ('{{ shape = "leaf", edge = "left", inset = [0, 5] }}', "not-straight"),
        ('{{ shape = "leaf", edge = "left", inset = [0, 5, 0] }}', "not-straight"),
        ('{{ round = "leaf", corner = "left", radius = "107 / 2" }}', "no-edge"),
    ],
)
def test_nothing_binds_to_an_edge_that_is_not_straight(edit, code):
    text = FLAT_PAGE + f"edits = [{edit}]\n"
    assert faults("left", text) == [code]


def test_a_bound_edge_that_is_clipped_takes_a_shorter_fragment():
    text = FLAT_PAGE + 'edits = [{{ clip = "leaf", corner = "top left", by = ["10 / 3", 7] }}]\n'
    part = page("left", text).part("page")
    assert box(part, "binding.tab") == (0, 0, 21, 100)


def test_a_notch_in_the_bound_edge_parts_the_score():
    text = FLAT_PAGE + 'edits = [{{ notch = "leaf", edge = "left", diameter = 7 }}]\n'
    part = page("left", text).part("page")
    score = next(line for line in part.lines if str(line.key) == "binding.channel | leaf")
    assert [tuple(y for _, y in piece.points) for piece in score.pieces] == [(0, 50), (57, 107)]
    assert len(part.outline) == 2


WINGED = """template = "leaf"
kind = "page"
units = "mm"
[parts.page]
bound = "leaf left"
columns = ["{wing}", 60]
rows = ["20 : wing head", "40 : . leaf", "20 : . foot"]
[parts.page.folds]
"* / *" = 90
"wing | head" = 90
"""


def test_a_fragment_that_lies_over_another_panel_is_told():
    # a wing of the head hangs down past the corner of the bound panel, a hair away from it
    text = """template = "leaf"
kind = "page"
units = "mm"
[parts.page]
bound = "leaf left"
columns = [30, "1/7", 60]
rows = ["20 : wing wing head", "10 : wing . leaf", "30 : . . leaf"]
folds = { "* / *" = 90, "wing | head" = 90 }
"""
    template = template_from_text(text, "leaf.toml")
    with pytest.raises(TemplateError) as caught:
        build(template, {}, CALIPERS, Graft(template_from_text(TAB)))
    assert [fault.code for fault in caught.value.faults] == ["graft-overlap"]
    assert "'wing'" in caught.value.faults[0].message


def test_a_fragment_beside_another_panel_is_slit_from_it():
    template = template_from_text(WINGED.format(wing=10), "leaf.toml")
    part = build(template, {}, CALIPERS, Graft(template_from_text(TAB))).part("page")
    slits = {str(line.key): line for line in part.lines if line.kind is LineKind.SLIT}
    # the channel, 22/7 wide, and the tab, whose taper leaves the line, lie below the wing
    assert list(slits) == ["wing / binding.channel"]
    (piece,) = slits["wing / binding.channel"].pieces
    assert abs(piece.points[1].x - piece.points[0].x) == CHANNEL
    assert len(part.outline) == 1


FOLD_PAGE = """template = "folio"
kind = "page"
units = "mm"
[parts.page]
bound = "{bound}"
columns = {columns}
rows = {rows}
folds = {{ "* | *" = "valley", "* / *" = "valley" }}
"""
SEWING = """template = "sewing"
kind = "fold"
units = "mm"
[parameters]
kettle = { type = "length", default = 13, max = "length / 3" }
edits = []
"""


def test_a_fragment_of_kind_fold_works_on_the_bound_fold():
    sewing = SEWING.replace("edits = []\n", "").replace(
        "[parameters]",
        'edits = [{ holes = "bound", diameter = "4 / 3", at = ["kettle", "length - kettle / 3"] }]\n[parameters]',
    )
    text = FOLD_PAGE.format(bound="left | right", columns="[70, 60]", rows='["100 : left right"]')
    graft = Graft(template_from_text(sewing), {"kettle": "9 mm"})
    part = build(template_from_text(text), {}, CALIPERS, graft).part("page")
    tops = sorted(
        float(100 - (bounds_of([h]).bottom + bounds_of([h]).top) / 2) for h in part.outline[1:]
    )
    assert tops == pytest.approx([9, 97])
    assert (part.bound.side, part.bound.panel) == ("fold", "left | right")
    assert (part.bound.start.y, part.bound.end.y) == (100, 0)


@pytest.mark.parametrize(
    ("bound", "code"),
    [("left | rght", "no-contact"), ("right | left", "no-contact"), ("left / right", "no-contact")],
)
def test_a_bound_fold_is_a_line_of_the_part(bound, code):
    text = FOLD_PAGE.format(bound=bound, columns="[70, 60]", rows='["100 : left right"]')
    with pytest.raises(TemplateError) as caught:
        build(template_from_text(text), {}, CALIPERS)
    assert [fault.code for fault in caught.value.faults] == [code]


def test_a_bound_line_that_is_no_fold_is_told():
    text = FOLD_PAGE.format(bound="left | right", columns="[70, 60]", rows='["100 : left right"]')
    with pytest.raises(TemplateError) as caught:
        build(
            template_from_text(text.replace('"* | *" = "valley"', '"* | *" = "none"')), {}, CALIPERS
        )
    assert [fault.code for fault in caught.value.faults] == ["no-such-fold"]
