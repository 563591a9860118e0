"""Parameters: declared with types, worked out in the order they need, limits checked last.

Published: 1 in = 25.4 mm (International Yard and Pound Agreement 1959). All else is
this project's own language.
"""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dielines.documents import Document, parse_document
from dielines.errors import Fault
from dielines.language.parameters import (
    ParameterType,
    Resolved,
    choice_words,
    read_derived,
    read_parameters,
    resolve,
)
from dielines.language.values import Value, bare, flag, length, number, word
from dielines.lengths import Length

INCH = Fraction(254, 10)
BOARD = {"board.caliper": length(2)}

PAGE = """
units = "in"
[parameters]
width  = { type = "length", default = "6 1/4", min = 3, max = 12, help = "spine to fore-edge" }
height = { type = "length", default = "4 1/4", min = 3, max = 12 }
depth  = { type = "length", default = "1/8", min = "1/16", max = "width / 4" }
photo  = { type = "length", default = "width - 1 1/4", max = "width" }
step   = { type = "length", default = 0.5, max = "width - 1" }
thumb  = { type = "flag", default = "width > 5" }
lip    = { type = "choice", default = "if(thumb, arched, plain)", choices = ["plain", "arched"] }
fins   = { type = "count", default = 4, min = 1, max = "width / step" }
lean   = { type = "angle", default = 72.5, min = 0, max = 90 }
[derived]
seam   = "max(1/2, depth * 2)"
thick  = "board.caliper * 2 + seam"
is_big = "width > 6 and thumb"
"""


def read(text: str, arguments=None, outer=BOARD, argument_units=None) -> tuple[Resolved, Document]:
    document = parse_document("t.toml", text)
    root, top = document.root, document.data
    parameters = read_parameters(root / "parameters", top.get("parameters", {}))
    derived = read_derived(root / "derived", top.get("derived", {}), parameters)
    units = top.get("units")
    resolved = resolve(parameters, derived, arguments or {}, outer, units, root, argument_units)
    return resolved, document


def page(**arguments) -> dict[str, Value]:
    resolved, document = read(PAGE, arguments)
    assert document.faults == []
    assert resolved.argument_refusals == ()
    return dict(resolved.values)


def refused(text: str, arguments, argument_units=None) -> dict[str, str]:
    """The codes of what was given and is refused, by name; the template has no faults."""
    resolved, document = read(text, arguments, argument_units=argument_units)
    assert document.faults == []
    return {name: refusal.code for name, refusal in resolved.argument_refusals}


def told(text: str, **keywords) -> list[Fault]:
    return sorted(read(text, **keywords)[1].faults)


def codes(text: str, **keywords) -> list[str]:
    return [fault.code for fault in told(text, **keywords)]


def declared(entry: str, more: str = "") -> str:
    return f'units = "in"\n[parameters]\n{entry}\n{more}'


# What a template declares


def test_a_declaration_keeps_its_type_help_limits_and_choices():
    document = parse_document("t.toml", PAGE)
    found = {p.name: p for p in read_parameters(document.root, document.data["parameters"])}
    assert [p.type.value for p in found.values()] == (
        ["length"] * 5 + ["flag", "choice", "count", "angle"]
    )
    assert found["width"].help == "spine to fore-edge"
    assert (found["depth"].min, found["depth"].max) == ("1/16", "width / 4")
    assert (found["width"].default, found["step"].default) == ("6 1/4", Decimal("0.5"))
    assert found["lip"].choices == ("plain", "arched")
    assert found["lip"].type is ParameterType.CHOICE
    assert choice_words(found.values()) == {"plain", "arched"}


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ('max = { type = "length", default = 1 }', "reserved"),
        ('round_up = { type = "length", default = 1 }', "reserved"),
        ('i = { type = "length", default = 1 }', "reserved"),
        ('caliper = { type = "length", default = 1 }', "reserved"),
        ('middle = { type = "length", default = 1 }', "reserved"),
        ('mm = { type = "length", default = 1 }', "reserved"),
        ('not = { type = "length", default = 1 }', "reserved"),
        ('true = { type = "length", default = 1 }', "reserved"),
        *((f'{name} = {{ type = "length", default = 1 }}', "reserved")
          for name in ("valley", "mountain", "none", "slit", "perforate")),
        ('2thumb = { type = "length", default = 1 }', "bad-name"),
        ('Thumb = { type = "length", default = 1 }', "bad-name"),
        ('"board.x" = { type = "length", default = 1 }', "bad-name"),
        ('"" = { type = "length", default = 1 }', "bad-name"),
        ('a = 3', "wrong-kind"),
        ('a = { type = "lenght", default = 1 }', "unknown-word"),
        ('a = { type = 3, default = 1 }', "wrong-kind"),
        ('a = { default = 1 }', "missing"),
        ('a = { type = "length" }', "missing"),
        ('a = { type = "length", default = 1, minn = 1 }', "unknown-key"),
        ('a = { type = "length", default = [1] }', "wrong-kind"),
        ('a = { type = "length", default = true }', "wrong-kind"),
        ('a = { type = "length", default = 2024-01-02 }', "wrong-kind"),
        ('a = { type = "length", default = nan }', "not-finite"),
        ('a = { type = "length", default = 1, min = [1] }', "wrong-kind"),
        ('a = { type = "length", default = 1, max = inf }', "not-finite"),
        ('a = { type = "length", default = 1, help = 3 }', "wrong-kind"),
        ('a = { type = "length", default = 1, choices = ["b"] }', "not-here"),
        ('a = { type = "flag", default = true, min = 0 }', "not-here"),
        ('a = { type = "flag", default = 1 }', "wrong-kind"),
        ('a = { type = "choice", default = "b", choices = ["b"], max = 1 }', "not-here"),
        ('a = { type = "choice", default = 1, choices = ["b"] }', "wrong-kind"),
        ('a = { type = "choice", default = "b", choices = "b" }', "wrong-kind"),
        ('a = { type = "choice", default = "b", choices = ["b", 3] }', "wrong-kind"),
        ('a = { type = "choice", default = "b", choices = ["b", "c", "b"] }', "twice"),
        ('a = { type = "choice", default = "b", choices = ["b", "fore-edge"] }', "bad-name"),
        ('a = { type = "choice", default = "b", choices = ["b", "none"] }', "reserved"),
        ('a = { type = "choice", default = "b", choices = ["a", "b"] }', "also-a-choice"),
    ],
)  # fmt: skip
def test_a_bad_declaration_is_one_fault(entry, code):
    document = parse_document("t.toml", declared(entry))
    read_parameters(document.root / "parameters", document.data["parameters"])
    assert [fault.code for fault in document.faults] == [code]
    assert document.faults[0].line == 3


def test_a_choice_has_words_to_choose_from():
    for rest in ("", ", choices = []"):
        document = parse_document(
            "t.toml", declared(f'a = {{ type = "choice", default = "b"{rest} }}')
        )
        read_parameters(document.root / "parameters", document.data["parameters"])
        assert [fault.code for fault in document.faults] == ["list-length" if rest else "missing"]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ('a = "1"', "taken"), ('arched = "1"', "also-a-choice"), ('min = "1"', "reserved"),
        ('2b = "1"', "bad-name"), ("b = [1]", "wrong-kind"), ("b = { c = 1 }", "wrong-kind"),
        ("b = inf", "not-finite"),
    ],
)  # fmt: skip
def test_a_bad_derived_value_is_one_fault(line, code):
    entries = (
        'a = { type = "length", default = 1 }\n'
        'b_lip = { type = "choice", default = "plain", choices = ["plain", "arched"] }'
    )
    assert codes(declared(entries, f"[derived]\n{line}")) == [code]


def test_a_template_has_no_more_than_two_hundred_names():
    many = "\n".join(f'a{k} = {{ type = "count", default = {k} }}' for k in range(150))
    more = "[derived]\n" + "\n".join(f"b{k} = {k}" for k in range(50))
    assert codes(declared(many, more)) == []
    assert codes(declared(many, f"{more}\nb50 = 1")) == ["too-many"]


# What comes out


def test_defaults_and_derived_values_follow_from_one_another():
    values = page()
    assert values["width"] == length(Fraction(25, 4) * INCH)
    assert values["photo"] == length(5 * INCH)
    assert values["step"] == length(INCH / 2)
    assert values["thumb"] == flag(True)
    assert values["lip"] == word("arched")
    assert values["fins"] == number(4)
    assert values["lean"] == number(Fraction(145, 2))
    assert values["seam"] == length(INCH / 2)
    assert values["thick"] == length(4 + INCH / 2)
    assert values["is_big"] == flag(True)
    assert list(values) == [
        "width", "height", "depth", "photo", "step", "thumb", "lip", "fins", "lean",
        "seam", "thick", "is_big",
    ]  # fmt: skip


def test_what_is_given_goes_first_and_the_rest_follows():
    values = page(width="4 7/8", depth="2/3 in")
    assert values["photo"] == length(Fraction(29, 8) * INCH)
    assert values["seam"] == length(Fraction(4, 3) * INCH)
    assert values["thumb"] == flag(False)
    assert values["lip"] == word("plain")


def test_a_name_may_need_one_that_stands_below_it():
    text = declared(
        'a = { type = "length", default = "b / 3" }', '[derived]\nb = "c * 2"\nc = "7 mm"'
    )
    resolved, document = read(text)
    assert document.faults == []
    assert resolved.values["a"] == length(Fraction(14, 3))


@pytest.mark.parametrize(
    ("name", "raw", "value"),
    [
        ("width", 5, length(5 * INCH)), ("width", Decimal("5.1"), length(Fraction("129.54"))),
        ("width", "4-7/8 in", length(Fraction("123.825"))), ("width", "123.825 mm", length(Fraction("123.825"))),
        ("width", length(150), length(150)), ("width", bare(5), length(127)),
        ("width", Length(Fraction(1000, 7)), length(Fraction(1000, 7))),
        ("fins", 3, number(3)), ("fins", "3", number(3)), ("fins", Decimal("3.0"), number(3)),
        ("fins", number(3), number(3)), ("fins", bare(3), number(3)),
        ("lean", "22.5", number(Fraction(45, 2))), ("lean", Decimal("0.1"), number(Fraction(1, 10))),
        ("thumb", True, flag(True)), ("thumb", "no", flag(False)), ("thumb", "true", flag(True)),
        ("thumb", flag(False), flag(False)), ("lip", "plain", word("plain")), ("lip", word("plain"), word("plain")),
    ],
)  # fmt: skip
def test_what_is_given_may_be_text_a_number_or_a_value(name, raw, value):
    assert page(**{name: raw})[name] == value


def test_bare_numbers_that_are_given_count_in_the_units_of_who_gives_them():
    resolved, document = read(PAGE, {"width": 150, "height": "110"}, argument_units="mm")
    assert (document.faults, resolved.argument_refusals) == ([], ())
    assert resolved.values["width"] == length(150)
    assert resolved.values["height"] == length(110)
    assert resolved.values["depth"] == length(INCH / 8)


@pytest.mark.parametrize(
    ("name", "raw", "code"),
    [
        ("dept", 1, "unknown-parameter"), ("seam", 1, "derived"), ("board.caliper", 1, "unknown-parameter"),
        ("width", "wide", "not-a-length"), ("width", "5 px", "not-a-length"), ("width", "1" * 300, "too-long"),
        ("width", True, "wrong-kind"), ("width", [5], "wrong-kind"), ("width", None, "wrong-kind"),
        ("width", number(5), "wrong-kind"), ("width", Decimal("1e999999"), "digits"),
        ("width", 10**30, "digits"), ("width", Decimal("nan"), "not-finite"),
        ("fins", "7/2", "not-whole"), ("fins", -1, "negative"), ("fins", "3 in", "wrong-kind"),
        ("fins", length(3), "wrong-kind"), ("lean", length(3), "wrong-kind"), ("lean", "steep", "unknown-name"),
        ("thumb", 1, "wrong-kind"), ("thumb", "depth", "unknown-name"), ("lip", "wavy", "unknown-word"),
        ("lip", True, "wrong-kind"), ("lip", word("wavy"), "unknown-word"), ("fins", "9**9**9", "powers"),
    ],
)  # fmt: skip
def test_what_cannot_be_taken_is_refused_by_name_and_no_fault_of_the_template(name, raw, code):
    assert refused(PAGE, {name: raw}) == {name: code}


def test_all_that_is_refused_is_told_at_once_and_what_needs_it_falls_silent():
    found = refused(PAGE, {"width": "wide", "lip": "wavy", "lean": 100, "hight": 4})
    assert found == {
        "width": "not-a-length", "lip": "unknown-word", "lean": "out-of-range",
        "hight": "unknown-parameter",
    }  # fmt: skip
    resolved, _ = read(PAGE, {"width": "wide", "lip": "wavy"})
    assert resolved.values.keys() == {"height", "depth", "step", "fins", "lean", "seam", "thick"}
    assert resolved.reasons.keys() == resolved.values.keys()


# Limits


@pytest.mark.parametrize(
    ("given_values", "refusals"),
    [
        ({"width": 3}, {}), ({"width": 12}, {}),
        ({"width": "2 7/8"}, {"width": "out-of-range"}),
        ({"width": "12 1/100"}, {"width": "out-of-range"}),
        ({"width": 3, "step": 2, "fins": 1}, {}),
        ({"width": 3, "step": "2 1/999", "fins": 1}, {"step": "out-of-range"}),
        ({"width": 4, "depth": 1}, {}), ({"width": 4, "depth": "1 1/7"}, {"depth": "out-of-range"}),
        ({"fins": 0}, {"fins": "out-of-range"}), ({"fins": 12}, {}), ({"fins": 13}, {"fins": "out-of-range"}),
        ({"lean": 90}, {}), ({"lean": Decimal("90.1")}, {"lean": "out-of-range"}),
    ],
)  # fmt: skip
def test_limits_are_held_exactly_when_all_values_stand(given_values, refusals):
    assert refused(PAGE, given_values) == refusals


def test_a_default_out_of_bounds_because_of_what_was_given_is_told_to_who_gave_it():
    resolved, document = read(PAGE, {"step": 3})
    assert document.faults == []
    ((name, refusal),) = resolved.argument_refusals
    assert (name, refusal.code) == ("step", "out-of-range")
    assert "fins = 4" in refusal.message
    assert "fins" in refusal.remedy


def test_the_consequences_of_what_is_refused_anyway_are_not_told():
    text = PAGE + 'gap = "width / (fins - 13)"\n'
    assert refused(text, {"fins": 13}) == {"fins": "out-of-range"}
    assert refused(text, {"width": "1/2", "depth": "1/16"}) == {"width": "out-of-range"}


@pytest.mark.parametrize(
    ("formula", "given_values", "refusals"),
    [
        ("width / (fins - 1)", {"fins": 1}, [("fins", "zero-division")]),
        ("width / (fins - 1)", {"height": 5, "fins": 1, "depth": "1/4"}, [("fins", "zero-division")]),
        ("width / (2 * gap)", {"height": 5, "fins": 1}, [("fins", "zero-division")]),
        ("width / (fins - 4)", {"depth": "1/4"}, []),
        ("width / (fins + depth)", {"fins": 1}, []),
    ],
)  # fmt: skip
def test_a_formula_that_fails_because_of_what_was_given_is_told_to_who_gave_it(
    formula, given_values, refusals
):
    resolved, document = read(PAGE + f'gap = "fins - 1"\nb = "{formula}"\n', given_values)
    assert [(name, refusal.code) for name, refusal in resolved.argument_refusals] == refusals
    assert bool(document.faults) is not bool(refusals)


def test_a_default_out_of_its_own_bounds_is_a_fault_of_the_template():
    (fault,) = told(
        declared('a = { type = "length", default = "1/3", min = "b" }', "[derived]\nb = 1")
    )
    assert (fault.code, fault.line, fault.column) == ("out-of-range", 3, 34)
    assert "a = ≈ 0.3333 in" in fault.message
    assert "1 in (b)" in fault.message


def test_a_limit_is_told_with_its_formula_and_numbers():
    resolved, _ = read(PAGE, {"width": "2 7/8", "step": 2, "fins": 1})
    messages = {name: refusal.message for name, refusal in resolved.argument_refusals}
    assert "2 7/8 in" in messages["width"]
    assert "3 in" in messages["width"]
    assert "1 7/8 in (width - 1)" in messages["step"]


def test_what_was_given_in_mm_is_told_in_mm():
    resolved, _ = read(PAGE, {"width": 30}, argument_units="mm")
    message = dict(resolved.argument_refusals)["width"].message
    assert "30 mm" in message
    assert "76.2 mm" in message


@pytest.mark.parametrize(
    ("limit", "code"),
    [('"dept"', "unknown-name"), ('"9**9"', "powers"), ('"lean"', "wrong-kind"),
     ('"1 / (width - width)"', "wrong-kind"), ('"width / 0"', "zero-division")],
)  # fmt: skip
def test_a_bad_limit_is_a_fault_of_the_template_at_the_limit(limit, code):
    entries = (
        'lean = { type = "angle", default = 1 }\nwidth = { type = "length", default = 1 }\n'
        f'a = {{ type = "length", default = 1, max = {limit} }}'
    )
    (fault,) = told(declared(entries))
    assert (fault.code, fault.line, fault.field) == (code, 5, "parameters.a.max")


# Faults of formulas


@pytest.mark.parametrize(
    ("lines", "circles"),
    [
        (["a = 'b + 1'", "b = '2 * a'"], ["a -> b -> a"]),
        (["x = 'b'", "a = 'c'", "b = 'a'", "c = 'b'"], ["a -> c -> b -> a"]),
        (["a = 'a'"], ["a -> a"]),
        (["a = 'a + b'", "b = 'c'", "c = 'b'"], ["a -> a", "b -> c -> b"]),
        (["a = 'if(true, 1, b)'", "b = 'a'"], ["a -> b -> a"]),
        (["a = 'b'", "b = 'c'", "c = '1'"], []),
    ],
)
def test_a_circle_is_told_once_in_the_direction_of_need(lines, circles):
    found = told("units = 'mm'\n[derived]\n" + "\n".join(lines))
    assert [fault.code for fault in found] == ["circle"] * len(circles)
    assert [fault.message.split(": ")[1] for fault in found] == circles


def test_a_circle_of_defaults_is_told_even_where_one_is_given():
    text = declared(
        'a = { type = "length", default = "b" }\nb = { type = "length", default = "a" }'
    )
    resolved, document = read(text, {"a": 3})
    assert [fault.code for fault in document.faults] == ["circle"]
    assert resolved.values == {}


def test_a_long_chain_and_a_long_circle_are_no_matter():
    chain = "\n".join(f"a{k} = 'a{k + 1} + 1'" for k in range(199))
    resolved, document = read(f"units = 'mm'\n[derived]\n{chain}\na199 = '1 mm'")
    assert document.faults == []
    assert resolved.values["a0"] == length(200)
    (fault,) = told(f"units = 'mm'\n[derived]\n{chain}\na199 = 'a0'")
    assert fault.code == "circle"
    assert len(fault.message) < 100


@pytest.mark.parametrize(
    ("formula", "code", "column"),
    [
        ("1 + dept", "unknown-name", 10), ("caliper", "unknown-name", 5), ("9**9**9", "powers", 7),
        ("1 / (2 - 2)", "zero-division", 8), ("width * (1 + thumb)", "wrong-kind", 17),
        ("1 + ", "syntax", 10), ("i", "unknown-name", 5), ("length", "unknown-name", 5),
    ],
)  # fmt: skip
def test_a_bad_formula_is_told_at_its_column(formula, code, column):
    (fault,) = told(PAGE + f'a = "{formula}"\n')
    assert (fault.code, fault.line, fault.column) == (code, 17, column)


def test_one_broken_name_is_told_once_and_not_again_where_it_is_needed():
    text = PAGE + 'a = "1 +"\nb = "a * 2"\nc = "b < 1"\n'
    resolved, document = read(text)
    assert [fault.code for fault in document.faults] == ["syntax"]
    assert "seam" in resolved.values
    assert not {"a", "b", "c"} & resolved.values.keys()


def test_a_limit_on_a_broken_name_is_not_told_again():
    entry = (
        'a = { type = "length", default = "1 +" }\nb = { type = "length", default = 1, max = "a" }'
    )
    assert codes(declared(entry)) == ["syntax"]


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ('a = { type = "length", default = "3 * n" }', "wrong-kind"),
        ('a = { type = "length", default = "yes_no" }', "wrong-kind"),
        ('a = { type = "count", default = 1.5 }', "not-whole"),
        ('a = { type = "count", default = -1 }', "negative"),
        ('a = { type = "count", default = "3 mm" }', "wrong-kind"),
        ('a = { type = "angle", default = "3 mm" }', "wrong-kind"),
        ('a = { type = "flag", default = "n" }', "wrong-kind"),
        ('a = { type = "choice", default = "wavy", choices = ["x", "y"] }', "unknown-word"),
        ('a = { type = "choice", default = "plain", choices = ["x", "y"] }', "unknown-word"),
        ('a = { type = "choice", default = "n", choices = ["x", "y"] }', "wrong-kind"),
        ('a = { type = "choice", default = "if(yes_no, x, wavy)", choices = ["x"] }', "unknown-name"),
        ('a = { type = "length", default = 1e999999 }', "digits"),
    ],
)  # fmt: skip
def test_a_default_that_does_not_fit_its_type_is_a_fault_of_the_template(entry, code):
    others = (
        'n = { type = "count", default = 2 }\nyes_no = { type = "flag", default = true }\n'
        'lip = { type = "choice", default = "plain", choices = ["plain", "arched"] }\n'
    )
    (fault,) = told(declared(others + entry))
    assert (fault.code, fault.field) == (code, "parameters.a.default")


def test_bare_defaults_need_declared_units():
    text = '[parameters]\na = { type = "length", default = 1 }\nb = { type = "length", default = "1 in" }'
    resolved, document = read(text)
    assert [fault.code for fault in document.faults] == ["no-units"]
    assert resolved.values == {"b": length(INCH)}
    assert refused(text.replace("default = 1 ", 'default = "1 mm" '), {"a": 3}) == {"a": "no-units"}


def test_a_name_that_is_set_from_outside_cannot_be_declared():
    outer = {"length": length(100)}
    text = declared('length = { type = "length", default = 1 }', '[derived]\ntwice = "length * 2"')
    resolved, document = read(text, outer=outer)
    assert [fault.code for fault in document.faults] == ["taken"]
    assert resolved.values == {"twice": length(200)}
    assert codes("[derived]\nlength = '1 mm'", outer=outer) == ["taken"]


def test_outer_names_can_be_used_and_are_not_handed_back():
    resolved, document = read("[derived]\na = 'board.caliper * 3'")
    assert document.faults == []
    assert resolved.values == {"a": length(6)}


def test_all_faults_are_told_at_once():
    text = declared(
        'max = { type = "length", default = 1 }\na = { typ = "length", default = 1 }',
        '[derived]\nx = "y"\ny = "x"\nz = "9**9"\nw = "dept"\n',
    )
    assert codes(text) == ["reserved", "missing", "unknown-key", "circle", "powers", "unknown-name"]


# Reasons


def test_every_value_has_its_reason():
    resolved, _ = read(PAGE, {"depth": "2/3 in"})
    assert resolved.reasons.keys() == resolved.values.keys()
    assert resolved.reasons["depth"].startswith("≈ 0.6667 in")
    assert resolved.reasons["width"].startswith("6 1/4 in")
    assert resolved.reasons["depth"].split(", ")[1] != resolved.reasons["width"].split(", ")[1]
    photo = resolved.reasons["photo"]
    assert "width - 1 1/4 = 5 in" in photo
    assert "width = 6 1/4 in" in photo
    assert "board.caliper = ≈ 0.0787 in" in resolved.reasons["thick"]


def test_reasons_are_told_in_the_units_of_who_asks():
    resolved, _ = read(PAGE, {}, argument_units="mm")
    assert "158.75 mm" in resolved.reasons["width"]


@settings(max_examples=150, deadline=None)
@given(
    st.dictionaries(
        st.sampled_from(["width", "height", "depth", "step", "thumb", "lip", "fins", "lean", "seam"]),
        st.text(max_size=12) | st.integers() | st.decimals() | st.booleans() | st.none()
        | st.fractions(0, 300).map(length) | st.fractions(-3, 20).map(bare)
        | st.sampled_from(["plain", "yes", "3 1/7", "4-7/8 in", "12 cm"]),
    )
)  # fmt: skip
def test_whatever_is_given_is_taken_within_limits_or_refused(arguments):
    resolved, document = read(PAGE, arguments)
    assert document.faults == []
    if resolved.argument_refusals:
        return
    values = {name: value.payload for name, value in resolved.values.items()}
    assert len(values) == 12
    assert 3 * INCH <= values["width"] <= 12 * INCH
    assert INCH / 16 <= values["depth"] <= values["width"] / 4
    assert values["step"] <= values["width"] - INCH
    assert 1 <= values["fins"] <= values["width"] / values["step"]
    assert values["seam"] == max(INCH / 2, values["depth"] * 2)
