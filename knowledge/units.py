"""Units of the trade. The definitions in units.txt are pint's notation; a test compares them with pint.

pint itself takes longer to import than a whole cold answer may, so the plain factors are read here.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

_POWERS = {"²": 2, "³": 3}


class UnitFault(ValueError):
    """A unit that units.txt does not know, or two units of different kinds."""


@cache
def _definitions() -> dict[str, tuple[float, float, tuple[tuple[str, int], ...]]]:
    """Symbol and name of each unit → (factor, offset, dimension)."""
    known: dict[str, tuple[float, float, tuple[tuple[str, int], ...]]] = {}
    for line in Path(__file__).with_name("units.txt").read_text(encoding="utf-8").splitlines():
        line = line.partition("#")[0].strip()
        if not line:
            continue
        name, _, rest = line.partition(" = ")
        body, _, symbol = rest.rpartition(" = ")
        definition, _, offset = body.partition("; offset: ")
        factor = 1.0
        kinds: dict[str, int] = {}
        sign = 1
        if definition.startswith("["):
            kinds = {definition.strip("[]"): 1}
        else:
            parts = definition.replace(" ** ", "^").split()
            if parts[0][0].isdigit():
                factor, parts = float(parts[0]), parts[1:]
            for part in parts:
                if part in "*/":
                    sign = 1 if part == "*" else -1
                    continue
                base, _, power = part.partition("^")
                power_of = sign * int(power or 1)
                f, _, dimension = known[base]
                factor *= f**power_of
                for kind, n in dimension:
                    kinds[kind] = kinds.get(kind, 0) + n * power_of
        entry = (factor, float(offset or 0.0), tuple(sorted((k, n) for k, n in kinds.items() if n)))
        known[name] = known[symbol] = entry
    return known


def _terms(group: str) -> list[str]:
    """The symbols of one side of a fraction; a kelvin may be glued on: m²K, mK (never millikelvin)."""
    known = _definitions()
    terms: list[str] = []
    for term in group.replace("·", " ").replace("²", "² ").replace("³", "³ ").split():
        glued = term not in known and term.endswith("K") and term[:-1] in known
        terms += [term[:-1], "K"] if glued else [term]
    return terms


@cache
def _shape(unit: str) -> tuple[float, float, tuple[tuple[str, int], ...]]:
    """Factor to SI, offset and dimension of a shown unit such as N/mm² or W/m²K."""
    known = _definitions()
    if unit in known:
        return known[unit]
    factor = 1.0
    kinds: dict[str, int] = {}
    for place, group in enumerate(unit.replace("(", "").replace(")", "").split("/")):
        for term in _terms(group):
            name = term.rstrip("²³")
            if name not in known or len(term) > len(name) + 1:
                if term == "1":
                    continue
                raise UnitFault(f"unknown unit {unit!r}; known: {', '.join(sorted(known))}")
            f, _, dimension = known[name]
            power = _POWERS.get(term[len(name) :], 1) * (1 if place == 0 else -1)
            factor *= f**power
            for kind, n in dimension:
                kinds[kind] = kinds.get(kind, 0) + n * power
    return factor, 0.0, tuple(sorted((k, n) for k, n in kinds.items() if n))


def kind(unit: str) -> tuple[tuple[str, int], ...]:
    """The dimension of a unit, as sorted (base, power) pairs; a count has none."""
    return () if unit in {"", "%"} else _shape(unit)[2]


def convert(value: float, unit: str, to: str) -> float:
    """Value in another unit of the same kind; raises UnitFault for other kinds."""
    if unit == to:
        return value
    factor, offset, dimension = _shape(unit)
    to_factor, to_offset, to_dimension = _shape(to)
    if dimension != to_dimension:
        raise UnitFault(f"cannot turn {unit} into {to}")
    if offset or to_offset:
        return (value * factor + offset - to_offset) / to_factor
    return value * (factor / to_factor)
