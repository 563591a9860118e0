from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from dielines.lengths import Length, inches, millimetres
from dielines.sheets.scale import FINEST, ROUNDED, scale_for

LENGTHS = st.lists(
    st.builds(lambda n, d: Length(Fraction(n, d)), st.integers(1, 10**6), st.integers(1, 900)),
    min_size=1,
    max_size=6,
)


def test_sizes_in_sixteenths_and_thirds_share_an_exact_unit():
    assert scale_for([inches("4 5/16"), inches("1/3")]).unit == inches("1/48").mm
    assert scale_for([millimetres(210), millimetres("6.5")]).unit == Fraction(1, 2)


@given(LENGTHS)
def test_what_needs_room_is_rounded_up_and_the_room_down(lengths):
    scale = scale_for(lengths)
    for length in lengths:
        up, down = scale.up(length), scale.down(length)
        assert scale.length(down) <= length <= scale.length(up)
        assert up == down if scale.unit != ROUNDED else up - down <= 1
        assert up <= max(FINEST, length.mm / ROUNDED + 1)


def test_sizes_that_share_no_unit_are_rounded_to_hundredths():
    odd = [Length(Fraction(100_003, 997)), Length(Fraction(200_003, 1009))]
    assert scale_for(odd).unit == ROUNDED
    assert scale_for([]).unit == ROUNDED
