"""Walls of the conversation that a message names: by label, by their place in the row, or by their size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bot.reading.items import Item
from bot.reading.walk.steps import walk
from bot.reading.words import words

Plain = dict[str, Any]
OPENINGS = ("window", "door", "opening")
LONGEST = 400  # letters: what is longer tells of its own walls


@dataclass
class Named:
    """A name in the text, with the words that belong to it, from start to end; no label: all of them."""

    label: str | None
    start: int
    end: int
    behind: bool = False  # 'a door in the front': what is said of the wall stands before its name


def names(text: str, walls: list[tuple[str, Plain]], language: str) -> list[Named]:
    """Each place in the text where one of these walls is named, in order."""
    if len(text) > LONGEST:
        return []
    items, _ = walk(text, words(language))
    found: list[Named] = []
    alone = [label for label, slots in walls if slots.get("walls", 1) == 1]
    i = 0
    while i < len(items):
        label, last = _label(items, i, walls, alone)
        if label is not None:
            found.append(_with_its_words(items, i, last, label))
            i = last + 1
            continue
        i += 1
    if found and any(x.says("walls.all") for x in items):
        for n, item in enumerate(items):
            if item.says("walls.all") and not any(f.start <= item.start < f.end for f in found):
                found.append(_with_its_words(items, n, n, None))
    return sorted(found, key=lambda one: one.start)


def _label(
    items: list[Item], i: int, walls: list[tuple[str, Plain]], alone: list[str]
) -> tuple[str | None, int]:
    """The label of the wall that is named at item i, and the last item of the name."""
    item = items[i]
    before = items[i - 1] if i else None
    nxt = items[i + 1] if i + 1 < len(items) else None
    numbered = before is not None and before.says("walls.numbered")
    if any(x.says("walls.measured_from") for x in items[max(0, i - 2) : i]):
        return None, i
    low = item.low.removesuffix("'s").removesuffix("’s")
    for label, _ in walls:
        own = label.lower()
        if own.isdigit():
            if numbered and item.kind == "measure" and item.size.whole and int(item.size.value) == int(own):
                return label, i
        elif len(own) == 1:
            told = (
                nxt is None or nxt.kind == "mark" or nxt.says("walls.equals")
            )  # 'a is 6.2 now', 'what about a'
            letter = own != "a" or item.text[0].isupper() or told
            if low == own and (numbered or (letter and not _article(items, i))):
                return label, i
        elif low in {own, f"{own} wall", f"the {own}", *_twins(own)} and not _of_an_end(items, i):
            return label, i
    for n, (label, _) in enumerate(walls, start=1):
        if item.says(f"walls.nth_{n}") and label in alone and len(alone) == len(walls):
            if nxt is not None and any(nxt.tagged("noun", kind) for kind in OPENINGS):
                return None, i
            return label, i + (nxt is not None and nxt.says("again.ones"))  # 'second ones 8.4'
    if item.says("walls.nth_last") and len(alone) == len(walls) and nxt is not None and _a_wall(nxt):
        return walls[-1][0], i
    least = _by_rank(items, i, walls, alone)
    return least if least[0] is not None else _by_size(items, i, walls, alone)


def _by_rank(
    items: list[Item], i: int, walls: list[tuple[str, Plain]], alone: list[str]
) -> tuple[str | None, int]:
    """'the short one', 'the longest': the only one so short, or so long."""
    item, ahead = items[i], items[i - 1] if i else None
    nxt = items[i + 1] if i + 1 < len(items) else None
    if ahead is None or not ahead.says("walls.the") or len(alone) != len(walls):
        return None, i
    if nxt is not None and nxt.kind != "mark" and not _a_wall(nxt):
        return None, i
    long = {label: slots["length"] for label, slots in walls if isinstance(slots.get("length"), dict)}
    way = 1 if item.says("walls.shortest") else -1 if item.says("walls.longest") else 0
    if not way or len(long) != len(walls) or len({size["unit"] for size in long.values()}) != 1:
        return None, i
    order = sorted(long, key=lambda label: way * long[label]["value"])
    if long[order[0]]["value"] == long[order[1]]["value"]:
        return None, i
    return order[0], i + 1 if nxt is not None and nxt.kind != "mark" else i


def _a_wall(item: Item) -> bool:
    """'the second wall', 'the 6 m one'."""
    wall = item.tagged("noun", "wall") and not item.tagged("noun", "block")
    return wall or item.says("walls.one")


def _article(items: list[Item], i: int) -> bool:
    """'A door': the letter stands before a thing, as the article does."""
    return i + 1 < len(items) and items[i].low == "a" and items[i + 1].tagged("noun")


def _twins(own: str) -> tuple[str, ...]:
    return {"back": ("rear",), "rear": ("back",)}.get(own, ())


def _of_an_end(items: list[Item], i: int) -> bool:
    """'free left', 'left end': an end of a wall, and no wall."""
    near = [x for x in (items[i - 1] if i else None, *items[i + 1 : i + 2]) if x is not None]
    return any(x.says("ends.needs_a_side") or x.says("ends.end_or_side") for x in near)


def _by_size(
    items: list[Item], i: int, walls: list[tuple[str, Plain]], alone: list[str]
) -> tuple[str | None, int]:
    """'the 6 m one', 'in the 6 m wall': the only one of that length."""
    if i + 2 >= len(items) or not items[i].says("walls.which") or items[i + 1].kind != "measure":
        return None, i
    size, behind = items[i + 1].size, items[i + 2]
    if not _a_wall(behind):
        return None, i
    of = [
        label
        for label, slots in walls
        if isinstance(slots.get("length"), dict)
        and slots["length"]["value"] == size.value
        and size.unit in {"", slots["length"]["unit"]}
    ]
    return (of[0], i + 2) if len(of) == 1 and of[0] in alone else (None, i)


def _with_its_words(items: list[Item], first: int, last: int, label: str | None) -> Named:
    """The name with its article, its preposition and the word wall."""
    at = first
    if at and items[at - 1].says("walls.numbered") and label is not None:
        at -= 1
    if at and items[at - 1].says("walls.the"):
        at -= 1
    behind = bool(at) and items[at - 1].says("walls.within")
    if behind:
        at -= 1
    if last + 1 < len(items) and _a_wall(items[last + 1]):
        last += 1
    behind = behind and any(x.kind in {"measure", "dims"} or x.tagged("noun") for x in items[:at])
    return Named(label, items[at].start, items[last].end, behind)


def apart(text: str, found: list[Named]) -> list[tuple[list[str | None], str]]:
    """The labels of each part, with the text as it speaks of them: all else is blank, places stay."""
    edges = [0, *(x for one in found for x in (one.start, one.end)), len(text)]
    gaps = [(edges[n], edges[n + 1]) for n in range(0, len(edges), 2)]
    if len({one.label for one in found}) == 1:
        return [([found[0].label], _only(text, gaps))]
    parts: list[tuple[list[str | None], str]] = []
    waiting: list[str | None] = []
    behind = found[0].behind
    for n, one in enumerate(found):
        waiting.append(one.label)
        own = gaps[n] if behind else gaps[n + 1]
        if not any(c.isalnum() for c in text[slice(*own)].replace("and", "")):
            continue
        head = [] if behind else gaps[:1]
        rest = gaps[-1:] if behind and one is found[-1] else []
        parts.append((waiting, _only(text, [*head, own, *rest])))
        waiting = []
    return parts


def _only(text: str, kept: list[tuple[int, int]]) -> str:
    """The text with all but these stretches blank."""
    return "".join(c if any(a <= n < b for a, b in kept) else " " for n, c in enumerate(text))
