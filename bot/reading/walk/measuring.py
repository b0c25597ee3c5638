"""A number with the unit that stands at it."""

from __future__ import annotations

import re

from bot.reading.items import Measure
from bot.reading.letters import Token
from bot.reading.numbers import Number, number
from bot.reading.walk.feet import feet, inches
from bot.reading.walk.walk import Walk


def measure(way: Walk, found: Number, negative: bool) -> tuple[Measure | None, int]:
    """A number with its unit, feet and inches together; None where unknown letters touch the number."""
    t, j = way.t, found.last
    start = t[found.first].start
    if negative:
        start = t[found.first - 1].start
    size = Measure(
        found.values,
        "",
        start,
        t[found.last - 1].end,
        found.decimal,
        found.comma,
        found.spelt,
        found.grouped,
        negative,
    )
    if (
        found.spelt
        and way.says(t[found.first].text, "spelt.part")
        and j + 1 < len(t)
        and way.says(t[j].text, "spelt.a")
        and way.unit(j + 1)
    ):
        j += 1
    if j >= len(t):
        return size, j
    glued = not t[j].spaced
    if t[j].text == "-" and j + 1 < len(t) and t[j + 1].kind == "word" and not t[j + 1].spaced and glued:
        hyphen = way.unit(j + 1)
        if hyphen and hyphen[0] in {"ft", "in", "m", "mm", "cm"}:
            j += 1
    if (
        t[j].spaced
        and way.text[t[j].start : t[j].end] in {"C", "F"}
        and abs(found.values[0]) < 110
        and (j + 1 >= len(t) or t[j + 1].kind != "number")
    ):
        size.unit, size.end = f"°{way.text[t[j].start]}", t[j].end
        return size, j + 1
    if t[j].text == "." and glued and j + 1 < len(t) and t[j + 1].kind == "word" and len(t[j + 1].text) > 1:
        stop = way.unit(j + 1)
        if stop and stop[0] in {"m", "mm", "ft"}:
            j += 1
            glued = False
    unit = way.unit(j)
    if unit is None and t[j].kind == "word" and glued:
        word = t[j].text
        if word.endswith("x") and len(word) > 1 and j + 1 < len(t) and t[j + 1].kind == "number":
            inner = way.words.unit([Token("word", word[:-1], t[j].start, t[j].end - 1, False)], 0)
            if inner:
                way.t[j] = Token("word", "x", t[j].end - 1, t[j].end, False)
                way.t.insert(j, Token("word", word[:-1], t[j].start, t[j].end - 1, False))
                unit = inner[0], j + 1
        if unit is None and not may_touch(way, j):
            split = _split_word(way, j)
            if split is None:
                return None, j
            unit = split
    if unit is None:
        if t[j].text == "°":
            size.unit, size.end = "°C", t[j].end
            return size, j + 1
        return size, j
    name, k = unit
    if name == "in" and way.says(t[k - 1].text, "touching.in") and t[k - 1].spaced and not inches(way, k):
        return size, j
    if (
        name == "N/mm²"
        and t[j].text == "n"
        and t[j].spaced
        and k < len(t)
        and t[k].kind == "word"
        and len(t[k].text) == 1
    ):
        return size, j
    if (
        name == "N/mm²"
        and t[j].text == "n"
        and t[j].spaced
        and ((k < len(t) and t[k].kind == "number") or found.values[0] > 60)
    ):
        return size, j
    if name in {"°C", "°F", "l", "t", "g"} and t[j].spaced and t[j].text in {"c", "f", "l", "t", "g"}:
        return size, j
    size.unit, size.end = name, t[k - 1].end
    if name == "ft":
        return feet(way, size, k)
    if (
        name == "m"
        and k < len(t)
        and t[k].kind == "number"
        and not t[k].spaced
        and re.fullmatch(r"\d{1,3}", t[k].text)
        and not (k + 1 < len(t) and t[k].text in {"2", "3"} and size.decimal)
    ):
        size.values = (size.values[0] + float("0." + t[k].text),)
        size.end, size.decimal, k = t[k].end, True, k + 1
        again = way.unit(k)
        if again and again[0] in {"m", "cm"} and not t[k].spaced:
            size.end, k = t[again[1] - 1].end, again[1]
    elif name == "m" and k < len(t) and t[k].kind == "word" and not size.decimal:
        more = number(t, k)
        beyond = way.unit(more.last) if more else None
        if (
            more
            and more.spelt
            and 10 <= more.values[0] < 100
            and beyond is None
            and more.values[0] == int(more.values[0])
        ):
            size.values = (size.values[0] + more.values[0] / 100,)
            size.end, size.decimal, k = t[more.last - 1].end, True, more.last
    elif (
        name == "m"
        and k < len(t)
        and t[k].kind == "number"
        and not size.decimal
        and re.fullmatch(r"[1-9]\d", t[k].text)
        and (t[j].spaced or t[j].text != "m")
        and (
            k + 1 >= len(t)
            or way.says(t[k + 1].text, "touching.behind_size")
            or (
                (after := way.phrase(k + 1)) is not None
                and any(tag[0] == "dim" and tag[1] in {"length", "height"} for tag in after[1])
            )
        )
    ):
        size.values = (size.values[0] + float(t[k].text) / 100,)
        size.end, size.decimal, k = t[k].end, True, k + 1
    elif name == "m" and k < len(t) and t[k].kind == "number":
        cm = way.unit(k + 1)
        if cm and cm[0] == "cm" and t[k].text.isdigit() and len(t[k].text) <= 2:
            size.values = (size.values[0] + float(t[k].text) / 100,)
            size.end, size.decimal, k = t[cm[1] - 1].end, True, cm[1]
    return size, k


def _split_word(way: Walk, j: int) -> tuple[str, int] | None:
    """'10mlong', '2.4mhigh': a unit and a word run together."""
    t, word = way.t, way.t[j].text
    for n in (2, 1):
        head, tail = word[:n], word[n:]
        inner = way.words.unit([Token("word", head, t[j].start, t[j].start + n, False)], 0)
        if inner and len(tail) > 2:
            phrase = way.words.phrase([Token("word", tail, t[j].start + n, t[j].end, False)], 0)
            if phrase and any(tag[0] in {"dim", "noun", "hedge"} for tag in phrase[1]):
                way.t[j] = Token("word", head, t[j].start, t[j].start + n, False)
                way.t.insert(j + 1, Token("word", tail, t[j].start + n, t[j].end, True))
                return inner[0], j + 1
    return None


def may_touch(way: Walk, j: int) -> bool:
    """Words that may touch a number without being a unit."""
    word = way.t[j].text
    if (
        way.says(word, "touching.count")
        or way.says(word, "touching.no_unit")
        or way.says(word, "touching.order")
    ):
        return True
    phrase = way.phrase(j)
    return (
        phrase is not None
        and any(tag[0] in {"noun", "dim", "slot", "topic", "aside"} for tag in phrase[1])
        and len(word) > 2
    )
