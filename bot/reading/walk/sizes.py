"""Digits into a measure, a pair, a range or a mix."""

from __future__ import annotations

from bot.reading.items import Measure
from bot.reading.letters import Token
from bot.reading.numbers import Number, number, spelt
from bot.reading.walk.doors import feet_and_inches
from bot.reading.walk.measuring import measure
from bot.reading.walk.ratios import ratio_from
from bot.reading.walk.walk import Walk

STRENGTH = "N/mm²"


def digits(way: Walk, i: int, negative: bool = False) -> int:
    """Digits at i, with what belongs to them, as one item."""
    door = None if negative else feet_and_inches(way, i)
    if door is not None:
        return door
    found = number(way.t, i)
    ratio = None if negative or found is None else ratio_from(way, i, found)
    if ratio:
        return ratio
    if found is None:
        return way.add("bad", i, i + 1, why="not one number")
    t, j = way.t, found.last
    if (
        j + 2 < len(t)
        and t[j].text == t[j + 1].text
        and t[j].text in ".,"
        and t[j + 2].kind == "number"
        and not t[j].spaced
        and not t[j + 2].spaced
    ):
        return way.add("bad", i, j + 3, why="two marks in a number")
    return measured(way, found, negative)


def measured(way: Walk, found: Number, negative: bool) -> int:
    """A number with its unit, and what it is crossed or ranged with, as one item."""
    t, i = way.t, found.first
    found = _uncounted(way, found)
    if found.spelt:
        ratio = ratio_from(way, i, number(t, i))
        if ratio:
            return ratio
    j = found.last
    if j < len(t) and t[j].kind == "word" and not t[j].spaced:
        if way.says(t[j].text, "touching.order"):
            last = j + 1
            match = way.words.phrase(
                [
                    Token("word", t[i].text + t[j].text, t[i].start, t[j].end, t[i].spaced),
                    *t[j + 1 : j + 4],
                ],
                0,
            )
            if match:
                return way.add("phrase", i, j + match[0], tags=match[1])
            return way.add("aside", i, last, why="an order, not a size")
        if found.first == i and (way.says(t[j].text, "touching.time")):
            return way.add("aside", i, j + 1, why="a time")
    size, j = measure(way, found, negative)
    if size is None:
        last = j
        while last < len(t) and not t[last].spaced and t[last].kind in {"word", "number"}:
            last += 1
        return way.add("bad", i, last, why="letters I do not know touch the number")
    if len(size.values) > 1 and not size.unit:
        counted = way.phrase(j)
        if counted and any(
            tag[0] == "noun" and tag[1] in {"block", "bag", "course", "pack", "bucket", "tie"}
            for tag in counted[1]
        ):
            size.values, size.decimal, size.comma = (max(size.values),), False, False
    sizes = [size]
    while True:
        more = cross(way, j)
        if more is None:
            break
        nxt = number(t, more)
        if nxt is None:
            break
        if _two_in_words(way, nxt):
            return way.add("bad", i, nxt.last + 1, why="two numbers in words")
        part, k = measure(way, _uncounted(way, nxt), False)
        if part is None:
            last = k
            while last < len(t) and not t[last].spaced and t[last].kind in {"word", "number"}:
                last += 1
            return way.add("bad", i, last, why="letters I do not know touch the number")
        if part.unit == STRENGTH and t[k - 1].spaced:  # '9 x 2.4 n joints': no pair is a strength
            part.unit, part.end, k = "", t[k - 2].end, k - 1
        sizes.append(part)
        j = k
    if len(sizes) > 1:
        return way.add("dims", i, j, sizes=sizes)
    ranged = _range_from(way, j, size)
    if ranged:
        return way.add("range", i, ranged[1], sizes=[size, ranged[0]])
    if (
        j < len(t)
        and way.says(t[j].text, "touching.count")
        and (not t[j].spaced or way.says(t[j].text, "touching.count_apart"))
        and not (t[j].spaced and i and t[i - 1].text in {"=", ":"})
    ):
        k = j + 1
        stop = k < len(t) and t[k].text == "." and not t[k].spaced
        k += stop
        after = way.phrase(k)
        noun = after is not None and any(tag[0] == "noun" for tag in after[1])
        if (
            size.whole
            and not size.unit
            and (noun or not t[j].spaced or (k < len(t) and t[k].kind == "number"))
        ):
            return way.add("measure", i, k, sizes=[size], tags=(("count",),))
    return way.add("measure", i, j, sizes=[size])


def _two_in_words(way: Walk, found: Number) -> bool:
    """'eight by two four blocks': 2.4, or four blocks."""
    digit = found.spelt and not found.decimal and 0 < found.values[0] < 10
    after = spelt(way.t, found.last) if digit and found.last < len(way.t) else None
    if after is None or after.decimal or not 0 < after.values[0] < 10 or after.last != found.last + 1:
        return False
    return way.unit(after.last) is None


def _uncounted(way: Walk, found: Number) -> Number:
    """'two point four one door': the last word counts what stands behind it, and is no digit of the size."""
    if not (found.spelt and found.decimal):
        return found
    behind = way.phrase(found.last)
    things = {("noun", kind) for kind in ("window", "door", "opening", "bag", "wall", "roll", "bucket")}
    last = spelt(way.t, found.last - 1)
    after = way.t[found.last] if found.last < len(way.t) else None
    strange = after is not None and after.kind == "word" and behind is None and not way.unit(found.last)
    counts = strange or (behind is not None and bool(things & {tag[:2] for tag in behind[1]}))
    if last is None or not counts:
        return found
    short = number(way.t[: found.last - 1], found.first)
    return short if short is not None and short.decimal else found


def cross(way: Walk, j: int) -> int | None:
    """The token after an 'x', 'by' or '*' between two sizes, or None."""
    t = way.t
    if j >= len(t):
        return None
    if t[j].text in {"x", "by", "*"} and j + 1 < len(t):
        if t[j + 1].kind in {"number", "fraction"}:
            return j + 1
        return j + 1 if number(t, j + 1) is not None and t[j].text != "*" else None
    return None


def _range_from(way: Walk, j: int, size: Measure) -> tuple[Measure, int] | None:
    """'8-10m', '6 to 9 m', 'between 6 and 9': two ends of one size."""
    t = way.t
    if j + 1 >= len(t) or size.negative:
        return None
    word = t[j].text
    between = bool(way.items) and way.items[-1].low == "between"
    if not (word in {"-", "to"} or (way.says(word, "range.and") and between)):
        return None
    if word == "-" and (t[j].spaced != t[j + 1].spaced or (t[j].spaced and not size.unit)):
        return None
    other = number(t, j + 1)
    if other is None:
        return None
    part, k = measure(way, other, False)
    if part is None or (size.unit and part.unit and size.unit != part.unit):
        return None
    if not size.unit and not part.unit and word == "to" and 1.0 in {*size.values, *part.values}:
        return None
    if part.unit and not size.unit:
        size.unit, size.lent = part.unit, True
    elif size.unit and not part.unit:
        part.unit, part.lent = size.unit, True
    return part, k
