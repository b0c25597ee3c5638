"""Whether a dimension word names the size behind it or the one before: 'height 2.4', '2.4 high'."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.units import believable, candidates


def size_behind(scene: Scene, i: int) -> int | None:
    """The place of the size that follows the word at i, over 'is' and the like."""
    j = i + 1
    while (item := scene.at(j)) is not None and (
        item.text in {"=", ":", "-", "~"} or item.says("walls.before_size")
    ):
        j += 1
    sized = item is not None and item.kind in {"measure", "range"}
    return j if sized and not counts_coats(scene, j) else None


def counts_coats(scene: Scene, j: int) -> bool:
    """'area two coats': no area of two."""
    size, coats = scene.items[j], scene.at(j + 1)
    return coats is not None and coats.says("coats.many") and size.kind == "measure" and size.size.whole


def names_behind(scene: Scene, i: int) -> bool:
    """Whether the word at i is a noun ('height', not 'high') and names the size behind it."""
    word, j = scene.at(i), size_behind(scene, i)
    if word is None or j is None or scene.as_before(i) or not _ends_with_a_size(scene, i):
        return False
    before, own, size = scene.at(i - 1), scene.at(j + 1), scene.items[j].size
    free = before is not None and before.kind in {"measure", "range"} and before.used != "openings"
    if before is None or not free:
        return word.says("dims.noun")
    if not word.says("dims.noun"):
        fits = not _could_be(scene, before, word) and _could_be(scene, scene.items[j], word)
        return word.tagged("dim", "height") and fits and bool(size.unit or size.decimal)  # '8.2 m high 2.7 m'
    if own is None or not own.tagged("noun", "block") or size.unit in {"m", "ft"} or size.decimal:
        return True
    if _dimension(scene, i - 2) and names_behind(scene, i - 2):
        return True  # 'height 2.4 length 6 blocks': as the words before it do
    return not _could_be(scene, before, word) and _could_be(scene, scene.items[j], word)


def _ends_with_a_size(scene: Scene, i: int) -> bool:
    """Whether words and sizes that take turns from i on end with a size: '6 m length 2.4 height' does not."""
    j = size_behind(scene, i)
    while j is not None and _dimension(scene, j + 1):
        j = size_behind(scene, j + 1)
    return j is not None


def _dimension(scene: Scene, i: int) -> bool:
    word = scene.at(i)
    return word is not None and word.kind == "phrase" and word.tagged("dim") and len(word.text) > 1


def _could_be(scene: Scene, item: Item, word: Item) -> bool:
    """Whether a size is one that a wall can have under that word."""
    dim = "height" if word.tagged("dim", "height") else "wall"
    return any(believable(scene, option, dim) for option in candidates(scene, item.size, "wall"))
