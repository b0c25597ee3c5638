"""Metres with what stands behind them: 6m60, 3 metres twenty, 4 metres 50, 2 m 40 cm."""

from __future__ import annotations

import re

from bot.reading.items import Measure
from bot.reading.numbers import number
from bot.reading.walk.walk import Walk


def metres(way: Walk, size: Measure, j: int, k: int) -> int:
    """Add centimetres behind the unit, which stands from j up to k; the place after them."""
    t = way.t
    if k >= len(t):
        return k
    if t[k].kind == "word":
        return k if size.decimal else _in_words(way, size, k)
    if t[k].kind != "number":
        return k
    digits = t[k].text
    power = k + 1 < len(t) and digits in {"2", "3"} and size.decimal
    if not t[k].spaced and re.fullmatch(r"\d{1,3}", digits) and not power:
        again = way.unit(k + 1)
        if again and again[0] == "m" and not t[k + 1].spaced and len(digits) == 1:
            return k  # '9m5m': 9.5 m, or 9 m and 5 m?
        return _touching(way, size, k)
    spelt_out = t[j].spaced or t[j].text != "m"
    if not size.decimal and spelt_out and re.fullmatch(r"[1-9]\d", digits) and _ends(way, k + 1):
        return _add(way, size, float(digits) / 100, k + 1)
    unit = way.unit(k + 1)
    if unit and unit[0] == "cm" and digits.isdigit() and len(digits) <= 2:
        return _add(way, size, float(digits) / 100, unit[1])
    return k


def _touching(way: Walk, size: Measure, k: int) -> int:
    """'6m60', '1m2m'."""
    end = _add(way, size, float("0." + way.t[k].text), k + 1)
    again = way.unit(end)
    if again and again[0] in {"m", "cm"} and not way.t[end].spaced:
        size.end = way.t[again[1] - 1].end
        return again[1]
    return end


def _in_words(way: Walk, size: Measure, k: int) -> int:
    """'three metres twenty'."""
    more = number(way.t, k)
    if more is None or not more.spelt or way.unit(more.last) is not None:
        return k
    hundredths = more.values[0]
    whole = 10 <= hundredths < 100 and hundredths == int(hundredths)
    return _add(way, size, hundredths / 100, more.last) if whole else k


def _ends(way: Walk, k: int) -> bool:
    """Whether nothing at k claims the number before it but a mark or a dimension word."""
    if k >= len(way.t) or way.says(way.t[k].text, "touching.behind_size"):
        return True
    return any(tag[:2] in {("dim", "length"), ("dim", "height")} for tag in way.tags(k))


def _add(way: Walk, size: Measure, part: float, end: int) -> int:
    size.values = (size.values[0] + part,)
    size.decimal, size.end = True, way.t[end - 1].end
    return end
