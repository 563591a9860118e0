"""Colours by number are the nearest to the colour asked for."""

import pytest
from ezdxf.colors import aci2rgb

from dielines.errors import UsageError
from dielines.formats.dxf.colours import nearest_number, red_green_blue


@pytest.mark.parametrize(
    ("colour", "number"),  # DXF Reference: 1 red, 2 yellow, 3 green, 4 cyan, 5 blue, 6 magenta
    [
        ("#FF0000", 1),
        ("#FFFF00", 2),
        ("#00FF00", 3),
        ("#00FFFF", 4),
        ("#0000FF", 5),
        ("#FF00FF", 6),
        ("#000000", 7),
    ],
)
def test_the_named_colours_have_their_numbers(colour, number):
    assert nearest_number(colour) == number


@pytest.mark.parametrize("colour", ["#0072B2", "#D55E00", "#009E73", "#CC79A7", "#767676"])
def test_no_other_number_is_nearer(colour):
    def off(number):
        return sum(
            (a - b) ** 2 for a, b in zip(red_green_blue(colour), aci2rgb(number), strict=True)
        )

    assert off(nearest_number(colour)) == min(off(number) for number in range(1, 256))


@pytest.mark.parametrize("colour", ["", "red", "#12345", "#1234567", "#GG0000", "0072B2"])
def test_what_is_no_colour_is_refused(colour):
    with pytest.raises(UsageError):
        red_green_blue(colour)
