"""'one', 'the second', 'that one': which opening such a word speaks of."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bot.reading.cues import NONE
from bot.reading.items import Item
from bot.reading.slots.opening_sizes import KINDS
from bot.reading.words import Words
from knowledge.senses import Sense

SHORT = 6  # items
NTH = ("walls.nth_1", "walls.nth_2", "walls.nth_3", "walls.nth_last", "openings.middle")


def again(items: list[Item], thing: str, sense: Sense) -> None:
    """Words that speak of the opening last spoken of, where this message names none."""
    if any(x.tagged("noun", k) for x in items for k in ("window", "door", "opening", "wall", "block")):
        return
    if any(x.says("relative.moved") for x in items):
        for which, one in pairwise(items):
            if which.says("openings.which_one") and one.says("again.one"):
                one.kind, one.sizes = "word", []  # 'move the left one to 1'
    pairs = [one for one, size in pairwise(items) if one.says("again.one") and _like_one(size, sense)]
    placed = [one for one, at, size in triples(items) if _one_at(one, at, size)]
    if _that_one_away(items, thing) or _one_gone(items, thing):
        return
    if len(placed) > 1:  # 'left one at 1.1 right one at 5.1', 'first at 1.1 second at 5.1'
        _stand_for(placed, thing)
    elif _of_one_opening(items):  # '1.8 wide, starts 4 m from left'
        first = items[0]
        noun = Item("phrase", first.text, first.start, first.end, tags=(("noun", thing),), low=thing)
        items.insert(0, noun)
    elif len(pairs) > 1:  # 'one 1.2 x 1 and one 1.5 x 1'
        _stand_for(pairs, thing)
    else:
        _of_them_or_another(items, thing)


def _that_one_away(items: list[Item], thing: str) -> bool:
    """'take that one away'."""
    if not (any(x.says("not.take") for x in items) and any(x.says("not.away") for x in items)):
        return False
    one = next((x for x in reversed(items) if x.says("again.that_one")), None)
    if one is not None:
        one.tags = (("noun", thing),)
    return one is not None


def _one_gone(items: list[Item], thing: str) -> bool:
    """'lose one of the windows', 'lose the first one'."""
    if not any(x.tagged("not") for x in items[:2]):
        return False
    last = items[-1]
    counted = len(items) > 1 and (items[-2].says("again.one") or items[-2].kind == "measure")
    if counted and last.tagged("connect", "of_them"):
        last.tags = (("noun", "opening"),)
        return True
    if last.says("again.one") and len(items) < SHORT:
        nth = any(x.says(cue) for x in items for cue in NTH)
        last.tags = (("noun", "opening" if nth else thing),)
        return True
    return False


def _of_them_or_another(items: list[Item], thing: str) -> None:
    """'3 of them', 'and a second one'."""
    for before, item in pairwise(items):
        if before.kind == "measure" and item.says("again.of_them"):
            item.tags = (("noun", thing),)
            return
    for item in items:
        if item.says("again.second"):
            item.tags = (("noun", thing), ("connect", "another"))
            return


def with_for_w(items: list[Item], words: Words) -> None:
    """'6.5 m 2.4 w 2 doors': with, and no width."""
    for w, count, thing in triples(items):
        if w.low == "w" and count.kind == "measure" and count.size.whole and _opening(thing):
            w.tags, w.cues, w.low = (("connect", "and"),), words.cues.get("with", NONE), "with"


def _opening(item: Item) -> bool:
    return any(item.tagged("noun", kind) for kind in KINDS)


def so_many_of_them(items: list[Item]) -> None:
    """'windows only, 4 of them 1.2 x 1.2': as '4 windows 1.2 x 1.2'."""
    named = [i for i, x in enumerate(items) if _opening(x)]
    counts = [
        i for i, (n, x) in enumerate(pairwise(items)) if n.kind == "measure" and x.says("again.of_them")
    ]
    if len(named) != 1 or len(counts) != 1 or not 0 < counts[0] - named[0] < SHORT:
        return
    thing = items[named[0]]
    own = items[max(0, named[0] - 1) : counts[0]]  # '2 windows', 'windows 1800 wide, 3 of them'
    if any(x.sizes for x in own) or not items[counts[0]].size.whole:
        return
    items[counts[0] + 1].tags, items[counts[0] + 1].low = thing.tags, thing.low
    thing.tags = ()


def one_here_one_there(items: list[Item]) -> None:
    """'2 windows 1.2 wide, one 1 m from left one 1 m from right': each is one of those just told."""
    first = next((i for i, x in enumerate(items) if _opening(x)), None)
    if first is None:
        return
    ones = [
        one
        for one, size, dim in triples(items[first + 1 :])
        if one.says("again.one") and (_told_of_one(size, dim) or _one_at(one, size, dim))
    ]
    if len(ones) < 2:
        return
    _stand_for(ones, next(k for k in KINDS if items[first].tagged("noun", k)))


def another_behind(items: list[Item]) -> None:
    """'window 1.5 at 1.2 from left, another 1.2 at 5.1', 'one at 10': one more, with its size or place."""
    first = next((i for i, x in enumerate(items) if _opening(x)), None)
    for i, item in enumerate(items if first is not None else ()):
        size, at, place = (items[i + n] if i + n < len(items) else None for n in (1, 2, 3))
        if first is None or i <= first or size is None:
            continue
        placed = size.tagged("dim", "at") and at is not None and at.kind == "measure"
        if placed and any(x.tagged("dim", "at") for x in items[first:i]) and _one_more(item):
            thing = next(k for k in KINDS if items[first].tagged("noun", k))
            item.kind, item.sizes, item.low = "phrase", [], thing
            item.tags = (("noun", thing), ("connect", "another"))
            continue
        if not item.says("again.second"):
            continue
        sided = size.kind == "measure" and at is not None and at.tagged("dim", "at") and place is not None
        if (sided and place is not None and place.kind == "measure") or size.kind == "dims":
            thing = next(k for k in KINDS if items[first].tagged("noun", k))
            item.kind, item.tags, item.low = "phrase", (("noun", thing), ("connect", "another")), thing


def _one_more(item: Item) -> bool:
    """'another', 'one', '1'."""
    one = item.kind == "measure" and item.size.value == 1 and not item.size.unit
    return one or item.says("again.second") or item.says("again.one")


def _stand_for(ones: list[Item], thing: str) -> None:
    """Each of them speaks of such a thing."""
    for one in ones:
        one.kind, one.sizes, one.tags = "phrase", [], (("noun", thing),)
        one.cues, one.low = frozenset(), thing


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


def _like_one(item: Item, sense: Sense) -> bool:
    """A pair that is no larger than openings are, in metres or millimetres."""
    if item.kind != "dims" or len(item.sizes) != 2:
        return False
    high, least = sense.opening_highest, sense.millimetres_from
    return all(
        s.unit in {"", "m", "mm"} and (s.value <= high or least <= s.value <= 1000 * high) for s in item.sizes
    )
