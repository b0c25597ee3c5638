"""Units against pint, which reads the same definitions in its own registry."""

from __future__ import annotations

import re

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.units import UnitFault, convert, kind

PINT: pint.UnitRegistry[float] = pint.UnitRegistry()
PAIRS = [
    ("m", "ft"), ("mm", "in"), ("yd", "m"), ("ft²", "m²"), ("m³", "ft³"), ("l", "m³"), ("lb", "kg"),
    ("t", "kg"), ("kip", "kN"), ("lbf", "N"), ("N/mm²", "psi"), ("MPa", "N/mm²"), ("kg/m³", "lb/ft³"),
    ("W/m²·K", "W/(m²·K)"), ("W/m²K", "W/ft²·K"), ("m²·K/W", "ft²·K/W"), ("W/mK", "W/(in·K)"),
    ("W/m·K", "W/mm·K"), ("kN/m", "lbf/ft"), ("1/m²", "1/ft²"), ("°C", "°F"),
]  # fmt: skip


def spelled(unit: str) -> str:
    """Our notation in pint's: a fraction's lower side in brackets, kelvin apart."""
    over, _, under = unit.replace("(", "").replace(")", "").partition("/")

    def side(text: str) -> str:
        text = re.sub(r"([²³])(?=\w)", r"\1·", text)
        text = re.sub(r"(?<=m)K$", "·K", text)
        return (
            text.replace("·", "*")
            .replace("²", "**2")
            .replace("³", "**3")
            .replace("°C", "degC")
            .replace("°F", "degF")
        )

    return f"({side(over)})/({side(under)})" if under else side(over)


@pytest.mark.parametrize(("unit", "to"), PAIRS)
@given(value=st.floats(-1000, 1000))
def test_conversions_are_those_of_pint(unit: str, to: str, value: float) -> None:
    wanted = PINT.Quantity(value, spelled(unit)).to(spelled(to)).magnitude
    assert convert(value, unit, to) == pytest.approx(wanted, rel=1e-9, abs=1e-9)


def test_kelvin_may_be_glued_on_and_nothing_else() -> None:
    assert kind("W/mK") == kind("W/(m·K)") == kind("W/m·K")
    assert kind("W/m²K") == kind("W/m²·K")
    assert convert(1.0, "kN", "N") == 1000
    with pytest.raises(UnitFault):
        kind("mgs")
    with pytest.raises(UnitFault):
        kind("sm")


def test_other_kinds_are_refused() -> None:
    with pytest.raises(UnitFault):
        convert(1, "W/m²·K", "m²·K/W")
