"""A number with the unit that stands at it."""

from __future__ import annotations

from bot.reading.items import Measure
from bot.reading.letters import Token
from bot.reading.numbers import Number
from bot.reading.walk.feet import feet, inches
from bot.reading.walk.metres import metres
from bot.reading.walk.walk import Walk

LETTERS = {"c", "f", "l", "t", "g"}  # units only where they touch the number
MOST_INCHES = 240  # more of them are said in feet
HOTTEST = 130  # degrees: a C or F behind anything above is a letter
STRONGEST = 60  # N/mm²: an n behind anything above is an 'and'


def measure(way: Walk, found: Number, negative: bool) -> tuple[Measure | None, int]:
    """A number with its unit, feet and inches together; None where unknown letters touch the number."""
    t = way.t
    size = Measure(found.values, "", t[found.first - negative].start, t[found.last - 1].end)
    size.decimal, size.comma, size.spelt, size.grouped = found[3:]
    size.negative = negative
    j = _over_a(way, found)
    if j >= len(t):
        return size, j
    touching = not t[j].spaced
    if t[j].text == "-" and touching and _unit_joined(way, j, {"ft", "in", "m", "mm", "cm"}):
        j += 1
    if _degrees(way, j, size):
        return size, j + 1
    if t[j].text == "." and touching and _unit_joined(way, j, {"m", "mm", "ft"}) and len(t[j + 1].text) > 1:
        j, touching = j + 1, False
    unit = way.unit(j)
    if unit is None and t[j].kind == "word" and touching:
        unit = _unit_in_front(way, j)
        if unit is None and not may_touch(way, j):
            return None, j
    if unit is None or _is_no_unit(way, j, unit, size):
        if unit is None and t[j].text == "°":
            size.unit, size.end, size.lent = "°C", t[j].end, True
            return size, j + 1
        return size, j
    size.unit, k = unit
    size.lent = size.unit == "°C" and way.says(t[k - 1].text, "units.bare_degrees")
    size.end = t[k - 1].end
    if size.unit == "ft":
        return feet(way, size, k)
    return size, metres(way, size, j, k) if size.unit == "m" else k


def _over_a(way: Walk, found: Number) -> int:
    """'half a metre': past the 'a'."""
    t, j = way.t, found.last
    part = found.spelt and way.says(t[found.first].text, "spelt.part")
    return j + 1 if part and j + 1 < len(t) and way.says(t[j].text, "spelt.a") and way.unit(j + 1) else j


def _unit_joined(way: Walk, j: int, units: set[str]) -> bool:
    """'10-metre', '2.ft': whether one of these units touches the mark at j."""
    t = way.t
    if j + 1 >= len(t) or t[j + 1].kind != "word":
        return False
    unit = way.unit(j + 1)
    return unit is not None and unit[0] in units and not (t[j].text == "-" and t[j + 1].spaced)


def _degrees(way: Walk, j: int, size: Measure) -> bool:
    """'4 C', 'at 4 c': a letter behind what can be a temperature; a small one where air is spoken of."""
    t = way.t
    if t[j].text not in {"c", "f"} or not t[j].spaced or abs(size.values[0]) >= HOTTEST:
        return False
    letter = way.text[t[j].start : t[j].end]
    told = any(x.says("weather.temperature") for x in way.items)
    at = bool(way.items) and way.items[-1].says("weather.at")
    if letter.islower() and not (told or (letter == "c" and at)):
        return False
    if j + 1 < len(t) and (t[j + 1].kind == "number" or way.says(t[j + 1].text, "weather.no_air")):
        return False
    size.unit, size.end = f"°{letter.upper()}", t[j].end
    return True


def _unit_in_front(way: Walk, j: int) -> tuple[str, int] | None:
    """'2.4mx10', '10mlong', '2.4mhigh': a unit and an x or a word run together."""
    t, word = way.t, way.t[j].text
    if word.endswith("x") and j + 1 < len(t) and t[j + 1].kind == "number":
        unit = way.words.unit([_part(t[j], 0, len(word) - 1)], 0)
        if unit:
            t[j : j + 1] = [_part(t[j], 0, len(word) - 1), _part(t[j], len(word) - 1, len(word))]
            return unit[0], j + 1
    for n in (2, 1):
        unit = way.words.unit([_part(t[j], 0, n)], 0)
        tail = _part(t[j], n, len(word))._replace(spaced=True)
        phrase = way.words.phrase([tail], 0) if unit and len(tail.text) > 2 else None
        if unit and phrase and any(tag[0] in {"dim", "noun", "hedge"} for tag in phrase[1]):
            t[j : j + 1] = [_part(t[j], 0, n), tail]
            return unit[0], j + 1
    return None


def _part(token: Token, start: int, end: int) -> Token:
    """Some letters of a word that touches what stands before it."""
    return Token("word", token.text[start:end], token.start + start, token.start + end, False)


def _is_no_unit(way: Walk, j: int, unit: tuple[str, int], size: Measure) -> bool:
    """'in the', 'n' for and, and letters that stand apart."""
    t, (name, k) = way.t, unit
    if name == "in" and way.says(t[k - 1].text, "touching.in") and t[k - 1].spaced:
        if size.decimal and 0 < size.values[0] < 1:
            return False  # a part of an inch
        if size.values[0] > MOST_INCHES and k < len(t) and t[k].kind == "word":
            return True  # '600 in from the end', '300 in hand': no inches
        if size.values[0] > MOST_INCHES and any(
            x.tagged("noun", "door") or x.tagged("noun", "window") for x in way.items
        ):
            return True  # 'door at the left 300 in,'
        return not inches(way, k)
    if not t[j].spaced:
        return False
    if name == "N/mm²" and t[j].text == "n":
        after = t[k] if k < len(t) else None
        if any(tag[:2] == ("slot", "trend") for tag in way.tags(k)):
            return True  # '4 n rising': and
        letter = after is not None and after.kind == "word" and len(after.text) == 1
        return letter or (after is not None and after.kind == "number") or size.values[0] > STRONGEST
    return t[j].text in LETTERS and name in {"°C", "°F", "l", "t", "g"}


def may_touch(way: Walk, j: int) -> bool:
    """Words that may touch a number without being a unit."""
    word = way.t[j].text
    if any(way.says(word, cue) for cue in ("touching.count", "touching.no_unit", "touching.order")):
        return True
    return len(word) > 2 and any(tag[0] in {"noun", "dim", "slot", "topic", "aside"} for tag in way.tags(j))
