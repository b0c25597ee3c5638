"""Windows, doors and other openings: how many, how big, where."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.units import believable, candidates, pair
from knowledge.units import kind as kind_unit

KINDS = ("window", "door", "opening")
BREAKS = ("with", "and", "minus", "less", "plus", "in", "on", "for", "no", "has", "having", "including", "incl")


def kind_of(item: Item | None) -> str | None:
    """window, door or opening, where the item names one."""
    if item is None or item.used:
        return None
    return next((k for k in KINDS if item.tagged("noun", k)), None)


def take_openings(scene: Scene) -> None:
    """Fill `openings`; [] where the asker says there are none."""
    found: list[dict[str, Any]] = []
    sources: list[Item] = []
    denied = False
    if scene.topics and set(scene.topics) <= {"crack", "safety", "weather", "bearing"}:
        return
    noun_at = [i for i, item in enumerate(scene.items) if kind_of(item)]
    for n, i in enumerate(noun_at):
        item = scene.items[i]
        kind = kind_of(item) or "opening"
        if scene.negated(i):
            denied = True
            scene.heard.negated.append(("openings", kind))
            continue
        if n and noun_at[n - 1] == i - 1 and found:
            continue
        nxt = noun_at[n + 1] if n + 1 < len(noun_at) else None
        if nxt is not None and kind == "opening" and all(x.text.lower() in {"for", "a", "the", "of", "front", "back"} for x in scene.items[i + 1 : nxt]):
            continue
        opening: dict[str, Any] = {"kind": kind, "count": 1}
        spans = [item]
        double = n + 1 < len(noun_at) and noun_at[n + 1] == i + 1  # 'bifold opening', 'door opening'
        after = n + 2 if double else n + 1
        stop = noun_at[after] if after < len(noun_at) else len(scene.items)
        floor = noun_at[n - 1] + 1 if n else 0
        said_size = _left(scene, i, floor, opening, spans)
        _right(scene, i + double, stop, opening, spans, said_size)
        plural = item.text.lower().endswith(("s", "ws")) and not item.tagged("label")
        if item.text.lower() in {"patio doors", "french doors", "bifolds", "bi-folds", "bi folds", "bifold doors", "double doors", "sliding doors", "doors"} and kind == "door" and item.text.lower() != "doors":
            plural = False
        mention = set(opening) == {"kind", "count"} and len(spans) == 1
        if mention and not _new_thing(scene, i) and (plural or any(o["kind"] == kind for o in found)):
            continue
        if mention and plural and opening["count"] == 1 and _general(scene, i):
            continue
        if not said_size and mention and _general(scene, i):
            continue
        found.append(opening)
        sources += spans
        more = _further_places(scene, opening, stop, sources) if plural or opening["count"] > 1 else []
        if more:
            opening["count"] = 1
            found += more
    bare = [o for o in found if set(o) == {"kind", "count"} and o["count"] == 1]
    for opening in bare:
        n = found.index(opening)
        place = [i for i in noun_at if scene.items[i] in sources][min(n, len(noun_at) - 1)]
        if any(o is not opening and o["kind"] == opening["kind"] and "width" in o for o in found) and not _new_thing(scene, place):
            found.remove(opening)
    if found:
        scene.claim("openings", found, *sources)
    elif denied:
        scene.claim("openings", [], *[scene.items[i] for i in noun_at])


def _further_places(scene: Scene, opening: dict[str, Any], stop: int, sources: list[Item]) -> list[dict[str, Any]]:
    """'windows 1.8 wide at 2.2 and 9.4': one opening at each place."""
    if "from_left" not in opening:
        return []
    last = max((k for k in range(stop) if scene.items[k] in sources and scene.items[k].kind == "measure"), default=None)
    more: list[dict[str, Any]] = []
    k = (last or 0) + 1
    while last is not None and k + 1 < len(scene.items):
        if scene.items[k].text.lower() not in {"and", "&", ",", "+", "then"} or not scene.free(k + 1) or scene.items[k + 1].kind != "measure":
            break
        options = candidates(scene, scene.items[k + 1].size, "wall")
        if len(options) != 1 or _owner_right(scene, k + 1):
            break
        scene.items[k + 1].used = "openings"
        sources.append(scene.items[k + 1])
        more.append({**opening, "from_left": options[0], "count": 1})
        k += 2
    return more


def _new_thing(scene: Scene, i: int) -> bool:
    before = scene.at(i - 1)
    return before is not None and before.text.lower() in {"a", "an", "one", "another", "and", "with", "the", "plus", ",", "1"}


def _general(scene: Scene, i: int) -> bool:
    """'over windows', 'near a door': openings spoken of, not counted."""
    before = scene.at(i - 1)
    over = before is not None and before.text.lower() in {"a", "the", "an", "any", "each", "every", "my", "your"}
    two = scene.at(i - 2) if over else before
    word = two.text.lower() if two is not None else ""
    return word in {"over", "under", "near", "beside", "above", "below", "round", "around", "at", "by", "past", "from", "of", "to", "next to", "across",
                    "close to", "how far past", "past the", "for", "between", "off", "up to", "jamb", "edge of", "side of", "sides of", "corners of", "how close to",
                    "next", "past the window", "every", "each", "beyond", "either side of", "along", "how near"} or (
        two is not None and (two.tagged("hedge", "over") or two.tagged("hedge", "under") or two.tagged("dim", "at") or two.tagged("hedge", "about")))  # fmt: skip


def _adjective(scene: Scene, item: Item) -> bool:
    """What may stand between a size and its noun: '1200 wide window', '900 fire door', 'big timber door'."""
    if item.kind == "mark":
        return item.text in {"-", "'"}
    if item.kind == "word":
        return item.text.lower() not in BREAKS
    return (item.kind == "phrase" and not item.tagged("connect", "and") and not item.tagged("topic") and not item.tagged("not")
            and not item.tagged("noun", "wall") and item.text.lower() not in BREAKS and not item.tagged("dim", "at")
            and not item.tagged("correct") and not item.tagged("slot") and not item.tagged("ask")) or item.tagged("dim", "square")  # fmt: skip


def _left(scene: Scene, i: int, floor: int, opening: dict[str, Any], spans: list[Item]) -> bool:
    """Count and sizes that stand before the noun. True where a size was said."""
    items = scene.items
    j = i - 1
    sized = False
    word: str | None = None
    right = _sized_right(scene, i)
    crossed = False
    while j >= floor:
        item = items[j]
        if item.kind in {"measure", "dims"} and not item.used:
            if item.kind == "dims":
                sizes = item.sizes
                if len(sizes) in {2, 3} and sizes[0].whole and sizes[0].value <= 12 and not sizes[0].unit and (
                    len(sizes) == 3 or (not right and any(v >= 300 for v in sizes[1].values) or sizes[1].unit)
                ) and not crossed:  # 2 x 1200 x 1050 windows, 3 x 900 doors
                    opening["count"] = int(sizes[0].value)
                    if len(sizes) == 3:
                        _set_pair(scene, item, opening, spans, item.sizes[1:])
                    else:
                        _set_one(scene, item, opening, spans, "width", item.sizes[1])
                    return True
                if right or sized or crossed or len(sizes) != 2:
                    return sized
                if not _fits(scene, item):
                    return sized
                _set_pair(scene, item, opening, spans, item.sizes)
                sized = True
            elif item.size.whole and item.size.value < 100 and (item.tagged("count") or j == i - 1 or sized or crossed or word is None) and _count_here(scene, j, i):
                opening["count"] = int(item.size.value)
                item.used = "openings"
                spans.append(item)
                return True if sized else sized
            elif not sized and not right and not crossed and (word is not None or item.size.unit or item.size.value >= 300 or item.size.decimal):
                if not _fits_one(scene, item, word):
                    return sized
                if any(x.tagged("dim", "square") for x in items[j + 1 : i]):
                    both = _set_one(scene, item, opening, spans, "width", item.size)
                    if both:
                        opening["height"] = dict(opening["width"])
                elif items[j + 1 : i] and word == "sill":
                    return sized
                else:
                    _set_one(scene, item, opening, spans, word if word in {"width", "height"} else "width", item.size)
                sized = True
                word = None
            else:
                return sized
            j -= 1
            continue
        if item.text.lower() in {"one", "a", "an"}:
            return sized
        dim = item.tag("dim")
        if dim and dim[1] in {"width", "height"} and item.kind == "phrase" and item.text.lower() not in {"l", "h", "up"}:
            word = dim[1]
            nxt = scene.at(j - 1)
            if nxt is None or nxt.kind != "measure":
                return sized
            if sized:
                if nxt.used:
                    return sized
                _set_one(scene, nxt, opening, spans, word, nxt.size)
                word, j = None, j - 2
                continue
        elif item.text.lower() == "x" or (item.kind == "mark" and item.text in {"*", "."}):
            crossed = crossed or item.text.lower() == "x"
        elif not _adjective(scene, item):
            return sized
        j -= 1
    return sized


def _count_here(scene: Scene, j: int, i: int) -> bool:
    """Whether the whole number at j counts the noun at i: only its own size and adjectives stand between."""
    before = scene.at(j - 1)
    if before is not None and before.tagged("aside", "before") and scene.items[j].size.value > 20:
        return False
    return all(not x.tagged("noun", "wall") and not (x.kind == "mark" and x.text in STOPS_HERE) for x in scene.items[j + 1 : i])


STOPS_HERE = {",", ".", "?", ";", "/"}


def _sized_right(scene: Scene, i: int) -> bool:
    """Whether a size stands directly behind the noun and belongs to it."""
    items = scene.items
    j = scene.right(i, over=(":", "size", "sized", "measuring", "-", "opening", "each", "(", "at", "s"))
    if j is None or items[j].kind not in {"dims", "measure"} or items[j].used:
        return False
    if items[j].kind == "measure" and items[j].size.whole and items[j].size.value < 100 and not items[j].size.unit:
        nxt = scene.at(j + 1)
        return nxt is not None and nxt.tagged("dim")
    k = scene.right(j)
    if k is not None and (items[k].tagged("noun", "wall") or kind_of(items[k])) and items[j].kind == "dims":
        return False
    if items[j].kind == "measure":
        return (k is None or not items[k].tagged("noun", "wall")) and place_behind(scene, j) is None
    return _fits(scene, items[j]) or not _fits_wall(scene, items[j])


def _fits(scene: Scene, item: Item) -> bool:
    """Whether a pair can be an opening."""
    return any(all(believable(scene, part, "opening") for part in reading) and len(reading) == 2 for reading in pair(scene, item.sizes, "opening"))


def _fits_wall(scene: Scene, item: Item) -> bool:
    return any(len(reading) == 2 and reading[0]["value"] > 6 for reading in pair(scene, item.sizes, "wall"))


def _fits_one(scene: Scene, item: Item, word: str | None) -> bool:
    return any(believable(scene, one, "opening") for one in candidates(scene, item.size, "opening"))


def _set_pair(scene: Scene, item: Item, opening: dict[str, Any], spans: list[Item], sizes: list[Any]) -> bool:
    if len(sizes) != 2 or "width" in opening:
        return False
    options = [r for r in pair(scene, sizes, "opening") if all(believable(scene, part, "opening") for part in r)]
    item.used = "openings"
    spans.append(item)
    if len(options) == 1:
        width, height = options[0]
        opening["width"], opening["height"] = width, height
        return True
    scene.doubt("openings", f"What unit is the opening {item.text} in?",
                [(f"{w['value']:g} {w['unit']} × {h['value']:g} {h['unit']}", {"openings": [{**opening, "width": w, "height": h}]}) for w, h in options], item)
    return False


def _set_one(scene: Scene, item: Item, opening: dict[str, Any], spans: list[Item], slot: str, size: Any) -> bool:
    use = "opening"
    options = [c for c in candidates(scene, size, use) if slot in {"from_left", "from_right", "sill"} or believable(scene, c, use)]
    if slot in {"from_left", "from_right"}:
        options = candidates(scene, size, "wall")
    elif slot == "sill":
        options = candidates(scene, size, "opening")
    item.used = "openings"
    spans.append(item)
    if len(options) != 1 or slot in opening:
        choices = [(f"{o['value']:g} {o['unit']}", {"openings": [{**opening, slot: o}]}) for o in options]
        scene.doubt("openings", f"How should I read {item.text} at the {opening['kind']}?", choices, item)
        return False
    opening[slot] = options[0]
    return True


def _right(scene: Scene, i: int, stop: int, opening: dict[str, Any], spans: list[Item], sized: bool) -> None:
    """Attributes behind the noun, up to the next thing spoken of."""
    items = scene.items
    j = i + 1
    comma = False
    while j < stop:
        item = items[j]
        if item.kind == "mark" and item.text in {".", "?", ";", "\n", "!"}:
            nxt = scene.at(j + 1)
            if item.text == "." and nxt is not None and nxt.kind in {"measure", "dims"} and not sized and _fits(scene, nxt) if nxt is not None and nxt.kind == "dims" else False:
                j += 1
                continue
            return
        if item.kind == "mark" and item.text == ",":
            comma = True
        if item.tagged("noun", "wall") and item.kind == "phrase" and not item.tagged("dim"):
            return
        if item.tagged("topic") and item.kind == "phrase" and not item.tagged("wants") and any(items[k].kind in {"measure", "dims"} and not items[k].used for k in range(j, stop)):
            if not item.tagged("dim"):
                return
        if item.tagged("noun", "block") or item.tagged("noun", "board") or item.tagged("noun", "roll") or item.tagged("noun", "coat") or item.tagged("noun", "crack"):
            return
        if item.kind in {"measure", "dims"} and not item.used:
            took = _attribute(scene, j, stop, opening, spans, sized, comma)
            if took is None:
                return
            sized = sized or took == "size"
        j += 1


def place_behind(scene: Scene, j: int) -> str | None:
    """'2 from the left', '1.5 off LH end', '2m in from the right': which end a size is measured from."""
    items = scene.items
    k = j + 1
    way = False
    while k < len(items) and k <= j + 4:
        item = items[k]
        if item.tagged("dim", "from_left"):
            return "from_left"
        if item.tagged("dim", "from_right"):
            return "from_right"
        if item.text.lower() in {"off", "from", "in from", "in", "along from", "along"}:
            way = True
        elif item.tagged("dim", "from_end") and item.text.lower() not in {"in", "along"}:
            side = _side_near(scene, k - 1, len(items))
            return "from_right" if side == "right" else "from_left"
        elif way and item.tagged("side", "left"):
            return "from_left"
        elif way and item.tagged("side", "right"):
            return "from_right"
        elif item.text.lower() not in SMALL_WORDS:
            return None
        k += 1
    return None


SMALL_WORDS = {"the", "a", "of", "my"}


def _owner_right(scene: Scene, j: int) -> bool:
    """Whether something else directly behind the size claims it."""
    k = scene.right(j, over=("long", "high", "thick", "x", "wide"))
    nxt = scene.at(k) if k is not None else None
    if nxt is None or k is None:
        return False
    if kind_of(nxt):
        between = scene.items[j + 1 : k]
        return not any(x.kind == "mark" for x in between)
    return any(nxt.tagged("noun", n) for n in ("wall", "block", "board", "roll", "coat", "cavity", "joint", "course")) or nxt.tagged("slot", "material")


def _attribute(scene: Scene, j: int, stop: int, opening: dict[str, Any], spans: list[Item], sized: bool, comma: bool) -> str | None:
    """Take the size at j as an attribute; None where it belongs to something else."""
    items = scene.items
    item = items[j]
    if item.kind == "measure" and item.size.unit and kind_unit(item.size.unit) == kind_unit("m²"):
        if "area" in opening or "width" in opening or not any(x.text.lower() in {"totalling", "total", "totaling", "of", "area", "is", "are", "combined", "about", ":"} or x.tagged("dim", "total") or x.tagged("dim", "area") for x in items[max(0, j - 2) : j]):
            return None
        opening["area"] = {"value": item.size.value, "unit": item.size.unit}
        item.used = "openings"
        spans.append(item)
        return "size"
    if _owner_right(scene, j):
        return None
    before, after = scene.at(j - 1), scene.at(j + 1)
    after_dim = after.tag("dim") if after is not None and after.kind == "phrase" else None
    if after_dim and after_dim[1] == "at" and after is not None and after.tagged("dim", "from_end"):
        after_dim = ("dim", "from_end")
    before_dim = before.tag("dim") if before is not None and before.kind == "phrase" else None
    if before is not None and before.tagged("dim", "at"):
        before_dim = ("dim", "at")
    if item.kind == "dims":
        if before is not None and before.text.lower() in {"x", "*"} and sized:
            return None
        if len(item.sizes) == 3 and item.sizes[0].whole and item.sizes[0].value <= 12 and not item.sizes[0].unit:
            opening["count"] = int(item.sizes[0].value)
            return "size" if _set_pair(scene, item, opening, spans, item.sizes[1:]) else None
        if sized or len(item.sizes) != 2 or not _fits(scene, item):
            return None
        _set_pair(scene, item, opening, spans, item.sizes)
        return "size"
    if after is not None and after.tagged("dim", "square") and not sized:
        if _set_one(scene, item, opening, spans, "width", item.size):
            opening["height"] = dict(opening["width"])
        return "size"
    names = {"width": "width", "length": "width", "height": "height", "sill": "sill", "from_left": "from_left", "from_right": "from_right", "depth": "height"}
    if after_dim and after_dim[1] in names and after is not None and not _reaches_past(scene, j):
        slot = names[after_dim[1]]
        if after.text.lower() in {"up", "l"}:
            slot = "sill"
        if slot in opening or (slot in {"width", "height"} and not _fits_one(scene, item, slot)) or after_dim[1] == "length":
            return None
        _set_one(scene, item, opening, spans, slot, item.size)
        return "size" if slot in {"width", "height"} else "place"
    behind = place_behind(scene, j)
    if behind and behind not in opening:
        _set_one(scene, item, opening, spans, behind, item.size)
        return "place"
    if before_dim and before_dim[1] in {"width", "height", "sill"} and names[before_dim[1]] not in opening:
        _set_one(scene, item, opening, spans, names[before_dim[1]], item.size)
        return "size"
    if before_dim and before_dim[1] in {"from_left", "from_right"} and before_dim[1] not in opening:
        _set_one(scene, item, opening, spans, before_dim[1], item.size)
        return "place"
    if before_dim and before_dim[1] == "at" and "from_left" not in opening:
        side = after_dim[1] if after_dim and after_dim[1] in {"from_left", "from_right"} else "from_left"
        _set_one(scene, item, opening, spans, side, item.size)
        return "place"
    if before is not None and before.text.lower() in {"x", "*"} and item.size.whole and item.size.value <= 20:
        opening["count"] = int(item.size.value)
        item.used = "openings"
        spans.append(item)
        return "count"
    if item.tagged("count") and item.size.whole:
        if not kind_of_raw(items[j - 1]) or (after is not None and after.kind in {"dims", "measure"}):
            return None
        opening["count"] = int(item.size.value)
        item.used = "openings"
        spans.append(item)
        return "count"
    if sized or comma or not item.size.unit and not item.size.decimal and item.size.value < 300:
        return None
    if not _fits_one(scene, item, "width") or (item.size.unit == "m" and item.size.value > 6):
        return None
    if kind_of_raw(items[j - 1]) or items[j - 1].text.lower() == "of" and j >= 2 and kind_of_raw(items[j - 2]):
        _set_one(scene, item, opening, spans, "width", item.size)
        return "size"
    return None


def kind_of_raw(item: Item) -> bool:
    """Whether the item is an opening noun, used or not."""
    return any(item.tagged("noun", k) for k in KINDS)


def _reaches_past(scene: Scene, j: int) -> bool:
    """'2.4 high wall': the dimension word is followed by another owner."""
    k = scene.right(j + 1)
    nxt = scene.at(k) if k is not None else None
    return nxt is not None and k == j + 2 and nxt.tagged("noun", "wall")


def _side_near(scene: Scene, j: int, stop: int) -> str | None:
    for k in range(j + 1, min(stop, j + 6, len(scene.items))):
        if scene.items[k].tagged("side", "right"):
            return "right"
        if scene.items[k].tagged("side", "left"):
            return "left"
    return None
