"""A person asks for a size in the words of the trade; who misses gets the list of names."""

import pytest

from dielines.errors import UsageError
from dielines.lengths import inches
from dielines.sizes.explaining import reasons_behind, value_lines, why
from dielines.sizes.naming import names_of_sizes
from dielines.sizes.reasons import Reasons, Sizes


@pytest.fixture
def reasons() -> Reasons:
    sizes = Sizes("in")
    for name in ("hold", "flap_of_all", "page_2.flap", "page_13.flap", "page_13.depth"):
        sizes.take(name, inches("2 1/3"), "usual")
    sizes.derive("spine", "3 * hold")
    sizes.derive("board_width", "2 * hold")
    sizes.derive("board_height", "hold + 1 / 7")
    for number in range(1, 5):
        sizes.derive(f"channel_{number}", "hold / 2")
    sizes.derive("joint_wrap_width", "spine + 2 * hold")
    sizes.derive("joint_wrap_height", "hold")
    return sizes.reasons()


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("spine", ["spine"]),
        (" Spine  Width", ["spine"]),
        ("spine board", ["spine", "board_height"]),
        ("the board-width", ["board_width"]),
        ("front board", ["board_width", "board_height"]),
        ("back board height", ["board_height"]),
        ("joint wrap", ["joint_wrap_width", "joint_wrap_height"]),
        ("flap", ["page_2.flap", "page_13.flap"]),
        ("page 13 flap", ["page_13.flap"]),
        ("page 13: flap", ["page_13.flap"]),
        ("page_2.flap", ["page_2.flap"]),
        ("depth of page 13", ["page_13.depth"]),
        ("channel 3", ["channel_3"]),
    ],
)
def test_words_as_people_say_them_find_their_sizes(reasons, said, meant):
    assert list(names_of_sizes(reasons, said)) == meant
    assert list(reasons_behind(reasons, said))[: len(meant)] == meant


def test_a_thing_is_told_by_its_width_and_its_height(reasons):
    firsts = [line for line in why(reasons, "joint wrap").splitlines() if line[0] != " "]
    assert [line.split(" = ")[0] for line in firsts] == ["joint_wrap_width", "joint_wrap_height"]


def test_equal_sizes_of_pages_are_told_together(reasons):
    assert why(reasons, "flap").splitlines() == ["page_2.flap, page_13.flap = 2 1/3 in (usual)"]


@pytest.mark.parametrize("said", ["spin", "nothing at all", "", "page 99 flap", "x" * 9999])
def test_an_unknown_name_gives_all_names_with_numbers_told_once(reasons, said):
    with pytest.raises(UsageError) as refused:
        names_of_sizes(reasons, said)
    text = str(refused.value)
    words = text.replace(",", " ").split()
    assert {"hold", "spine", "joint_wrap_width", "channel_N", "page_N.flap"} <= set(words)
    assert words.count("channel_N") == words.count("page_N.flap") == 1
    assert "channel_1" not in words
    assert max(map(len, text.splitlines())) <= 100
    assert ("did you mean 'spine'" in text) == (said == "spin")


def test_all_sizes_are_listed_once_with_their_values(reasons):
    rows = [line.split(maxsplit=1) for line in value_lines(reasons) if line.startswith(" ")]
    assert sorted(name for name, _ in rows) == sorted(reasons.by_name)
    values = dict(rows)
    assert values["spine"] == "7 in"
    assert values["page_13.flap"].startswith("2 1/3 in")
