"""PDF files of other programs, and files that are meant to do harm."""

import io
import re
import subprocess
import sys
import zlib
from contextlib import suppress

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Stream

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.errors import ForeignFileError
from dielines.formats.choices import Choices, Grouping, Reader
from dielines.formats.compare import compare, without_layers
from dielines.formats.look import Evidence, look, with_true_size
from dielines.formats.pdf import proved_pages, read_pages, write_pages
from dielines.formats.pdf.bounds import MAX_STEPS, MAX_TOKENS, Allowance
from dielines.formats.pdf.reading import read_pdf
from dielines.formats.svg.writing import write_svg
from dielines.paths import (
    Path,
    Point,
    Vertex,
    arc_of,
    bounds_of,
    circle,
    length_of,
    line,
)
from dielines.proof_piece import proof_piece

MM = 25.4 / 72  #: a point


def file_of(content: bytes, resources: dict | None = None, filter_name: str = "", **page) -> bytes:
    """Return a file of one page with that content, as another program might write it."""
    pdf = pikepdf.new()
    stream = Stream(pdf, content)
    if filter_name:
        stream = pdf.make_stream(content)
        stream.write(content, filter=Name(filter_name))
    box = page.pop("MediaBox", [0, 0, 720, 360])
    entries = {"/Type": Name.Page, "/MediaBox": Array(box), "/Contents": stream}
    entries["/Resources"] = Dictionary(resources or {})
    entries |= {f"/{key}": value for key, value in page.items()}
    pdf.pages.append(pikepdf.Page(pdf.make_indirect(Dictionary(entries))))
    return saved(pdf)


def saved(pdf: pikepdf.Pdf, **how) -> bytes:
    content = io.BytesIO()
    pdf.save(content, **how)
    return content.getvalue()


def items_of(content: bytes, **page) -> list[Item]:
    return list(read_pdf(file_of(content, **page), "theirs").drawing.items())


def codes_of(content: bytes) -> set[str]:
    with pytest.raises(ForeignFileError) as caught:
        read_pdf(content, "theirs")
    return {fault.code for fault in caught.value.faults}


def box_of(item: Item) -> tuple[float, ...]:
    return tuple(float(side) / MM for side in bounds_of([item.path]))


def test_a_rectangle_is_closed_and_lies_where_the_matrix_takes_it():
    (item,) = items_of(b"q 2 0 0 3 10 20 cm 1 2 5 7 re S Q")
    assert item.path.closed
    assert len(item.path.vertices) == 4
    assert box_of(item) == pytest.approx((12, 26, 22, 47))


def test_saved_states_come_back():
    first, second = items_of(b"q 5 0 0 5 0 0 cm 0 0 m 1 1 l S Q 0 0 m 1 1 l S")
    assert box_of(first)[2:] == pytest.approx((5, 5))
    assert box_of(second)[2:] == pytest.approx((1, 1))


@pytest.mark.parametrize(
    ("painting", "is_closed", "count"),
    [("S", False, 1), ("s", True, 1), ("h S", True, 1), ("f", True, 1), ("f*", True, 1),
     ("B", False, 1), ("b", True, 1), ("n", False, 0)],
)  # fmt: skip
def test_what_is_painted_counts_and_what_is_not_does_not(painting, is_closed, count):
    items = items_of(f"0 0 m 30 0 l 30 40 l {painting}".encode())
    assert [item.path.closed for item in items] == [is_closed] * count


def test_several_paths_of_one_painting_are_several():
    items = items_of(b"0 0 m 9 0 l 9 9 l h 20 20 m 30 30 l 50 50 10 10 re S")
    assert [item.path.closed for item in items] == [True, False, True]


def test_what_is_drawn_on_after_closing_begins_where_the_path_began():
    _, second = items_of(b"3 4 m 9 0 l 9 9 l h 20 20 l S")
    assert [tuple(point) for point in second.path.points] == [
        pytest.approx((3 * MM, 4 * MM)), pytest.approx((20 * MM, 20 * MM)),
    ]  # fmt: skip


def test_a_circle_of_four_curves_is_two_arcs():
    k = 0.5522847498
    content = (
        f"110 60 m 110 {60 + 50 * k} {60 + 50 * k} 110 60 110 c "
        f"{60 - 50 * k} 110 10 {60 + 50 * k} 10 60 c 10 {60 - 50 * k} {60 - 50 * k} 10 60 10 c "
        f"{60 + 50 * k} 10 110 {60 - 50 * k} 110 60 c s"
    )
    ((item),) = items_of(content.encode())
    assert [abs(float(vertex.bulge)) for vertex in item.path.vertices] == pytest.approx([1, 1])
    for segment in item.path.segments():
        assert arc_of(segment).centre == pytest.approx((60 * MM, 60 * MM), abs=1e-5)


def test_a_curve_that_is_no_arc_becomes_chords_that_keep_to_it():
    content = b"0 0 m 0 100 200 -50 200 80 c S"
    (item,) = items_of(content)
    assert all(vertex.bulge == 0 for vertex in item.path.vertices)
    corners = [(0, 0), (0, 100), (200, -50), (200, 80)]
    for n in range(101):
        t = n / 100
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        x, y = (sum(w * c[i] * MM for w, c in zip(weights, corners, strict=True)) for i in (0, 1))
        assert distance_to(item.path, x, y) < 0.011


def distance_to(path: Path, x: float, y: float) -> float:
    import shapely

    return shapely.LineString(path.points).distance(shapely.Point(x, y))


def test_curves_may_leave_out_a_handle():
    (short,) = items_of(b"10 10 m 40 80 90 90 v S")
    (long,) = items_of(b"10 10 m 10 10 40 80 90 90 c S")
    assert short.path == long.path
    (short,) = items_of(b"10 10 m 40 80 90 90 y S")
    (long,) = items_of(b"10 10 m 40 80 90 90 90 90 c S")
    assert short.path == long.path


def test_lines_without_length_are_left_out():
    (item,) = items_of(b"3 4 m 3 4 l 9 9 l 9 9 l S 5 5 m 5 5 l S")
    assert len(item.path.vertices) == 2


def test_a_straight_curve_is_a_line():
    (item,) = items_of(b"0 0 m 30 10 60 20 90 30 c S")
    assert len(item.path.vertices) == 2


def test_the_crop_box_and_the_unit_of_the_page_count():
    reading = read_pdf(
        file_of(b"110 220 m 120 220 l S", CropBox=Array([100, 200, 300, 260]), UserUnit=2,
                MediaBox=[0, 0, 1000, 1000]), "x",
    )  # fmt: skip
    assert (reading.drawing.width, reading.drawing.height) == pytest.approx((400 * MM, 120 * MM))
    (item,) = reading.drawing.items()
    assert box_of(item) == pytest.approx((20, 40, 40, 40))
    assert reading.units_per_mm == pytest.approx(72 / 25.4 / 2)


@pytest.mark.parametrize(
    ("turn", "size", "corner"),
    [(0, (720, 360), (10, 20)), (90, (360, 720), (20, 710)), (180, (720, 360), (710, 340)),
     (270, (360, 720), (340, 10)), (-90, (360, 720), (340, 10)), (450, (360, 720), (20, 710))],
)  # fmt: skip
def test_a_turned_page_is_read_as_it_is_shown(turn, size, corner):
    reading = read_pdf(file_of(b"10 20 m 10 20 l 15 20 l S", Rotate=turn), "x")
    assert (reading.drawing.width / MM, reading.drawing.height / MM) == pytest.approx(size)
    first = reading.drawing.items()[0].path.vertices[0]
    assert (first.x / MM, first.y / MM) == pytest.approx(corner)
    assert ("turned-page" in reading.remark_codes()) == (turn % 360 != 0)


def layer(name: str, *step: str, pdf=None) -> Dictionary:
    made = Dictionary({"/Type": Name.OCG, "/Name": name})
    if step:
        keys = ("/GTS_ProcStepsGroup", "/GTS_ProcStepsType")
        made["/GTS_Metadata"] = Dictionary(
            {key: Name(f"/{word}") for key, word in zip(keys, step, strict=False)}
        )
    return made


@pytest.mark.parametrize(
    ("group", "wanted", "source"),
    [
        (layer("die", "Structural", "Cutting"), Layer.CUT, "die"),
        (layer("rill", "Structural", "Creasing"), Layer.SCORE_VALLEY, "rill"),
        (layer("back", "Structural", "ReverseCreasing"), Layer.SCORE_MOUNTAIN, "back"),
        (layer("p", "Structural", "Perforating"), Layer.PERFORATE, "p"),
        (
            layer("Tape on the side that lies down", "Structural", "Gluing"),
            Layer.TAPE_REVERSE,
            "Tape",
        ),
        (layer("glue", "Structural", "Gluing"), Layer.TAPE_FACE, "glue"),
        (layer("legend", "Legend"), Layer.MARK, "legend"),
        (layer("Label", "Legend"), Layer.LABEL, "Label"),
        (layer("cut"), Layer.CUT, "cut"),
        (layer("CUT", "Varnish"), None, "CUT"),
        (layer("cut", "Structural", "Bleed"), None, "cut"),
        (layer("Cut", "Structural", "Creasing"), Layer.SCORE_VALLEY, "Cut"),
        (layer("artwork"), None, "artwork"),
    ],
    ids=lambda value: str(value)[:20] if isinstance(value, str) else None,
)
def test_the_processing_step_says_the_layer_and_the_name_where_there_is_none(group, wanted, source):
    content = file_of(b"/OC /L BDC 0 0 m 9 9 l S EMC", {"/Properties": Dictionary({"/L": group})})
    reading = read_pdf(content, "x")
    (item,) = reading.drawing.items()
    assert item.layer is (wanted or Layer.MARK)
    assert reading.source_layers[0].startswith(source)
    assert ("unknown-layer" in reading.remark_codes()) == (wanted is None)


def with_layers(hidden: str) -> bytes:
    pdf = pikepdf.open(io.BytesIO(write_pages([proof_piece()], Choices())))
    for group in pdf.Root.OCProperties.OCGs:
        if str(group.Name) == hidden:
            pdf.Root.OCProperties.D.OFF = Array([group])
    return saved(pdf)


def test_a_hidden_layer_is_left_out_and_told():
    reading = read_pdf(with_layers("Cut"), "x")
    assert Layer.CUT not in {item.layer for item in reading.drawing.items()}
    assert "hidden-left-out" in reading.remark_codes()
    assert "hidden-left-out" not in read_pdf(with_layers("none"), "x").remark_codes()


def test_a_file_whose_layers_are_off_unless_told_shows_those_that_are_told():
    pdf = pikepdf.open(io.BytesIO(write_pages([proof_piece()], Choices())))
    usual = pdf.Root.OCProperties.D
    usual.BaseState = Name.OFF
    usual.ON = Array([g for g in pdf.Root.OCProperties.OCGs if str(g.Name) == "Cut"])
    reading = read_pdf(saved(pdf), "x")
    assert {item.layer for item in reading.drawing.items()} == {Layer.CUT}


def file_with_form(content: bytes, inner: bytes, **entries) -> bytes:
    pdf = pikepdf.new()
    stream = pdf.make_stream(inner)
    stream["/Type"], stream["/Subtype"] = Name.XObject, Name.Form
    stream["/BBox"] = Array([0, 0, 999, 999])
    for key, value in entries.items():
        stream[f"/{key}"] = value
    page = Dictionary({
        "/Type": Name.Page, "/MediaBox": Array([0, 0, 720, 360]), "/Contents": pdf.make_stream(content),
        "/Resources": Dictionary({"/XObject": Dictionary({"/F": stream})}),
    })  # fmt: skip
    pdf.pages.append(pikepdf.Page(pdf.make_indirect(page)))
    return saved(pdf)


def test_a_form_is_drawn_where_both_matrices_take_it_and_on_its_layer():
    content = file_with_form(
        b"q 2 0 0 2 5 5 cm /F Do Q /F Do", b"0 0 m 10 20 l S",
        Matrix=Array([1, 0, 0, 1, 100, 0]), OC=layer("die", "Structural", "Cutting"),
    )  # fmt: skip
    first, second = read_pdf(content, "x").drawing.items()
    assert box_of(first) == pytest.approx((205, 5, 225, 45))
    assert box_of(second) == pytest.approx((100, 0, 110, 20))
    assert first.layer is Layer.CUT


def test_a_form_that_holds_itself_is_refused():
    pdf = pikepdf.open(io.BytesIO(file_with_form(b"/F Do", b"/F Do /F Do")))
    stream = pdf.pages[0].Resources.XObject.F
    stream["/Resources"] = Dictionary({"/XObject": Dictionary({"/F": stream})})
    assert codes_of(saved(pdf)) == {"too-deep"}


@pytest.mark.parametrize(
    ("little", "code"),
    [({"tokens": 9000}, "too-much-content"), ({"steps": 900}, "too-much-path"),
     ({"content": 60_000}, "too-large")],
)  # fmt: skip
def test_forms_that_multiply_are_refused(monkeypatch, little, code):
    pdf = pikepdf.open(io.BytesIO(file_with_form(b"/F Do", b"0 0 m 9 9 l S " * 400)))
    stream = pdf.pages[0].Resources.XObject.F
    for _ in range(12):
        outer = pdf.make_stream(b"/F Do " * 20)
        outer["/Type"], outer["/Subtype"] = Name.XObject, Name.Form
        outer["/Resources"] = Dictionary({"/XObject": Dictionary({"/F": stream})})
        stream = outer
    pdf.pages[0].Resources.XObject.F = stream
    monkeypatch.setattr("dielines.formats.pdf.reading.Allowance", lambda: Allowance(**little))
    assert codes_of(saved(pdf)) == {code}


def test_the_bounds_that_are_used_are_finite():
    assert (Allowance().tokens, Allowance().steps) == (MAX_TOKENS, MAX_STEPS)
    assert MAX_STEPS < MAX_TOKENS < 10**7


def test_texts_and_pictures_are_left_out_and_told():
    reading = read_pdf(
        file_of(b"BT /F 12 Tf (x) Tj ET BI /W 1 /H 1 ID x EI /Im Do 0 0 9 9 re W n 1 1 m 2 2 l S"),
        "x",
    )
    assert reading.remark_codes() == {
        "text-left-out", "picture-left-out", "broken-reference", "clipping-left-out", "unknown-layer",
    }  # fmt: skip
    assert len(reading.drawing.items()) == 1


def test_content_that_breaks_off_is_read_so_far():
    reading = read_pdf(file_of(b"1 1 m 9 9 l S 2 2 m (never ends"), "x")
    assert len(reading.drawing.items()) == 1
    assert "broken-content" in reading.remark_codes()


@pytest.mark.parametrize("content", [b"1 m S", b"/a /b m S", b"1 2 3 c S", b"1 cm S", b"(x) Tf"])
def test_operators_without_their_numbers_are_told(content):
    assert "broken-content" in read_pdf(file_of(content), "x").remark_codes()


def test_pages_in_several_streams_are_read_as_one():
    pdf = pikepdf.open(io.BytesIO(file_of(b"")))
    pdf.pages[0].Contents = Array([pdf.make_stream(part) for part in (b"1 1 m", b"9 9 l", b"S")])
    (item,) = read_pdf(saved(pdf), "x").drawing.items()
    assert box_of(item) == pytest.approx((1, 1, 9, 9))


@pytest.mark.parametrize(
    "how",
    [{"compress_streams": True, "object_stream_mode": pikepdf.ObjectStreamMode.generate},
     {"linearize": True}, {"qdf": True}, {"min_version": "2.0"}],
    ids=["packed", "linear", "plain", "2.0"],
)  # fmt: skip
def test_our_files_saved_again_by_another_program_read_the_same(how):
    ours = write_pages([proof_piece()], Choices(reader=Reader.PEOPLE))
    again = saved(pikepdf.open(io.BytesIO(ours)), **how)
    assert again != ours
    assert read_pdf(again, "x").drawing == read_pdf(ours, "x").drawing


def test_what_a_graphics_library_prints_is_read_to_the_precision_that_it_keeps():
    surface = pytest.importorskip("cairosvg.surface")
    piece = proof_piece()
    printed = surface.PDFSurface.convert(bytestring=write_svg(piece).encode())
    reading = read_pdf(printed, "x")
    result = compare(without_layers(piece), without_layers(reading.drawing))
    assert result.is_equal(0.01)  # cairo keeps places to a 256th of a point
    assert reading.drawing.width == pytest.approx(piece.width, abs=0.001)


def test_what_a_map_library_prints_is_read_with_its_layers(tmp_path):
    pyogrio = pytest.importorskip("pyogrio")
    shapely = pytest.importorskip("shapely")
    numpy = pytest.importorskip("numpy")
    file = tmp_path / "map.pdf"
    lines = shapely.to_wkb(numpy.array([shapely.LineString([(0, 0), (300, 50)])]))
    how = {"geometry_type": "LineString", "driver": "PDF", "layer": "cut", "crs": "EPSG:3857"}
    pyogrio.raw.write(file, lines, [], [], **how)
    reading = read_pdf(file.read_bytes(), "x")
    assert Layer.CUT in {item.layer for item in reading.drawing.items()}


def test_a_caption_comes_back_with_its_place_size_and_angle():
    texts = [("4 7/8″", 0.0), ("(café)", 90.0), ("书", -33.3), ("back\\slash", 180.0)]
    captions = tuple(
        Caption(Layer.LABEL, text, Point(20 + 100 / 7, 30 + n / 3), 2.5 + n / 7, angle)
        for n, (text, angle) in enumerate(texts)
    )
    drawing = Drawing(210, 297, (Group("a", "A", (), captions),))
    (group,) = read_pdf(write_pages([drawing], Choices()), "x").drawing.groups
    for ours, theirs in zip(captions, group.captions, strict=True):
        assert (theirs.text, theirs.layer) == (ours.text, ours.layer)
        assert theirs.at == pytest.approx(ours.at, abs=1e-5)
        assert theirs.height == pytest.approx(ours.height, abs=1e-5)
        assert theirs.angle_deg == pytest.approx(ours.angle_deg, abs=0.01)


def test_arcs_come_back_as_the_arcs_they_were():
    lens = Path((Vertex(10 + 1 / 3, 20, 1 / 7), Vertex(40 - 1 / 7, 20, 1 / 3)))
    large = Path((Vertex(5, 5, -2.5), Vertex(90, 40, 0.0), Vertex(120, 8)), closed=False)
    shallow = Path((Vertex(0, 0, 1e-5), Vertex(280, 1 / 7)), closed=False)
    paths = (lens, large, shallow, circle((70 + 1 / 7, 80 + 1 / 3), 290.0), circle((50, 50), 1 / 7))
    drawing = Drawing(900, 900, (Group("a", "A", tuple(Item(Layer.CUT, path) for path in paths)),))
    read = read_pdf(write_pages([drawing], Choices()), "x").drawing
    assert compare(drawing, read).is_equal(1e-4)
    for path, item in zip(paths, read.items(), strict=True):
        assert length_of(item.path) == pytest.approx(length_of(path), abs=1e-4)
        pieces = 2 if path is large else 1  # more than half a circle comes back as two arcs
        bends = [v for v in item.path.vertices if v.bulge]
        assert len(bends) <= pieces * sum(bool(v.bulge) for v in path.vertices)


def test_an_open_path_that_ends_where_it_starts_stays_open():
    ring = Path(tuple(Vertex(*place) for place in ((1, 1), (9, 1), (9, 9), (1, 1))), closed=False)
    drawing = Drawing(20, 20, (Group("a", "A", (Item(Layer.CUT, ring),)),))
    (item,) = read_pdf(write_pages([drawing], Choices()), "x").drawing.items()
    assert not item.path.closed
    assert len(item.path.vertices) == 4


@pytest.mark.parametrize("grouping", Grouping)
def test_paths_keep_their_order_within_their_layer(grouping):
    items = tuple(
        Item((Layer.CUT, Layer.MARK)[n % 2], line((n, 0), (n, 5)), f"{n}") for n in range(7)
    )
    drawing = Drawing(20, 20, (Group("a", "A", items),))
    read = read_pdf(write_pages([drawing], Choices(grouping=grouping)), "x").drawing
    for each in (Layer.CUT, Layer.MARK):
        names = [item.name for item in read.items() if item.layer is each]
        assert names == [item.name for item in items if item.layer is each]


def test_of_several_pages_the_first_is_read_and_the_others_are_told():
    sheets = [proof_piece(), Drawing(10, 10, ())]
    content = write_pages(sheets, Choices())
    reading = read_pdf(content, "x")
    assert "several-pages" in reading.remark_codes()
    assert compare(proof_piece(), reading.drawing).is_equal(0.001)
    pages = read_pages(content, "x")
    assert [page.drawing.width for page in pages] == pytest.approx([proof_piece().width, 10])
    assert all("several-pages" not in page.remark_codes() for page in pages)


def test_a_file_that_says_its_size_and_has_another_is_doubted():
    content = write_pages([with_true_size(proof_piece())], Choices())
    assert look(read_pdf(content, "x")).is_size_proved
    pdf = pikepdf.open(io.BytesIO(content))
    pdf.pages[0].UserUnit = 2
    report = look(read_pdf(saved(pdf), "x"))
    assert [(s.evidence, s.factor) for s in report.suspicions] == [
        (Evidence.TRUE_SIZE, pytest.approx(2))
    ]


def test_a_locked_file_is_told():
    pdf = pikepdf.open(io.BytesIO(write_pages([proof_piece()], Choices())))
    assert codes_of(saved(pdf, encryption=pikepdf.Encryption(user="secret", owner="x"))) == {
        "locked"
    }


def bomb(megabytes: int, head: bytes = b"") -> bytes:
    """Return a packed stream of *head* and that many MB of spaces; its check sum is wrong."""
    packer = zlib.compressobj(9)
    start = packer.compress(head) + packer.flush(zlib.Z_FULL_FLUSH)
    block = packer.compress(b" " * 10**6) + packer.flush(zlib.Z_FULL_FLUSH)
    return start + block * megabytes


def file_with_stream(packed: bytes, packing) -> bytes:
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(72, 72))
    stream = pdf.make_stream(b"")
    stream.write(packed, filter=packing)
    pdf.pages[0].Contents = stream
    return saved(pdf, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)


def peak_of(work) -> float:
    """Return by how many MB the largest memory of this process grew meanwhile."""
    import resource

    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    work()
    return (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024


def test_content_that_unpacks_to_gigabytes_is_refused_without_them():
    content = file_with_stream(bomb(2000), Name.FlateDecode)
    assert len(content) < 3 * 10**6
    assert peak_of(lambda: codes_of(content)) < 200
    assert codes_of(content) & {"too-large", "damaged"}


def test_content_that_is_packed_twice_is_refused_as_well():
    content = file_with_stream(
        zlib.compress(bomb(1000)), Array([Name.FlateDecode, Name.FlateDecode])
    )
    assert peak_of(lambda: codes_of(content)) < 200


def test_many_pages_of_the_same_large_content_are_refused():
    pdf = pikepdf.new()
    stream = pdf.make_stream(b"% " + b" " * 9 * 10**6)
    for _ in range(30):
        pdf.add_blank_page(page_size=(72, 72))
        pdf.pages[-1].Contents = stream
    content = saved(pdf, compress_streams=True)
    with pytest.raises(ForeignFileError) as caught:
        read_pages(content, "x")
    assert {fault.code for fault in caught.value.faults} == {"too-large"}


def test_objects_that_unpack_to_gigabytes_are_refused_without_them():
    plain = saved(
        pikepdf.open(io.BytesIO(write_pages([proof_piece()], Choices()))),
        object_stream_mode=pikepdf.ObjectStreamMode.generate, compress_streams=True,
    )  # fmt: skip
    start = plain.index(b"/ObjStm")
    begin = plain.index(b"stream", start) + 7
    length = int(plain[plain.rindex(b"/Length ", 0, begin) + 8 : begin].split()[0])
    packed = plain[begin : begin + length]
    swollen = bomb(1000, zlib.decompress(packed))
    head = plain[:begin].replace(b"/Length %d" % length, b"/Length %d" % len(swollen))
    content = head + swollen + plain[begin + length :]
    assert peak_of(lambda: tried(content)) < 200


def tried(content: bytes) -> None:
    with suppress(ForeignFileError):
        read_pdf(content, "x")


@pytest.mark.parametrize("packing", ["LZWDecode", "DCTDecode", "JBIG2Decode"])
def test_content_that_is_packed_in_other_ways_is_told(packing):
    assert codes_of(file_with_stream(b"xx", Name(f"/{packing}"))) == {"packed-otherwise"}


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"q " * 600, "too-deep"),
        (b"/A BMC " * 600, "too-deep"),
        (b"0 0 m 9999999999 0 l S", "number-out-of-range"),
        (b"99999 0 0 99999 0 0 cm 99999 0 m 0 0 l S", "number-out-of-range"),
    ],
    ids=["states", "marks", "far", "scaled"],
)
def test_content_beyond_a_bound_is_refused(content, code):
    assert codes_of(file_of(content)) == {code}


def test_a_loop_of_pages_is_refused():
    pdf = pikepdf.open(io.BytesIO(write_pages([proof_piece()], Choices())))
    pdf.Root.Pages.Kids = Array([pdf.Root.Pages, pdf.Root.Pages])
    assert codes_of(saved(pdf)) & {"damaged", "no-page"}


def test_lists_within_lists_within_lists_are_refused():
    content = write_pages([proof_piece()], Choices())
    deep = content.replace(b"/Lang (en)", b"/Lang (en) /X " + b"[" * 9000 + b"]" * 9000)
    assert deep != content
    tried(deep)


@pytest.mark.parametrize("box", [[0, 0, 0, 0], [0, 0, 1e12, 5], [0, 0, 9, 1e-9]])
def test_a_page_without_a_usable_size_is_refused(box):
    assert codes_of(file_of(b"", MediaBox=box)) & {"bad-page", "damaged"}


def test_more_pages_than_the_bound_are_refused(monkeypatch):
    monkeypatch.setattr("dielines.formats.pdf.reading.Allowance", lambda: Allowance(pages=2))
    for count, codes in ((2, set()), (3, {"too-many-pages"})):
        content = write_pages([proof_piece()] * count, Choices())
        assert (codes_of(content) if codes else (tried(content), set())[1]) == codes


def test_our_own_files_are_proved_however_large_they_are(monkeypatch):
    tiny = {"size": 9, "pages": 1, "content": 9, "tokens": 9, "steps": 9}
    monkeypatch.setattr("dielines.formats.pdf.reading.Allowance", lambda: Allowance(**tiny))
    content = proved_pages("x", [proof_piece()] * 3, Choices())
    with pytest.raises(ForeignFileError):
        read_pages(content, "x")


def test_a_file_larger_than_the_bound_is_refused():
    assert codes_of(b"%PDF-1.7\n" + b" " * 20_000_001) == {"too-large"}


def test_limits_of_the_library_are_as_before_after_reading():
    from pikepdf.settings import get_qpdf_limits, set_qpdf_limits

    usual = set_qpdf_limits(flate_max_memory=123_456_789, parser_max_nesting=77)
    try:
        before = get_qpdf_limits()
        read_pdf(write_pages([proof_piece()], Choices()), "x")
        tried(b"%PDF-1.7 nothing")
        assert get_qpdf_limits() == before
        assert before["flate_max_memory"] == 123_456_789
    finally:
        set_qpdf_limits(**usual)


def test_a_file_that_says_nothing_of_its_side_lies_face_up():
    assert read_pdf(file_of(b""), "x").drawing.face_up
    assert not read_pdf(
        write_pages([Drawing(9, 9, (), face_up=False)], Choices()), "x"
    ).drawing.face_up


def test_what_lies_on_a_hidden_layer_is_hidden_on_all_layers_within():
    pdf = pikepdf.open(io.BytesIO(file_of(b"")))
    groups = [pdf.make_indirect(layer(name)) for name in ("outer", "inner")]
    pdf.Root.OCProperties = Dictionary(
        {"/OCGs": Array(groups), "/D": Dictionary({"/OFF": Array(groups[:1])})}
    )
    names = Dictionary({"/A": groups[0], "/B": groups[1]})
    pdf.pages[0].obj["/Resources"] = Dictionary({"/Properties": names})
    line_ = b" 0 0 m 9 9 l S "
    content = b"/OC /A BDC /OC /B BDC" + line_ + b"EMC EMC /OC /B BDC" + line_ + b"EMC"
    pdf.pages[0].Contents = pdf.make_stream(content)
    assert len(read_pdf(saved(pdf), "x").drawing.items()) == 1


def test_of_a_list_of_layers_the_first_counts():
    groups = [layer(name) for name in ("cut", "mark")]
    several = Dictionary({"/Type": Name.OCMD, "/OCGs": Array(groups)})
    single = Dictionary({"/Type": Name.OCMD, "/OCGs": groups[0]})
    for listed in (several, single):
        properties = {"/Properties": Dictionary({"/L": listed})}
        (item,) = read_pdf(
            file_of(b"/OC /L BDC 0 0 m 9 9 l S EMC", properties), "x"
        ).drawing.items()
        assert item.layer is Layer.CUT


def test_nothing_is_said_behind_our_back_of_a_damaged_file():
    content = write_pages([proof_piece()], Choices())
    damaged = re.sub(rb"/Kids \[ \d\d 0 R", rb"/Kids [ 99 0 R", content)  # a page that is not there
    assert damaged != content
    code = (
        "import sys; from dielines.formats.pdf.reading import read_pdf\n"
        "from dielines.errors import ForeignFileError\n"
        "try: read_pdf(sys.stdin.buffer.read(), 'x')\n"
        "except ForeignFileError: pass"
    )
    run = subprocess.run([sys.executable, "-c", code], input=damaged, capture_output=True)
    assert (run.returncode, run.stdout, run.stderr) == (0, b"", b"")
