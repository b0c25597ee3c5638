"""'another one 4 x 2.4', 'plus a 4 x 2.4': a wall more beside those spoken of."""

from __future__ import annotations

import re

from bot.reading.items import Item
from bot.reading.letters import fold
from bot.reading.walk.steps import walk
from bot.reading.words import Words, words

SIZES = {"measure", "dims"}
LONGEST = 400  # letters
BEGINS = (
    *("walls.and_more", "walls.the", "walls.further", "walls.further_wall"),
    *("walls.nth_2", "walls.nth_3", "walls.a_second", "walls.wall"),
)
_FIRST = re.compile(r"[^\w+&]*(\w+|[+&])")


def one_more(text: str, walls: int, opening: bool, language: str, counted: bool) -> str | None:
    """The text without the words that name a wall more; None where none is named. `walls` stand already.

    `counted`: amounts are asked, so that the next one is a wall more.
    """
    table = words(language)
    if len(text) > LONGEST or not _may_begin(text, table):
        return None
    items, _ = walk(text, table)
    i = 0
    while i < len(items) and (items[i].says("walls.and_more") or items[i].kind == "mark"):
        i += 1
    if counted and i > 0 and i < len(items) and items[i].says("walls.next_one"):
        end: int | None = i + 1
    else:
        end = _named(items, i, walls, opening, joined=i > 0)
    if end is None:
        return None
    while end < len(items) and items[end].says("walls.before_own_size"):
        end += 1
    if end >= len(items) or items[end].kind not in SIZES or items[end - 1].tagged("dim", "at"):
        return None  # 'and another at 8': a place
    behind = items[end + 1] if end + 1 < len(items) else None
    if behind is not None and any(behind.tagged("noun", k) for k in ("window", "door", "opening", "block")):
        return None
    start = items[end].start
    return " " * start + text[start:]


def _beside_it(items: list[Item], j: int) -> int | None:
    """'the wall under it': the item behind the words that say where the next wall stands."""
    k = j
    while k < len(items) and items[k].says("walls.where_beside"):
        k += 1
    return k if k > j else None


def _may_begin(text: str, table: Words) -> bool:
    """Whether the first word, or a slip of it, can be of a wall more: most messages are not read twice."""
    first = _FIRST.match(text)
    if first is None:
        return False
    word = fold(first[1])
    return word in table.starts(*BEGINS) or word in {"a", "next"} or table.strange(word)


def _named(items: list[Item], i: int, walls: int, opening: bool, joined: bool) -> int | None:
    """The item behind the words for a wall more."""
    j = i
    while j < len(items) and (items[j].says("walls.the") or items[j].low == "a"):
        j += 1
    if j >= len(items):
        return None
    item, nxt = items[j], items[j + 1] if j + 1 < len(items) else None
    numbered = item.says("walls.numbered") and nxt is not None and nxt.kind == "measure" and nxt.size.whole
    if numbered and nxt is not None and not nxt.size.unit and nxt.size.value == walls + 1:
        return j + 2  # 'and wall 3'
    wall = nxt is not None and nxt.tagged("noun", "wall") and not nxt.tagged("noun", "block")
    past = j + 2 if wall else j + 1
    if item.tagged("noun", "wall") and not item.tagged("noun", "block"):
        return _beside_it(items, j + 1)
    if item.low == "next wall" or item.says("walls.further_wall"):
        return j + 1
    if not wall and nxt is not None and nxt.kind == "measure" and nxt.size.whole:
        return None  # 'another 4': four more, or 4 m?
    if item.says("walls.further"):
        return past if wall or not opening else None
    if any(item.says(f"walls.nth_{n}") for n in range(walls + 1, 4)) or item.says("walls.a_second"):
        return past if wall or (walls > 1 and not opening) else None
    if joined and not opening and j > i and item.kind in SIZES:
        return j
    if joined and not opening and item.says("walls.one"):
        return past
    return None
