"""The elements of an SVG file from a stranger, parsed without risk.

No entity is expanded, no document type with declarations of its own is
accepted, nothing is fetched (defusedxml), and size, count and depth are bounded
while the parser runs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from ...errors import ForeignFileError
from ..out_of_bounds import OutOfBounds
from .bounds import MAX_BYTES, MAX_DEPTH, MAX_ELEMENTS, MAX_TEXT

SVG_NAMESPACE = "http://www.w3.org/2000/svg"
_LINK_NAMESPACE = "http://www.w3.org/1999/xlink"

#: Properties that may stand in a style attribute and change what is drawn where (SVG 2).
_STYLED = frozenset(
    [
        "display",
        "visibility",
        "font-size",
        "x",
        "y",
        "cx",
        "cy",
        "r",
        "rx",
        "ry",
        "width",
        "height",
        "clip-path",
        "mask",
        "transform",
        "transform-origin",
        "transform-box",
        "offset-path",
        "zoom",
    ]
)
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


@dataclass(slots=True)
class Element:
    """One element; *tag* is its plain name, or ``{namespace}name`` when it is not SVG's."""

    tag: str
    attributes: Mapping[str, str]
    line: int
    children: list[Element] = field(default_factory=list)
    text: str = ""

    def get(self, name: str) -> str:
        """Return an attribute, or the property of that name in the style attribute; or ""."""
        return self.attributes.get(name, "")

    def child_text(self, tag: str) -> str:
        """Return the text of the first child called *tag*, or ""."""
        return next((child.text.strip() for child in self.children if child.tag == tag), "")

    def walk(self) -> Iterator[Element]:
        """Yield this element and all within, in the order of the file."""
        stack = [self]
        while stack:
            element = stack.pop()
            yield element
            stack.extend(reversed(element.children))


@dataclass(frozen=True, slots=True)
class Document:
    """The outermost element, and whether the file says that it is SVG."""

    root: Element
    has_namespace: bool


def parse(content: bytes, name: str) -> Document:
    """Return the elements of *content*; *name* is for messages.

    Raises ForeignFileError for anything that is not well-formed XML within
    bounds, and for anything that is not SVG.
    """
    if len(content) > MAX_BYTES:
        message = f"it is larger than {MAX_BYTES // 1_000_000} MB"
        raise ForeignFileError.of(name, "file-too-large", message, "Split the drawing.")
    if content[:2] == b"\x1f\x8b":
        raise ForeignFileError.of(name, "compressed-file", "it is compressed", "Unpack it first.")
    document = _parsed(content, name)
    if document.root.tag != "svg":
        raise ForeignFileError.of(name, "not-svg", "it is XML, but no SVG drawing")
    return document


def _parsed(content: bytes, name: str) -> Document:
    from xml.sax import SAXException

    from defusedxml.common import DefusedXmlException

    builder = _Builder()
    parser = _parser(builder)
    try:
        parser.feed(content)
        parser.close()
    except DefusedXmlException as error:
        message = "it declares entities or a document type of its own, which is not safe to read"
        remedy = "Save it again as plain SVG."
        raise ForeignFileError.of(name, "unsafe-xml", message, remedy) from error
    except OutOfBounds as error:
        raise ForeignFileError.of(name, error.code, error.message) from error
    except (SAXException, ValueError, LookupError) as error:
        raise _not_xml(name, error) from error
    if builder.root is None:
        raise ForeignFileError.of(name, "not-xml", "it holds no element")
    return Document(builder.root, builder.has_namespace)


def _not_xml(name: str, error: Exception) -> ForeignFileError:
    """Return the error for what the parser could not read, with its place where it has one."""
    from xml.sax import SAXParseException

    from ...errors import Fault

    line = column = 0
    words = " ".join(str(error).split())
    if isinstance(error, SAXParseException):
        line, column = error.getLineNumber() or 0, (error.getColumnNumber() or 0) + 1
        words = error.getMessage()
    message = f"it is no well-formed XML ({words[:80]})"
    return ForeignFileError([Fault(name, line, column, "", "not-xml", message)])


def _parser(builder: _Builder) -> Any:
    """Return a parser that hands elements with namespaces to *builder*."""
    from xml.parsers.expat import XML_PARAM_ENTITY_PARSING_NEVER
    from xml.sax.handler import ContentHandler, feature_external_ges, feature_namespaces

    from defusedxml.common import DTDForbidden
    from defusedxml.expatreader import DefusedExpatParser

    class Parser(DefusedExpatParser):
        """Accepts the bare document type line that old SVG files begin with, and no more."""

        def reset(self) -> None:
            super().reset()
            self._parser.SetParamEntityParsing(XML_PARAM_ENTITY_PARSING_NEVER)  # type: ignore[attr-defined]

        def defused_start_doctype_decl(
            self, name: Any, sysid: Any, pubid: Any, inside: Any
        ) -> None:
            if inside:
                raise DTDForbidden(name, sysid, pubid)

    class Handler(ContentHandler):
        """Passes on what the builder needs."""

        def startElementNS(self, name: Any, qname: Any, attrs: Any) -> None:  # noqa: N802
            builder.start(name, dict(attrs.items()), parser.getLineNumber() or 0)

        def endElementNS(self, name: Any, qname: Any) -> None:  # noqa: N802
            builder.end()

        def characters(self, content: str) -> None:
            builder.characters(content)

    parser = Parser(forbid_dtd=True, forbid_entities=True, forbid_external=True)
    parser.setFeature(feature_namespaces, True)
    parser.setFeature(feature_external_ges, False)
    parser.setContentHandler(Handler())
    return parser


class _Builder:
    """Grows the tree while the parser runs."""

    def __init__(self) -> None:
        self.root: Element | None = None
        self._open: list[Element] = []
        self._count = 0
        self.has_namespace = True

    def start(
        self, name: tuple[str | None, str], attributes: dict[tuple[str | None, str], str], line: int
    ) -> None:
        self._count += 1
        if self._count > MAX_ELEMENTS:
            raise OutOfBounds("too-many-elements", f"it has more than {MAX_ELEMENTS:,} elements")
        if len(self._open) >= MAX_DEPTH:
            raise OutOfBounds("too-deep", f"its elements lie more than {MAX_DEPTH} deep")
        if self.root is None:
            self.has_namespace = name[0] is not None
        element = Element(self._tag(*name), _attributes(attributes), line)
        if self._open:
            self._open[-1].children.append(element)
        self.root = self.root or element
        self._open.append(element)

    def end(self) -> None:
        self._open.pop()

    def characters(self, content: str) -> None:
        element = self._open[-1]
        if element.tag in ("title", "desc") and len(element.text) < MAX_TEXT:
            element.text += content[:MAX_TEXT]  # bounded, for the parser may hand over one by one

    def _tag(self, namespace: str | None, name: str) -> str:
        """Return the plain name of an SVG element; a file without any namespace is taken as SVG."""
        is_svg = namespace == SVG_NAMESPACE or (namespace is None and not self.has_namespace)
        return name if is_svg else f"{{{namespace or ''}}}{name}"


def _attributes(found: Mapping[tuple[str | None, str], str]) -> dict[str, str]:
    """Return attributes by plain name: the style laid over, links and labels of any namespace."""
    plain = {name: value for (namespace, name), value in found.items() if namespace is None}
    for (namespace, name), value in found.items():
        if namespace is not None and (namespace == _LINK_NAMESPACE or name == "label"):
            plain.setdefault(name, value)
    return plain | _styled(plain["style"]) if "style" in plain else plain


def _styled(style: str) -> dict[str, str]:
    """Return the properties of a style attribute that change what is drawn where."""
    plain = _COMMENT.sub("", style[:MAX_TEXT])
    pairs = (piece.partition(":") for piece in plain.split(";"))
    named = {name.strip().lower(): value.strip() for name, _, value in pairs}
    return {name: value for name, value in named.items() if name in _STYLED}
