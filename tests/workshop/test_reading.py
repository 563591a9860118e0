from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dielines.documents import Document, Refusal, parse_document
from dielines.errors import BookError
from dielines.lengths import inches, millimetres
from dielines.workshop.loading import typical_workshop
from dielines.workshop.reading import Typical, read_workshop
from dielines.workshop.roles import ROLE_OF_STOCK, ROLES
from dielines.workshop.shipped import shipped_document
from dielines.workshop.stock import PLAUSIBLE, StockKind


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_typical_workshop_has_everything_and_calls_all_of_it_typical(units):
    workshop = typical_workshop(units)
    assert set(workshop.players) == set(ROLES)
    for role in ROLES:
        stock = workshop.stock_for(role)
        assert stock.caliper_is_typical
        assert stock.notes
        assert stock.sheets
        assert any(stock.name in line for line in workshop.assumptions)
    assert workshop.tape.thickness_is_typical
    words = "\n".join(workshop.assumptions)
    assert all(name in words for name in ("tapes", "machine", "trimmer", "scoring board", "hand"))


@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_typical_stock_is_plausibly_thick(units):
    for stock in typical_workshop(units).stocks:
        least, most = PLAUSIBLE[stock.kind]
        assert least < stock.caliper < most


def test_metric_books_get_metric_sheets_and_tapes():
    metric, imperial = typical_workshop("mm"), typical_workshop("in")
    assert metric.stock_for("pages").sheets[0].size == (millimetres(210), millimetres(297))
    assert imperial.stock_for("pages").sheets[0].size == (inches(12), inches(12))
    assert millimetres(12) in metric.tape.widths
    assert inches("1/2") in imperial.tape.widths


def test_every_stock_of_a_template_has_its_role():
    assert set(ROLE_OF_STOCK.values()) <= set(ROLES)


def test_an_empty_file_is_the_typical_workshop(load):
    assert load("").stocks == typical_workshop("in").stocks
    assert load('units = "mm"').stocks == typical_workshop("mm").stocks


def test_the_first_stock_of_a_kind_plays_the_roles_of_its_kind(load):
    workshop = load(
        "[papers.a]\n[papers.b]\n[boards.c]\n[reinforcing.d]\n[coverings.e]\n[coverings.f]"
    )
    assert {role: workshop.stock_for(role).name for role in ROLES} == {
        "pages": "a", "inserts": "a", "mats": "patterned paper", "boards": "c",
        "reinforcement": "d", "wrap": "e", "lining": "e", "edges": "e",
    }  # fmt: skip
    assert [stock.name for stock in workshop.stocks] == [
        "a",
        "b",
        "c",
        "d",
        "e",
        "f",
        "patterned paper",
    ]


def test_a_stock_that_claims_a_role_plays_it_and_what_follows_it(load):
    workshop = load(
        '[papers.a]\n[papers.b]\nroles = ["pages"]\n[papers.c]\nroles = ["mats", "wrap"]\n[coverings.d]'
    )
    assert {role: workshop.players[role] for role in ("pages", "inserts", "mats", "wrap", "lining")} == {
        "pages": "b", "inserts": "b", "mats": "c", "wrap": "c", "lining": "c",
    }  # fmt: skip


def test_what_is_lent_is_said_and_what_is_ones_own_is_not(load):
    workshop = load('[papers.a]\nroles = ["pages", "mats"]\ncaliper = "0.2 mm"\nsheets = ["A4"]')
    words = "\n".join(workshop.assumptions)
    assert "cardstock" not in words
    assert "patterned paper" not in words
    assert "grey board" in words
    assert "book cloth" in words


def test_a_stock_of_ones_own_with_the_typical_name_stands_in_for_it(load):
    workshop = load('[papers.a]\n[papers."Patterned  Paper"]\ncaliper = "0.3 mm"')
    assert workshop.stock_for("mats").caliper == millimetres("0.3")


def test_stocks_and_tapes_are_found_by_name_as_it_is_spoken(load):
    workshop = load('[papers."Cream Cardstock"]\n[tapes."Tissue"]')
    assert workshop.stock_named(" cream  cardstock").name == "Cream Cardstock"
    assert workshop.tape_named("tissue").name == "Tissue"


@pytest.mark.parametrize(
    ("ask", "code"),
    [
        (lambda workshop: workshop.stock_named("creme cardstock"), "unknown-stock"),
        (lambda workshop: workshop.stock_named(""), "unknown-stock"),
        (lambda workshop: workshop.tape_named("foam"), "unknown-tape"),
        (lambda workshop: workshop.stock_for("page"), "unknown-role"),
    ],
)
def test_an_unknown_name_is_refused_with_what_there_is(load, ask, code):
    with pytest.raises(Refusal) as refusal:
        ask(load('[papers."cream cardstock"]'))
    assert refusal.value.code == code
    assert "did you mean" in refusal.value.message or refusal.value.remedy


def test_notes_are_those_of_what_is_used(load):
    workshop = load("[papers.a]\n[papers.b]")
    a, b = workshop.stock_named("a"), workshop.stock_named("b")
    assert workshop.notes([a, a]) == (*workshop.assumptions, *a.notes)
    assert not set(b.notes) & set(workshop.notes([a, workshop.tape]))


def test_all_faults_of_a_file_are_told_at_once_in_order(faults):
    text = (
        'units = "inch"\ncurency = "EUR"\nmachine = 3\n'
        "[papers.a]\ncaliper = 3\ngrain = 3\n"
        "[tapes.t]\nrolls = [0, { width = 1, colour = 3 }]\n"
        '[trimmer]\nlength = "1 m"\n[hand]\ncut = 1\n'
    )
    assert faults(text) == [
        (1, "units", "unknown-word"), (2, "curency", "unknown-key"), (3, "machine", "wrong-kind"),
        (5, "papers.a.caliper", "out-of-range"), (6, "papers.a.grain", "wrong-kind"),
        (8, "tapes.t.rolls[1]", "out-of-range"), (8, "tapes.t.rolls[2].colour", "unknown-key"),
        (10, "trimmer.length", "not-a-length"), (12, "hand.cut", "out-of-range"),
    ]  # fmt: skip


def test_a_fault_has_its_column(load):
    with pytest.raises(BookError) as error:
        load('[papers.a]\n  sheets = ["A4",  "12 y 12"]\n')
    assert [(fault.line, fault.column) for fault in error.value.faults] == [(2, 20)]


def test_a_fault_inside_a_text_is_pointed_at(load):
    with pytest.raises(BookError) as error:
        load('[papers.a]\ncaliper = "0.2 px"\n')
    assert [(fault.line, fault.column) for fault in error.value.faults] == [(2, 16)]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("[papers.a]\n[boards.A]\n", (2, "boards.A")),
        ('[papers.a]\n[papers."a "]\n', (2, "papers.a ")),
        ('[papers.a]\nroles = ["mats"]\n[papers.b]\nroles = ["mats"]', (4, "papers.b.roles")),
    ],
)
def test_one_name_and_one_role_belong_to_one_stock(faults, text, place):
    assert faults(text) == [(*place, "named-twice")]


def test_text_that_is_no_toml_is_told_with_its_line(faults):
    assert faults("[papers.a]\ncaliper = ")[0][2] == "not-toml"


def test_shipped_files_leave_nothing_out_and_hold_no_fault():
    for name in ("workshop-inches.toml", "workshop-millimetres.toml"):
        document = shipped_document(name)
        workshop = read_workshop(document, None)
        assert document.faults == []
        assert workshop.assumptions == ()


@pytest.mark.parametrize("key", ["area", "margin", "scoring", "dashes", "kerf", "colours"])
def test_a_key_missing_in_a_shipped_file_would_be_a_fault(key):
    text = shipped_document("workshop-inches.toml").text
    lines = [line for line in text.splitlines() if not line.startswith(f"{key} = ")]
    with pytest.raises(BookError) as error:
        read_workshop(parse_document("typical.toml", "\n".join(lines), BookError), None)
    assert [fault.code for fault in error.value.faults] == ["missing"]


def a_typical() -> Typical:
    document = shipped_document("workshop-inches.toml")
    return Typical(read_workshop(document, None), document)


keys = st.sampled_from(
    ["units", "papers", "boards", "tapes", "machine", "trimmer", "hand", "scoring_board", "caliper",
     "sheets", "rolls", "width", "size", "grain", "price", "roles", "layers", "reads", "dashes",
     "colours", "cut", "length", "area", "weight", "bulk", "like", "thickness", "x", ""]
)  # fmt: skip
values = st.recursive(
    st.one_of(
        st.sampled_from([0, 1, -1, 10**30, True, "A4", "1/0", "0.2 mm", "up", "cut", "svg", "", "é"]),
        st.decimals(), st.text(max_size=5),
    ),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(keys, inner, max_size=3)),
    max_leaves=6,
)  # fmt: skip


def tables() -> st.SearchStrategy[dict[str, object]]:
    named = st.dictionaries(
        st.sampled_from(["a", "b"]), st.dictionaries(keys, values, max_size=4), max_size=2
    )
    sections = {kind.value: named | values for kind in StockKind}
    sections |= {"tapes": named | values, "machine": st.dictionaries(keys, values), "units": values}
    return st.fixed_dictionaries({}, optional=sections)


@given(tables())
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_tables_are_a_workshop_or_a_list_of_faults(data):
    document = Document("workshop.toml", "", BookError, data=data)
    try:
        workshop = read_workshop(document, a_typical())
    except BookError:
        assert document.faults
        return
    assert set(workshop.players) == set(ROLES)
