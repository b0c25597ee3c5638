"""'one', 'the second', 'that one': which opening such a word speaks of."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bot.reading.items import Item
from bot.reading.slots.opening_sizes import KINDS

SHORT = 6  # items
NTH = ("walls.nth_1", "walls.nth_2", "walls.nth_3", "walls.nth_last", "openings.middle")


def again(items: list[Item], thing: str) -> None:
    """'and a second one': the opening last spoken of, where this message names none."""
    if any(x.tagged("noun", k) for x in items for k in ("window", "door", "opening", "wall", "block")):
        return
    if any(x.says("not.take") for x in items) and any(x.says("not.away") for x in items):
        one = next((x for x in reversed(items) if x.says("again.that_one")), None)
        if one is not None:
            one.tags = (("noun", thing),)
            return
    denied = any(x.tagged("not") for x in items[:2])
    counted = len(items) > 1 and (items[-2].says("again.one") or items[-2].kind == "measure")
    if denied and counted and items[-1].tagged("connect", "of_them"):
        items[-1].tags = (("noun", "opening"),)  # 'lose one of the windows'
        return
    if denied and items[-1].says("again.one") and len(items) < SHORT:
        nth = any(x.says(cue) for x in items for cue in NTH)
        items[-1].tags = (("noun", "opening" if nth else thing),)  # 'lose the first one'
        return
    placed = [one for one, at, size in triples(items) if _one_at(one, at, size)]
    if len(placed) > 1:  # 'left one at 1.1 right one at 5.1', 'first at 1.1 second at 5.1'
        for one in placed:
            one.kind, one.sizes, one.tags = "phrase", [], (("noun", thing),)
            one.cues, one.low = frozenset(), thing
        return
    if _of_one_opening(items):  # '1.8 wide, starts 4 m from left'
        first = items[0]
        items.insert(
            0, Item("phrase", first.text, first.start, first.end, tags=(("noun", thing),), low=thing)
        )
        return
    ones = [one for one, size in pairwise(items) if one.says("again.one") and _like_an_opening(size)]
    if len(ones) > 1:  # 'one 1.2 x 1 and one 1.5 x 1'
        for one in ones:
            one.kind, one.sizes, one.tags = "phrase", [], (("noun", thing),)
            one.cues, one.low = frozenset(), thing
        return
    for before, item in pairwise(items):
        if before.kind == "measure" and item.says("again.of_them"):
            item.tags = (("noun", thing),)
            return
    for item in items:
        if item.says("again.second"):
            item.tags = (("noun", thing), ("connect", "another"))
            return


def one_here_one_there(items: list[Item]) -> None:
    """'2 windows 1.2 wide, one 1 m from left one 1 m from right': each is one of those just told."""
    first = next((i for i, x in enumerate(items) if any(x.tagged("noun", k) for k in KINDS)), None)
    if first is None:
        return
    ones = [
        one
        for one, size, dim in triples(items[first + 1 :])
        if one.says("again.one") and _told_of_one(size, dim)
    ]
    if len(ones) < 2:
        return
    kind = next(k for k in KINDS if items[first].tagged("noun", k))
    for one in ones:
        one.kind, one.sizes, one.tags = "phrase", [], (("noun", kind),)
        one.cues, one.low = frozenset(), kind


def _of_one_opening(items: list[Item]) -> bool:
    """Whether a width and a place from one end are told, and nothing that they could be of."""
    if any(x.tagged("noun") or x.tagged("topic") or x.kind == "dims" for x in items):
        return False
    wide = any(one.kind == "measure" and dim.tagged("dim", "width") for one, dim in pairwise(items))
    place = any(
        one.kind == "measure" and (dim.tagged("dim", "from_left") or dim.tagged("dim", "from_right"))
        for one, dim in pairwise(items)
    )
    return wide and place


def _one_at(one: Item, at: Item, size: Item) -> bool:
    """'one at 1.1', 'the second at 5.1'."""
    which = any(
        one.says(cue) for cue in ("again.one", "again.second", "walls.nth_1", "walls.nth_2", "walls.nth_3")
    )
    return which and ((at.tagged("dim", "at") and size.kind == "measure") or _told_of_one(at, size))


def _told_of_one(size: Item, dim: Item) -> bool:
    """'1 m from left', '1.2 wide': a width, or a place from one end."""
    return size.kind == "measure" and any(dim.tagged("dim", d) for d in ("width", "from_left", "from_right"))


def triples(items: list[Item]) -> Iterator[tuple[Item, Item, Item]]:
    """Every three items in a row."""
    return zip(items, items[1:], items[2:], strict=False)


def _like_an_opening(item: Item) -> bool:
    """A pair that is no larger than openings are, in metres or millimetres."""
    if item.kind != "dims" or len(item.sizes) != 2:
        return False
    return all(s.unit in {"", "m", "mm"} and (s.value <= 3 or 300 <= s.value <= 3000) for s in item.sizes)
