"""Numbers as they are written back: what is read off the screen is the number, to the figures shown."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.speaking.numerals import number, quantity

FINE = ("m", "mm", "ft²", "kg", "m³", "m²", "kN", "l")


def back(text: str) -> float:
    """The number that a reader takes from a text."""
    return float(re.match(r"-?[\d,]*\.?\d+(e[-+]?\d+)?", text)[0].replace(",", ""))  # type: ignore[index]


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (2259.8, 0, "2260"),
        (99.6, 0, "100"),
        (1000.4, 0, "1000"),
        (10.0, 1, "10"),
        (12345.0, 3, "12,345"),
        (0.5, 3, "0.5"),
        (1.25, 3, "1.25"),
        (120.04, 1, "120"),
    ],
)
def test_a_number_keeps_its_own_noughts(value: float, digits: int, text: str) -> None:
    """Rounded as Python's own formatting rounds, and nothing more taken off."""
    assert number(value, digits) == text


@given(st.floats(min_value=0.001, max_value=1e7), st.sampled_from(FINE))
def test_what_is_shown_is_the_value(value: float, unit: str) -> None:
    """To three figures at least, whatever the size."""
    shown = back(quantity({"value": value, "unit": unit}))
    assert shown == pytest.approx(value, rel=0.006, abs=0.0006)
