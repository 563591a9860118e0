"""Files from strangers are parsed without risk, within bounds, or refused in one sentence."""

import gzip

import pytest

from dielines.errors import ForeignFileError
from dielines.formats.svg import tree
from dielines.formats.svg.reading import read_svg

NS = 'xmlns="http://www.w3.org/2000/svg"'
SECRET = "the secret of another file"


def codes(content: bytes | str) -> list[str]:
    with pytest.raises(ForeignFileError) as caught:
        read_svg(content.encode() if isinstance(content, str) else content, "test.svg")
    assert all(fault.file == "test.svg" for fault in caught.value.faults)
    return [fault.code for fault in caught.value.faults]


def svg(inside: str = "", **attributes: str) -> str:
    words = " ".join(f'{name}="{value}"' for name, value in attributes.items())
    return f"<svg {NS} {words}>{inside}</svg>"


def laughs(depth: int) -> str:
    entities = "".join(f'<!ENTITY e{i} "{f"&e{i - 1};" * 10}">' for i in range(1, depth))
    return f'<!DOCTYPE svg [<!ENTITY e0 "ha">{entities}]>' + svg(f"<title>&e{depth - 1};</title>")


@pytest.mark.parametrize(
    "text",
    [
        laughs(12),
        f'<!DOCTYPE svg [<!ENTITY a "x">]>{svg()}',
        f'<!DOCTYPE svg [<!ENTITY % a SYSTEM "http://localhost:1/a"> %a;]>{svg()}',
        f'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>{svg("<title>&a;</title>")}',
        f'<!DOCTYPE svg [<!ATTLIST path d CDATA "M0 0L1 1">]>{svg("<path/>")}',
        f"<!DOCTYPE svg [ ]>{svg()}",
        f'<!DOCTYPE svg [<!NOTATION n SYSTEM "x"><!ENTITY a SYSTEM "b" NDATA n>]>{svg()}',
    ],
)
def test_declarations_of_a_file_s_own_are_refused(text):
    assert codes(text) == ["unsafe-xml"]


@pytest.mark.parametrize(
    "doctype",
    [
        "<!DOCTYPE svg>",
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN"'
        ' "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">',
        '<!DOCTYPE svg SYSTEM "file:///etc/hostname">',
    ],
)
def test_the_bare_document_type_of_old_files_is_read_and_nothing_fetched(doctype, monkeypatch):
    def refuse(*args, **kwargs):
        raise AssertionError("something was opened")

    content = (doctype + svg("<path d='M0 0L9 9'/>", width="9mm", height="9mm")).encode()
    read_svg(content, "first.svg")  # what is imported late is imported now
    monkeypatch.setattr("socket.socket.connect", refuse)
    monkeypatch.setattr("builtins.open", refuse)
    monkeypatch.setattr("io.open", refuse)
    assert len(read_svg(content, "test.svg").drawing.items()) == 1


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"   ",
        b"no xml",
        b"<svg",
        b"<svg></g>",
        svg("&nbsp;").encode(),
        svg("<g a='1' a='2'/>").encode(),
        svg("\x00").encode(),
        b"\xff\xfe" + b"<svg/>",
        b"<?xml version='1.0' encoding='no-such'?><svg/>",
        b"<?xml version='1.0' encoding='zip'?><svg/>",
        b"<?xml version='1.0' encoding='utf-16'?><svg/>",
        b"<?xml version='1.0' encoding='euc-jp'?><svg/>",
        svg("<a:b/>").encode(),
        b"\x89PNG\r\n\x1a\n" + bytes(200),
        b"%PDF-1.4\n",
        svg("\ud800").encode("utf-8", "surrogatepass"),
    ],
)
def test_what_is_no_xml_is_told_so(content):
    assert codes(content) == ["not-xml"]


def test_the_place_of_an_error_is_told():
    with pytest.raises(ForeignFileError) as caught:
        read_svg(f"<svg {NS}>\n<g>\n  <path></g></svg>".encode(), "test.svg")
    (fault,) = caught.value.faults
    assert (fault.line, fault.column) == (3, 11)


@pytest.mark.parametrize(
    "content", ["<html/>", "<svg xmlns='http://example.org/'/>", "<a><svg/></a>"]
)
def test_xml_that_is_no_svg_is_told_so(content):
    assert codes(content) == ["not-svg"]


def test_a_compressed_file_is_told_so():
    assert codes(gzip.compress(svg().encode())) == ["compressed-file"]


def test_a_file_too_large_is_not_even_parsed(monkeypatch):
    monkeypatch.setattr(tree, "MAX_BYTES", 1000)
    assert codes(svg("<g/>" * 300)) == ["file-too-large"]


def test_elements_are_counted(monkeypatch):
    monkeypatch.setattr(tree, "MAX_ELEMENTS", 50)
    assert codes(svg("<g/>" * 50)) == ["too-many-elements"]
    read_svg(svg("<g/>" * 49).encode(), "test.svg")


@pytest.mark.parametrize("depth", [200, 100_000])
def test_depth_is_bounded(depth):
    assert codes(svg("<g>" * depth + "</g>" * depth)) == ["too-deep"]


def test_a_file_as_deep_as_allowed_is_read():
    inside = "<g>" * 190 + "<path d='M0 0L1 1'/>" + "</g>" * 190
    assert len(read_svg(svg(inside).encode(), "test.svg").drawing.items()) == 1


def test_other_encodings_are_read():
    text = '<?xml version="1.0" encoding="{}"?>' + svg("<title>Blätter</title>")
    for encoding in ("utf-8", "iso-8859-1", "windows-1252", "utf-16"):
        content = text.format(encoding).encode(encoding)
        assert read_svg(content, "test.svg").drawing.title == "Blätter"


def test_a_file_without_namespace_is_read_and_remarked_on():
    reading = read_svg(b"<svg width='9mm' height='9mm'><path d='M0 0L1 1'/></svg>", "test.svg")
    assert len(reading.drawing.items()) == 1
    assert reading.remark_codes() >= {"no-namespace"}


def test_elements_of_other_namespaces_are_passed_over():
    inside = "<x xmlns='http://example.org/'><path d='M0 0L1 1'/></x>"
    other = "<s:path xmlns:s='http://www.w3.org/2000/svg' d='M0 0L1 1'/>"
    assert len(read_svg(svg(inside + other).encode(), "test.svg").drawing.items()) == 1


def test_the_style_attribute_counts_before_the_attribute():
    shape = '<rect width="9" height="9" style="/* a */ width : 5; fill:red; height:7"/>'
    (item,) = read_svg(svg(shape, viewBox="0 0 96 96", width="1in").encode(), "a").drawing.items()
    assert max(p.x for p in item.path.points) == pytest.approx(5 / 96 * 25.4)


def test_a_title_without_end_is_cut_short(monkeypatch):
    monkeypatch.setattr(tree, "MAX_TEXT", 10)
    reading = read_svg(svg("<title>" + "&amp;x" * 50 + "</title>").encode(), "test.svg")
    assert 10 <= len(reading.drawing.title) <= 20
