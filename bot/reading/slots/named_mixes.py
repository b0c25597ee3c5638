"""Mixes by the names of their parts."""

from __future__ import annotations

from rapidfuzz import fuzz

from bot.reading.items import Item
from bot.reading.scene import Scene

ALIKE = 70  # of 100: a word this like the name of a part is asked about
SHORTEST = 4  # letters


def take_named(scene: Scene) -> None:
    """'6 sand 1 lime 1 cement', '1 cement 5 sand half lime', '5 of sand to 1 of cement'."""
    items = scene.items
    if scene.nouns.isdisjoint(PARTS):
        return
    parts: dict[str, float] = {}
    used: list[Item] = []
    if _prefixed(scene, parts, used):
        return
    by_bag = _all_by_the_bag(scene)
    for i, item in enumerate(items):
        name = next((p for p in PARTS if item.tagged("noun", p)), None)
        if name is None:
            continue
        k = _number_of(scene, i)
        size = items[k] if k is not None else None
        if (
            size is None
            or size.kind != "measure"
            or size.used
            or size.size.unit
            or name in parts
            or size.size.negative
        ):
            continue
        if k is not None and not by_bag and _bagged(scene, k, i):
            continue
        parts[name] = size.size.value
        used.append(size)
    if len(parts) >= 2 and "sand" in parts and ("cement" in parts or "lime" in parts):
        cement = parts.get("cement", 0)
        scale = cement or 1
        mix = {p: round(parts.get(p, 0) / scale, 6) for p in PARTS}
        slip = _slip(scene, parts)
        if slip is not None:
            ask = f"Is '{slip.text}' of the mix? How many parts of cement, lime and sand?"
            scene.doubt("mix", ask, [], *used)
            return
        scene.claim("mix", mix, *used)
        if by_bag:
            scene.assume(
                "mix", "bag for bag", "Bags of cement and of sand were taken as equal parts by volume."
            )


def _slip(scene: Scene, parts: dict[str, float]) -> Item | None:
    """'6 sand 1 vement 1 lime': a word that may be the part that is not named, which would change the mix."""
    missing = [part for part in PARTS if part not in parts]
    for i, item in enumerate(scene.items):
        before = scene.at(i - 1)
        if before is not None and before.says("spelt.part") and any(item.tagged("noun", p) for p in missing):
            return item  # 'half limee': repaired, and its number was no number before that
        strange = item.kind == "word" and not (item.cues or item.tags) and len(item.low) >= SHORTEST
        if strange and any(fuzz.ratio(item.low, part) >= ALIKE for part in missing):
            return item
    return None


def _number_of(scene: Scene, i: int) -> int | None:
    """The place of the number that counts the part named at i, over its bags or buckets."""
    k = scene.left(i, over="over.between_part_and_name")
    bag = scene.at(k)
    return scene.left(k) if k is not None and bag is not None and bag.tagged("noun", "bag") else k


def _bagged(scene: Scene, k: int, i: int) -> bool:
    return any(scene.items[m].tagged("noun", "bag") for m in range(k, i))


def _all_by_the_bag(scene: Scene) -> bool:
    """'2 bags cement 12 bags sand': each part by the bag, which makes them parts of a mix."""
    found = {}
    for i, item in enumerate(scene.items):
        name = next((p for p in PARTS if item.tagged("noun", p)), None)
        k = _number_of(scene, i) if name is not None else None
        size = scene.at(k)
        if name is not None and k is not None and size is not None and size.kind == "measure":
            found[name] = _bagged(scene, k, i) and size.size.whole
    return {"cement", "sand"} <= set(found) and all(found.values())


def _prefixed(scene: Scene, parts: dict[str, float], used: list[Item]) -> bool:
    """'cement 1, lime 1, sand 5': every name with its number behind it."""
    items = scene.items
    first = next((i for i, x in enumerate(items) if any(x.tagged("noun", p) for p in PARTS)), None)
    if first is None or (first > 0 and items[first - 1].kind == "measure"):
        return False
    found: dict[str, float] = {}
    took: list[Item] = []
    for i, item in enumerate(items):
        name = next((p for p in PARTS if item.tagged("noun", p)), None)
        if name is None or scene.negated(i):
            continue
        nxt = scene.at(i + 1)
        if nxt is not None and nxt.text in {":", "=", "-"}:
            nxt = scene.at(i + 2)
        if nxt is None or nxt.kind != "measure" or nxt.used or nxt.size.unit:
            return False
        found[name] = nxt.size.value
        took.append(nxt)
    if len(found) < 2 or not found.get("cement"):
        return False
    parts.update(found)
    used += took
    scene.claim("mix", {p: round(found.get(p, 0) / found["cement"], 6) for p in PARTS}, *took)
    return True


PARTS = ("cement", "lime", "sand")
