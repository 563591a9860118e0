"""What stands in a written file: plain paths, true size, names, processing steps."""

import math
import re
from fractions import Fraction
from xml.etree import ElementTree

import pytest

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.errors import Defect, UsageError
from dielines.formats.svg.options import (
    CUT_FILE,
    GUIDE_FILE,
    USUAL_ORDER,
    Cue,
    Grouping,
    Options,
    SizeUnit,
    Style,
    UserUnit,
    with_colours,
)
from dielines.formats.svg.writing import write_svg
from dielines.paths import Path, Point, Vertex, circle, line, rectangle

SVG = "{http://www.w3.org/2000/svg}"
SEVENTH = Fraction(1, 7)
KNOWN_ELEMENTS = {"svg", "title", "desc", "metadata", "g", "path", "text"}

ROUND = Path(
    (Vertex(10, 40 + 1e-9, 0.4), Vertex(20, 10 * SEVENTH, -1.7), Vertex(30, 30)), closed=False
)


def drawing() -> Drawing:
    items = (
        Item(Layer.CUT, rectangle(0, 0, 100 * SEVENTH, 40), "outline"),
        Item(Layer.CUT, circle((50 * SEVENTH, 20), 3)),
        Item(Layer.SCORE_VALLEY, line((0, 5), (100 * SEVENTH, 5))),
        Item(Layer.SCORE_MOUNTAIN, line((0, 15), (100 * SEVENTH, 15))),
        Item(Layer.PERFORATE, line((0, 20), (100 * SEVENTH, 20))),
        Item(Layer.TAPE_FACE, rectangle(1, 6, 9, 14)),
        Item(Layer.MARK, ROUND),
    )
    words = (Caption(Layer.LABEL, "Page A", Point(2, 2), 3.5),)
    groups = (Group("a", "Page 1", items, words), Group("b", " ", items[:3]))
    return Drawing(123.825, 40.0, groups, title="Lakeside")


def tree(options: Options = CUT_FILE, what: Drawing | None = None) -> ElementTree.Element:
    return ElementTree.fromstring(write_svg(what or drawing(), options))


def paths(root: ElementTree.Element) -> list[ElementTree.Element]:
    return list(root.iter(f"{SVG}path"))


@pytest.mark.parametrize("grouping", Grouping)
def test_only_plain_elements_are_written(grouping):
    root = tree(Options(grouping=grouping))
    names = {e.tag.removeprefix(SVG) for e in root.iter() if e.tag.startswith(SVG)}
    assert names <= KNOWN_ELEMENTS
    assert not any("transform" in e.attrib or "style" in e.attrib for e in root.iter())


@pytest.mark.parametrize("options", [Options(), GUIDE_FILE, Options(user_unit=UserUnit.POINT)])
def test_path_data_is_absolute_and_every_number_plain(options):
    number = r"(?!-0[^.])-?\d+(\.\d*[1-9])?"  # no exponent, no trailing point (SVG 2, the grammar)
    for path in paths(tree(options)):
        assert re.fullmatch(rf"([MLA]({number}| )+)+Z?", path.get("d"))


def test_the_size_is_true_and_the_view_box_counts_css_pixels():
    root = tree()
    assert (root.get("width"), root.get("height")) == ("123.825mm", "40mm")
    box = [float(number) for number in root.get("viewBox").split()]
    # 1 in = 96 px = 25.4 mm (CSS Values, absolute lengths): 4 7/8 in = 468 px
    assert box == pytest.approx([0, 0, 468, 40 * 96 / 25.4], abs=1e-9)


def test_the_size_can_be_in_inches_and_the_unit_a_point():
    root = tree(Options(size_unit=SizeUnit.INCHES, user_unit=UserUnit.POINT))
    assert root.get("width") == "4.875in"
    assert float(root.get("viewBox").split()[2]) == pytest.approx(4.875 * 72)


def test_y_is_turned_over():
    (path,) = paths(tree(what=Drawing(100, 40, (Group("a", "A", (
        Item(Layer.CUT, line((25.4, 10), (50.8, 40))),)),))))  # fmt: skip
    assert path.get("d").endswith("L192 0")


def test_parts_hold_layers():
    root = tree()
    parts = [e for e in root.findall(f"{SVG}g") if e.get("data-part")]
    assert [part.get("data-part") for part in parts] == ["a", "b"]
    layers = [e.get("data-layer") for e in parts[1].findall(f"{SVG}g")]
    assert layers == ["SCORE_VALLEY", "CUT"]


def test_layers_hold_parts():
    root = tree(Options(grouping=Grouping.LAYER_THEN_PART))
    layers = [e.get("data-layer") for e in root.findall(f"{SVG}g")]
    assert layers == [la.value for la in USUAL_ORDER if la is not Layer.TAPE_REVERSE]
    cut = root.findall(f"{SVG}g")[-1]
    assert [e.get("data-part") for e in cut.findall(f"{SVG}g")] == ["a", "b"]


def test_without_groups_paths_lie_in_the_order_of_layers():
    root = tree(Options(grouping=Grouping.NONE, layer_order=(Layer.CUT, Layer.MARK)))
    assert not root.findall(f"{SVG}g")
    layers = [path.get("data-layer") for path in paths(root)]
    assert layers[:6] == ["CUT"] * 4 + ["MARK", "TAPE_FACE"]


def test_what_is_left_out_of_an_order_follows_once():
    order = Options(layer_order=(Layer.CUT, Layer.MARK, Layer.CUT)).layers
    assert order[:2] == (Layer.CUT, Layer.MARK)
    assert sorted(order, key=lambda layer: layer.value) == sorted(
        Layer, key=lambda layer: layer.value
    )


@pytest.mark.parametrize("grouping", Grouping)
def test_ids_are_unique_whatever_the_keys(grouping):
    items = tuple(Item(layer, line((i, 0), (i, 9))) for i in range(3) for layer in Layer)
    keys = ("CUT", "A", "A.1", "CUT.A", "_1.A", "part.A", "CUT.1.A", "MARK")
    groups = tuple(Group(key, key, items) for key in keys)
    root = tree(Options(grouping=grouping), Drawing(50, 50, groups))
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids)) >= len(keys) * len(items)
    assert all(re.fullmatch(r"[A-Za-z_][\w.-]*", identifier) for identifier in ids)


@pytest.mark.parametrize("grouping", Grouping)
def test_titles_come_first_and_none_is_blank(grouping):
    # SVG 2, struct.html: title first child, never empty or white space only
    root = tree(Options(grouping=grouping), drawing())
    for element in [root, *root.iter(f"{SVG}g")]:
        assert [child.tag for child in element][:2] == [f"{SVG}title", f"{SVG}desc"]
    texts = [e.text for name in ("title", "desc") for e in root.iter(SVG + name)]
    assert all(text and text.strip() for text in texts)


def test_the_root_says_language_and_role():
    root = tree(Options(language="de"))
    assert root.get("lang") == root.get("{http://www.w3.org/XML/1998/namespace}lang") == "de"
    assert root.get("role") == "img"


# Published: group and type names of ISO 19593-1 as modelled in the Arlington PDF Model.
@pytest.mark.parametrize(
    ("layer", "group", "kind"),
    [("CUT", "Structural", "Cutting"), ("SCORE_MOUNTAIN", "Structural", "ReverseCreasing"),
     ("TAPE_FACE", "Structural", "Gluing"), ("MARK", "Legend", None)],
)  # fmt: skip
@pytest.mark.parametrize("grouping", Grouping)
def test_each_layer_carries_its_processing_step(grouping, layer, group, kind):
    root = tree(Options(grouping=grouping))
    found = [e for e in root.iter() if e.get("data-layer") == layer]
    steps = {
        (e.get("data-processing-step-group"), e.get("data-processing-step-type")) for e in found
    }
    assert steps == {(group, kind)}


@pytest.mark.parametrize("options", [Options(), GUIDE_FILE])
def test_lines_are_never_filled_and_never_without_width(options):
    for path in paths(tree(options)):
        assert path.get("fill") == "none"
        assert float(path.get("stroke-width")) > 0


def test_the_guide_file_tells_layers_apart_by_dashes_as_well():
    pairs = {
        (path.get("stroke"), path.get("stroke-dasharray", ""))
        for path in paths(tree(GUIDE_FILE, all_layers()))
    }
    assert len(pairs) == len(Layer)
    # an odd list would be repeated (SVG 2, painting.html)
    assert all(len(dashes.split()) % 2 == 0 for _, dashes in pairs)


def all_layers() -> Drawing:
    items = tuple(Item(layer, line((0, 0), (9, 9))) for layer in Layer)
    return Drawing(50, 50, (Group("a", "A", items),))


def test_the_cut_file_has_no_dashes():
    assert not any(path.get("stroke-dasharray") for path in paths(tree(Options())))


def luminance(colour: str) -> float:
    """Return the relative luminance (WCAG 2.2, terms)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast_on_white(colour: str) -> float:
    return 1.05 / (luminance(colour) + 0.05)


def test_the_contrast_formula_meets_published_pairs():
    # WCAG: #767676 on white passes 4.5:1 (4.54), #777777 does not (4.48)
    assert contrast_on_white("#767676") == pytest.approx(4.54, abs=0.005)
    assert contrast_on_white("#777777") == pytest.approx(4.48, abs=0.005)


def test_every_colour_can_be_seen_as_a_thin_line_on_white():
    # WCAG 2.2, 1.4.11: graphics 3:1
    strokes = {path.get("stroke") for path in paths(tree(what=all_layers()))}
    assert all(contrast_on_white(colour) >= 3 for colour in strokes)


def test_colours_are_of_a_palette_that_colour_blind_people_can_tell_apart():
    # Okabe & Ito, Color Universal Design (2002); the grey is ours
    palette = {"#000000", "#0072B2", "#D55E00", "#009E73", "#CC79A7"}
    strokes = {path.get("stroke") for path in paths(tree(what=all_layers()))}
    assert strokes - {"#767676"} == palette


def test_layers_that_a_machine_acts_on_share_no_colour_with_any_other():
    strokes = {
        path.get("id").split(".")[0]: path.get("stroke") for path in paths(tree(what=all_layers()))
    }
    for layer in ("CUT", "PERFORATE", "SCORE_VALLEY", "SCORE_MOUNTAIN"):
        assert list(strokes.values()).count(strokes[layer]) == 1


def test_colours_can_be_chosen():
    options = with_colours(Options(), [(Layer.CUT, "#ff0000")])
    colours = {path.get("stroke") for path in paths(tree(options)) if "CUT" in path.get("id")}
    assert colours == {"#ff0000"}
    assert options.styles[Layer.MARK] == Options().styles[Layer.MARK]


def test_widths_and_dashes_are_scaled_to_the_user_unit():
    styles = {**Options().styles, Layer.CUT: Style("#000000", (2.54, 1.27), 25.4)}
    options = Options(user_unit=UserUnit.POINT, cue=Cue.COLOUR_AND_DASH, styles=styles)
    path = paths(tree(options))[-1]
    assert (path.get("stroke-width"), path.get("stroke-dasharray")) == ("72", "7.2 3.6")


def test_captions_are_text_at_their_place():
    (text,) = tree().iter(f"{SVG}text")
    assert text.text == "Page A"
    assert float(text.get("x")) == pytest.approx(2 * 96 / 25.4)
    assert float(text.get("y")) == pytest.approx(38 * 96 / 25.4)
    # a capital is about seven tenths of the font size (from memory)
    assert float(text.get("font-size")) * 0.7 == pytest.approx(3.5 * 96 / 25.4, rel=0.03)
    assert "transform" not in text.attrib


def test_a_caption_at_an_angle_is_the_one_thing_that_is_turned():
    caption = Caption(Layer.LABEL, "up", Point(25.4, 25.4), 3, angle_deg=90)
    root = tree(what=Drawing(50.8, 50.8, (Group("a", "A", (), (caption,)),)))
    assert next(root.iter(f"{SVG}text")).get("transform") == "rotate(-90 96 96)"


@pytest.mark.parametrize("size", [(0, 10), (10, -1), (math.nan, 5)])
def test_a_page_without_size_is_refused(size):
    with pytest.raises(UsageError):
        write_svg(Drawing(*size, ()))


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_a_number_that_is_none_is_our_defect(number):
    items = (Item(Layer.CUT, line((0, 0), (number, 1))),)
    with pytest.raises(Defect):
        write_svg(Drawing(10, 10, (Group("a", "A", items),)))


def test_an_arc_too_flat_to_be_seen_is_a_line():
    bent = Path((Vertex(0, 0, 1e-9), Vertex(10, 0)), closed=False)
    (path,) = paths(tree(what=Drawing(20, 20, (Group("a", "A", (Item(Layer.CUT, bent),)),))))
    assert "A" not in path.get("d")


def test_a_full_circle_is_two_half_arcs_whose_radius_any_reader_makes_fit():
    ring = Item(Layer.CUT, circle((50 * SEVENTH, 30 * SEVENTH), 10 * SEVENTH))
    (path,) = paths(tree(what=Drawing(20, 20, (Group("a", "A", (ring,)),))))
    words = re.findall(r"A(\S+) \S+ 0 0 0 ([^A ]+) ([^AZ ]+)", path.get("d"))
    assert len(words) == 2
    across = abs(float(words[0][1]) - float(words[1][1]))
    assert 0 <= across / 2 - float(words[0][0]) < 1.1e-7
