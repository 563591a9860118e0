"""Texts as PDF writes them: names, numbers, text strings, and what a plain font can show."""

from __future__ import annotations

import math
import re
import unicodedata

from ...errors import Defect

#: mm to points of 1/72 in, the unit of a page unless it says otherwise (ISO 32000-1, 8.3.2.3)
POINTS_PER_MM = 72 / 25.4
DECIMALS = 6  #: of a point; half a step is 0.000 000 2 mm
_MARK = b"\xfe\xff"  # begins a text string of 16-bit signs, high byte first (ISO 32000-1, 7.9.2.2)
_LONE = re.compile("[\ud800-\udfff]")
_SHOWN_AS = {
    "\u2032": "'", "\u2033": '"', "\u2212": "-", "\u2044": "/", "\u2248": "~", "\u2264": "<=",
    "\u2265": ">=", "\u2010": "-", "\u2011": "-",
}  # fmt: skip


def number(value: float) -> str:
    """Return *value* as a plain decimal; raises Defect for what is no finite number.

    >>> number(351.0), number(1000 / 7), number(-1e-9)
    ('351', '142.857143', '0')
    """
    if not math.isfinite(value):
        raise Defect(f"a drawing holds the number {value}, which no file can carry")
    text = f"{float(value):.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def text_string(text: str) -> bytes:
    """Return *text* as the bytes of a text string: plain ASCII as it is, else UTF-16."""
    if re.fullmatch(r"[ -~]*", text):
        return text.encode("ascii")
    return _MARK + _LONE.sub("\ufffd", text).encode("utf-16-be")


def from_text_string(content: bytes) -> str:
    """Return the text of a text string, whoever wrote it."""
    if content.startswith(_MARK):
        return content[2:].decode("utf-16-be", "replace")
    if content.startswith(b"\xef\xbb\xbf"):  # ISO 32000-2
        return content[3:].decode("utf-8", "replace")
    return content.decode("latin-1")


def literal(content: bytes) -> str:
    r"""Return a string object as a content stream spells it.

    >>> literal(b"a (b) \\"), literal(bytes([254, 255, 0, 65]))
    ('(a \\(b\\) \\\\)', '<FEFF0041>')
    """
    if re.fullmatch(rb"[ -~]*", content):
        return "(" + re.sub(r"([()\\])", r"\\\1", content.decode("ascii")) + ")"
    return f"<{content.hex().upper()}>"


def shown(text: str) -> bytes:
    r"""Return *text* as the codes of a font with WinAnsiEncoding; what it lacks comes near or is "?".

    >>> shown("4 7/8\u2033"), shown("\u215e"), shown("caf\xe9")
    (b'4 7/8"', b'7/8', b'caf\xe9')
    """
    return b"".join(_code(sign) for sign in text)


def _code(sign: str) -> bytes:
    if " " <= sign <= "~" or "\xa0" <= sign <= "\xff":
        return sign.encode("cp1252")
    if sign in _SHOWN_AS:
        return _SHOWN_AS[sign].encode("ascii")
    if unicodedata.category(sign) in ("Cc", "Zs", "Zl", "Zp"):
        return b" "
    if sign >= "\u0100" and (code := sign.encode("cp1252", "ignore")):
        return code
    plain = "".join(_SHOWN_AS.get(x, x) for x in unicodedata.normalize("NFKD", sign))
    return plain.encode("ascii", "ignore") or b"?"
