"""Several walls in one message: one reading each, what was said once for all in every one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.items import Item
from bot.reading.scene import Scene

LABELS = {"front", "back", "rear", "side", "left", "right", "left side", "right side", "north", "south", "east", "west", "inner", "outer"}
PLANS = {"shed", "room", "outhouse", "workshop", "store", "outbuilding", "footprint", "garage", "bungalow", "box", "plan", "extension", "building", "house"}
SHARED = {"all", "both", "each", "everything", "all of them", "both of them"}
COUNTED = ("walls", "length", "height", "shape")


@dataclass
class Part:
    """Items of one wall, with its label."""

    label: str | None
    first: int
    last: int


def split_items(scene: Scene) -> tuple[list[Part], list[Item], list[Item]] | None:
    """Parts of the message that speak of one wall each, and what stands before and behind them all."""
    parts = _labelled(scene) or _listed(scene) or _counted(scene) or _one_other(scene)
    if not parts:
        return None
    items = scene.items
    tail = next(
        (k for k in range(parts[-1].first + 1, len(items))
         if items[k].text.lower() in SHARED and k > parts[-1].first + 1 and not (items[k].text.lower() == "each" and items[k - 1].kind in {"measure", "dims"})
         and any(x.kind in {"measure", "dims"} for x in items[parts[-1].first : k])),
        None,
    )  # fmt: skip
    if tail is None:
        tail = next((k for k in range(parts[-1].first + 2, len(items)) if items[k].kind == "mark" and items[k].text in {".", "?", ";"} and k > parts[-1].first + 1), len(items))
    parts[-1].last = min(parts[-1].last, tail)
    return parts, items[: parts[0].first], items[tail:]


def _sized(scene: Scene, i: int) -> bool:
    """A wall size stands at i, over 'is', ':' and the like."""
    j = i
    while j < len(scene.items) and j < i + 4:
        item = scene.items[j]
        if item.kind in {"measure", "dims"} and not item.used:
            nxt = scene.at(j + 1)
            opening = nxt is not None and any(nxt.tagged("noun", k) for k in ("window", "door", "opening"))
            return not opening and not item.tagged("count") and (bool(item.size.unit) or item.size.decimal or item.kind == "dims" or 1 < item.size.value <= 60)
        if not (item.kind == "mark" and item.text in {":", "=", "-"} or item.text.lower() in {"is", "wall", "the", "=", "at", "wall is", "about", "one"}):
            return False
        j += 1
    return False


def _labelled(scene: Scene) -> list[Part] | None:
    """'A 6.2 / B 11.4', 'wall 1 is 8.2 m, wall 2 ...', 'front 9 back 7'."""
    items = scene.items
    marks: list[tuple[int, str]] = []
    for i, item in enumerate(items):
        text = item.text.lower()
        before = scene.at(i - 1)
        if item.kind in {"word", "phrase"} and len(text) == 1 and (text in "abcdefg" or text.isalpha() and before is not None and before.tagged("noun", "wall")) and (item.text.isupper() or before is not None and before.tagged("noun", "wall")):
            if _sized(scene, i + 1) and not (text == "a" and not item.text.isupper() and not (before is not None and before.tagged("noun", "wall"))):
                marks.append((i - (before is not None and before.tagged("noun", "wall")), item.text.upper()))
        elif item.kind == "measure" and not item.used and item.size.whole and item.size.value <= 9 and before is not None and before.text.lower() in {"wall", "wall no", "elevation", "panel", "gable"} and not item.size.spelt:
            nxt = scene.at(i + 1)
            if nxt is not None and (nxt.text.lower() in {"is", ":", "=", "-"} or nxt.kind in {"measure", "dims"}) and _sized(scene, i + 1):
                marks.append((i - 1, f"{int(item.size.value)}"))
                item.used = "label"
        elif text in LABELS and item.kind in {"word", "phrase"} and not (before is not None and before.text.lower() in {"on", "on the", "from", "the", "at"}) and _sized(scene, i + 1):
            nxt = scene.at(i + 1)
            if nxt is not None and (nxt.kind in {"measure", "dims"} or nxt.tagged("noun", "wall") or nxt.kind == "mark"):
                marks.append((i, text))
    if len(marks) < 2 or len({label for _, label in marks}) != len(marks):
        if len(marks) == 1 and marks[0][1].isdigit():
            next(x for x in items if x.used == "label").used = ""
        return None
    return [Part(label, i, marks[n + 1][0] if n + 1 < len(marks) else len(items)) for n, (i, label) in enumerate(marks)]


def _listed(scene: Scene) -> list[Part] | None:
    """'4.2x2.4 + 4.2x2.4 + 6.6x2.4': pairs in a row."""
    items = scene.items
    places = [i for i, x in enumerate(items) if x.kind == "dims" and not x.used and len(x.sizes) == 2]
    runs: list[int] = []
    for i in places:
        if runs and all(x.text.lower() in {"+", "and", "&", ",", "plus"} for x in items[runs[-1] + 1 : i]) and i - runs[-1] <= 3:
            runs.append(i)
        elif not runs:
            runs = [i]
    if len(runs) < 2 or any(s.unit in {"mm", "cm"} or s.value >= 300 for i in runs for s in items[i].sizes):
        return None
    nxt = scene.at(runs[-1] + 1)
    if nxt is not None and any(nxt.tagged("noun", k) for k in ("window", "door", "opening", "block", "roll", "board")) and not nxt.tagged("topic", "blocks"):
        return None
    return [Part(str(n + 1), i, runs[n + 1] - 1 if n + 1 < len(runs) else i + 1) for n, i in enumerate(runs)]


def _counted(scene: Scene) -> list[Part] | None:
    """'2 walls 5.20 and 2 walls 3.60', '2 gables ... + 2 walls ...'."""
    items = scene.items
    marks = []
    for i, item in enumerate(items):
        nxt = scene.at(i + 1)
        if item.kind == "measure" and not item.used and item.size.whole and item.size.value <= 20 and nxt is not None and nxt.tagged("noun", "wall") and not nxt.tagged("noun", "block"):
            k = i + 2
            while k < len(items) and items[k].text.lower() in {"triangle", "triangles", "of", "at", "are", "each", "is"}:
                k += 1
            if _sized(scene, k):
                marks.append(i)
    if len(marks) < 2:
        return None
    return [Part(str(n + 1), i, marks[n + 1] if n + 1 < len(marks) else len(items)) for n, i in enumerate(marks)]


def _one_other(scene: Scene) -> list[Part] | None:
    """'one wall is 4 m the other is 6', 'first 6m is 1.2 high then 4m at 1.8'."""
    items = scene.items
    texts = [x.text.lower() for x in items]
    for one, two in (("one", {"the other", "other", "the other one", "another"}), ("first", {"then", "second", "next"}), ("one wall", {"the other", "other", "another"}), ("one", {"one"})):
        for i, text in enumerate(texts):
            if text != one or not any(_sized(scene, k) for k in range(i + 1, min(i + 3, len(items)))):
                continue
            for j in range(i + 2, len(items)):
                if texts[j] in two and any(_sized(scene, k) for k in range(j + 1, min(j + 4, len(items)))) and any(x.kind in {"measure", "dims"} for x in items[i:j]):
                    return [Part("1", i, j), Part("2", j, len(items))]
    return None


def read_parts(scene: Scene, fill: Callable[[Scene], None]) -> bool:
    """Read each wall on its own; True where the message names several."""
    found = split_items(scene)
    if found is None:
        return False
    parts, head, tail = found
    whole = scene.items
    walls: list[Wall] = []
    doubts: list[Doubt] = []
    heard = scene.heard
    used: set[int] = set()
    for part in parts:
        own = [*head, *whole[part.first : part.last], *tail]
        state = [(x, x.used) for x in own]
        sub = Heard(text=heard.text)
        inner = Scene(own, sub, scene.region)
        inner.topics, inner.feet = scene.topics, scene.feet
        fill(inner)
        used |= {id(x) for x in own if x.used}
        for item, before in state:
            if item in head or item in tail:
                item.used = before
        if not {"length", "area"} & set(sub.slots):
            return False
        if sub.slots.get("walls") == len(parts) and not any(x.used == "walls" for x in whole[part.first : part.last]):
            del sub.slots["walls"]
        walls.append(Wall(part.label, sub.slots, sub.evidence))
        doubts += [d for d in sub.doubts if d.slot not in {x.slot for x in doubts}]
        heard.assumed += [a for a in sub.assumed if a not in heard.assumed]
        heard.set_aside += [a for a in sub.set_aside if a not in heard.set_aside]
        heard.marks |= sub.marks
    for item in whole:
        if id(item) in used and not item.used:
            item.used = "walls"
    _share(walls, heard)
    heard.walls, heard.doubts = walls, heard.doubts + doubts
    shared = set.intersection(*(set(w.slots) for w in walls))
    heard.slots.update({k: walls[0].slots[k] for k in shared if all(w.slots[k] == walls[0].slots[k] for w in walls)})
    return True


def _share(walls: list[Wall], heard: Heard) -> None:
    """'A 6.2 / B 11.4, 2.4 high': what only the last was given besides its length holds for all, and is said."""
    for slot in ("height", "thickness", "block", "place", "leaf", "finish"):
        if slot in walls[-1].slots and not any(slot in wall.slots for wall in walls[:-1]):
            for wall in walls[:-1]:
                wall.slots[slot] = walls[-1].slots[slot]
                wall.evidence[slot] = walls[-1].evidence.get(slot, [])
            heard.assumed.append({"slot": slot, "value": walls[-1].slots[slot], "because": f"'{slot}' was said once and taken for all the walls."})


# --- one reading, several walls ------------------------------------------------------------------------------


def split_walls(scene: Scene) -> None:
    """Totals over walls, equal lengths, plan sizes, two mixes or two leaves."""
    if scene.heard.walls:
        return
    _total(scene)
    _plan(scene)
    _leaves(scene)
    _places(scene)


def _total(scene: Scene) -> None:
    """'3 walls total 24m': the length is of all together; 'in 4 equal lengths' shares it out."""
    heard = scene.heard
    slots = heard.slots
    texts = [x.text.lower() for x in scene.items]
    if "length" not in slots:
        return
    if slots.get("walls", 1) > 1 and any(t in {"total", "in total", "altogether", "combined", "all together", "overall", "all in", "in all", "between them", "total length", "totalling"} for t in texts):
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


def _plan(scene: Scene) -> None:
    """'shed 4x3, walls 2.2 high': two walls of each length."""
    heard = scene.heard
    slots = heard.slots
    texts = [x.text.lower() for x in scene.items]
    doubt = next((d for d in heard.doubts if d.slot == "height"), None)
    if doubt is None or not any(w in PLANS for t in texts for w in t.split()):
        return
    plan = next((x for x in scene.items if x.kind == "dims" and len(x.sizes) == 2 and x.used in {"length", "height"}), None)
    high = next((x for i, x in enumerate(scene.items) if x.kind == "measure" and scene.at(i + 1) is not None and scene.items[i + 1].tagged("dim", "height")), None)
    if plan is None or high is None or "walls" not in {w for t in texts for w in t.split()}:
        return
    unit = next((s.unit for s in plan.sizes if s.unit), "m")
    height = {"value": high.size.value, "unit": high.size.unit or "m"}
    heard.doubts.remove(doubt)
    shared = {k: v for k, v in slots.items() if k not in {"length", "height", "walls"}}
    spans = {"length": [(plan.start, plan.end)], "height": [(high.start, high.end)]}
    heard.walls = [
        Wall(name, {**shared, "length": {"value": s.value, "unit": s.unit or unit}, "height": height, "walls": 2}, {**heard.evidence, **spans})
        for name, s in zip(("1", "2"), plan.sizes, strict=True)
    ]  # fmt: skip
    slots.pop("length", None)
    slots["height"] = height
    scene.assume("walls", 2, f"'{plan.text}' was taken as a plan: two walls of each length, measured outside, corners not deducted.")


def _leaves(scene: Scene) -> None:
    """Brick outside, aircrete inside: a reading for each leaf, where joints or mortar are asked."""
    heard = scene.heard
    two = next((b["materials"] for b in heard.bare if isinstance(b, dict) and "materials" in b), None)
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "materials" in b)]
    if two is None or len(two) != 2 or "clay_brick" not in two or not ({"joints", "mortar"} & set(scene.topics)):
        return
    mixes = next((b for b in heard.bare if isinstance(b, list)), [])
    if mixes and len(mixes) != 2 or (not mixes and scene.topics == ["mortar"] and any(x.tagged("slot", "leaf", "cavity") for x in scene.items)):
        return
    if mixes:
        heard.bare.remove(mixes)
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "place" in b)]
    shared = {k: v for k, v in heard.slots.items() if k not in {"leaf", "block", "place", "mix"}}
    block = {k: v for k, v in heard.slots.get("block", {}).items() if k != "material"}
    inner = next(m for m in two if m != "clay_brick")
    walls = []
    for leaf, material in (("inner", inner), ("outer", "clay_brick")):
        slots = {**shared, "leaf": leaf, "block": {**(block if leaf == "inner" else {}), "material": material}}
        if mixes:
            near = min(mixes, key=lambda entry: abs(entry[0].start - two[material][1]))
            slots["mix"] = near[1]
        walls.append(Wall(leaf, slots, {**heard.evidence, "block": [two[material]]}))
    heard.walls = walls
    heard.slots.pop("leaf", None)
    heard.slots["leaf"] = "cavity"


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
        heard.walls = heard.walls or entries
    elif places is not None and ("mortar" in scene.topics or "joints" in scene.topics and "length" not in heard.slots):
        heard.walls = heard.walls or [Wall(None, {**heard.slots, "place": value}, {**heard.evidence, "place": [span]}) for value, span in places.items()]
    elif places is not None and len(places) > 1 and not heard.walls:
        heard.doubts.append(Doubt("place", "Which is it?", [(v.replace("_", " "), {"place": v}) for v in places]))
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "place" in b)]
