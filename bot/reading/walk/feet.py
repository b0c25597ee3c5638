"""Feet and inches together, and whether "in" is inches."""

from __future__ import annotations

import re

from bot.reading.items import Measure
from bot.reading.numbers import Number, number
from bot.reading.walk.walk import Walk

BLOCKS = {3, 4, 4.5, 6, 8, 9, 10}  # inches that blocks are thick by
AHEAD = 14  # tokens that are looked at for a length said behind a height
# What may stand behind inches that are not said to be inches.
SIZED = {("dim", "length"), ("dim", "height"), ("dim", "total"), ("noun", "wall")}


def feet(way: Walk, size: Measure, k: int) -> tuple[Measure, int]:
    """Inches after feet: 20'-6", 12 ft 6 in, 5'6, 12ft6."""
    t = way.t
    j = k
    dash = j < len(t) and t[j].text == "-" and not t[j].spaced
    if dash:
        j += 1
    if j >= len(t) or t[j].kind not in {"number", "fraction"}:
        joined = j < len(t) and t[j].text == "and" and j + 1 < len(t)
        spelt = number(t, j + 1 if joined else j) if j < len(t) and t[j].kind == "word" else None
        mark = way.unit(spelt.last) if spelt and spelt.last < len(t) else None
        if spelt is None or (
            (mark is None or mark[0] != "in") and not (_loose_inches(way, spelt) and not joined)
        ):
            return size, k
        more: Number | None = spelt
    else:
        more = number(t, j)
    if more is None or more.values[0] >= 12 or len(more.values) > 1:
        return size, k
    mark = way.unit(more.last)
    if mark is not None and any(tag[:2] == ("dim", "thickness") for tag in way.tags(mark[1])):
        return size, k  # 10' 9" thick: ten feet high, nine inches thick
    if (
        mark is not None
        and mark[0] == "in"
        and t[j].spaced
        and not dash
        and _of_a_block(way, size, more, mark[1])
    ):
        return size, k
    marked = mark is not None and mark[0] == "in"  # behind feet, 'in' is inches whatever follows
    touching = not t[j].spaced or dash or _loose_inches(way, more)
    if not marked and not (
        touching and (more.last >= len(t) or t[more.last].text not in {"x", "'"} or t[more.last].text == "x")
    ):
        return size, k
    end = mark[1] if marked and mark else more.last
    size.values = tuple(v + more.values[0] / 12 for v in size.values)
    size.decimal, size.end = True, t[end - 1].end
    return size, end


def _of_a_block(way: Walk, size: Measure, more: Number, end: int) -> bool:
    """30' x 8' 8 in block: behind a pair of feet, the inches that blocks are thick by are the block's."""
    paired = re.search(r"(?:\bx|\bby|['\d]x)\s*$", way.text[: size.start].lower()) is not None
    word = way.t[end].text if end < len(way.t) else ""  # 'how many blocks' begins with no block
    alone = way.words.written.get((word,), ())
    thing = any(tag[:2] in {("noun", "block"), ("slot", "material"), ("topic", "blocks")} for tag in alone)
    walled = any(tag[:2] == ("noun", "wall") for tag in way.tags(end + 1))
    if walled and way.says(word, "block.block"):  # '7 ft 6 in block wall'
        return False
    return paired and thing and more.values[0] in BLOCKS


_FEET = r"(?:ft|foot|feet|')\s?"
_SO_TOO = re.compile(rf"{_FEET}\d{{1,2}}\s?(?:x|by)\s?[\w.]+\s?{_FEET}$")  # '22 foot 6 x 9 foot 3'


def _loose_inches(way: Walk, more: Number) -> bool:
    """'18 foot 9 of blockwork': a small whole number behind feet with nothing of its own behind it."""
    t, j = way.t, more.last
    if more.decimal or more.values[0] != int(more.values[0]) or not 1 <= more.values[0] <= 11:
        return False
    if j >= len(t) or "\n" in way.text[t[j - 1].end : t[j].start]:
        return True
    if way.says(t[j].text, "touching.behind_feet"):
        return True
    if _SO_TOO.search(way.text[: t[more.first].start].lower()):
        return True
    phrase = way.phrase(j)
    if way.says(t[j].text, "touching.opening_behind_feet") and way.items is not None:
        return not more.spelt  # '10 ft one door': how many
    return (
        phrase is not None
        and any(tag[:2] in SIZED for tag in phrase[1])
        and (not way.says(t[j].text, "touching.no_inches") or _length_said(way, more.first))
    )


def _length_said(way: Walk, i: int) -> bool:
    """'5 ft long and 5 foot 1 high', '5 ft by 3 foot 3 high': what comes now is one height."""
    by = i >= 3 and (way.t[i - 3].text == "x" or way.says(way.t[i - 3].text, "touching.by"))
    behind = range(i + 2, min(i + AHEAD, len(way.t)))
    if by or any(tag[:2] == ("dim", "length") for k in behind for tag in way.tags(k)):
        return True
    return any(x.tagged("dim", "length") or x.tagged("connect", "by") or x.kind == "dims" for x in way.items)


def inches(way: Walk, k: int) -> bool:
    """Whether 'in' after a number is inches: what follows must be a thing that has a size, not 'in the'."""
    t = way.t
    if k >= len(t):
        return True
    if t[k].kind in {"number", "fraction"}:
        unit = way.unit(k + 1)
        walled = unit is not None and any(tag[:2] == ("noun", "wall") for tag in way.tags(unit[1]))
        metres = unit is not None and unit[0] == "m"  # '16.5 in 22m': of a wall
        return unit is not None and not walled and not metres  # '12 in 55 lb', and not '9 in 12 m wall'
    if t[k].kind != "word":
        return t[k].text in {".", ",", "?", "-", "x", "+", ")", "!"} and t[k].kind != "number"
    if way.says(t[k].text, "touching.by"):
        return True
    phrase = way.phrase(k)
    return (
        phrase is not None
        and any(
            tag[0] == "dim"
            or tag[:2]
            in {
                ("noun", "block"),
                ("noun", "joint"),
                ("noun", "mortar_joint"),
                ("noun", "crack"),
                ("topic", "blocks"),
                ("slot", "material"),
            }
            for tag in phrase[1]
        )
        and not way.says(t[k].text, "touching.no_thing_in_inches")
    )
