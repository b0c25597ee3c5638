"""The sizes of the wall itself: by dimension words, by nouns, and what is left by believable units."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.openings import place_behind
from bot.reading.scene import Scene, plain, show
from bot.reading.typed import put
from bot.reading.units import LENGTH, believable, candidates, pair
from knowledge.units import convert, kind

WALL_DIMS = {"length": "length", "height": "height", "thickness": "thickness", "width": "width", "depth": "depth"}


def take_walls(scene: Scene) -> None:
    """Length, height and thickness of the wall; positions of joints; then whatever is left over."""
    by_joint(scene)
    by_word(scene)
    pairs(scene)
    for i in scene.sizes():
        item = scene.items[i]
        if not item.used and item.kind in {"measure", "range"}:
            _alone(scene, i, item)
    both_bare(scene)
    leftovers(scene)


def by_joint(scene: Scene) -> None:
    """'joint at 5.250', 'joints at 3 and 9': positions that the asker proposes."""
    if "joints" not in scene.topics:
        return
    items = scene.items
    _joints_from(scene)
    for i, item in enumerate(items):
        if not (item.tagged("noun", "joint") or item.tagged("topic", "joints")):
            continue
        if "joint_at" in scene.heard.slots:
            return
        j = i + 1
        while j < len(items) and items[j].text.lower() in {"positions", "position", "marked", "set", "placed", "going", "put", "planned", "shown", "drawn", "is", "are", "will", "be", "one", "proposed", "were"}:
            j += 1
        listed = j < len(items) and items[j].kind == "measure" and j > i + 1 and items[j - 1].text.lower() in {"proposed", "positions", "marked", "planned", "shown", "drawn"}
        if listed:
            j -= 1
        elif j >= len(items) or not (items[j].tagged("dim", "at") or items[j].text.lower() in {"at", "@"}):
            continue
        found: list[dict[str, Any]] = []
        used: list[Item] = []
        j += 1
        while j < len(items):
            part = items[j]
            if part.kind == "measure" and not part.used and (not part.size.unit or kind(part.size.unit) == LENGTH):
                nxt = scene.at(j + 1)
                if nxt is not None and (nxt.tagged("dim", "spacing") or nxt.tagged("noun", "wall") and not found):
                    break
                options = candidates(scene, part.size, "wall")
                if len(options) != 1:
                    break
                found.append(options[0])
                used.append(part)
            elif part.kind == "mark" and part.text in {",", "&", "/", "+"} or part.text.lower() in {"and", "from", "left", "from left", "from the left", "m"} or part.tagged("dim", "from_left"):
                pass
            else:
                break
            j += 1
        if found:
            scene.claim("joint_at", found, *used)


def _joints_from(scene: Scene) -> None:
    """'a joint drawn 4.5 m from the left hand corner': positions by the end that they are measured from."""
    items = scene.items
    joint = next((i for i, x in enumerate(items) if x.tagged("noun", "joint")), None)
    if joint is None or not any(x.tagged("wants", "joints", "verdict") or x.text.lower() in {"put", "drawn", "correct", "placed", "set", "marked"} for x in items):
        return
    found: list[dict[str, Any]] = []
    used: list[Item] = []
    for i in range(joint + 1, len(items)):
        part = items[i]
        if part.kind == "measure" and not part.used and (not part.size.unit or kind(part.size.unit) == LENGTH):
            end = place_behind(scene, i) or ("from_left" if _from_corner(scene, i) else None)
            options = candidates(scene, part.size, "wall")
            if end == "from_left" and len(options) == 1:
                found.append(options[0])
                used.append(part)
    if found:
        scene.claim("joint_at", found, *used)


def _from_corner(scene: Scene, i: int) -> bool:
    near = scene.at(i + 1)
    return near is not None and (near.text.lower() in {"from corner", "from the corner", "from the end", "from a corner", "off the corner", "off corner", "from end", "from return", "from the return"})


def by_word(scene: Scene) -> None:
    """'10 long', 'length 10', 'H 3.0': a dimension word takes the size before it, else the one behind."""
    items = scene.items
    prefixed = _prefixed(scene)
    for i, item in enumerate(items):
        dim = item.tag("dim")
        if dim is None or dim[1] not in WALL_DIMS or item.kind != "phrase":
            continue
        letter = len(item.text) == 1 or item.text.lower() == "up"
        before, after = scene.at(i - 1), None
        j = i + 1
        while j < len(items) and (items[j].kind == "mark" and items[j].text in {"=", ":", "-", "~"} or items[j].text.lower() in {
            "is", "of", "about", "approx", "=", "total", "=", "wall", "around", "will", "be", "was", "now", "the", "to", "roughly", "just", "over", "under", "just over", "just under", "circa"}):
            j += 1
        after = scene.at(j)
        target = None
        if prefixed and after is not None and after.kind in {"measure", "range"} and not after.used:
            target = after
        elif before is not None and before.kind in {"measure", "range"} and not before.used and not (letter and after is not None and after.kind == "measure" and not _touching(before, item)):
            target = before
        elif before is not None and before.kind == "word" and before.text.lower() == "ish" and scene.free(i - 2):
            target = items[i - 2]
        elif before is not None and before.tagged("hedge") and scene.free(i - 2) and items[i - 2].kind == "measure":
            target = items[i - 2]
        elif after is not None and after.kind in {"measure", "range"} and not after.used and not (after is not None and _own_word(scene, j)):
            if item.text.lower() in {"high wall", "long wall", "long by"} and before is not None and before.kind == "measure":
                target = before
            else:
                target = after
        if target is None:
            if before is not None and before.kind == "dims" and not before.used and len(before.sizes) == 2:
                _turned(scene, before, dim[1])
            continue
        _set(scene, target, dim[1], i)


def _prefixed(scene: Scene) -> bool:
    """'lg 12000 ht 2700': the first dimension word stands before its size, and so do the others."""
    items = scene.items
    words = [i for i, x in enumerate(items) if x.kind == "phrase" and (x.tag("dim") or ("", ""))[1] in WALL_DIMS and not x.tagged("ask")]
    if len(words) < 2:
        return False
    first = words[0]
    if first and items[first - 1].kind == "measure" and not items[first - 1].used:
        return False
    j = first + 1
    while j < len(items) and items[j].kind == "mark" and items[j].text in {":", "=", "-"}:
        j += 1
    return j < len(items) and items[j].kind == "measure" and not items[j].used


def _touching(one: Item, other: Item) -> bool:
    return other.start - one.end <= 1


def _own_word(scene: Scene, j: int) -> bool:
    """Whether the size at j has a dimension word of its own directly behind it."""
    nxt = scene.at(j + 1)
    return nxt is not None and nxt.kind == "phrase" and bool(nxt.tag("dim")) and (nxt.tag("dim") or ("", ""))[1] in WALL_DIMS and len(nxt.text) > 1


def _turned(scene: Scene, item: Item, dim: str) -> None:
    """'2.4 x 10 long': the word belongs to the last of a pair."""
    if dim in {"length"}:
        readings = pair(scene, item.sizes, "wall")
        if len(readings) == 1:
            scene.claim("height", readings[0][0], item)
            item.used = ""
            scene.claim("length", readings[0][1], item)


def _object(scene: Scene, i: int) -> str:
    """What a dimension word speaks of: the nearest noun before it, else the wall."""
    for j in range(i, -1, -1):
        item = scene.items[j]
        if item.kind == "mark" and item.text in {".", "?", ";"}:
            break
        for name in ("padstone", "block", "coat", "joint", "mortar_joint", "wall", "crack", "cavity"):
            if item.tagged("noun", name):
                return name
    return "wall"


def _set(scene: Scene, item: Item, dim: str, word_at: int) -> None:
    """Put a size under its dimension word; width is the length of a wall, the gap of a joint, the opening of a crack."""
    nxt = scene.right(word_at)
    behind = scene.at(nxt) if nxt is not None else None
    thing = _object(scene, word_at - 1)
    if behind is not None and behind.tagged("noun", "block") and not behind.tagged("noun", "wall"):
        thing = "block"
    if item.kind == "range":
        _ranged(scene, item, "length" if dim == "width" else dim)
        return
    size = item.size
    if dim == "width" and (thing == "crack" or "crack" in scene.topics and size.unit in {"mm", ""} and size.value < 80):
        put(scene, "crack", "width", plain(size, size.unit or "mm"), item)
        return
    if thing == "padstone" and size.unit in {"mm", "in", "cm", ""} and not size.decimal and size.value >= 4:
        put(scene, "padstone", "width" if dim in {"thickness", "width"} else "height" if dim in {"height", "depth"} else "length", plain(size, size.unit or "mm"), item)
        return
    if thing == "block" and dim in {"length", "height"} and item.kind == "measure" and _block_like(item, dim):
        put(scene, "block", dim, plain(size, size.unit or "mm"), item)
        return
    if dim == "width" and thing == "block" and item.size.unit in {"mm", "cm", "in"} and item.size.to_mm() <= 400:
        dim = "thickness"
    if dim in {"width", "thickness"} and thing == "joint" and "joints" in scene.topics and (size.unit in {"mm", ""}) and size.value <= 60:
        scene.aside(item, "the joint width that was asked about")
        return
    if dim == "thickness":
        if behind is not None and behind.tagged("noun", "mortar_joint") or thing == "mortar_joint":
            scene.claim("joint_thickness", plain(size, size.unit or "mm"), item)
            return
        if set(scene.topics) & {"render"} and size.unit in {"mm", "in", "cm"} and size.to_mm() <= 60:
            scene.claim("coat_thickness", plain(size, size.unit), item)
            return
        if (thing == "coat" or (behind is not None and behind.tagged("noun", "coat"))) and ("render" in scene.topics) and size.value <= 60:
            scene.claim("coat_thickness", plain(size, size.unit or "mm"), item)
            return
        _thick(scene, item, thing)
        return
    if dim == "depth":
        if size.unit in {"mm", ""} and size.value < 60:
            scene.aside(item, "a depth that no slot of the wall takes")
            return
        dim = "height"
    slot = "length" if dim == "width" else dim
    use = "height" if slot == "height" else "wall"
    settle(scene, slot, item, use)


def _block_like(item: Item, dim: str) -> bool:
    """Whether a size can be the length or height of a block; a bare number must be one in millimetres."""
    size = item.size
    if not size.unit:
        return not size.decimal and 40 <= size.value <= 700
    return size.unit in {"mm", "cm", "in"} and 40 <= size.to_mm() <= 700


def _thick(scene: Scene, item: Item, thing: str) -> None:
    options = [c for c in candidates(scene, item.size, "unit")]
    kept = [c for c in options if believable(scene, c, "unit")] or options
    if len(kept) == 1:
        _say_unit(scene, "thickness", item, kept[0])
        scene.claim("thickness", kept[0], item)
    elif item.size.unit:
        scene.claim("thickness", plain(item.size, item.size.unit), item)
    else:
        scene.doubt("thickness", f"How thick is {item.text}?", [(show(c), {"thickness": c}) for c in kept], item)


def settle(scene: Scene, slot: str, item: Item, use: str) -> None:
    """A size for a slot: one reading is taken, several that differ are asked."""
    size = item.size
    options = candidates(scene, size, "wall")
    if len(options) > 1:
        kept = [o for o in options if believable(scene, o, use)]
        options = kept or options
    if not options and not size.unit:
        options_all = [plain(size, "m"), plain(size, "ft")] if size.value < 300 else [plain(size, "mm")]
        scene.doubt(slot, f"{item.text} what: metres or feet?", [(show(o), {slot: o}) for o in options_all], item)
        return
    if len(options) == 1:
        one = options[0]
        if not size.unit and not size.decimal and use == "height" and one["unit"] == "m" and not believable(scene, one, "height"):
            scene.doubt(slot, f"Is the {slot} {item.text} in feet or metres?", [(show(o), {slot: o}) for o in (plain(size, "ft"), plain(size, "m"))], item)
            return
        _say_unit(scene, slot, item, one)
        scene.claim(slot, one, item)
        return
    if not options:
        return
    scene.doubt(slot, f"How should I read {item.text}?", [(show(o), {slot: o}) for o in options], item)


def _say_unit(scene: Scene, slot: str, item: Item, taken: dict[str, Any]) -> None:
    size = item.size
    if not size.unit or size.lent:
        scene.assume(slot, taken["unit"], f"'{item.text}' was taken as {show(taken)}.")
    elif size.comma or len(size.values) > 1:
        scene.assume(slot, taken["unit"], f"'{item.text}' was taken as {show(taken)}.")


def _ranged(scene: Scene, item: Item, slot: str) -> None:
    """'5 to 6 m': kept as a range; which end counts is asked."""
    if scene.topics == ["mortar"] and all(not s.unit for s in item.sizes):
        scene.doubt("mix", f"Is {item.text} a mix? Which part is cement, which sand?", [], item)
        return
    changed = {"changed", "change", "went", "gone", "moved", "altered", "increased", "reduced", "grew", "up", "raised", "lowered", "extended", "from"}
    told = {x.text.lower() for x in scene.items}
    if told & (changed - {"from", "up"}) and all(len(candidates(scene, s, "wall")) == 1 for s in item.sizes):
        scene.aside(Item("measure", item.text, item.start, item.end), "the old value; the new one counts")
        scene.claim(slot, candidates(scene, item.sizes[1], "wall")[0], item)
        return
    if slot == "height" and "joints" in scene.topics:
        scene.aside(item, "two heights; neither was used for the joints")
        return
    ends = [candidates(scene, s, "wall") for s in item.sizes]
    if all(len(e) == 1 for e in ends):
        choices = [(show(e[0]), {slot: e[0]}) for e in ends]
        scene.doubt(slot, f"You gave a range for the {slot}. Which shall I work with?", choices, item)
        low, high = ends[0][0], ends[1][0]
        if low["unit"] == high["unit"] and low["value"] < high["value"]:
            scene.heard.doubts[-1].spread = {"min": low["value"], "max": high["value"], "unit": low["unit"]}
    else:
        scene.doubt(slot, f"How should I read {item.text}?", [], item)


def pairs(scene: Scene) -> None:
    """'10 x 2.4': length first, then height; a third is the thickness."""
    for i in scene.sizes():
        item = scene.items[i]
        if item.kind != "dims" or item.used:
            continue
        if len(item.sizes) > 3:
            continue
        if any(s.unit and kind(s.unit) != LENGTH for s in item.sizes):
            continue
        first = item.sizes[0]
        if len(item.sizes) == 2 and first.whole and item.sizes[1].unit in {"m", "ft", "mm"} and not first.unit and _walls_behind(scene, i):
            scene.claim("walls", int(first.value), item)
            item.used = ""
            item.kind, item.sizes = "measure", item.sizes[1:]
            settle(scene, "length", item, "wall")
            continue
        third = item.sizes[2] if len(item.sizes) == 3 else None
        sizes = item.sizes[:2]
        bare = all(not s.unit for s in sizes)
        readings = pair(scene, sizes, "wall")
        readings = [r for r in readings if len(r) == 2]
        if len(readings) > 1:
            kept = [r for r in readings if believable(scene, r[1], "height")]
            readings = kept or readings
        whole = all(not s.decimal for s in sizes)
        if bare and whole and readings and readings[0][0]["unit"] == "m" and not scene.feet and not believable(scene, readings[0][1], "height"):
            readings = []
        if not readings and bare:
            a, b = sizes
            if a.value < 300 and b.value < 300:
                _ask_pair(scene, item, [tuple(plain(s, u) for s in sizes) for u in ("m", "ft")])
                continue
        if len(readings) != 1:
            if readings:
                _ask_pair(scene, item, readings)
            continue
        length, height = readings[0]
        if "length" in scene.heard.slots and "height" in scene.heard.slots:
            continue
        if convert(height["value"], height["unit"], "m") > convert(length["value"], length["unit"], "m") and believable(scene, length, "height") and convert(height["value"], height["unit"], "m") > 6:
            length, height = height, length
            scene.assume("height", height, f"In '{item.text}' the smaller number was taken as the height.")
        if any(not s.unit or s.lent for s in sizes) or any(s.comma for s in sizes):
            scene.assume("length", f"{show(length)} × {show(height)}", f"'{item.text}' was taken as {show(length)} long and {show(height)} high.")
        scene.claim("length", length, item)
        item.used = ""
        scene.claim("height", height, item)
        if third is not None:
            options = [c for c in candidates(scene, third, "unit") if believable(scene, c, "unit")]
            if len(options) == 1:
                scene.claim("thickness", options[0], item)
            else:
                scene.doubt("thickness", f"How should I read the last number of {item.text}?", [(show(o), {"thickness": o}) for o in options], item)


def _walls_behind(scene: Scene, i: int) -> bool:
    j = scene.right(i, over=("aircrete", "block", "long", "lengths"))
    near = scene.at(j) if j is not None else None
    return near is not None and near.tagged("noun", "wall") and near.text.lower().endswith("s")


def _ask_pair(scene: Scene, item: Item, readings: list[tuple[dict[str, Any], ...]]) -> None:
    choices = [(f"{show(a)} × {show(b)}", {"length": a, "height": b}) for a, b in readings]
    for slot in ("length", "height"):
        scene.doubt(slot, f"Is {item.text} in metres or feet?", choices, item)


def _alone(scene: Scene, i: int, item: Item) -> None:
    """A size with no word of its own: the wall's length, then its height, where it can be that."""
    if item.kind == "range":
        if "length" not in scene.heard.slots and all(not s.unit or kind(s.unit) == LENGTH for s in item.sizes):
            _ranged(scene, item, "length")
        return
    size = item.size
    if size.unit and kind(size.unit) != LENGTH:
        return
    if not size.unit and item.tagged("count"):
        return
    beside = [x for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None]
    if any(x.kind == "mark" and x.text == ":" for x in beside) and not size.unit and scene.at(i - 1) is not None and scene.items[i - 1].text == ":" and scene.at(i - 2) is not None and scene.items[i - 2].text.lower() in {"x", "?", "y"}:
        return
    slots = scene.heard.slots
    asked = {d.slot for d in scene.heard.doubts}
    nouns = scene.right(i)
    near = scene.at(nouns) if nouns is not None else None
    if not size.unit and near is not None and (near.tagged("noun") and not near.tagged("noun", "wall") and not near.tagged("topic") and not near.tagged("slot")):
        return
    if near is not None and any(near.tagged("noun", n) for n in ("sand", "cement", "lime")) and not size.unit:
        return
    if size.unit in {"mm", "in", "cm"} and "render" in scene.topics and 0 < size.to_mm() <= 60 and "coat_thickness" not in slots:
        scene.claim("coat_thickness", plain(size, size.unit), item)
        return
    if "blocks" in scene.topics and "height" not in slots and "length" not in slots and "courses" not in slots and any(x.tagged("wants", "blocks", "course_count") for x in scene.items):
        settle(scene, "height", item, "height")
        return
    tiny = bool(size.unit) and 0 < size.to_mm() <= (400 if size.unit in {"mm", "cm", "in"} else 299)
    if scene.topics == ["mortar"] and not size.unit and not size.decimal and not (near is not None and near.tagged("noun", "wall")) and "length" not in slots and not _amounts(scene):
        return
    if tiny and size.unit in {"mm", "in", "cm"} and size.to_mm() >= 40:
        if "thickness" not in slots and "thickness" not in (slots.get("block") or {}):
            put(scene, "block", "thickness", plain(size, size.unit), item)
        return
    if tiny and not size.negative and size.unit in {"mm", "in"}:
        return
    if not size.unit and not size.decimal and size.value in {100, 140, 190, 200, 215} and ("length" in slots):
        put(scene, "block", "thickness", plain(size, "mm"), item)
        scene.assume("block", "mm", f"'{item.text}' was taken as a thickness of {size.value:g} mm.")
        return
    if "length" not in slots and "length" not in asked and not (size.whole and size.value == 1 and not size.unit):
        settle(scene, "length", item, "wall")
        return
    if "height" not in slots and "height" not in asked and (size.unit or size.decimal):
        options = [o for o in candidates(scene, size, "wall") if believable(scene, o, "height")]
        if len(options) == 1 and "length" in slots and convert(options[0]["value"], options[0]["unit"], "m") < convert(slots["length"]["value"], slots["length"]["unit"], "m"):
            scene.claim("height", options[0], item)
            scene.assume("height", options[0], f"'{item.text}' was taken as the height.")
            return
    if "length" in slots and size.unit and not tiny:
        settle(scene, "length", item, "wall")


def _amounts(scene: Scene) -> bool:
    return any(x.tagged("ask", "quantity") for x in scene.items)


def both_bare(scene: Scene) -> None:
    """'28 long and 9 high': where the height only makes sense in feet, the length is in doubt with it."""
    heard = scene.heard
    doubt = next((d for d in heard.doubts if d.slot == "height" and any(c[1].get("height", {}).get("unit") == "ft" for c in d.choices)), None)
    length = heard.slots.get("length")
    twin = next((d for d in heard.doubts if d.slot == "length" and {c[1]["length"]["unit"] for c in d.choices if "length" in c[1]} == {"m", "ft"}), None)
    if doubt is not None and twin is not None and not any("length" in c[1] for c in doubt.choices):
        pairs_ = [({"length": a[1]["length"], "height": b[1]["height"]}) for a in twin.choices for b in doubt.choices if a[1]["length"]["unit"] == b[1]["height"]["unit"]]
        pairs_.sort(key=lambda p: p["length"]["unit"])
        doubt.choices = [(f"{show(p['length'])} × {show(p['height'])}", p) for p in pairs_]
        twin.choices, twin.ask = doubt.choices, doubt.ask
        return
    if doubt is None or length is None or length["unit"] != "m":
        return
    source = next((x for x in scene.items if x.used == "length" and x.kind == "measure" and not x.size.unit and not x.size.decimal), None)
    if source is None:
        return
    del heard.slots["length"]
    heard.evidence.pop("length", None)
    heard.assumed = [a for a in heard.assumed if a["slot"] != "length"]
    doubt.choices = [(f"{show(plain(source.size, u))} × {show(h)}", {"length": plain(source.size, u), "height": h})
                     for u in ("ft", "m") for h in [c[1]["height"] for c in doubt.choices if c[1]["height"]["unit"] == u]]  # fmt: skip
    doubt.ask = f"Are {source.text} and the height in feet or metres?"
    scene.doubt("length", doubt.ask, doubt.choices)


def leftovers(scene: Scene) -> None:
    """No digit is dropped: what found no slot stops the answer."""
    for i, item in enumerate(scene.items):
        if item.kind == "bad" and not item.used:
            scene.doubt("number", f"I cannot read '{item.text}'. Please write the number and its unit apart.", [], item)
        if item.kind in {"measure", "dims", "range", "ratio"} and not item.used:
            if item.kind == "measure" and item.size.spelt and not item.size.unit and item.size.values[0] in {0.0, 0.5, 1.0}:
                continue
            if item.kind == "measure" and not item.size.unit and item.size.value == 1 and not item.size.decimal:
                item.used = "one"
                continue
            scene.heard.bare.append(item)
            scene.doubt("number", f"What is {item.text} in this?", [], item)
