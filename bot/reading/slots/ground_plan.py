"""The plan of a building where a wall's length and height are looked for."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.units import LENGTH, believable, candidates
from knowledge.units import convert, kind

Choices = list[tuple[str, dict[str, Any]]]
AMOUNTS = {
    "blocks",
    "render",
    "mesh",
    "mortar",
    "boards",
}  # the same for one long wall as for four round a plan


def ground_plan(scene: Scene) -> None:
    """'garage 6 by 3', 'shed 4 x 3 x 2.4': one wall, or the ground plan?"""
    pair = next((x for x in scene.items if x.kind == "dims" and x.used in SIZES), None)
    if pair is None or scene.heard.walls or not _of_a_building(scene, pair):
        return
    if any(s.unit and kind(s.unit) != LENGTH for s in pair.sizes):
        return
    if any(scene.words.says(word, "walls.one_face") for x in scene.items for word in x.low.split()):
        return
    height, source = _height(scene, pair)
    several = height is None and scene.heard.slots.get("walls", 1) > 1  # 'extension 3m x 5m, three walls'
    if not several and any(x.tagged("noun", "wall") and not x.says("walls.built") for x in scene.items):
        return
    if height is None:
        _one_or_plan(scene, pair)
    elif set(scene.topics) <= AMOUNTS:
        _round(scene, pair, height, source)


SIZES = {"length", "height", "thickness", "number"}


def _of_a_building(scene: Scene, pair: Item) -> bool:
    """Whether a building is named before the pair, or a plan behind it."""
    for i, item in enumerate(scene.items):
        if item.says("walls.built") and scene.at(scene.right(i)) is pair:
            return True
        if item is pair:
            near = scene.at(scene.right(i))
            return near is not None and (near.says("walls.a_plan") or near.says("walls.built"))
    return False


def _height(scene: Scene, pair: Item) -> tuple[dict[str, Any] | None, Item]:
    """The height beside the plan: a third size, or one of its own."""
    if len(pair.sizes) == 3:
        found = [c for c in candidates(scene, pair.sizes[2], "wall") if believable(scene, c, "height")]
        return (found[0] if len(found) == 1 else None), pair
    for i, item in enumerate(scene.items):
        beside = (scene.at(i + 1), scene.at(i - 1))
        if item.kind == "measure" and any(x is not None and x.tagged("dim", "height") for x in beside):
            found = [c for c in candidates(scene, item.size, "wall") if believable(scene, c, "height")]
            return (found[0] if len(found) == 1 else None), item
    return None, pair


def _one_or_plan(scene: Scene, pair: Item) -> None:
    """Two sizes and no height: a wall's face, or the plan of a building whose height is not known."""
    slots = scene.heard.slots
    dims = {(x.tag("dim") or ("", ""))[1] for x in scene.items}
    if len(pair.sizes) != 2 or dims & {"length", "height"} or not {"length", "height"} <= set(slots):
        return
    length, height = slots["length"], slots["height"]
    choices: Choices = [
        (f"One wall, {show(length)} long and {show(height)} high", {"length": length, "height": height})
    ]
    ask = f"Is {pair.text} one wall, or the plan? If the plan, tell me each wall: its length and height."
    for slot in ("length", "height"):
        scene.doubt(slot, ask, choices, pair)


def _round(scene: Scene, pair: Item, height: dict[str, Any], source: Item) -> None:
    """Two sizes and a height: all four walls round the plan, or one of them."""
    unit = next((s.unit for s in pair.sizes if s.unit), height["unit"])
    one, other = (plain(s, s.unit or unit) for s in pair.sizes[:2])
    if any(s.decimal is False and not s.unit and s.value >= scene.sense.millimetres_from for s in pair.sizes):
        return
    round_it = {
        "value": round(2 * (one["value"] + convert(other["value"], other["unit"], unit)), 6),
        "unit": unit,
    }
    high = f"{show(height)} high"
    choices: Choices = [
        (f"All four walls, {show(round_it)} in all, {high}", {"length": round_it, "height": height}),
        (f"One wall, {show(one)} long, {high}", {"length": one, "height": height}),
    ]
    heard = scene.heard
    for slot in ("length", "height", "thickness"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.doubts = [d for d in heard.doubts if d.slot not in SIZES]
    heard.assumed = [a for a in heard.assumed if a["slot"] not in SIZES]
    ask = f"Is {pair.text} the plan? Then it is four walls, measured outside; how many do you build?"
    for slot in ("length", "height"):
        scene.doubt(slot, ask, choices, pair, source)
