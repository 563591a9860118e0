"""Every format, whichever are found: what it writes it reads back, and the same each time."""

import os
import subprocess
import sys
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dielines.drawing import Caption, Drawing, Group, Item, Layer
from dielines.errors import ForeignFileError, UsageError
from dielines.formats.choices import Choices, Grouping, Reader
from dielines.formats.compare import compare
from dielines.formats.kinds import format_of, formats, read_file
from dielines.paths import Path, Point, Vertex, circle, line, polyline, rectangle
from dielines.proof_piece import proof_piece

EVERY = pytest.mark.parametrize("kind", formats(), ids=lambda kind: kind.name)
TOLERANCE = 0.001  # mm, what the project promises
SEVENTH, THIRD = Fraction(1, 7), Fraction(1, 3)


def awkward() -> Drawing:
    """A drawing with thirds and sevenths, arcs, every layer, two parts and odd texts."""
    lens = Path((Vertex(10 + THIRD, 20, SEVENTH), Vertex(40 - SEVENTH, 20, THIRD)))
    hook = Path((Vertex(5, 5, Fraction(-2, 3)), Vertex(9 + THIRD, 5), Vertex(12, 8)), closed=False)
    first = [
        Item(layer, rectangle(SEVENTH * n, THIRD * n, 50 + SEVENTH * n, 60 + THIRD), f"line {n}")
        for n, layer in enumerate(Layer, 1)
    ]
    second = [
        Item(Layer.CUT, lens, "lens"),
        Item(Layer.CUT, circle((70 + SEVENTH, 80 + THIRD), 5 * SEVENTH), "hole"),
        Item(Layer.SCORE_MOUNTAIN, hook, "a < b & c"),
        Item(Layer.PERFORATE, line((0, 0), (100 * THIRD, 100 * SEVENTH)), "é ½ ″"),
        Item(Layer.CUT, polyline([(60, 10), (60, 30), (80 + THIRD, 30)], closed=False)),
    ]
    caption = Caption(Layer.LABEL, "A · page 1 <face>", Point(3, 4), 2.5, 90.0)
    return Drawing(
        float(100 + THIRD),
        float(90 + SEVENTH),
        (
            Group("page-1", "Page 1, front cover's", tuple(first), (caption,)),
            Group("page-2", "Page 2", tuple(second)),
        ),
        title="Lake & shore",
        description="Two parts",
        metadata=(("template", "side-pocket"), ("width", "4 7/8 in"), ("note", "½ ≈ ″")),
        face_up=False,
    )


DRAWINGS = pytest.mark.parametrize("drawing", [awkward(), proof_piece()], ids=["awkward", "piece"])


def test_no_two_formats_share_a_suffix():
    suffixes = [kind.suffix for kind in formats()]
    assert len(set(suffixes)) == len(suffixes)
    assert {".svg", ".dxf"} <= set(suffixes)


@EVERY
@DRAWINGS
def test_what_is_written_reads_back_the_same(kind, drawing):
    reading = kind.read(kind.write(drawing, Choices()), "x")
    comparison = compare(drawing, reading.drawing)
    assert comparison.is_equal(TOLERANCE), comparison
    assert reading.remark_codes() <= {"text-left-out"}  # words are for people only


@EVERY
@pytest.mark.parametrize("grouping", Grouping)
@pytest.mark.parametrize("reader", Reader)
@pytest.mark.parametrize(("units", "version"), [(96, "R12"), (72, "R2018")])
def test_whatever_is_chosen_the_paths_read_back_the_same(kind, grouping, reader, units, version):
    choices = Choices(
        reader, grouping, (Layer.CUT, Layer.MARK), ((Layer.CUT, "#102030"),), units, version
    )
    read = kind.read(kind.write(awkward(), choices), "x").drawing
    assert compare(awkward(), read).has_equal_paths(TOLERANCE)


@EVERY
@pytest.mark.parametrize(
    "choices",
    [Choices(grouping=Grouping.LAYER_THEN_PART), Choices(layer_order=(Layer.CUT,)),
     Choices(colours=((Layer.CUT, "#102030"),))],
    ids=["grouping", "order", "colours"],
)  # fmt: skip
def test_a_choice_makes_another_file(kind, choices):
    assert kind.write(awkward(), choices) != kind.write(awkward(), Choices())


@pytest.mark.parametrize(
    "choices",
    [Choices(svg_units_per_inch=72), Choices(dxf_version="R12"), Choices(reader=Reader.PEOPLE)],
    ids=["units", "version", "reader"],
)
def test_a_choice_for_some_formats_changes_these(choices):
    assert any(k.write(awkward(), choices) != k.write(awkward(), Choices()) for k in formats())


@EVERY
def test_layers_come_in_the_order_that_was_chosen(kind):
    order = (Layer.CUT, Layer.PERFORATE, Layer.SCORE_MOUNTAIN)
    choices = Choices(layer_order=order, grouping=Grouping.LAYER_THEN_PART)
    read = kind.read(kind.write(awkward(), choices), "x").drawing
    for group in read.groups:
        assert tuple(dict.fromkeys(item.layer for item in group.items))[:3] == order


@EVERY
def test_a_path_that_moved_by_more_than_the_tolerance_shows(kind):
    reading = kind.read(kind.write(awkward(), Choices()), "x")
    group = awkward().groups[1]
    moved = Item(Layer.PERFORATE, line((0, 0), (100 * THIRD, 100 * SEVENTH + Fraction(2, 1000))))
    items = (*group.items[:3], moved, *group.items[4:])
    drawing = Drawing(100, 90, (awkward().groups[0], Group(group.key, group.title, items)))
    assert not compare(drawing, reading.drawing).has_equal_paths(TOLERANCE)


@EVERY
def test_parts_layers_order_and_words_come_back(kind):
    drawing, read = awkward(), kind.read(kind.write(awkward(), Choices()), "x").drawing
    assert [group.key for group in read.groups] == [group.key for group in drawing.groups]
    assert [group.title for group in read.groups] == [group.title for group in drawing.groups]
    assert (read.title, read.description) == (drawing.title, drawing.description)
    assert (read.metadata, read.face_up) == (drawing.metadata, drawing.face_up)
    for group, other in zip(drawing.groups, read.groups, strict=True):
        named = {(item.layer, item.name, item.path.closed) for item in group.items}
        assert {(item.layer, item.name, item.path.closed) for item in other.items} == named


@EVERY
@DRAWINGS
def test_the_same_drawing_makes_the_same_bytes(kind, drawing):
    assert kind.write(drawing, Choices()) == kind.write(drawing, Choices())


@EVERY
def test_another_process_with_other_hashes_makes_the_same_bytes(kind):
    code = (
        "import sys; from dielines.formats.kinds import formats; "
        "from dielines.proof_piece import proof_piece; "
        "from dielines.formats.choices import Choices; "
        f"kind = next(k for k in formats() if k.suffix == {kind.suffix!r}); "
        "sys.stdout.buffer.write(kind.write(proof_piece(), Choices()))"
    )
    for seed in ("1", "2"):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": f"UTC{seed}"}
        run = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, check=True, env=environment
        )
        assert run.stdout == kind.write(proof_piece(), Choices())


@EVERY
@pytest.mark.parametrize(
    "content",
    [b"", b"\0" * 100, b"PK\x03\x04", b"<html></html>", "Zürich".encode("utf-16")],
    ids=["empty", "zeros", "archive", "page", "utf-16"],
)
def test_what_is_no_such_file_is_a_fault_of_its_sender(kind, content):
    with pytest.raises(ForeignFileError) as caught:
        kind.read(content, "theirs")
    assert {fault.file for fault in caught.value.faults} == {"theirs"}


@EVERY
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_a_damaged_file_is_read_or_refused_but_breaks_nothing(kind, data):
    content = kind.write(proof_piece(), Choices())
    start = data.draw(st.integers(0, len(content)))
    length = data.draw(st.integers(0, 200))
    damage = data.draw(st.binary(max_size=20))
    with suppress(ForeignFileError):
        kind.read(content[:start] + damage + content[start + length :], "theirs")


@EVERY
def test_a_file_is_read_by_what_its_name_ends_in(kind, tmp_path):
    file = tmp_path / f"piece{kind.suffix.upper()}"
    file.write_bytes(kind.write(proof_piece(), Choices()))
    assert compare(proof_piece(), read_file(file).drawing).is_equal(TOLERANCE)


@EVERY
def test_a_file_that_is_not_there_is_named(kind, tmp_path):
    with pytest.raises(ForeignFileError) as caught:
        read_file(tmp_path / f"none{kind.suffix}")
    assert [fault.code for fault in caught.value.faults] == ["unreadable"]


def test_a_suffix_of_no_format_is_refused(tmp_path):
    with pytest.raises(UsageError):
        format_of(tmp_path / "photo.jpeg")
