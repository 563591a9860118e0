"""Expressions: exact, of three kinds, bounded, and every failure a refusal with its place.

Published: 1 in = 25.4 mm (International Yard and Pound Agreement 1959). The rules
of the language are this project's own; Python's fractions and its own reading of
``+ - * /``, comparisons and ``and or not`` are the oracle of the random tests.
"""

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from dielines.documents import Refusal
from dielines.language.expressions import (
    Scope,
    angle_of,
    check_names,
    condition_of,
    evaluate,
    number_of,
    parse,
    size_of,
    value_said,
    whole_of,
)
from dielines.language.values import ValueKind, bare, flag, length, number, word

F = Fraction
INCH = F(254, 10)
NAMES = {
    "width": length(F(25, 4) * INCH),
    "depth": length(INCH / 8),
    "seam": length(INCH / 2),
    "third": length(F(10, 3)),
    "i": number(3),
    "cards": number(7),
    "thumb": flag(True),
    "lip": word("arched"),
    "cardstock.caliper": length(F(3, 10)),
}
SCOPE = Scope(NAMES, "in", frozenset({"plain", "arched"}))
METRIC = Scope(NAMES, "mm", SCOPE.choices)
UNITLESS = Scope(NAMES, None, SCOPE.choices)


def inches_of(text: str) -> F:
    return size_of(text, SCOPE) / INCH


def refusal(text, scope: Scope = SCOPE, of=size_of) -> Refusal:
    with pytest.raises(Refusal) as caught:
        of(text, scope)
    return caught.value


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("4 7/8", F(39, 8)), ("4 7/8 in", F(39, 8)), ('4 7/8"', F(39, 8)), ("4⅞″", F(39, 8)),
        ("4 ⅞", F(39, 8)), ("4 7⁄8''", F(39, 8)), ("4.875”", F(39, 8)), (".5", F(1, 2)), ("½", F(1, 2)),
        ("1/16 in", F(1, 16)), ("7 / 8 in", F(7, 8)), ("123.825 mm", F(39, 8)),
        ("12.7 CM", F(5)), ("  3\t", F(3)), ("-4 7/8", F(-39, 8)), ("−4 7/8", F(-39, 8)),
        ("4 - 7/8", F(25, 8)), ("4 – 7/8", F(25, 8)), ("2 4/6", F(8, 3)), ("1/3", F(1, 3)),
    ],
)  # fmt: skip
def test_numbers_are_read_exactly_and_a_unit_binds_to_the_number_before_it(text, inches):
    assert inches_of(text) == inches


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("depth + 1", F(9, 8)), ("1 + depth", F(9, 8)), ("depth * 2", F(1, 4)),
        ("2 * depth", F(1, 4)), ("width / 2", F(25, 8)), ("width * depth / depth", F(25, 4)),
        ("depth * cards", F(7, 8)), ("3/2 * depth", F(3, 16)),
        ("max(1/2, depth * 2)", F(1, 2)), ("min(3 mm, depth)", F(30, 254)),
        ("sum(depth, seam, 1)", F(13, 8)), ("width - (i - 1) * 2 * depth", F(23, 4)),
        ("mod(width, 1)", F(1, 4)), ("mod(-depth, 1)", F(7, 8)), ("width - 1 1/4", F(5)),
        ("if(lip == arched, depth, 1)", F(1, 8)), ("if(lip == plain, depth, 1)", F(1)),
        ("1/2/2", F(1, 4)), ("6 - 2 - 1", F(3)), ("12 / 3 / 2", F(2)), ("2 + 3 * 4", F(14)),
        ("width / 3 1/2", F(25, 14)), ("6 / (3/4)", F(8)),
    ],
)  # fmt: skip
def test_a_bare_number_turns_into_what_its_place_needs(text, inches):
    assert inches_of(text) == inches


def test_a_bare_number_counts_in_the_units_of_the_file():
    assert size_of("depth + 1", METRIC) == INCH / 8 + 1
    assert size_of("width / 2 + 1 in", METRIC) == F(25, 8) * INCH + INCH
    assert size_of(3, METRIC) == 3
    assert size_of(3, SCOPE) == F("76.2")
    assert size_of(Decimal("0.1"), SCOPE) == F("2.54")


@pytest.mark.parametrize(
    ("text", "eighths"),
    [("round(5/16, 1/8)", 3), ("round(7/24, 1/8)", 2), ("round(-5/16, 1/8)", -3),
     ("round(3/16, 1/8)", 2), ("round_up(7/24, 1/8)", 3), ("round_down(8/24, 1/8)", 2),
     ("round_up(1/4, 1/8)", 2), ("round_down(-1/3, 1/8)", -3), ("round_up(-1/3, 1/8)", -2)],
)  # fmt: skip
def test_rounding_goes_to_multiples_of_the_step_and_halves_go_away_from_zero(text, eighths):
    assert inches_of(text) == F(eighths, 8)


@pytest.mark.parametrize(
    ("text", "code", "offset"),
    [
        ("width * depth", "wrong-kind", 6),
        ("width * depth * seam", "wrong-kind", 14),
        ("i", "wrong-kind", 0),
        ("i * 2", "wrong-kind", 2),
        ("depth + i", "wrong-kind", 6),
        ("i + depth", "wrong-kind", 2),
        ("12 / depth", "wrong-kind", 3),
        ("i / depth", "wrong-kind", 2),
        ("width * depth + 1", "wrong-kind", 14),
        ("max(depth, i)", "wrong-kind", 0),
        ("thumb", "wrong-kind", 0),
        ("lip", "wrong-kind", 0),
        ("-lip", "wrong-kind", 0),
        ("depth * thumb", "wrong-kind", 6),
        ("depth < 1", "wrong-kind", 6),
        ("if(depth, 1, 2)", "wrong-kind", 3),
        ("if(thumb, depth, i)", "wrong-kind", 0),
        ("if(thumb, 1, lip)", "wrong-kind", 0),
        ("dept", "unknown-name", 0),
        ("seam + dept * 2", "unknown-name", 7),
        ("if(thumb, 1, dept)", "unknown-name", 13),
        ("if(lip == archd, 1, 2)", "unknown-name", 10),
        ("caliper", "unknown-name", 0),
        ("ceil(seam)", "unknown-function", 0),
        ("1 + ceil(seam)", "unknown-function", 4),
        ("9**9**9", "powers", 1),
        ("2^3", "powers", 1),
        ("12 px", "unknown-unit", 3),
        ("2 width", "unknown-unit", 2),
        ("12 ın", "unknown-unit", 3),
        ("seam / (depth - 1/8)", "zero-division", 5),
        ("1/0", "zero-division", 0),
        ("1 + 3 1/0 in", "zero-division", 4),
        ("mod(1, 0)", "zero-division", 0),
        ("round(width, 0 in)", "zero-division", 0),
        ("1" * 40, "digits", 0),
        ("1 + 1/" + "1" * 13, "digits", 4),
        ("0." + "1" * 13, "digits", 0),
        ("*".join(["999999999999"] * 10), "out-of-bounds", 25),
        ("(" * 30 + "1" + ")" * 30, "too-deep", 13),
        ("-" * 30 + "1", "too-deep", 13),
        ("not " * 30 + "thumb", "too-deep", 52),
        ("max(" * 20 + "1" + ")" * 20, "too-deep", 52),
        ("1+" * 50 + "1", "too-long", 80),
        ("1 + " + "0" * 197, "too-long", 0),
        ("4-7/8", "two-readings", 0),
        ("1 + 4-7/8 in", "two-readings", 4),
        ("4–7/8", "two-readings", 0),
        ("width / 1/2", "two-readings", 8),
        ("width / 1/16 in", "two-readings", 8),
        ("width / 1 / 16 in", "two-readings", 8),
        ("1 < 2 < 3", "chain", 6),
        ("1 < 2 == thumb", "chain", 6),
        ("", "empty", 0),
        ("   ", "empty", 0),
        ("1 +", "syntax", 3),
        ("* 2", "syntax", 0),
        ("(1", "syntax", 2),
        ("1)", "syntax", 1),
        ("(1, 2)", "syntax", 2),
        ("max()", "syntax", 4),
        ("max(1, )", "syntax", 7),
        ("max", "syntax", 0),
        ("and", "syntax", 0),
        ("in", "syntax", 0),
        ("depth 2", "syntax", 6),
        ("1 2 3/4", "syntax", 2),
        ("4 7/8.5", "syntax", 2),
        ("4.5.5", "syntax", 3),
        ("4 in in", "syntax", 5),
        ("round(1)", "value-count", 0),
        ("if(thumb, 1)", "value-count", 0),
        ("mod(1, 2, 3)", "value-count", 0),
        ("Width", "bad-name", 0),
        ("1 + dépth", "bad-name", 4),
        ("dеpth", "bad-name", 0),  # the second letter is Cyrillic
        ("board._caliper", "bad-name", 0),
        ("3 % 2", "bad-character", 2),
        ("depth = 2", "bad-character", 6),
        ("depth\0", "bad-character", 5),
        ("[1]", "bad-character", 0),
        ("٣", "bad-character", 0),  # an Arabic digit
    ],
)  # fmt: skip
def test_a_text_that_cannot_be_taken_is_refused_at_the_culprit(text, code, offset):
    found = refusal(text)
    assert (found.code, found.offset) == (code, offset)


def test_bounds_are_reached_and_not_passed():
    assert inches_of("(" * 12 + "1" + ")" * 12) == 1
    assert refusal("(" * 13 + "1" + ")" * 13).code == "too-deep"
    assert inches_of("+".join(["1"] * 40)) == 40
    assert refusal("+".join(["1"] * 41)).code == "too-long"
    assert size_of("9" * 12 + " mm", SCOPE) == 999_999_999_999
    assert number_of("1 * " + "0" * 12 + " " * 184, SCOPE) == 0
    below = number(F(2**95))
    scope = Scope({"n": below, "least": number(F(1, 2**95))}, "in")
    assert number_of("n + n / 2", scope) == F(3 * 2**94)
    assert refusal("n + n", scope, number_of).code == "out-of-bounds"
    assert refusal("least / 2", scope, number_of).code == "out-of-bounds"
    assert refusal("0 * (n + n)", scope, number_of).code == "out-of-bounds"


@pytest.mark.parametrize(
    ("text", "holds"),
    [
        ("thumb", True), ("not thumb", False), ("true", True), ("false or thumb", True),
        ("depth < 1/4", True), ("depth <= 1/8", True), ("depth >= 3.175 mm", True),
        ("depth > 1/8", False), ("depth == 0.125 in", True), ("depth != 1/8", False),
        ("i == 3 and cards > 3 or not thumb", True), ("not i == 3", False),
        ("not (thumb and lip == plain)", True), ("lip == arched", True), ("lip != arched", False),
        ("thumb == (i == 3)", True), ("false and false or true", True), ("true or true and false", True),
        ("width - 1 > 5", True), ("1/3 + 1/3 + 1/3 == 1", True), ("0.1 + 0.2 == 0.3", True),
    ],
)  # fmt: skip
def test_conditions_hold_or_not(text, holds):
    assert condition_of(text, SCOPE) is holds


@pytest.mark.parametrize(
    ("text", "code", "offset"),
    [
        ("depth", "wrong-kind", 0), ("3", "wrong-kind", 0), ("thumb and depth", "wrong-kind", 10),
        ("not 3", "wrong-kind", 4), ("depth == i", "wrong-kind", 6), ("lip == 1", "wrong-kind", 4),
        ("lip < arched", "wrong-kind", 4), ("thumb > false", "wrong-kind", 6),
        ("false and depth", "wrong-kind", 10), ("true or dept", "unknown-name", 8),
    ],
)  # fmt: skip
def test_what_is_no_condition_is_refused_even_where_it_does_not_decide(text, code, offset):
    found = refusal(text, of=condition_of)
    assert (found.code, found.offset) == (code, offset)


def test_true_and_false_are_conditions_and_no_sizes():
    assert condition_of(True, SCOPE) is True
    assert condition_of(False, SCOPE) is False
    assert refusal(True).code == "wrong-kind"
    assert refusal(True, of=whole_of).code == "wrong-kind"


def test_only_what_is_needed_is_calculated():
    assert inches_of("if(i == 3, 1, 1 / (i - 3) * depth)") == 1
    assert condition_of("i == 3 or 1 / (i - 3) > 1", SCOPE) is True
    assert condition_of("i != 3 and 1 / (i - 3) > 1", SCOPE) is False
    assert refusal("if(i != 3, 1, depth / (i - 3))").code == "zero-division"


def test_a_bare_branch_is_a_length_where_the_other_branch_is_one():
    assert number_of("if(thumb, 2, depth) / depth", SCOPE) == 16
    assert refusal("if(thumb, 2, depth) * width").code == "wrong-kind"


def test_a_bare_number_without_declared_units_is_refused_where_a_length_is_needed():
    for text, offset in (("12", 0), ("depth + 1/2", 8), ("max(depth, 1)", 11), ("depth > 1", 8)):
        found = refusal(text, UNITLESS, lambda raw, scope: condition_of(raw, scope)
                        if ">" in raw else size_of(raw, scope))  # fmt: skip
        assert (found.code, found.offset) == ("no-units", offset)
    assert refusal(12, UNITLESS).code == "no-units"
    assert size_of("depth * 2 + 1 in", UNITLESS) == F(5, 4) * INCH
    assert whole_of("12", UNITLESS) == 12


def test_counts_are_whole_plain_numbers():
    assert whole_of("cards * 2 - 1", SCOPE) == 13
    assert whole_of(-4, SCOPE) == -4
    assert whole_of(Decimal("2.0"), SCOPE) == 2
    assert whole_of("width / (1/4 in)", SCOPE) == 25
    for raw in (Decimal("1.5"), "3/2", "cards / 2"):
        assert refusal(raw, of=whole_of).code == "not-whole"
    assert "3/2" in refusal(Decimal("1.5"), of=whole_of).message
    assert refusal("width", of=whole_of).code == "wrong-kind"
    assert refusal("3 mm", of=number_of).code == "wrong-kind"
    assert refusal("thumb", of=number_of).code == "wrong-kind"


def test_angles_are_plain_numbers():
    assert angle_of("-180 / 7", SCOPE) == F(-180, 7)
    assert angle_of(Decimal("22.5"), SCOPE) == F(45, 2)
    assert refusal("depth", of=angle_of).code == "wrong-kind"


@pytest.mark.parametrize("of", [size_of, number_of, whole_of, angle_of])
@pytest.mark.parametrize(
    ("raw", "code"),
    [
        (10**12, "digits"), (-(10**12), "digits"), (10**4000, "digits"),
        (Decimal("1e999999"), "digits"), (Decimal("1e-999999"), "digits"),
        (Decimal("0e999999"), "digits"), (Decimal("1." + "1" * 5000), "digits"),
        (Decimal("1e13"), "digits"), (Decimal("1" * 25), "digits"), (Decimal("1" * 13 + "e12"), "digits"),
        (Decimal("nan"), "not-finite"), (Decimal("-inf"), "not-finite"),
        ([1], "wrong-kind"), ({}, "wrong-kind"), (None, "wrong-kind"), (1.5, "wrong-kind"),
    ],
)  # fmt: skip
def test_numbers_from_a_file_are_bounded_before_they_are_used(raw, code, of):
    assert refusal(raw, of=of).code == code


def test_decimals_from_a_file_go_through_their_text():
    assert number_of(Decimal("0.1"), SCOPE) == F(1, 10)
    assert number_of(Decimal("123456789012.123456789012"), SCOPE) == F("123456789012.123456789012")
    assert number_of(Decimal("1e3"), SCOPE) == 1000


def test_a_division_by_zero_tells_the_values_that_made_it():
    assert "depth = 1/8 in" in refusal("seam / (depth - 1/8)").message
    assert "depth = 3.175 mm" in refusal("seam / (depth - 3.175)", METRIC).message


def test_a_slip_of_the_pen_gets_a_suggestion():
    assert "'depth'" in refusal("dept").message
    assert "'arched'" in refusal("if(lip == archd, 1, 2)").message
    assert "'round_up'" in refusal("roundup(1, 2)").message
    assert "cardstock.caliper" in refusal("caliper").remedy
    assert "unit" in refusal("12 / depth").remedy
    assert refusal("i / depth").remedy == ""


def test_names_are_known_without_evaluating():
    expression = parse("if(lip == arched, max(width, 2), board.caliper * i)")
    assert expression.names() == {"lip", "arched", "width", "board.caliper", "i"}
    with pytest.raises(Refusal) as caught:
        check_names(expression, ["lip", "arched", "width", "i"])
    assert (caught.value.code, caught.value.offset) == ("unknown-name", 33)
    check_names(expression, expression.names())


def test_values_carry_their_kind():
    kinds = {
        "3/2": ValueKind.BARE, "3 mm": ValueKind.LENGTH, "i * 2": ValueKind.NUMBER,
        "depth / seam": ValueKind.NUMBER, "depth * 2": ValueKind.LENGTH,
        "depth * seam": ValueKind.AREA, "thumb": ValueKind.FLAG, "arched": ValueKind.WORD,
        "if(thumb, arched, plain)": ValueKind.WORD, "if(thumb, 1, 2)": ValueKind.BARE,
        "if(thumb, 1, i)": ValueKind.NUMBER,
    }  # fmt: skip
    assert {text: evaluate(parse(text), SCOPE).kind for text in kinds} == kinds
    assert value_said(Decimal("0.5"), SCOPE) == bare(F(1, 2))
    assert value_said(True, SCOPE) == flag(True)


@pytest.mark.parametrize(
    ("mm", "units", "shown"),
    [
        (F("3.175"), "in", "1/8 in"), (F("3.175"), "mm", "3.175 mm"), (F("-9.525"), "in", "-3/8 in"),
        (25 * INCH / 64, "in", "25/64 in"), (F(10), "in", "≈ 0.3937 in"), (F(10, 3), "mm", "≈ 3.3333 mm"),
        (F(-1, 2), "mm", "-0.5 mm"), (F(0), "in", "0 in"), (F(7), None, "7 mm"),
        (INCH * F("0.001"), "in", "0.001 in"),
    ],
)  # fmt: skip
def test_a_length_shows_exactly_or_says_that_it_was_rounded(mm, units, shown):
    assert length(mm).shown(units) == shown


# Random expressions against Python


@st.composite
def numbers(draw) -> tuple[str, str]:
    """A number as the language writes it, and as Python would."""
    a, b, c = (draw(st.integers(0, 999)), draw(st.integers(0, 99)), draw(st.integers(1, 99)))
    return draw(
        st.sampled_from(
            [
                (f"{a}", f"F({a})"),
                (f"{a}.{b:02}", f"F('{a}.{b:02}')"),
                (f"{a} {b}/{c}", f"(F({a})+F({b},{c}))"),
                (f"{b}/{c}", f"F({b},{c})"),
                ("i", "F(3)"),
                ("cards", "F(7)"),
            ]
        )
    )


def bracketed_after_division(sign: str, text: str) -> str:
    return f"({text})" if sign == "/" and re.match(r"\d+/", text) else text


def two(children, signs: str):
    def joined(left, sign, right):
        ours = f"{left[0]} {sign} {bracketed_after_division(sign, right[0])}"
        return ours, f"{left[1]} {sign} {right[1]}"

    return st.builds(joined, children, st.sampled_from(signs.split()), children)


def one(children, ours: str, python: str):
    return children.map(lambda pair: (ours.format(pair[0]), python.format(pair[1])))


arithmetic = st.recursive(
    numbers(),
    lambda inner: (
        two(inner, "+ - * /")
        | one(inner, "({})", "({})")
        | one(inner, "-{}", "-{}")
        | one(inner, "-({})", "-({})")
        | st.tuples(inner, inner, st.sampled_from(["min", "max"])).map(
            lambda t: (f"{t[2]}({t[0][0]},{t[1][0]})", f"{t[2]}({t[0][1]},{t[1][1]})")
        )
        | one(inner, "sum({}, 1)", "({}+1)")
        | one(inner, "round_up({}, 1/7)", "(ceil(({})/F(1,7))*F(1,7))")
        | one(inner, "round_down({}, 1/7)", "(floor(({})/F(1,7))*F(1,7))")
        | one(inner, "mod({}, 3/7)", "(({})%F(3,7))")
    ),
    max_leaves=8,
)
comparisons = two(arithmetic, "< <= > >= == !=")
conditions = st.recursive(
    comparisons,
    lambda inner: (
        two(inner, "and or") | one(inner, "not ({})", "not ({})") | one(inner, "({})", "({})")
    ),
    max_leaves=3,
)
chosen = st.tuples(conditions, arithmetic, arithmetic).map(
    lambda t: (
        f"if({t[0][0]}, {t[1][0]}, {t[2][0]})",
        f"(({t[1][1]}) if {t[0][1]} else ({t[2][1]}))",
    )
)
_ROOM = {"too-long", "too-deep", "out-of-bounds"}


def python_value(text: str):
    from math import ceil, floor

    try:
        return eval(text, {"F": F, "ceil": ceil, "floor": floor, "min": min, "max": max})
    except ZeroDivisionError:
        return "zero-division"


def our_value(text: str):
    try:
        return evaluate(parse(text), SCOPE).payload
    except Refusal as found:
        assume(found.code not in _ROOM)
        return found.code


@settings(max_examples=400, deadline=None)
@given(arithmetic | conditions | chosen)
def test_random_expressions_agree_with_python(pair):
    ours, python = pair
    assert our_value(ours) == python_value(python)


lengths = st.recursive(
    st.builds(
        lambda pair, unit: (f"{pair[0]} {unit}", f"{pair[1]}*F({UNITS[unit]!r})"),
        numbers().filter(lambda pair: pair[0][0].isdigit()),
        st.sampled_from(["in", "mm", "cm", '"']),
    )
    | st.just(("depth", "F('3.175')"))
    | st.just(("third", "F(10,3)")),
    lambda inner: (
        st.tuples(inner, st.sampled_from("+-"), inner).map(
            lambda t: (f"({t[0][0]} {t[1]} {t[2][0]})", f"({t[0][1]} {t[1]} {t[2][1]})")
        )
        | st.tuples(inner, arithmetic).map(
            lambda t: (f"{t[0][0]} * ({t[1][0]})", f"{t[0][1]} * ({t[1][1]})")
        )
        | st.tuples(numbers(), inner).map(
            lambda t: (f"{t[0][0]} * ({t[1][0]})", f"{t[0][1]} * ({t[1][1]})")
        )
        | one(inner, "({}) / 7", "({}) / 7")
        | one(inner, "max({}, 2)", "max({}, F('50.8'))")
        | one(inner, "(1 1/3 + ({}))", "(F('25.4')*4/3 + ({}))")
    ),
    max_leaves=4,
)
UNITS = {"in": "25.4", "mm": "1", "cm": "10", '"': "25.4"}


@settings(max_examples=300, deadline=None)
@given(lengths)
def test_random_lengths_agree_with_python(pair):
    ours, python = pair
    try:
        found = size_of(ours, SCOPE)
    except Refusal as refused:
        assume(refused.code not in _ROOM)
        found = refused.code
    assert found == python_value(python)


PIECES = [
    "width", "dept", "i", "lip", "arched", "thumb", "board.caliper", "min", "max(", "if(", "round(",
    "mod", "not", "and", "or", "true", "in", "mm", "px", "4 7/8", "1/0", "½", "″", "''", '"', ".", ",",
    "(", ")", "+", "-", "−", "*", "**", "/", "<", "<=", "==", "=", "!", "#", "999999999999", "0.1", " ",
]  # fmt: skip


def outcome(of, raw):
    """What comes out, or the refusal."""
    try:
        return of(raw, SCOPE)
    except Refusal as found:
        return found


@settings(max_examples=600, deadline=None)
@given(
    st.text(max_size=60)
    | st.lists(st.sampled_from(PIECES), max_size=40).map("".join)
    | st.lists(st.sampled_from(PIECES), max_size=40).map(" ".join)
)
def test_any_text_at_all_gives_a_bounded_value_or_a_refusal_within_the_text(text):
    found = outcome(value_said, text)
    if isinstance(found, Refusal):
        assert 0 <= found.offset <= len(text)
        assert 0 < len(found.message) < 300
    elif isinstance(found.payload, Fraction):
        assert found.amount.numerator.bit_length() <= 96
        assert found.amount.denominator.bit_length() <= 96


@settings(max_examples=200, deadline=None)
@given(st.decimals() | st.integers() | st.text(max_size=20) | st.none() | st.floats())
def test_any_raw_value_at_all_gives_a_size_or_a_refusal(raw):
    assert isinstance(outcome(size_of, raw), Fraction | Refusal)
    assert isinstance(outcome(whole_of, raw), int | Refusal)
    assert isinstance(outcome(angle_of, raw), Fraction | Refusal)
    assert isinstance(outcome(condition_of, raw), bool | Refusal)
