"""Sizes that a dimension word names: long, high, thick, wide."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.put import put
from bot.reading.slots.settling import ranged, say_unit, settle
from bot.reading.units import LENGTH, believable, candidates, pair
from knowledge.units import kind

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
    if not scene.tagged("dim"):
        return
    prefixed = _prefixed(scene)
    for i, item in enumerate(items):
        dim = item.tag("dim")
        if dim is None or dim[1] not in WALL_DIMS or item.kind != "phrase":
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
        if (
            target is not None
            and target.kind == "measure"
            and target.size.unit
            and kind(target.size.unit) != LENGTH
        ):
            continue
        if target is None:
            if before is not None and before.kind == "dims" and not before.used and len(before.sizes) == 2:
                _turned(scene, before, dim[1])
            continue
        whole = target.kind == "measure" and target.size.whole and not target.size.unit
        if letter and whole and scene.topics == ["mortar"]:
            scene.aside(target, f"a class {item.text}{target.text}? Not one that I know")
            continue
        set_dimension(scene, target, dim[1], i)


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
        x.kind == "measure" and x.used in {"", "block"} for x in items[words[-1] + 1 : words[-1] + 4]
    ):
        return False  # the last word has its size before it, so they all have
    j = first + 1
    while j < len(items) and items[j].text in {":", "=", "-"}:
        j += 1
    return j < len(items) and items[j].kind == "measure" and not items[j].used


def _touching(one: Item, other: Item) -> bool:
    return other.start - one.end <= 1


def _own_word(scene: Scene, j: int) -> bool:
    """Whether the size at j has a dimension word of its own directly behind it."""
    nxt = scene.at(j + 1)
    return (
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


def _object(scene: Scene, i: int) -> str:
    """What a dimension word speaks of: the nearest noun before it, else the wall."""
    for j in range(i, -1, -1):
        item = scene.items[j]
        if item.kind == "mark" and item.text in {".", "?", ";"}:
            break
        for name in ("padstone", "block", "coat", "joint", "mortar_joint", "wall", "crack", "cavity"):
            if item.tagged("noun", name):
                return name
    return "wall"


def set_dimension(scene: Scene, item: Item, dim: str, word_at: int) -> None:
    """Put a size under its dimension word; width is the length of a wall, the gap of a joint or crack."""
    nxt = scene.right(word_at)
    behind = scene.at(nxt)
    thing = _object(scene, word_at - 1)
    of_wall = scene.at(scene.right(nxt)) if nxt is not None else None
    walled = of_wall is not None and of_wall.tagged("noun", "wall")  # '60 long cmu wall'
    if (
        behind is not None
        and behind.tagged("noun", "block")
        and not behind.tagged("noun", "wall")
        and not walled
    ):
        thing = "block"
    if item.kind == "range":
        ranged(scene, item, "length" if dim == "width" else dim)
        return
    if dim == "length" and scene.topics == ["crack"] and not scene.tagged("noun", "wall"):
        scene.aside(item, "how long the crack is")
        return
    size = item.size
    if dim == "width" and (
        thing == "crack" or ("crack" in scene.topics and size.unit in {"mm", ""} and size.value < 80)
    ):
        put(scene, "crack", "width", plain(size, size.unit or "mm"), item)
        return
    if thing == "padstone" and size.unit in {"mm", "in", "cm", ""} and not size.decimal and size.value >= 4:
        put(
            scene,
            "padstone",
            "width"
            if dim in {"thickness", "width"}
            else "height"
            if dim in {"height", "depth"}
            else "length",
            plain(size, size.unit or "mm"),
            item,
        )
        return
    if thing == "block" and dim in {"length", "height"} and item.kind == "measure" and _block_like(item):
        put(scene, "block", dim, plain(size, size.unit or "mm"), item)
        return
    if dim == "width" and thing == "block" and _as_thick(scene, item):
        dim = "thickness"
    if (
        dim in {"width", "thickness"}
        and thing == "joint"
        and "joints" in scene.topics
        and (size.unit in {"mm", ""})
        and size.value <= 60
    ):
        scene.aside(item, "the joint width that was asked about")
        return
    if dim == "thickness":
        if (behind is not None and behind.tagged("noun", "mortar_joint")) or thing == "mortar_joint":
            scene.claim("joint_thickness", plain(size, size.unit or "mm"), item)
            return
        if set(scene.topics) & {"render"} and size.unit in {"mm", "in", "cm"} and size.to_mm() <= 60:
            scene.claim("coat_thickness", plain(size, size.unit), item)
            return
        if (
            (thing == "coat" or (behind is not None and behind.tagged("noun", "coat")))
            and ("render" in scene.topics)
            and size.value <= 60
        ):
            scene.claim("coat_thickness", plain(size, size.unit or "mm"), item)
            return
        _thick(scene, item)
        return
    if dim == "depth":
        if size.unit in {"mm", ""} and size.value < 60:
            scene.aside(item, "a depth that no slot of the wall takes")
            return
        dim = "height"
    slot = "length" if dim == "width" else dim
    use = "height" if slot == "height" else "wall"
    settle(scene, slot, item, use)


def _as_thick(scene: Scene, item: Item) -> bool:
    """Whether a width of a block is its thickness."""
    size = item.size
    if not size.unit:
        return size.whole and size.value in scene.region.known.get("thickness", ())
    return size.unit in {"mm", "cm", "in"} and size.to_mm() <= 400


def _block_like(item: Item) -> bool:
    """Whether a size can be the length or height of a block; a bare number must be one in millimetres."""
    size = item.size
    if not size.unit:
        return not size.decimal and 40 <= size.value <= 700
    return size.unit in {"mm", "cm", "in"} and 40 <= size.to_mm() <= 700


def _thick(scene: Scene, item: Item) -> None:
    options = candidates(scene, item.size, "unit")
    kept = [c for c in options if believable(scene, c, "unit")] or options
    if len(kept) == 1:
        say_unit(scene, "thickness", item, kept[0])
        scene.claim("thickness", kept[0], item)
    elif item.size.unit:
        scene.claim("thickness", plain(item.size, item.size.unit), item)
    else:
        scene.doubt(
            "thickness", f"How thick is {item.text}?", [(show(c), {"thickness": c}) for c in kept], item
        )
