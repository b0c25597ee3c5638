"""Which noun each size belongs to, where openings and sizes take turns: 'door 900x2100 window 1200x1050'."""

from __future__ import annotations

from itertools import pairwise

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene
from bot.reading.slots.opening_sizes import fits, fits_one, kind_of_raw
from bot.reading.units import LENGTH
from knowledge.units import convert, kind


def turn_about(scene: Scene) -> dict[int, int]:
    """The noun's place by the size's place, for every chain of nouns and sizes that take turns."""
    owners: dict[int, int] = {}
    for chain in _chains(scene):
        nouns = [i for i in chain if kind_of_raw(scene.items[i])]
        sizes = [i for i in chain if i not in nouns]
        if len(nouns) < 2 or len(sizes) < 2:
            continue
        if len(sizes) == len(nouns) + 1 and {chain[0], chain[-1]} <= set(sizes):
            wall = max(sizes, key=lambda i: max(_metres(scene, x) for x in scene.items[i].sizes))
            chain = [i for i in chain if i != wall]
            sizes.remove(wall)
        if len(sizes) != len(nouns) or any((x in nouns) == (y in nouns) for x, y in pairwise(chain)):
            continue
        owners |= dict(zip(sizes, nouns, strict=True))
    return owners


def _metres(scene: Scene, size: Measure) -> float:
    """Its length; bare, a small number is in metres."""
    bare = "mm" if size.value >= scene.sense.millimetres_from else "m"
    return convert(size.value, size.unit or bare, "m")


def _chains(scene: Scene) -> list[list[int]]:
    """Places of opening nouns and sizes that follow each other with nothing but small words between."""
    chains: list[list[int]] = [[]]
    for i, item in enumerate(scene.items):
        if kind_of_raw(item) or _size(scene, item):
            chains[-1].append(i)
        elif not _between(item) and chains[-1]:
            chains.append([])
    return chains


def _size(scene: Scene, item: Item) -> bool:
    """A pair, or a single size, that can be that of an opening."""
    if item.used or item.tagged("count"):
        return False
    if item.kind == "dims":
        return len(item.sizes) == 2 and fits(scene, item)
    if item.kind != "measure" or (item.size.unit and kind(item.size.unit) != LENGTH):
        return False
    large = bool(item.size.unit) or item.size.decimal or item.size.value >= scene.sense.millimetres_from
    return large and fits_one(scene, item)


def _between(item: Item) -> bool:
    """Sides, places in the wall and articles."""
    return item.says("small.word") or item.tagged("side") or item.tagged("middle") or item.says("list.then")
