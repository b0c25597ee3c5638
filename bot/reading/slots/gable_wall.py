"""'gable 8 m wide, 2.4 to the eaves, 4.4 to the ridge': a wall and the triangle on it, by their area."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, show
from bot.reading.units import believable, candidates
from knowledge.units import convert

AMOUNTS = {"blocks", "render", "mesh", "boards", "mortar"}
REACH = 3  # items between a height and what it reaches to


def gable_wall(scene: Scene) -> None:
    """The area of both together, which is said; joints and the like are not asked of it."""
    slots, heard = scene.heard.slots, scene.heard
    length = slots.get("length")
    if length is None or heard.walls or not set(scene.topics) <= AMOUNTS or not scene.says("shape.eaves"):
        return
    low, high = _reaching(scene, "shape.eaves"), _reaching(scene, "shape.ridge")
    if low is high:  # 'eaves 2.4 ridge 5': each stands behind its word
        low, high = (_reaching(scene, cue, behind=True) for cue in ("shape.eaves", "shape.ridge"))
    if low is None or high is None or low is high:
        return
    sizes = [_height(scene, x) for x in (low, high)]
    if None in sizes:
        return
    eaves, ridge = (size for size in sizes if size is not None)
    wide, e, r = (convert(s["value"], s["unit"], "m") for s in (length, eaves, ridge))
    if not e < r:
        return
    area = {"value": round(wide * (e + r) / 2, 6), "unit": "m²"}
    spans = [*heard.evidence.get("length", []), *((x.start, x.end) for x in (low, high))]
    if heard.evidence.get("block_count") == [(high.start, high.end)]:  # 'ridge 5 blocks?'
        slots.pop("block_count")
        heard.evidence.pop("block_count")
    for slot in ("length", "height", "shape", "number", "thickness"):
        slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.doubts = [
        d for d in heard.doubts if d.slot not in {"height", "shape"} and not set(d.spans) & set(spans)
    ]
    heard.bare = [x for x in heard.bare if x not in (low, high)]
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height"}]
    slots["area"], heard.evidence["area"] = area, spans
    for item in (low, high):
        item.used = "area"
    because = (
        f"'{low.text}' to the eaves and '{high.text}' to the ridge over {show(length)} make {show(area)}."
    )
    scene.assume("area", area, because)


def _reaching(scene: Scene, cue: str, behind: bool = False) -> Item | None:
    """The height that stands nearest to one of these words: before it, or right behind it."""
    items = scene.items
    for i, item in enumerate(items):
        if not item.says(cue):
            continue
        before = [x for x in items[max(0, i - REACH) : i] if x.kind in {"measure", "mark"}]
        if not behind and before and before[-1].kind == "measure" and before[-1].used != "length":
            return before[-1]
        further = items[i + 1 : i + REACH]
        found = next((x for x in further if x.kind == "measure" or x.text == ","), None)
        return found if found is not None and found.kind == "measure" else None
    return None


def _height(scene: Scene, item: Item) -> dict[str, Any] | None:
    found = [c for c in candidates(scene, item.size, "wall") if believable(scene, c, "height")]
    return found[0] if len(found) == 1 else None
