"""Cut files are as the person's machine wants them; guides hold every layer for people."""

from dataclasses import replace
from fractions import Fraction

import pytest

from dielines.drawing import Drawing, Group, Item, Layer
from dielines.formats.choices import Grouping
from dielines.formats.compare import compare
from dielines.formats.kinds import machine_formats
from dielines.lengths import millimetres
from dielines.machine_files import choices_of, cut_drawing, proved_files, sheet_files
from dielines.paths import length_of, line, rectangle
from dielines.turning import turned_over
from dielines.workshop import machine as workshop
from dielines.workshop.loading import typical_workshop
from dielines.workshop.machine_entry import DXF_VERSIONS

MACHINE = typical_workshop("mm").machine
TWO_TOOLS = replace(MACHINE, shares_scoring_tool=False)
THIRD = Fraction(1, 3)
PAGE = Drawing(
    100.0,
    80.0,
    (
        Group(
            "page",
            "Page",
            (
                Item(Layer.TAPE_FACE, rectangle(1, 1, 9, 79), "tape"),
                Item(Layer.CUT, rectangle(0, 0, 100, 80), "outline"),
                Item(Layer.SCORE_VALLEY, line((10 * THIRD, 0), (10 * THIRD, 80)), "left"),
                Item(Layer.SCORE_MOUNTAIN, line((90, 0), (90, 80)), "right"),
                Item(Layer.MARK, line((50, 0), (50, 5)), "middle"),
            ),
        ),
    ),
    metadata=(("template", "side-pocket"),),
)


def layers(drawing: Drawing) -> list[Layer]:
    return [item.layer for item in drawing.items()]


def test_a_machine_gets_what_it_acts_on_and_people_get_all():
    files = {file.name: file for file in proved_files("lake", PAGE, TWO_TOOLS)}
    assert sorted(files) == [
        "lake.cut.dxf", "lake.cut.svg", "lake.guide.dxf", "lake.guide.svg",
    ]  # fmt: skip
    assert files["lake.cut.svg"].paths == 3
    assert files["lake.guide.svg"].paths > 5
    assert all(file.deviation <= 0.001 for file in files.values())


def test_a_machine_that_reads_one_format_gets_one_and_people_get_all():
    names = [f.name for f in proved_files("lake", PAGE, replace(MACHINE, reads=("dxf",)))]
    assert sorted(names) == ["lake.cut.dxf", "lake.guide.dxf", "lake.guide.svg"]


def test_with_one_scoring_tool_both_scores_are_on_one_layer():
    cut = cut_drawing(PAGE, MACHINE)
    assert layers(cut) == [Layer.CUT, Layer.SCORE_VALLEY, Layer.SCORE_VALLEY]
    assert dict(cut.metadata)["scoring"] == "one tool for valley and mountain"


def test_with_two_scoring_tools_valley_and_mountain_stay_apart():
    cut = cut_drawing(PAGE, TWO_TOOLS)
    assert layers(cut) == [Layer.CUT, Layer.SCORE_VALLEY, Layer.SCORE_MOUNTAIN]
    assert dict(cut.metadata)["scoring"] == "two tools"


def test_without_a_scoring_tool_scores_are_cut_as_dashes():
    dashes = workshop.Dashes(millimetres(3), millimetres(1), millimetres("1/2"))
    machine = replace(MACHINE, scoring=workshop.Scoring.DASHES, dashes=dashes)
    cut = cut_drawing(PAGE, machine)
    pieces = [item.path for item in cut.items() if item.name == "left"]
    assert {item.layer for item in cut.items()} == {Layer.CUT, Layer.PERFORATE}
    assert len(pieces) == 20  # 79 mm hold 20 dashes of 3 and 19 gaps of 1
    assert [length_of(piece) for piece in pieces] == pytest.approx([3.0] * 20)
    assert dict(cut.metadata)["scoring"] == "cut 3 mm, leave 1 mm"


def test_scores_by_hand_are_not_in_the_cut_file():
    cut = cut_drawing(PAGE, replace(MACHINE, scoring=workshop.Scoring.NONE))
    assert layers(cut) == [Layer.CUT]
    assert dict(cut.metadata)["scoring"] == "by hand"


@pytest.mark.parametrize(
    "machine",
    [MACHINE, TWO_TOOLS, replace(MACHINE, scoring=workshop.Scoring.DASHES),
     replace(MACHINE, layers=("SCORE_MOUNTAIN", "CUT")),
     replace(MACHINE, layers=("SCORE_VALLEY", "CUT"), scoring=workshop.Scoring.DASHES)],
    ids=["one tool", "two tools", "dashes", "mountain only", "valley only, dashes"],
)  # fmt: skip
def test_what_holds_the_sheet_together_is_cut_last(machine):
    order = choices_of(machine).layer_order
    found = {layer for layer in layers(cut_drawing(PAGE, machine)) if layer is not Layer.CUT}
    assert found
    assert all(order.index(layer) < order.index(Layer.CUT) for layer in found)


def test_with_the_reverse_up_the_drawing_is_turned_over():
    cut = cut_drawing(PAGE, replace(TWO_TOOLS, side_up="reverse"))
    turned = turned_over(PAGE)
    assert not cut.face_up
    assert [item.path for item in cut.items()] == [
        item.path for item in turned.items() if item.layer in set(layers(cut))
    ]
    assert {item.name: item.layer for item in cut.items()}["left"] is Layer.SCORE_MOUNTAIN


@pytest.mark.parametrize("kind", machine_formats(), ids=lambda kind: kind.name)
@pytest.mark.parametrize("side", ["face", "reverse"])
def test_the_file_says_which_side_lies_up_and_keeps_its_metadata(kind, side):
    cut = cut_drawing(PAGE, replace(MACHINE, side_up=side))
    read = kind.read(kind.write(cut, choices_of(MACHINE)), "x").drawing
    assert read.face_up is (side == "face")
    assert dict(read.metadata).items() >= {
        ("template", "side-pocket"),
        ("scoring", "one tool for valley and mountain"),
        ("size-mm", "100 x 80"),
    }


@pytest.mark.parametrize("version", DXF_VERSIONS)
@pytest.mark.parametrize("units", [72, 96])
@pytest.mark.parametrize("grouping", workshop.Grouping, ids=lambda way: way.value)
def test_whatever_the_machine_entry_may_say_can_be_written(version, units, grouping):
    machine = replace(
        MACHINE,
        dxf_version=version,
        svg_units_per_inch=units,
        grouping=grouping,
        colours={"CUT": "#102030"},
    )
    files = [f for f in proved_files("lake", PAGE, machine) if ".cut." in f.name]
    for file, kind in zip(files, machine_formats(), strict=True):
        reading = kind.read(file.content, file.name)
        assert compare(cut_drawing(PAGE, machine), reading.drawing).is_equal(0.001)
    choices = choices_of(machine)
    assert choices.colours == ((Layer.CUT, "#102030"),)
    assert (choices.svg_units_per_inch, choices.dxf_version) == (units, version)


def test_the_groupings_of_the_machine_entry_are_those_of_the_files():
    ways = [choices_of(replace(MACHINE, grouping=way)).grouping for way in workshop.Grouping]
    assert set(ways) == set(Grouping)


def test_the_layers_of_the_machine_entry_are_those_of_drawings():
    assert list(workshop.LAYERS) == [layer.value for layer in Layer]


def test_a_sheet_has_cut_files_in_what_the_machine_reads_and_no_guide():
    files = sheet_files("sheet-1", PAGE, replace(MACHINE, reads=("dxf", "svg")))
    assert [file.name for file in files] == ["sheet-1.cut.dxf", "sheet-1.cut.svg"]
    assert [(file.paths, file.width, file.height) for file in files] == [(3, 100, 80)] * 2
    assert all(file.deviation <= 0.001 for file in files)
