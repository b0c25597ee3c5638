"""units.txt is in pint's notation: pint, with no other units, must read the same factor for each."""

from __future__ import annotations

from pathlib import Path

import pint
import pytest

from knowledge.units import UnitFault, convert, kind
from tests.architecture.tree import ROOT

FILE = ROOT / "knowledge" / "units.txt"


def lines() -> list[tuple[str, str]]:
    """Name and symbol of each unit."""
    found = []
    for line in FILE.read_text(encoding="utf-8").splitlines():
        parts = [part.strip() for part in line.partition("#")[0].split(" = ")]
        if len(parts) == 3:
            found.append((parts[0], parts[2]))
    return found


def registry(file: Path) -> pint.UnitRegistry[float]:
    """pint with our units and none of its own."""
    ours: pint.UnitRegistry[float] = pint.UnitRegistry(None, autoconvert_offset_to_baseunit=True)
    ours.load_definitions(str(file))
    return ours


PINT = registry(FILE)


def test_the_file_holds_the_units_of_the_trade() -> None:
    symbols = {symbol for _, symbol in lines()}
    assert {"m", "mm", "ft", "in", "kg", "lb", "N", "kN", "l", "°C", "°F", "psi", "MPa"} <= symbols
    assert len(symbols) == len(lines())


def base(symbol: str) -> str:
    """The unit of the same kind in m, kg, s and K, as we write it."""
    letters = {"length": "m", "mass": "kg", "time": "s", "temperature": "K"}
    powers = {1: "", 2: "²", 3: "³"}
    over = [letters[name] + powers[power] for name, power in kind(symbol) if power > 0]
    under = [letters[name] + powers[-power] for name, power in kind(symbol) if power < 0]
    return "·".join(over) + ("/" + "·".join(under) if under else "")


@pytest.mark.parametrize(("name", "symbol"), lines())
def test_every_unit_is_what_pint_makes_of_it(name: str, symbol: str) -> None:
    for value in (0.0, 1.0, 37.5):
        wanted = PINT.Quantity(value, PINT.Unit(name)).to_base_units().magnitude
        assert convert(value, symbol, base(symbol)) == pytest.approx(wanted, rel=1e-12, abs=1e-9)
        assert convert(value, name, symbol) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize("typed", ["bag", "mil", "cubit", "M", "Kg", "mm²²"])
def test_what_is_no_unit_of_ours_is_refused(typed: str) -> None:
    """A general registry knows a bag and a mil, and takes them for a weight and an angle."""
    with pytest.raises(UnitFault):
        kind(typed)
