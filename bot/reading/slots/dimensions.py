"""Sizes that a dimension word names: long, high, thick, wide."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.under_word import set_dimension
from bot.reading.slots.word_order import counts_coats, names_behind, size_behind
from bot.reading.units import pair

WALL_DIMS = {
    "length": "length",
    "height": "height",
    "thickness": "thickness",
    "width": "width",
    "depth": "depth",
}


def by_word(scene: Scene) -> None:
    """'10 long', 'length 10', 'H 3.0': a dimension word takes the size before it, else the one behind."""
    items = scene.items
    _peaks(scene)
    if not scene.tagged("dim"):
        return
    prefixed = _prefixed(scene)
    for i, item in enumerate(items):
        dim = item.tag("dim")
        if dim is None or dim[1] not in WALL_DIMS or item.kind != "phrase":
            continue
        if scene.as_before(i):
            continue
        if _of_pieces(scene, i):
            continue
        behind = size_behind(scene, i)
        if behind is not None and not items[behind].used and names_behind(scene, i):
            set_dimension(scene, items[behind], dim[1], i)
            continue
        letter = len(item.text) == 1 or item.low == "up"
        before, after = scene.at(i - 1), None
        if not prefixed and before is not None and before.kind == "measure" and before.used == "openings":
            continue  # '1800 wide' of a window: the word has its size
        if (
            not prefixed
            and before is not None
            and before.tagged("noun", "course")
            and scene.at(i - 2) is not None
        ):
            continue  # '12 courses high'
        j = i + 1
        while j < len(items) and (
            items[j].text in {"=", ":", "-", "~"} or items[j].says("walls.before_size")
        ):
            j += 1
        after = scene.at(j)
        target = None
        if prefixed and after is not None and after.kind in {"measure", "range"} and not after.used:
            target = after
        elif (
            before is not None
            and before.kind in {"measure", "range"}
            and not before.used
            and not (letter and after is not None and after.kind == "measure" and not _touching(before, item))
        ):
            target = before
        elif (before is not None and before.kind == "word" and before.low == "ish" and scene.free(i - 2)) or (
            before is not None
            and before.tagged("hedge")
            and scene.free(i - 2)
            and items[i - 2].kind == "measure"
        ):
            target = items[i - 2]
        elif (
            after is not None
            and after.kind in {"measure", "range"}
            and not after.used
            and not _own_word(scene, j)
        ):
            if item.says("walls.behind_size") and before is not None and before.kind == "measure":
                target = before
            else:
                target = after
        if target is None:
            if before is not None and before.kind == "dims" and not before.used and len(before.sizes) == 2:
                _turned(scene, before, dim[1])
            continue
        whole = target.kind == "measure" and target.size.whole and not target.size.unit
        if letter and whole and scene.topics == ["mortar"]:
            scene.aside(target, f"a class {item.text}{target.text}? Not one that I know")
            continue
        set_dimension(scene, target, dim[1], i)


def _peaks(scene: Scene) -> None:
    """'gable apex 3.2 base 7.4': the word for the peak names the height behind it."""
    if not scene.says("shape.ridge") or scene.says("shape.eaves"):
        return
    for i, item in enumerate(scene.items):
        before, behind = scene.at(i - 1), scene.at(i + 1)
        sized = behind is not None and behind.kind == "measure" and not behind.used
        if item.says("shape.ridge") and sized and (before is None or before.kind != "measure"):
            item.tags, item.cues = (*item.tags, ("dim", "height")), item.cues | {"dims.noun"}
            scene.renew()


def _of_pieces(scene: Scene, i: int) -> bool:
    """'3 m long lengths', '2.7 m long bars': of what is bought, and of no wall."""
    size, piece = scene.at(i - 1), scene.at(i + 1)
    told = size is not None and size.kind == "measure" and piece is not None and piece.says("pieces.lengths")
    if told and size is not None and not size.used:
        scene.aside(size, "the length of one piece")
    return told


def _counted_courses(scene: Scene, i: int) -> bool:
    """Whether courses, or blocks one upon another, were counted before the word at i."""
    what, count = scene.at(i - 1), scene.at(i - 2)
    return (
        what is not None
        and (what.tagged("noun", "course") or what.tagged("noun", "block"))
        and count is not None
        and count.kind == "measure"
        and count.used in {"courses", "block"}
    )


def _prefixed(scene: Scene) -> bool:
    """'lg 12000 ht 2700': the first dimension word stands before its size, and so do the others."""
    items = scene.items
    words = [
        i
        for i, x in enumerate(items)
        if x.kind == "phrase" and (x.tag("dim") or ("", ""))[1] in WALL_DIMS and not x.tagged("ask")
    ]
    if len(words) < 2:
        return False
    first = words[0]
    if first and items[first - 1].kind == "measure" and not items[first - 1].used:
        return False
    if len(words) > 1 and not any(
        x.kind == "measure" and x.used in {"", "block", "block_count"}
        for x in items[words[-1] + 1 : words[-1] + 4]
    ):
        return False  # the last word has its size before it, so they all have
    j = first + 1
    while j < len(items) and items[j].text in {":", "=", "-"}:
        j += 1
    return j < len(items) and items[j].kind == "measure" and not items[j].used


def _touching(one: Item, other: Item) -> bool:
    return other.start - one.end <= 1


def _own_word(scene: Scene, j: int) -> bool:
    """Whether the size at j has a dimension word of its own directly behind it, or counts coats."""
    nxt = scene.at(j + 1)
    return counts_coats(scene, j) or (
        nxt is not None
        and nxt.kind == "phrase"
        and bool(nxt.tag("dim"))
        and (nxt.tag("dim") or ("", ""))[1] in WALL_DIMS
        and len(nxt.text) > 1
    )


def _turned(scene: Scene, item: Item, dim: str) -> None:
    """'2.4 x 10 long': the word belongs to the last of a pair."""
    if dim == "length":
        readings = pair(scene, item.sizes, "wall")
        if len(readings) == 1:
            scene.claim("height", readings[0][0], item)
            item.used = ""
            scene.claim("length", readings[0][1], item)
