"""Openings told beside several like walls: of each of them, of some of them, or of all together."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.items import Item
from bot.reading.walk.steps import walk
from bot.reading.words import words

OPENINGS = ("window", "door", "opening")
LONGEST = 1000  # letters


@dataclass(frozen=True)
class Share:
    """Which of the like walls have the openings, and where the text says so."""

    way: str  # each, some, together
    count: int = 0  # how many, where some
    start: int = 0
    end: int = 0


def share(text: str, language: str) -> Share | None:
    """'in each', 'one has', '2 of them have', 'in total': None where it is not said."""
    if len(text) > LONGEST:
        return None
    items, _ = walk(text, words(language))
    for i in range(len(items)):
        found = _some(items, i) or _each(items, i) or _together(items, i)
        if found is not None:
            return found
    return None


def _at(items: list[Item], i: int) -> Item | None:
    return items[i] if 0 <= i < len(items) else None


def _opening(item: Item | None) -> bool:
    return item is not None and any(item.tagged("noun", kind) for kind in OPENINGS)


def _some(items: list[Item], i: int) -> Share | None:
    """'one has', 'in one of them', '2 of them have'."""
    item, nxt, before = items[i], _at(items, i + 1), _at(items, i - 1)
    within = before is not None and before.says("walls.within")
    has = nxt is not None and nxt.says("walls.has")
    start, end = (before.start if within and before is not None else item.start), item.end
    if item.says("walls.one_of"):
        return Share("some", 1, start, end) if within or has else None
    if item.says("walls.one"):
        if nxt is not None and nxt.says("walls.only"):
            return Share("some", 1, start, nxt.end) if within else None
        last = nxt is None or nxt.kind == "mark"
        wall = nxt is not None and nxt.tagged("noun", "wall")
        if wall and nxt is not None:
            follows = _at(items, i + 2)
            end = nxt.end
            has = follows is not None and follows.says("walls.has")
        if (within and (last or wall)) or (has and not _of_openings(items, i)):
            return Share("some", 1, start, end)
    if item.kind == "measure" and item.size.whole and nxt is not None:
        count, follows = int(item.size.value), _at(items, i + 2)
        if nxt.says("again.of_them") and (within or (follows is not None and follows.says("walls.has"))):
            return Share("some", count, start, nxt.end)
        if has and not nxt.says("walls.with") and (before is None or not before.tagged("noun")):
            return Share("some", count, start, end)
    return None


def _of_openings(items: list[Item], i: int) -> bool:
    """'two windows, one with a sill': of the openings."""
    return any(_opening(x) for x in items[max(0, i - 3) : i])


def _each(items: list[Item], i: int) -> Share | None:
    """'in each', 'each has', 'per wall', 'all with', '2 windows each'."""
    item, nxt, before = items[i], _at(items, i + 1), _at(items, i - 1)
    wall = nxt is not None and nxt.tagged("noun", "wall")
    if item.says("walls.for_every") or (item.says("walls.every") and wall):
        return Share("each")
    if not item.says("walls.all"):
        return None
    if nxt is not None and nxt.tagged("noun", "wall"):
        nxt = _at(items, i + 2)
    if (nxt is not None and nxt.says("walls.has")) or (before is not None and before.says("walls.within")):
        return Share("each")
    last = nxt is None or (nxt.kind == "mark" and i + 2 == len(items))
    sized = last and before is not None and before.kind == "dims" and any(_opening(x) for x in items)
    return Share("each") if item.says("walls.each") and (sized or _opening(before)) else None


def _together(items: list[Item], i: int) -> Share | None:
    """'one door in total': said of the openings."""
    if not items[i].says("walls.in_total"):
        return None
    for item in reversed(items[max(0, i - 3) : i]):
        if _opening(item):
            return Share("together")
    return None


def of_all(text: str, language: str) -> bool:
    """'all', 'both', 'each': what is said is of every wall."""
    items, _ = walk(text, words(language))
    return any(
        item.says("walls.all") or item.says("walls.for_every") or item.says("walls.every") for item in items
    )


def without(text: str, told: Share) -> str:
    """The text with the words that tell which walls blank, every place kept."""
    return text[: told.start] + " " * (told.end - told.start) + text[told.end :]
