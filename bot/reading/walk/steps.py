"""Tokens into items: measures, pairs, mixes, phrases, codes and what is set aside. No digit is dropped."""

from __future__ import annotations

from bot.reading.cues import NONE
from bot.reading.items import Item, Measure
from bot.reading.letters import Token
from bot.reading.numbers import Number, and_part, number, spelt
from bot.reading.walk.codes import letter_code
from bot.reading.walk.sizes import digits, measured
from bot.reading.walk.spelt import is_number, taken_away
from bot.reading.walk.walk import Walk
from bot.reading.walk.wishes import lay_wishes
from bot.reading.words import Words

AS_MEANT = {"dims.noun"}  # cues of a word that hold for its slips as well
DIMENSIONS = {"width", "height", "length", "thickness", "depth"}


def walk(text: str, words: Words) -> tuple[list[Item], list[tuple[str, str]]]:
    """All items of a text, and the words that were repaired."""
    way = Walk(text, words)
    i = 0
    while i < len(way.t):
        i = step(way, i)
    lay_wishes(way)
    return way.items, way.repaired


def step(way: Walk, i: int) -> int:
    """Put down the item that begins at token i; the place after it."""
    token = way.t[i]
    if way.asides and (done := _aside(way, i, token)):
        return done
    if token.kind == "word":
        return _word(way, i)
    if token.kind in {"number", "fraction"}:
        return digits(way, i)
    if token.text == "-" and _minus(way, i):
        return digits(way, i + 1, negative=True)
    if token.text in {".", ","} and i + 1 < len(way.t) and way.t[i + 1].kind == "number" and token.spaced:
        return digits(way, i + 1) if not way.t[i + 1].spaced else way.add("mark", i, i + 1)
    match = way.phrase(i)
    if match:
        return way.add("phrase", i, match[0], tags=match[1])
    if token.text in {"°", '"', "'"}:
        return way.add("mark", i, i + 1)
    return way.add("mark", i, i + 1)


def _aside(way: Walk, i: int, token: Token) -> int | None:
    """What was set aside by its looks, where token i lies in it."""
    aside = way.asides.get(token.start)
    if aside is None:
        for start, (end, why) in way.asides.items():
            if start < token.start < end or token.start < start < token.end:
                aside = (end, why)
                break
    if aside is None:
        return None
    last = i + 1
    while last < len(way.t) and way.t[last].end <= aside[0]:
        last += 1
    return way.add("aside", i, last, why=aside[1])


def _minus(way: Walk, i: int) -> bool:
    """A dash that is a sign: it touches the number and nothing touches it from the left."""
    t = way.t
    return (
        i + 1 < len(t)
        and t[i + 1].kind == "number"
        and not t[i + 1].spaced
        and t[i].spaced
        and not (i > 0 and t[i - 1].kind == "number")
    )


def _one_unit(way: Walk, i: int) -> bool:
    """'a metre wide', 'a foot thick': one of the unit, where a dimension word follows."""
    if i and way.t[i - 1].kind == "number":
        return False
    unit = way.unit(i + 1)
    if unit is None or unit[0] not in {"m", "ft"}:
        return False
    return any(tag[0] == "dim" and tag[1] in DIMENSIONS for tag in way.tags(unit[1]))


def _unit_and_a_half(way: Walk, i: int) -> int | None:
    """'a metre and a half high': the unit stands before its number."""
    t = way.t
    unit = way.unit(i)
    first = i > 0 and way.says(t[i - 1].text, "spelt.a")
    number_before = i > 0 and t[i - 1].kind in {"number", "fraction"}
    if unit is None or unit[0] not in {"m", "ft"} or number_before or number(t, i - 1) is not None:
        return None
    part = and_part(t, unit[1])
    if part is None:
        return None
    start = t[i].start
    if first and way.items and way.items[-1].low == t[i - 1].text:
        start = way.items.pop().start
    size = Measure((1 + part[0],), unit[0], start, t[part[1] - 1].end, decimal=True, spelt=True)
    return way.add("measure", i - first, part[1], sizes=[size])


def _word(way: Walk, i: int) -> int:
    t, token = way.t, way.t[i]
    said = way.words.cues.get(token.text, NONE)
    if "codes.lime" in said and i + 1 < len(t) and t[i + 1].kind == "number":
        return way.add("code", i, i + 2, why="a lime of its own kind")
    follows = t[i + 1] if i + 1 < len(t) else None
    glued = follows is not None and follows.kind == "number" and not follows.spaced
    if glued and follows is not None:
        done = letter_code(way, i, follows)
        if done:
            return done
    if "spelt.minus" in said and follows is not None and not taken_away(way, i + 1):
        if follows.kind == "number":
            return digits(way, i + 1, negative=True)
        below = number(t, i + 1) if follows.kind == "word" else None
        if below is not None and (
            way.unit(below.last)
            or below.values[0] > 1
            or any(tag[0] == "noun" for tag in way.tags(below.last))
        ):
            return measured(way, below, negative=True)
    if (
        len(token.text) <= 3
        and i + 2 < len(t)
        and t[i + 1].text == "-"
        and not t[i + 1].spaced
        and t[i + 2].kind == "number"
        and not t[i + 2].spaced
        and (len(token.text) == 1 or way.phrase(i) is None)
    ):
        last = i + 3
        while last < len(t) and not t[last].spaced and t[last].kind in {"number", "word"}:
            last += 1
        return way.add("code", i, last, why="a code")
    if token.text in way.words.units:
        half = _unit_and_a_half(way, i)
        if half is not None:
            return half
    if "spelt.a" in said and _one_unit(way, i):
        return measured(way, Number((1.0,), i, i + 1, spelt=True), negative=False)
    match = way.words.phrase(t, i)
    if match is None and token.text.endswith("'s"):
        match = way.words.phrase([token._replace(text=token.text[:-2])], 0)
        match = (i + 1, match[1]) if match else None
    if match and match[0] - i > 1:
        return way.add("phrase", i, match[0], tags=match[1])
    found = spelt(t, i)
    if found is not None and is_number(way, i, found):
        return measured(way, found, negative=False)
    if match:
        return way.add("phrase", i, match[0], tags=match[1])
    if glued and token.text != "x":
        return way.add("code", i, i + 2, why="a code")
    meant = way.words.repair(token.text)
    if meant is not None:
        shape = [Token("word", meant, token.start, token.end, token.spaced), *t[i + 1 : i + 6]]
        again = way.words.phrase(shape, 0)
        if again is None:
            unit = way.words.unit(shape, 0)
            if unit is None:
                return way.add("word", i, i + 1)
            return way.add("word", i, i + 1)
        way.repaired.append((way.text[token.start : token.end], meant))
        t[i] = shape[0]  # wishes are of the words that were meant
        last = way.add("phrase", i, i + again[0], tags=again[1])
        way.items[-1].cues |= way.words.names(meant) & AS_MEANT
        return last
    return way.add("word", i, i + 1)
