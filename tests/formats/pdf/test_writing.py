"""PDF at true size: pages, lines and layers, measured by libraries that the writer is not made of."""

import ctypes
import io
import math
import time

import pikepdf
import pytest

from dielines.drawing import PROCESSING_STEPS, Caption, Drawing, Group, Item, Layer
from dielines.errors import Defect, UsageError
from dielines.formats.choices import Choices, Reader
from dielines.formats.layer_words import TITLES
from dielines.formats.pdf import proved_pages, read_pages, write_pages
from dielines.formats.svg.options import USUAL_STYLES
from dielines.paths import Path, Point, Vertex, circle, length_of, line, rectangle

START, END = (25.4, 12.7), (110.0, 1000 / 7)
#: The keys and the groups without types, as the Arlington PDF Model has them
#: (tsv/latest/GTS_ProcStepsGroup.tsv, for ISO 19593-1).
GROUPS_WITH_TYPES = {"Structural", "Positions", "PlateMaking"}
STRUCTURAL_TYPES = {"Cutting", "Perforating", "Creasing", "ReverseCreasing", "Gluing"}


def drawing(*items: Item, captions: tuple[Caption, ...] = (), width: float = 123.825) -> Drawing:
    group = Group("a", "A", items, captions)
    return Drawing(width, 1000 / 7, (group,), title="Lake", description="Two parts")


def one_of_each() -> Drawing:
    return drawing(
        *(Item(layer, line((n, 0), (n, 10 * n))) for n, layer in enumerate(Layer, 1)),
    )


def opened(*drawings: Drawing, choices: Choices | None = None) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(write_pages(drawings, choices or Choices())))


def operations(pdf: pikepdf.Pdf) -> list[tuple[list, str]]:
    """Return what the first page does; *pdf* must not go before that is looked at."""
    words = pikepdf.parse_content_stream(pdf.pages[0])
    return [(list(operands), str(name)) for operands, name in words]


def test_page_and_lines_have_their_true_size_in_points():
    pdf = opened(drawing(Item(Layer.CUT, line(START, END))))
    # a point is 1/72 in; 4 7/8 in = 351 points
    assert [float(side) for side in pdf.pages[0].MediaBox] == pytest.approx(
        [0, 0, 351, 1000 / 7 / 25.4 * 72], abs=1e-6
    )
    places = [[float(n) for n in operands] for operands, name in operations(pdf) if name in "ml"]
    assert places == [
        pytest.approx([side / 25.4 * 72 for side in place], abs=1e-6) for place in (START, END)
    ]
    assert not [name for _, name in operations(pdf) if name == "cm"]


def test_each_layer_is_optional_content_with_its_processing_step():
    pdf = opened(one_of_each())
    groups = list(pdf.Root.OCProperties.OCGs)
    assert len(groups) == len(Layer)
    for group, layer in zip(groups, Layer, strict=True):
        step, kind = PROCESSING_STEPS[layer]
        told = {"/GTS_ProcStepsGroup": f"/{step}"}
        told |= {"/GTS_ProcStepsType": f"/{kind}"} if kind else {}
        assert {key: str(value) for key, value in group.GTS_Metadata.items()} == told
        assert str(group.Name) == TITLES[layer]
        assert group.Type == "/OCG"
        # a type stands exactly where the group has types
        assert ("/GTS_ProcStepsType" in group.GTS_Metadata) == (step in GROUPS_WITH_TYPES)
        assert kind is None or kind in STRUCTURAL_TYPES


def test_layers_are_on_and_listed_once_for_all_pages():
    pdf = opened(one_of_each(), drawing(Item(Layer.CUT, line(START, END))))
    properties = pdf.Root.OCProperties
    numbers = [group.objgen for group in properties.OCGs]
    assert len(set(numbers)) == len(Layer)
    assert [group.objgen for group in properties.D.Order] == numbers
    assert properties.D.BaseState == "/ON"
    for page in pdf.pages:
        assert page.Resources.Properties.CUT.objgen in numbers


def test_a_layer_that_is_not_used_is_not_listed():
    pdf = opened(drawing(Item(Layer.TAPE_REVERSE, line(START, END))))
    assert [str(group.Name) for group in pdf.Root.OCProperties.OCGs] == [TITLES[Layer.TAPE_REVERSE]]


def test_each_line_lies_on_its_layer():
    pdf = opened(one_of_each())
    marked: list[str] = []
    found: dict[str, float] = {}
    for operands, name in operations(pdf):
        if name == "BDC":
            marked.append(str(operands[1])[1:] if operands[0] == "/OC" else "")
        elif name == "EMC":
            marked.pop()
        elif name == "m":
            found[next(layer for layer in reversed(marked) if layer)] = float(operands[0])
    assert found == {
        layer.value: pytest.approx(n / 25.4 * 72, abs=1e-6) for n, layer in enumerate(Layer, 1)
    }
    assert not marked


def test_the_guide_has_dashes_of_true_length_and_the_cut_file_has_none():
    score = drawing(Item(Layer.SCORE_MOUNTAIN, line(START, END)))
    assert "d" not in [name for _, name in operations(opened(score))]
    pdf = opened(score, choices=Choices(reader=Reader.PEOPLE))
    (dashes,) = [operands for operands, name in operations(pdf) if name == "d"]
    wanted = [length / 25.4 * 72 for length in USUAL_STYLES[Layer.SCORE_MOUNTAIN].dashes]
    assert [float(length) for length in dashes[0]] == pytest.approx(wanted, abs=1e-6)


def test_colours_are_those_that_were_chosen():
    choices = Choices(colours=((Layer.CUT, "#33ff00"),))
    pdf = opened(drawing(Item(Layer.CUT, line(START, END))), choices=choices)
    (colour,) = [operands for operands, name in operations(pdf) if name == "RG"]
    assert [float(share) for share in colour] == pytest.approx([0.2, 1, 0])


def radii_of(pdf, centre: tuple[float, float]) -> list[float]:
    """Return how far every place on the page's curves lies from *centre*, mm."""
    here, radii = (0.0, 0.0), []
    for operands, name in operations(pdf):
        numbers = [float(n) / 72 * 25.4 for n in operands] if name in ("m", "l", "c") else []
        if name == "c":
            x, y = ([here[i], *numbers[i::2]] for i in (0, 1))
            for t in (n / 60 for n in range(61)):
                weights = [math.comb(3, k) * t**k * (1 - t) ** (3 - k) for k in range(4)]
                place = [sum(w * n for w, n in zip(weights, row, strict=True)) for row in (x, y)]
                radii.append(math.dist(place, centre))
        here = tuple(numbers[-2:]) or here
    return radii


@pytest.mark.parametrize("radius", [1 / 7, 25 / 3, 290.0, 4000.0])
def test_curves_keep_to_their_circle(radius):
    centre = (radius + 1 / 3, radius)
    pdf = opened(drawing(Item(Layer.CUT, circle(centre, radius)), width=9000.0))
    unit = int(pdf.pages[0].obj.get("/UserUnit", 1))
    radii = radii_of(pdf, tuple(side / unit for side in centre))
    assert len(radii) >= 4 * 61
    assert [min(radii) * unit, max(radii) * unit] == pytest.approx([radius, radius], abs=0.001)


def test_a_page_longer_than_viewers_take_has_larger_units():
    pdf = opened(drawing(Item(Layer.CUT, line(START, END)), width=6000.0))
    unit = int(pdf.pages[0].UserUnit)
    width = float(pdf.pages[0].MediaBox[2])
    assert width <= 14_400  # ISO 32000-1, annex C
    assert width * unit == pytest.approx(6000 / 25.4 * 72, abs=1e-4)


def test_printing_at_true_size_is_asked_for_and_the_title_is_shown():
    pdf = opened(drawing(Item(Layer.CUT, line(START, END))))
    assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle is True
    assert str(pdf.docinfo.Title) == "Lake"
    assert str(pdf.docinfo.Subject) == "Two parts"


def test_the_file_does_not_say_when_or_where_it_was_made():
    content = write_pages([one_of_each()], Choices())
    assert b"Date" not in content
    assert b"Producer" not in content
    assert content == write_pages([one_of_each()], Choices())


def number_of(pdf: pikepdf.Pdf) -> bytes:
    return bytes(pdf.trailer.ID[0])


def test_the_number_of_the_file_comes_from_what_is_in_it_and_from_no_clock():
    sheets = [one_of_each(), drawing(Item(Layer.CUT, line(START, END)))]
    first = [number_of(opened(sheet)) for sheet in sheets]
    time.sleep(1.1)  # a clock would have gone on by a second
    assert [number_of(opened(sheet)) for sheet in sheets] == first
    assert first[0] != first[1]


def test_the_file_is_in_order_by_another_program():
    assert opened(one_of_each(), one_of_each()).check_pdf_syntax() == []


def test_a_text_stands_where_it_should_and_keeps_what_the_font_lacks():
    caption = Caption(Layer.LABEL, "4 7/8\u2033 (caf\xe9) \u4e66", Point(30.0, 20.0), 3.5, 90.0)
    pdf = opened(drawing(captions=(caption,)))
    done = {name: operands for operands, name in operations(pdf)}
    assert [float(n) for n in done["Tm"]] == pytest.approx(
        [0, 1, -1, 0, 30 / 25.4 * 72, 20 / 25.4 * 72], abs=1e-6
    )
    # capitals of Helvetica are 718 of 1000 high (its published metrics)
    assert float(done["Tf"][1]) * 0.718 == pytest.approx(3.5 / 25.4 * 72, abs=1e-5)
    assert bytes(done["Tj"][0]) == b'4 7/8" (caf\xe9) ?'
    told = [
        operands[1] for operands, name in operations(pdf) if operands and operands[0] == "/Span"
    ]
    assert str(told[0].ActualText) == caption.text


@pytest.mark.parametrize("width", [0.0, -1.0, math.nan])
def test_a_page_without_a_size_is_refused(width):
    with pytest.raises(UsageError):
        write_pages([drawing(Item(Layer.CUT, line(START, END)), width=width)], Choices())


def test_no_page_at_all_is_refused():
    with pytest.raises(UsageError):
        write_pages([], Choices())


@pytest.mark.parametrize("number", [math.inf, math.nan])
def test_what_is_no_number_is_a_defect(number):
    with pytest.raises(Defect):
        write_pages([drawing(Item(Layer.CUT, line(START, (number, 1.0))))], Choices())


def test_every_page_is_proved(monkeypatch):
    sheets = [drawing(Item(Layer.CUT, line(START, (n + 1 / 3, 7.0)))) for n in range(3)]
    content = proved_pages("lake.pdf", sheets, Choices())
    assert [reading.drawing.groups for reading in read_pages(content, "x")] == [
        reading.drawing.groups for sheet in sheets
        for reading in read_pages(write_pages([sheet], Choices()), "x")
    ]  # fmt: skip
    shifted = drawing(Item(Layer.CUT, line(START, (2 + 1 / 3 + 0.002, 7.0))))
    monkeypatch.setattr(
        "dielines.formats.pdf.proving.write_pages",
        lambda drawings, choices: write_pages([*drawings[:2], shifted], choices),
    )
    with pytest.raises(Defect, match="page 3"):
        proved_pages("lake.pdf", sheets, Choices())


def test_another_engine_measures_pages_and_lines_as_they_were_drawn():
    pdfium = pytest.importorskip("pypdfium2")
    page = drawing(
        Item(Layer.CUT, rectangle(1 / 3, 1 / 7, 100 + 1 / 3, 90 + 1 / 7)),
        Item(Layer.CUT, Path((Vertex(10, 20, 1 / 7), Vertex(40 - 1 / 7, 20, 1 / 3)))),
        Item(Layer.SCORE_VALLEY, line(START, END)),
    )
    document = pdfium.PdfDocument(write_pages([page, one_of_each()], Choices()))
    assert len(document) == 2
    assert document[0].get_size() == pytest.approx((351, 1000 / 7 / 25.4 * 72), abs=1e-4)
    lengths = [
        length_in_points(pdfium.raw, thing.raw) / 72 * 25.4
        for thing in document[0].get_objects()
        if thing.type == pdfium.raw.FPDF_PAGEOBJ_PATH
    ]
    wanted = [length_of(item.path) for item in page.items()]
    # it keeps places in single precision
    assert sorted(lengths) == pytest.approx(sorted(wanted), abs=0.001)


def length_in_points(raw, path) -> float:
    """Return how long the lines and curves of a path object are."""
    x, y = ctypes.c_float(), ctypes.c_float()
    places: list[tuple[float, float]] = []
    total, controls, start = 0.0, [], (0.0, 0.0)
    for i in range(raw.FPDFPath_CountSegments(path)):
        segment = raw.FPDFPath_GetPathSegment(path, i)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        place, kind = (x.value, y.value), raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_BEZIERTO:
            controls.append(place)
            if len(controls) < 3:
                continue
            corners = [places[-1], *controls]
            steps = [bezier(corners, n / 200) for n in range(201)]
            total += sum(map(math.dist, steps, steps[1:]))
            controls = []
        elif kind == raw.FPDF_SEGMENT_LINETO:
            total += math.dist(places[-1], place)
        else:
            start = place
        places.append(place)
        if raw.FPDFPathSegment_GetClose(segment):
            total += math.dist(place, start)
    return total


def bezier(corners, t):
    weights = [math.comb(3, k) * t**k * (1 - t) ** (3 - k) for k in range(4)]
    return tuple(sum(w * c[i] for w, c in zip(weights, corners, strict=True)) for i in (0, 1))
