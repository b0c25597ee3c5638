"""Parts of a mix: by colon, by "to", by dash."""

from __future__ import annotations

from bot.reading.items import Measure
from bot.reading.numbers import Number, number
from bot.reading.walk.measuring import may_touch
from bot.reading.walk.walk import Walk


def ratio_from(way: Walk, i: int, first: Number | None) -> int | None:
    """1:1:6, 6:1, 1 : ½ : 4½, six to one, 6 and 1, 1-1-6, 1/1/6; weak where it may be something else."""
    t = way.t
    parts, j, mark = [], i, ""
    if first is None or len(first.values) != 1 or first.grouped:
        return None
    parts.append(first)
    j = first.last
    while j + 1 < len(t):
        between = t[j].text
        if between not in {":", "to", "and", "-", "/", "n", "&", "+", "tae"} or (mark and between != mark):
            break
        k = j + 1
        if between == "to" and k < len(t) and t[k].text == "a":
            k += 1
        nxt = number(t, k)
        if nxt is None or len(nxt.values) != 1 or nxt.grouped:
            break
        if between in {"-", "/"} and (t[j].spaced or t[j + 1].spaced):
            break
        parts.append(nxt)
        if len(parts) > 3:
            return None
        mark, j = between, nxt.last
    if parts[-1].last < len(t) and t[parts[-1].last].text == "x":
        return None  # 'plot 9: 13.05 x 2.4'
    if len(parts) not in {2, 3}:
        return None
    values = [p.values[0] for p in parts]
    if len(parts) == 2 and mark != ":" and 1.0 not in values:
        return None
    if mark == ":" and way.items and way.items[-1].tagged("noun", "wall") and t[parts[0].last + 1].spaced:
        return None
    if mark == "to" and first.spelt and i and way.says(t[i - 1].text, "openings.which_one"):
        return None  # 'move the middle one to 4.5'
    if max(values) > 20 or (mark == "and" and values[-1] != 1):
        return None
    unit = way.unit(j)
    if unit and unit[0] != "N/mm²" and not (t[j].spaced and t[j].text == "in"):
        return None
    if j < len(t) and t[j].kind == "word" and not t[j].spaced and not may_touch(way, j):
        return None
    after = way.phrase(j)
    if (
        mark in {"and", "&", "+", "n"}
        and after
        and any(
            tag[0] in {"noun", "dim"} and tag[1] not in {"mortar", "cement", "sand", "lime", "part"}
            for tag in after[1]
        )
    ):
        return None
    if (
        mark in {"to", "-"}
        and after
        and any(tag[0] == "dim" and tag[1] in {"length", "height", "thickness", "width"} for tag in after[1])
        and t[j].text != "t"
    ):
        return None
    if mark in {"-", "/"} and len(parts) == 2 and not (1.0 in values and max(values) <= 12):
        return None
    ranged = mark == "to" and bool(way.items) and way.items[-1].says("range.from")
    crack = ranged and any(x.tagged("noun", "crack") for x in way.items)
    weak = mark in {"-", "/", "n", "&", "+"} or ranged
    sizes = [Measure((p.values[0],), "", t[p.first].start, t[p.last - 1].end, p.decimal) for p in parts]
    return way.add("range" if crack else "ratio", i, j, sizes=sizes, weak=weak)
