"""Slots that words fill: material, place, leaf, finish, ends, crack pattern, weather and the like."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.typed import put

ONE_WORD = ("place", "leaf", "finish", "shape", "trend", "work")
FLAGS = ("bed_reinforcement", "plasticiser", "severe", "rain", "wind")


def take_kinds(scene: Scene) -> None:
    """All of them."""
    _materials(scene)
    for slot in ONE_WORD:
        _one(scene, slot)
    for slot in FLAGS:
        _flag(scene, slot)
    _faces(scene)
    _ends(scene)
    _crack(scene)
    for i, item in enumerate(scene.items):
        if item.tagged("topic", "render") and scene.negated(i):
            scene.heard.negated.append(("finish", "plaster" if "plaster" in item.text.lower() else "render"))


def _values(scene: Scene, slot: str) -> list[tuple[int, Item, str]]:
    found = []
    for i, item in enumerate(scene.items):
        tag = item.tag("slot", slot)
        if tag is not None:
            found.append((i, item, tag[2]))
    return found


def _materials(scene: Scene) -> None:
    """Lightweight, dense, brick: two of them are a cavity wall or two questions."""
    found: dict[str, Item] = {}
    for i, item, value in _values(scene, "material"):
        if scene.negated(i):
            scene.heard.negated.append(("material", value))
            continue
        text = item.text.lower()
        if text in {"facings", "facing"} and "render" in scene.topics:
            continue
        if text in {"brick", "bricks", "clay"} and any(v == "aac" for v in found) and not _outer(scene):
            continue
        if value == "stone" and text == "granite":
            continue
        found.setdefault(value, item)
    if "calcium_silicate" in found and "clay_brick" in found and found["clay_brick"].text.lower() in {"brick", "bricks", "facing bricks", "facing brick", "brickwork"}:
        del found["clay_brick"]
    if not found:
        return
    if len(found) == 1:
        value, item = next(iter(found.items()))
        if value == "clay_brick" and item.text.lower() in {"brick outer", "brick skin"} and _values(scene, "leaf"):
            pass
        put(scene, "block", "material", value, item)
        return
    scene.heard.marks.add("materials")
    scene.heard.bare.append({"materials": {v: (x.start, x.end) for v, x in found.items()}})
    leafy = bool(_values(scene, "leaf")) or _outer(scene)
    first = "aac" if "aac" in found else next((v for v in found if v != "clay_brick"), next(iter(found)))
    if leafy or "clay_brick" in found:
        put(scene, "block", "material", first, found[first])
        if leafy and "clay_brick" in found:
            scene.heard.marks.add("brick outer")
            scene.claim("leaf", "cavity", found["clay_brick"], soft=True)
        return
    told = any(x.text.lower() in {"and", "or", "vs", "versus", "than", "over", "on", ",", "&", "then"} for x in scene.items)
    if set(found) == {"aac", "aggregate"} and not told:
        both = list(found)
        scene.doubt("block", "Lightweight (aircrete) or dense block?", [(m.replace("aac", "aircrete").replace("aggregate", "dense"), {"block": {**scene.heard.slots.get("block", {}), "material": m}}) for m in both])
        return
    put(scene, "block", "material", first, found[first])


def _outer(scene: Scene) -> bool:
    return any(x.tagged("slot", "leaf", "outer") or x.tagged("slot", "leaf", "cavity") for x in scene.items)


def _one(scene: Scene, slot: str) -> None:
    values: dict[str, Item] = {}
    for i, item, value in _values(scene, slot):
        if scene.negated(i):
            scene.heard.negated.append((slot, value))
            continue
        if slot == "finish" and item.tagged("topic", "render") and item.tagged("topic", "render", "strong") and value == "render" and "render" in scene.topics:
            continue
        if slot == "finish" and "boards" in scene.topics and value in {"boards", "plaster"}:
            continue
        if slot == "place" and item.text.lower() in {"inside", "inside walls"} and _leafy(scene, i):
            continue
        if slot == "place" and item.text.lower() == "inside" and _inside_of(scene, i):
            continue
        if slot == "work" and "weather" not in scene.topics:
            continue
        if slot == "trend" and "weather" not in scene.topics:
            continue
        if slot == "leaf" and item.text.lower() == "cavity" and "cavity" in scene.heard.slots and any(
            spans and spans[0][1] >= item.start - 2 for spans in [scene.heard.evidence.get("cavity", [])]
        ):
            continue
        if slot == "leaf" and item.text.lower() == "solid" and not _solid_wall(scene, i):
            continue
        if slot == "shape" and item.text.lower() in {"gable", "gables", "gable end", "gable wall", "gable end wall", "apex"} and not _triangle(scene, item):
            continue
        values.setdefault(value, item)
    if slot == "leaf" and {"inner", "outer"} <= set(values):
        values = {"cavity": values["outer"]}
    if slot == "leaf" and len(values) > 1 and "cavity" in values:
        other = next(v for v in values if v != "cavity")
        values = {other: values[other]} if other in {"inner", "outer"} and "brick outer" not in scene.heard.marks and other == "inner" or other == "outer" else {"cavity": values["cavity"]}
    if slot == "place" and len(values) > 1:
        for special in ("parapet", "below_dpc", "freestanding"):
            if special in values and not (set(values) - {special, "external"}):
                values = {special: values[special]}
                break
    if slot == "finish" and len(values) > 1:
        if {"render", "plaster"} == set(values) or "boards" in values:
            keep = "render" if "render" in values else next(iter(values))
            values = {keep: values[keep]}
    if slot == "work" and len(values) > 1:
        values = {"render": values["render"]}
    if slot == "work" and not values and "weather" in scene.topics:
        coat = next((x for i, x in enumerate(scene.items) if x.tagged("topic", "render") and not scene.negated(i)), None)
        if coat is not None:
            values = {"render": coat}
    if len(values) == 1:
        value, item = next(iter(values.items()))
        scene.claim(slot, value, item)
    elif len(values) > 1:
        scene.heard.marks.add(f"{slot}s")
        scene.heard.bare.append({slot: {v: (x.start, x.end) for v, x in values.items()}})


def _inside_of(scene: Scene, i: int) -> bool:
    """'inside the gap' is no place of a wall."""
    j = scene.right(i)
    near = scene.at(j) if j is not None else None
    return near is not None and (near.tagged("noun", "joint") or near.tagged("noun", "cavity") or near.text.lower() in {"gap", "gaps", "joint", "mix"})


def _leafy(scene: Scene, i: int) -> bool:
    near = scene.at(i + 1)
    return near is not None and near.tagged("slot", "leaf")


def _solid_wall(scene: Scene, i: int) -> bool:
    """'a solid 8m of wall' and 'solid blocks' are no single leaf."""
    j = i + 1
    while (item := scene.at(j)) is not None and j < i + 5:
        if item.kind == "measure" and (item.size.unit == "mm" or not item.size.unit and item.size.value >= 75):
            j += 1
            continue
        if item.tagged("slot", "material") and not item.text.lower().endswith(("blocks", "block", "bricks")):
            j += 1
            continue
        if item.tagged("noun", "wall") or item.tagged("slot", "place"):
            return True
        if item.kind != "phrase" or item.text.lower() in {"block", "blocks"}:
            return False
        j += 1
    return False


def _triangle(scene: Scene, item: Item) -> bool:
    """A gable is a triangle where amounts are asked and nothing says it has an eaves height."""
    if item.tagged("slot", "place") and item.text.lower() == "gable end":
        return False
    if any(x.text.lower() in {"triangle", "triangular", "triangle gable", "gable triangle", "apex", "to apex", "to the apex", "pitch", "peak", "point"} for x in scene.items):
        return True
    return False


def _flag(scene: Scene, slot: str) -> None:
    for i, item, value in _values(scene, slot):
        if slot in {"rain", "wind"} and "weather" not in scene.topics:
            continue
        if slot == "bed_reinforcement" and "reinforcement" in scene.topics and "joints" not in scene.topics:
            continue
        if slot == "plasticiser" and not _said_used(scene, i):
            continue
        yes = (value == "true") != scene.negated(i)
        scene.claim(slot, yes, item, soft=True)


def _said_used(scene: Scene, i: int) -> bool:
    """'6:1 with plasticiser' says it; 'do I need plasticiser' asks it."""
    if scene.negated(i):
        return True
    if "mix" in scene.heard.slots and not any(
        x.text.lower() in {"need", "or", "instead of", "necessary", "required", "should", "do i need", "without", "better", "instead", "rather than", "can you use", "can i add"} for x in scene.items
    ):  # fmt: skip
        return True
    item, before, two = scene.items[i], scene.at(i - 1), scene.at(i - 2)
    if item.text.lower() in {"with plasticiser", "plus plasticiser", "and plasticiser", "air entrained"}:
        return True
    words = {x.text.lower() for x in (before, two) if x is not None}
    return bool(words & {"with", "plus", "and", "+", "&", "using", "added", "w/", "some", "inc"}) and "mix" in scene.heard.slots


def _faces(scene: Scene) -> None:
    near_ends = any(x.tagged("slot", "ends") for x in scene.items)
    for _, item, value in _values(scene, "faces"):
        if near_ends and {"joints", "wall"} & set(scene.topics) and not any("render" in x.text.lower() or "plaster" in x.text.lower() for x in scene.items):
            continue
        scene.claim("faces", 2 if value == "two" else 1, item, soft=True)


# --- ends ----------------------------------------------------------------------------------------------------


def _ends(scene: Scene) -> None:
    """Return, free or column at each end; null where only one end was said."""
    if scene.topics and not ({"joints", "wall", "ties", "reinforcement"} & set(scene.topics)):
        return
    items = scene.items
    ends: list[str | None] = [None, None]
    sources: list[Item] = []
    taken_sides: set[int] = set()
    mentions = [(i, x, x.tag("slot", "ends")) for i, x in enumerate(items) if x.tagged("slot", "ends") and not x.tagged("dim") and not x.tagged("wants")]
    mentions = [(i, x, tag) for i, x, tag in mentions if not _other_sense(scene, i, x)]
    before = _sides_first(scene, mentions)
    for n, (i, item, tag) in enumerate(mentions):
        value = tag[2] if tag else "return"
        if scene.negated(i) and value == "return":
            value = "free"
        elif scene.negated(i) and value == "free":
            continue
        low = mentions[n - 1][0] if n else -1
        high = mentions[n + 1][0] if n + 1 < len(mentions) else len(items)
        side, at = _side(scene, i, low, i + 1 if before else high, taken_sides)
        text = item.text.lower()
        if at is not None:
            taken_sides.add(at)
        if side is None and text.startswith(("infill", "between")):
            side = "both"
        if side is None and (text.endswith(("corners", "returns", "columns", "piers", "posts", "ends")) or "two ends" in scene.heard.marks) and len(mentions) == 1:
            side = "both"
        if side is None and len(mentions) == 2 and n == 1 and None in ends and any(ends):
            side = "other"
        if side is None and len(mentions) == 1 and _corner_to_corner(scene, i):
            side = "both"
        if side == "both":
            ends = [value if e is None else e for e in ends]
        elif side in {"left", "right"}:
            ends[0 if side == "left" else 1] = value
        elif side == "other":
            ends[1 if ends[0] is not None else 0] = value
        elif side == "one" or (side is None and len(mentions) <= 2):
            if side is None and text in {"corner", "open", "nothing", "post", "pier", "bonded", "built in"} and len(mentions) == 1:
                continue
            ends[0 if ends[0] is None else 1] = value
        else:
            continue
        sources.append(item)
    if None in ends and any(ends):
        _other_end(scene, ends)
    if _untold_side(scene, ends, taken_sides):
        return
    if any(ends):
        scene.claim("ends", ends, *sources)


def _untold_side(scene: Scene, ends: list[str | None], taken: set[int]) -> bool:
    """A side that was spoken of and not understood is asked, never taken as a return."""
    if "joints" not in scene.topics:
        return False
    for j, item in enumerate(scene.items):
        side = item.tag("side")
        text = item.text.lower()
        if side is None or j in taken or text in {"one", "other", "both", "this end", "that end", "ends", "left", "right"} or item.tagged("slot", "faces") or "side" in text:
            continue
        if side[1] == "both" and all(ends) or side[1] == "left" and ends[0] or side[1] == "right" and ends[1] or side[1] in {"one", "other"} and all(ends):
            continue
        if any(x.tagged("slot", "ends") for x in scene.items[max(0, j - 3) : j + 4]) and not (side[1] in {"left", "right"}):
            continue
        before, after = scene.at(j - 1), scene.at(j + 1)
        if before is not None and before.kind == "measure" or (before is not None and before.text.lower() in {"from", "off"}) or text.startswith("from"):
            continue
        if after is not None and after.kind in {"measure", "dims"}:
            continue
        where = {"both": "both ends", "left": "the left end", "right": "the right end"}.get(side[1], "that end")
        choices = []
        for label, value in (("A return, bonded in", "return"), ("Free", "free")):
            both = [value, value] if side[1] == "both" else [value if side[1] != "right" and ends[0] is None else ends[0], value if side[1] == "right" or ends[0] is not None and ends[1] is None else ends[1]]
            choices.append((label, {"ends": both}))
        scene.doubt("ends", f"What is at {where}: a return, or is it free?", choices)
        return True
    return False


def _other_end(scene: Scene, ends: list[str | None]) -> None:
    """'a corner on one end only', 'no return on the left but there is one on the right'."""
    texts = [x.text.lower() for x in scene.items]
    known = next(e for e in ends if e)
    if "only" in texts and "one end" in texts and known == "return":
        ends[ends.index(None)] = "free"
    elif known == "free" and any(scene.items[k].text.lower() == "one" and scene.items[k + 1].text.lower() in {"on", "on the right", "on the left", "on right", "on left", "at"} for k in range(len(texts) - 1)):
        ends[ends.index(None)] = "return"


def _sides_first(scene: Scene, mentions: list[Any]) -> bool:
    """'LH return RH free': sides named before their ends, in turn."""
    order = ""
    ends = {i for i, _, _ in mentions}
    for i, item in enumerate(scene.items):
        if i in ends:
            order += "E"
        elif item.tagged("side", "left") or item.tagged("side", "right"):
            order += "S"
    return order.startswith("SESE")


def _other_sense(scene: Scene, i: int, item: Item) -> bool:
    """'open to traffic', 'corner patches', 'column of figures': words that are no end here."""
    text = item.text.lower()
    after = scene.at(i + 1)
    before = scene.at(i - 1)
    if text in {"corner", "corners"} and ({"mesh", "render"} & set(scene.topics)) and "joints" not in scene.topics:
        return True
    if text in {"nothing", "open", "free", "straight end", "post", "posts", "loose"} and not _any_side(scene, i):
        return text in {"nothing", "open", "post", "posts", "loose", "straight end"} or (after is not None and after.text.lower() in {"advice", "of", "help"})
    if text in {"corner", "return", "quoin", "column", "pier", "corners", "returns", "quoins"} and before is not None and before.text.lower() in {"a", "the", "any", "each", "every"} and scene.at(i - 2) is not None and (scene.items[i - 2].text.lower() in {
        "from", "to", "off", "near", "at", "round", "around", "past", "of", "by", "close to", "next to", "how close to", "in from", "how near"} or scene.items[i - 2].text.lower().endswith((" from", " to"))):
        return not _any_side(scene, i) and scene.items[i - 2].text.lower() not in {"at"}
    return False


def _any_side(scene: Scene, i: int) -> bool:
    return any(scene.items[j].tagged("side") for j in range(max(0, i - 4), min(len(scene.items), i + 5)))


def _corner_to_corner(scene: Scene, i: int) -> bool:
    to, again = scene.at(i + 1), scene.at(i + 2)
    return to is not None and to.text.lower() == "to" and again is not None and again.tagged("slot", "ends")


def _side(scene: Scene, i: int, low: int, high: int, taken: set[int]) -> tuple[str | None, int | None]:
    """The side word nearest to an end word, not across another end word or a comma on the near side."""
    items = scene.items
    found: list[tuple[int, int, str]] = []
    for way, stop in ((1, high), (-1, low)):
        j, steps = i + way, 0
        while j != stop and 0 <= j < len(items) and steps < 5:
            item = items[j]
            if item.kind == "mark" and item.text in {".", ";", "?", "\n"}:
                break
            cost = steps + (3 if any(x.kind == "mark" and x.text == "," or x.tagged("connect", "and") for x in items[min(i, j) : max(i, j)]) else 0)
            tag = item.tag("side")
            if tag is not None and j not in taken and not (item.tagged("slot", "faces") and "render" in " ".join(x.text.lower() for x in items[max(0, j - 2) : j])):
                if tag[1] == "one" and item.text.lower() == "one":
                    nxt = scene.at(j + 1)
                    if not (nxt is not None and (nxt.tagged("slot", "ends") or nxt.text.lower() in {"end", "side"})) and scene.items[j - 1].text.lower() not in {"at", "on", "the"}:
                        j += way
                        steps += 1
                        continue
                found.append((cost, 0 if way == 1 else 1, f"{tag[1]}|{j}"))
                break
            if item.kind in {"measure", "dims"} and way == -1:
                break
            j += way
            steps += 1
    if not found:
        return None, None
    side, _, at = min(found)[2].partition("|")
    return side, int(at)


# --- cracks --------------------------------------------------------------------------------------------------

PATTERNS = {
    "stepped": "stepped", "step": "stepped", "steps": "stepped", "stepping": "stepped", "staircase": "stepped", "stair": "stepped", "zigzag": "stepped", "zig-zag": "stepped", "zig": "stepped",
    "vertical": "vertical", "vertically": "vertical", "straight": "vertical", "upright": "vertical",
    "horizontal": "horizontal", "horizontally": "horizontal", "sideways": "horizontal",
    "diagonal": "diagonal", "diagonally": "diagonal", "angle": "diagonal", "slanting": "diagonal", "slanted": "diagonal", "45": "diagonal",
    "map": "map", "crazy": "map", "crazed": "map", "crazing": "map", "spider": "map", "spiderweb": "map", "cobweb": "map",
}  # fmt: skip
GROWING = {"growing", "wider", "widening", "bigger", "spreading", "worse", "grown", "opening", "lengthening", "longer", "worsening"}
STEADY = {"stable", "unchanged", "steady", "static"}
LEANING = {"leaning", "bulging", "bulge", "leans", "bowing", "bowed", "bulged", "lean", "plumb", "tilting", "tilted", "bellied", "leaning out", "bulges", "leaned", "bow"}


def _crack(scene: Scene) -> None:
    if "crack" not in scene.topics:
        return
    for i, item in enumerate(scene.items):
        for word in item.text.lower().split():
            if word in PATTERNS and item.kind in {"word", "phrase"}:
                if "pattern" not in scene.heard.slots.get("crack", {}):
                    put(scene, "crack", "pattern", PATTERNS[word], item)
            elif word in GROWING:
                denied = scene.negated(i) or any(x.text.lower() in {"isnt", "isn't", "not", "stopped", "hasnt", "hasn't", "no"} for x in scene.items[max(0, i - 3) : i])
                if not (word == "opening" and item.tagged("noun", "opening") and item.text.lower() == "opening") and "growing" not in scene.heard.slots.get("crack", {}):
                    put(scene, "crack", "growing", not denied, item)
            elif word in STEADY and "growing" not in scene.heard.slots.get("crack", {}):
                put(scene, "crack", "growing", False, item)
            elif word in LEANING and not scene.negated(i):
                if "leaning" not in scene.heard.slots.get("crack", {}):
                    put(scene, "crack", "leaning", True, item)
    where = _where(scene)
    if where and "crack" in scene.heard.slots:
        scene.heard.slots["crack"] = {**scene.heard.slots["crack"], "where": where}
    hair = next((x for x in scene.items if x.text.lower().startswith("hairline")), None)
    if hair is not None and "width" not in scene.heard.slots.get("crack", {}):
        scene.heard.marks.add("hairline")
        scene.heard.slots.setdefault("crack", {})
        scene.heard.slots["crack"] = {"where": "hairline" if not where else f"hairline, {where}", **{k: v for k, v in scene.heard.slots["crack"].items() if k != "where"}}


PLACES = ("above door", "above the door", "over door", "over the door", "above window", "above the window", "over window", "over the window", "below window", "under window", "under the window",
          "below the window", "at the corner", "in the corner", "at the top", "in the render", "in render", "in the plaster", "in plaster", "near the corner", "at the joint", "in the joints", "through the blocks",
          "through the bricks", "at the lintel", "above lintel", "at the bearing", "under the padstone", "below dpc", "at the ceiling", "in the middle", "gable", "parapet", "chimney", "at the door", "by the window")  # fmt: skip


def _where(scene: Scene) -> str | None:
    text = " ".join(x.text.lower() for x in scene.items)
    return next((place for place in PLACES if place in text), None)
