"""Numbers that are no dimension: plots, lads, gridlines, years."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.turns.corrections import NUMERIC


def asides(scene: Scene) -> None:
    """Plot 12, 2 lads, gridline 3 to 1, 9 years: said back, never used."""
    items = scene.items
    standard = scene.tagged("aside", "standard")
    for i, item in enumerate(items):
        if item.kind == "aside" or (item.kind == "bad" and item.why == "not one number"):
            scene.aside(item, item.why)
            continue
        if item.kind == "code" and not item.tagged("code", "class"):
            scene.aside(item, item.why)
            continue
        if standard and item.tagged("aside", "standard"):
            scene.aside(item, "a standard")
            continue
        if item.kind not in NUMERIC or item.used:
            continue
        if _a_slope(scene, i, item):
            scene.aside(item, "an angle")
            continue
        bare = all(not s.unit and not s.decimal for s in item.sizes)
        if (
            item.kind == "measure"
            and bare
            and item.size.value == 4
            and not item.size.spelt
            and _stands_for_a_word(scene, i)
        ):
            scene.aside(item, "read as 'for'")
            continue
        before = items[i - 1] if i else None
        if (
            before is not None
            and before.tagged("connect", "same")
            and before.low == "same as"
            and bare
            and item.kind == "measure"
            and scene.says("aside.plot_or_wall")
        ):
            scene.aside(item, "another wall spoken of")
            continue
        if (
            before is not None
            and before.kind == "mark"
            and before.text == "."
            and i >= 2
            and items[i - 2].tagged("aside", "before")
        ):
            before = items[i - 2]
        if (
            before is not None
            and before.says("aside.clause")
            and item.kind == "measure"
            and not item.size.unit
        ):
            scene.aside(item, f"a number that goes with '{before.low}'")
            continue
        if (
            before is not None
            and before.tagged("aside", "before")
            and bare
            and not (item.size.negative and before.tagged("noun", "time"))  # 'in the day -2 at night'
            and not _dimension(scene, i)
            and not (
                item.kind == "dims"
                or (before.says("aside.or_size") and (item.kind == "ratio" or item.size.value >= 100))
            )
            and not (item.kind == "ratio" and not before.says("aside.gridline"))
        ):
            scene.aside(item, f"a number that goes with '{before.low}'")
            _follow(scene, i)
            continue
        after = items[i + 1] if i + 1 < len(items) else None
        if after is not None and after.says("aside.more"):
            after = items[i + 2] if i + 2 < len(items) else None
        if (
            item.kind == "measure"
            and bare
            and after is not None
            and after.says("walls.plots")
            and scene.says("walls.each_plot")
            and scene.tagged("noun", "wall")
        ):
            scene.claim("walls", int(item.size.value), item)
            continue
        if (
            item.kind == "measure"
            and bare
            and item.size.spelt
            and after is not None
            and after.tagged("ask", "what")
        ):
            scene.aside(item, "a number in a list")
            continue
        if (
            item.kind == "measure"
            and bare
            and after is not None
            and after.tagged("aside", "after")
            and not _strong(after)
        ) or (item.kind == "range" and bare and after is not None and after.tagged("aside", "after")):
            scene.aside(item, f"a number that goes with '{after.low}'")


def _a_slope(scene: Scene, i: int, item: Item) -> bool:
    """'45 degree roof', 'pitch is 35 degrees': no temperature."""
    if item.kind != "measure" or item.size.unit not in {"°C", "°F"} or not item.size.lent:
        return False
    near = (scene.at(i + 1), scene.at(scene.right(i)), scene.at(scene.left(i)), scene.at(i - 1))
    return any(x is not None and x.says("aside.slope") for x in near)


def _stands_for_a_word(scene: Scene, i: int) -> bool:
    """'joints 4 a 9m wall', 'ties 4 22m2', 'ok 4 aircrete': a 4 typed for a word."""
    before, after, further = scene.at(i - 1), scene.at(i + 1), scene.at(i + 2)
    if after is None or after.says("aside.behind_four"):
        return after is not None
    counted = further is not None and further.tagged("noun") and further.low.endswith("s")
    if before is None or counted or before.kind not in {"phrase", "word", "ratio"}:
        return False
    if any(before.tagged("noun", kind) for kind in ("wall", "window", "door", "opening")) or before.tagged(
        "dim"
    ):
        return False
    sized = after.kind == "dims" or (after.kind == "measure" and (after.size.unit or after.size.decimal))
    return bool(sized) or after.tagged("slot", "material")


def _follow(scene: Scene, i: int) -> None:
    """'gridlines 3 and 4': the number after goes the same way."""
    j = i + 2
    if j < len(scene.items) and scene.items[j - 1].says("aside.and_to"):
        other = scene.items[j]
        if (
            other.kind == "measure"
            and not other.used
            and not other.size.unit
            and not other.size.decimal
            and not _dimension(scene, j)
        ):
            scene.aside(other, "a number that goes with the one before")


def _strong(item: Item) -> bool:
    return item.tagged("noun", "course")


def _dimension(scene: Scene, i: int) -> bool:
    """A dimension word right behind, that does not rather belong to a size further on."""
    near, further = scene.at(i + 1), scene.at(i + 2)
    return near is not None and near.tagged("dim") and not (further is not None and further.kind == "measure")
