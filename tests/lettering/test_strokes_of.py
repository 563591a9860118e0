"""Letters of single strokes: where they stand, how large, and that none is lost."""

import math
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dielines.drawing import Caption, Layer
from dielines.lettering.alphabet import CAPITAL, DEEPEST, alphabet, signs_of
from dielines.lettering.strokes_of import items_of, strokes_of, width_of
from dielines.paths import Point

SIGNS = string.printable[:95]


def caption(text, at=(0, 0), height=7 / 3, angle=0.0):
    return Caption(Layer.LABEL, text, Point(*at), height, angle)


def points(text, **how):
    return [point for path in strokes_of(caption(text, **how)) for point in path.points]


def test_every_sign_of_a_keyboard_has_strokes_but_for_the_space():
    assert set(alphabet()) == set(SIGNS)
    assert [sign for sign in SIGNS if not alphabet()[sign].strokes] == [" "]


def test_no_two_signs_look_alike():
    looks = [letter.strokes for letter in alphabet().values()]
    assert len(set(looks)) == len(looks)


def test_a_capital_stands_on_the_base_line_and_is_as_high_as_asked():
    for sign in "AEHKMTXZ":
        ys = [y for _, y in points(sign)]
        assert (min(ys), max(ys)) == pytest.approx((0, 7 / 3))


def test_no_letter_leaves_its_room():
    for sign in SIGNS[10:62]:
        letter = alphabet()[sign]
        for x, y in (point for stroke in letter.strokes for point in stroke):
            assert 0 <= x <= letter.advance
            assert -DEEPEST <= y <= CAPITAL + 1  # the dot of an i


def test_letters_follow_one_another():
    alone = points("b")
    after = points("ab")[len(points("a")) :]
    step = width_of("a", 7 / 3)
    assert [(x - step, y) for x, y in after] == [pytest.approx(tuple(p)) for p in alone]


@pytest.mark.parametrize("angle", [0, 90, 180, 270, 30, -45])
def test_a_text_is_turned_about_its_lower_left(angle):
    level, turned = points("Qj7", at=(11, 5)), points("Qj7", at=(11, 5), angle=float(angle))
    a = math.radians(angle)
    for (x, y), (u, v) in zip(level, turned, strict=True):
        x, y = x - 11, y - 5
        assert u == pytest.approx(11 + x * math.cos(a) - y * math.sin(a))
        assert v == pytest.approx(5 + x * math.sin(a) + y * math.cos(a))


@given(st.text(max_size=30))
def test_any_text_has_signs_to_be_written_in(text):
    signs = signs_of(text)
    assert set(signs) <= set(SIGNS)
    assert width_of(text, 1.0) == pytest.approx(sum(alphabet()[s].advance for s in signs) / CAPITAL)


def test_accents_and_fractions_become_plain_signs():
    assert signs_of("Geländer 4⅞ in") == "Gelander 47/8 in"
    assert signs_of("Straße") == "Strasse"


def test_paths_lie_on_the_layer_of_their_caption_and_bear_its_words():
    items = items_of(caption("A1"))
    assert {(item.layer, item.name) for item in items} == {(Layer.LABEL, "A1")}
    assert all(not item.path.closed for item in items)
    assert len(items) == len(strokes_of(caption("A1")))
