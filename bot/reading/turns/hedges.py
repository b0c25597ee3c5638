"""About, over, at most: the bound goes with the measure."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene


def hedges(scene: Scene) -> None:
    """'about 10', '10 ish', 'just over 6 m': the bound goes with the measure."""
    items = scene.items
    if not scene.tagged("hedge"):
        return
    for i, item in enumerate(items):
        hedge = item.tag("hedge")
        if hedge is None:
            continue
        j = i + 1
        while (
            j < len(items) and items[j].kind in {"word", "phrase", "mark"} and items[j].says("hedge.between")
        ):
            j += 1
        target = items[j] if j < len(items) and items[j].kind in {"measure", "dims", "range"} else None
        after = i > 0 and items[i - 1].kind in {"measure", "dims"} and item.says("hedge.behind")
        if after and not (
            target is not None
            and item.says("hedge.either_side")
            and not items[i - 1].tagged("count")
            and _touching(items[j], item)
        ):
            target = items[i - 1]
        if target is None:
            continue
        if hedge[1] in {"over", "under"}:
            size = target.sizes[0]
            noun = scene.right(items.index(target))
            thing = noun is not None and (
                items[noun].tagged("noun", "opening")
                or items[noun].tagged("noun", "window")
                or items[noun].tagged("noun", "door")
            )
            plainly = item.says("hedge.plain")
            if thing or (
                plainly
                and not size.unit
                and not size.decimal
                and size.value < 30
                and not scene_bare_ok(scene, items.index(target))
            ):
                continue
            if item.low == "within" or (
                plainly
                and item.says("hedge.below")
                and any(x.tagged("slot", "place", "below_dpc") for x in items[max(0, i - 1) : j])
            ):
                continue
        for size in target.sizes[:1]:
            if size.bound is None:
                size.bound = hedge[1]


def scene_bare_ok(scene: Scene, i: int) -> bool:
    """A bare number after 'over' is a size where a dimension word or the end follows."""
    j = scene.right(i)
    return j is None or scene.items[j].tagged("dim") or scene.items[j].kind == "mark"


def _touching(one: Item, other: Item) -> bool:
    return 0 <= one.start - other.end <= 1
