"""Several walls in one message: one reading each, what was said once for all in every one."""

from __future__ import annotations

from bot.reading.heard import Wall
from bot.reading.scene import Scene


def split_walls(scene: Scene) -> None:
    """Totals over walls, equal lengths, two mixes for two places."""
    _total(scene)
    _places(scene)


def _total(scene: Scene) -> None:
    """'3 walls total 24m': the length is of all together; 'in 4 equal lengths' shares it out."""
    heard = scene.heard
    slots = heard.slots
    texts = [x.text.lower() for x in scene.items]
    if "length" not in slots:
        return
    if slots.get("walls", 1) > 1 and any(t in {"total", "in total", "altogether", "combined", "all together", "overall", "all in", "in all"} for t in texts):
        if "each" not in texts and not _total_is_asked(scene):
            slots.pop("walls")
            span = heard.evidence.pop("walls", [(0, 0)])[0]
            heard.set_aside.append({"text": heard.text[span[0] : span[1]], "span": list(span), "why": "the length was given for all walls together"})
    for i, item in enumerate(scene.items):
        if item.kind == "measure" and item.size.whole and item.size.value > 1 and any(x.text.lower() in {"equal", "equal lengths", "equal parts", "equal walls", "equal bits"} for x in scene.items[i + 1 : i + 3]):
            n = int(item.size.value)
            length = dict(slots["length"])
            length["value"] = round(length["value"] / n, 6)
            slots["length"] = length
            heard.doubts = [d for d in heard.doubts if d.slot != "number"]
            scene.claim("walls", n, item)


def _total_is_asked(scene: Scene) -> bool:
    """'total mjs', 'blocks in total': the total asked for, not the length given."""
    for i, item in enumerate(scene.items):
        if item.tagged("dim", "total") or "total" in item.text.lower().split():
            near = [x for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None]
            if any(x.kind in {"measure", "dims"} for x in near):
                return False
    return True


def _places(scene: Scene) -> None:
    """'6 to 1 on the inside 4 to 1 below dpc': each mix goes with the place nearest behind it."""
    heard = scene.heard
    mixes = next((b for b in heard.bare if isinstance(b, list)), None)
    places = next((b["place"] for b in heard.bare if isinstance(b, dict) and "place" in b), None)
    if mixes is not None:
        heard.bare.remove(mixes)
        entries = []
        for item, mix in mixes:
            slots = {k: v for k, v in heard.slots.items() if k != "mix"}
            behind = sorted((a, value) for value, (a, _) in (places or {}).items() if a >= item.end)
            before = sorted((-b, value) for value, (_, b) in (places or {}).items() if b <= item.start)
            if behind or before:
                slots["place"] = (behind or before)[0][1]
            entries.append(Wall(None, {**slots, "mix": mix}, {**heard.evidence, "mix": [(item.start, item.end)]}))
        heard.walls = entries
    elif places is not None and "mortar" in scene.topics:
        heard.walls = [Wall(None, {**heard.slots, "place": value}, {**heard.evidence, "place": [span]}) for value, span in places.items()]
    elif places is not None and len(places) > 1:
        from bot.reading.heard import Doubt

        heard.doubts.append(Doubt("place", "Which is it?", [(v.replace("_", " "), {"place": v}) for v in places]))
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "place" in b)]
