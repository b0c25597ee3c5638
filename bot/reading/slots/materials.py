"""Lightweight, dense, brick: two of them are a cavity wall or two questions."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.put import put
from bot.reading.slots.senses import has_outer


def take_materials(scene: Scene) -> None:
    """Lightweight, dense, brick: two of them are a cavity wall or two questions."""
    _lie(scene)
    found: dict[str, Item] = {}
    for i, item, value in scene.told.get("material", []):
        if scene.negated(i):
            scene.heard.negated.append(("material", value))
            continue
        text = item.low
        if item.says("material.facing") and "render" in scene.topics:
            continue
        if item.says("material.brick") and any(v == "aac" for v in found) and not has_outer(scene):
            continue
        if value == "stone" and text == "granite":
            continue
        found.setdefault(value, item)
    if (
        "calcium_silicate" in found
        and "clay_brick" in found
        and found["clay_brick"].says("material.brick_of_any_kind")
    ):
        del found["clay_brick"]
    if not found:
        return
    if len(found) == 1:
        value, item = next(iter(found.items()))
        put(scene, "block", "material", value, item)
        return
    scene.heard.bare.append({"materials": {v: (x.start, x.end) for v, x in found.items()}})
    leafy = bool(scene.told.get("leaf", [])) or has_outer(scene)
    first = "aac" if "aac" in found else next((v for v in found if v != "clay_brick"), next(iter(found)))
    if leafy or "clay_brick" in found:
        put(scene, "block", "material", first, found[first])
        if leafy and "clay_brick" in found:
            scene.heard.marks.add("brick outer")
            scene.claim("leaf", "cavity", found["clay_brick"], soft=True)
        return
    at = sorted(item.start for item in found.values())
    told = any(x.says("material.one_and_other") for x in scene.items if at[0] < x.start < at[-1])
    if set(found) == {"aac", "aggregate"} and not told:
        both = list(found)
        scene.doubt(
            "block",
            "Lightweight (aircrete) or dense block?",
            [
                (
                    m.replace("aac", "aircrete").replace("aggregate", "dense"),
                    {"block": {**scene.heard.slots.get("block", {}), "material": m}},
                )
                for m in both
            ],
        )
        return
    put(scene, "block", "material", first, found[first])


def _lie(scene: Scene) -> None:
    """'laid on the flat'; 'no theyre on edge': flat no longer."""
    for i, item in enumerate(scene.items):
        if item.tagged("laid", "edge") or (item.tagged("laid") and i > 1 and scene.negated(i)):
            scene.heard.negated.append(("laid", "flat"))
            item.used = item.used or "block"
        elif item.tagged("laid"):
            put(scene, "block", "laid", "flat", item)
            return
