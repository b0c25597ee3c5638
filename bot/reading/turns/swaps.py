"""'swap the second window for a door', 'make one a door': one kind of opening in the place of another."""

from __future__ import annotations

from bot.reading.heard import Swap
from bot.reading.items import Item
from bot.reading.slots.opening_sizes import KINDS

FIRST = 3  # items: 'ok now swap'
NTH = {"walls.nth_1": 0, "walls.nth_2": 1, "walls.nth_3": 2, "walls.nth_last": -1}


def find_swap(items: list[Item]) -> Swap | None:
    """What is swapped, out of the openings told before; the words for it are no longer read as openings."""
    start = next((i for i, x in enumerate(items[:FIRST]) if x.says("swap.verb")), None)
    if start is not None:
        into = next((i for i, x in enumerate(items) if i > start + 1 and _into(items, i)), None)
    else:
        into = next((i for i, x in enumerate(items) if i and x.says("swap.becomes")), None)
    if into is None and _instead(items):
        return Swap("last", None, 1)
    if into is None or not _names_one(items, into + 1):
        return None
    begin = 0 if start is None else start + 1
    target = items[begin:into]
    if not target or not all(_of_a_target(x) for x in target):
        return None
    swap = _target(target)
    if swap is None:
        return None
    for item in target:
        item.tags = tuple(tag for tag in item.tags if tag[0] not in {"noun", "side", "connect"})
        if item.sizes:
            item.used = "label"
    return swap


def _instead(items: list[Item]) -> bool:
    """'a door instead', 'put a door there instead': in the place of what was told last."""
    named = [x for x in items if _kind(x) is not None]
    return len(named) == 1 and any(x.says("swap.instead") for x in items)


def _into(items: list[Item], i: int) -> bool:
    """'for', 'to', 'into', 'with'; the article of 'make the second one a door'."""
    if items[i].says("swap.into"):
        return True
    behind = items[i + 1] if i + 1 < len(items) else None
    return items[i].says("openings.one_of_them") and behind is not None and _kind(behind) is not None


def _names_one(items: list[Item], i: int) -> bool:
    """Whether an opening is named from i on, over articles, 'now' and its size, and no other word."""
    for item in items[i:]:
        if _kind(item) is not None:
            return True
        if not (item.sizes or item.says("small.word") or item.says("openings.are") or item.tagged("dim")):
            return False
    return False


def _kind(item: Item) -> str | None:
    return next((kind for kind in KINDS if item.tagged("noun", kind)), None)


def _of_a_target(item: Item) -> bool:
    """A word that can say which opening is meant."""
    which = any(item.says(cue) for cue in (*NTH, "openings.middle", "swap.one", "swap.all", "swap.it"))
    counts = item.kind == "measure" and item.size.whole and not item.size.unit
    sided = item.tagged("side") or item.tagged("connect", "of_them")
    return which or counts or sided or item.says("small.word") or _kind(item) is not None


def _target(items: list[Item]) -> Swap | None:
    """Which of them, of what kind and how many; no count: all of them."""
    kind = next((k for k in map(_kind, items) if k is not None), None)
    which: int | str | None = next((n for cue, n in NTH.items() if any(x.says(cue) for x in items)), None)
    if any(x.says("openings.middle") for x in items):
        which = "middle"
    sides = [x.tag("side") for x in items]
    which = next((tag[1] for tag in sides if tag is not None and tag[1] in {"left", "right"}), which)
    counted = next((int(x.size.value) for x in items if x.kind == "measure"), None)
    named = next((x for x in items if _kind(x) is not None), None)
    several = named is not None and named.low.endswith("s")
    if counted is not None:
        count: int | None = counted
    elif any(x.says("swap.all") for x in items) or (several and not _one_of(items)):
        count = None
    else:
        count = 1
    told = which is not None or named is not None or counted is not None or count is None
    if any(x.says("swap.it") for x in items) and not told:
        which = "last"
    elif not told and not any(x.says("swap.one") for x in items):
        return None
    return Swap(which, kind, count)


def _one_of(items: list[Item]) -> bool:
    """'one of the windows'."""
    return any(x.says("swap.one") for x in items)
