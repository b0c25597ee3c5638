"""The coats of a render, each with a thickness of its own."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, show
from bot.reading.units import believable, candidates
from knowledge.units import convert


def take_coats(scene: Scene) -> None:
    """'14 mm scratch, 6 mm top', '8 mm and 6 mm in two coats': all the coats together, and said."""
    if "render" not in scene.topics or "coat_thickness" in scene.heard.slots:
        return
    beside = [(i, x) for i, x in enumerate(scene.items) if len(_thick(scene, x)) == 1]
    coats = [x for i, x in beside if _by_a_coat(scene, i)]
    if scene.in_force == ("render",) and _nothing_else(scene, [x for _, x in beside]):
        coats = [x for _, x in beside]  # '12 and 6'
    if len(coats) < 2 and (scene.says("coats.many") or scene.says("coats.two")):
        coats = [x for _, x in beside if x.size.unit] or _right_behind(scene, [i for i, _ in beside])
    if len(coats) < 2 or len(coats) > 4 or scene.says("coats.each"):
        return
    each = [_thick(scene, x)[0] for x in coats]
    unit = each[0]["unit"]
    thick = {"value": round(sum(convert(t["value"], t["unit"], unit) for t in each), 6), "unit": unit}
    scene.claim("coat_thickness", thick, *coats)
    told = " and ".join(show(t) for t in each)
    scene.assume("coat_thickness", show(thick), f"{told}: {show(thick)} in all.")


def _nothing_else(scene: Scene, sizes: list[Item]) -> bool:
    """Whether the message is such sizes alone, joined by 'and'."""
    others = [x for x in scene.items if x not in sizes]
    return len(sizes) > 1 and all(x.says("list.and") or x.text in {"/", "&"} for x in others)


def _right_behind(scene: Scene, places: list[int]) -> list[Item]:
    """'two coats 10 and 6': the numbers that stand in a row behind the word."""
    items = scene.items
    k = next((i + 1 for i, x in enumerate(items) if x.says("coats.many") or x.says("coats.two")), len(items))
    found: list[Item] = []
    while k in places:
        found.append(items[k])
        k += 2 if k + 1 < len(items) and items[k + 1].says("list.and") else len(items)
    return found


def _thick(scene: Scene, item: Item) -> list[dict[str, Any]]:
    """What it is as the thickness of a coat; nothing where it can be none."""
    if item.kind != "measure" or item.used or item.size.negative or item.size.bound:
        return []
    found = candidates(scene, item.size, "coat")
    return [c for c in found if c["unit"] not in {"m", "ft"} and believable(scene, c, "coat")]


def _by_a_coat(scene: Scene, i: int) -> bool:
    """Whether the name of a coat stands at it: behind it, or before it where nothing else is there."""
    item = scene.items[i]
    near, before = scene.at(scene.right(i)), scene.at(scene.left(i))
    if near is not None and near.says("coats.many") and item.size.whole:  # '2 coat' counts them
        return False
    behind = near is not None and near.says("coats.coat")
    ahead = before is not None and before.says("coats.coat")
    return behind or (ahead and not (near is not None and near.kind == "measure" and not item.size.unit))
