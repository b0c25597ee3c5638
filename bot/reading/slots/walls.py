"""The sizes of the wall itself, and what is left over."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.dimensions import by_word
from bot.reading.slots.elsewhere import elsewhere, follows_length, of_a_unit
from bot.reading.slots.joint_places import by_joint
from bot.reading.slots.pairs import pairs
from bot.reading.slots.put import put
from bot.reading.slots.settling import ranged, settle
from bot.reading.units import LENGTH, believable, candidates
from knowledge.units import convert, kind


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


def _alone(scene: Scene, i: int, item: Item) -> None:
    """A size with no word of its own: the wall's length, then its height, where it can be that."""
    if item.kind == "range" and scene.topics == ["crack"] and _of_the_crack(scene, i, item):
        return
    if item.kind == "range":
        if "length" not in scene.heard.slots and all(
            not s.unit or kind(s.unit) == LENGTH for s in item.sizes
        ):
            ranged(scene, item, "length")
        return
    size = item.size
    if size.unit and kind(size.unit) != LENGTH:
        return
    if not size.unit and item.tagged("count"):
        return
    if (
        scene.topics == ["weather"]
        and not size.unit
        and not any(x.tagged("noun", n) for x in scene.items for n in ("cement", "sand", "lime"))
    ):
        if "temperature" in scene.heard.slots:
            scene.aside(item, "another temperature, or a time")
        return
    if size.unit in {"mm", "in", "cm"} and "render" in scene.topics and 0 < size.to_mm() <= 60:
        if "coat_thickness" not in scene.heard.slots:
            scene.claim("coat_thickness", plain(size, size.unit), item)
        return
    coats = scene.at(i + 1)
    if coats is not None and coats.says("coats.many") and not size.unit and size.whole:
        scene.aside(item, "how many coats")
        return
    if elsewhere(scene, i) or _counts_something(scene, i):
        return
    beside = [x for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None]
    if (
        any(x.text == ":" for x in beside)
        and not size.unit
        and scene.at(i - 1) is not None
        and scene.items[i - 1].text == ":"
        and scene.at(i - 2) is not None
        and scene.items[i - 2].low in {"x", "?", "y"}
    ):
        return
    slots = scene.heard.slots
    asked = {d.slot for d in scene.heard.doubts}
    nouns = scene.right(i)
    near = scene.at(nouns)
    if (
        not size.unit
        and near is not None
        and (
            near.tagged("noun")
            and not near.tagged("noun", "wall")
            and not near.tagged("topic")
            and not near.tagged("slot")
        )
    ):
        return
    if near is not None and any(near.tagged("noun", n) for n in ("sand", "cement", "lime")) and not size.unit:
        return
    if (
        "blocks" in scene.topics
        and "height" not in slots
        and "length" not in slots
        and "courses" not in slots
        and any(x.tagged("wants", "blocks", "course_count") for x in scene.items)
    ):
        settle(scene, "height", item, "height")
        return
    tiny = bool(size.unit) and 0 < size.to_mm() <= (400 if size.unit in {"mm", "cm", "in"} else 299)
    if (
        scene.topics == ["mortar"]
        and not size.unit
        and not size.decimal
        and not (near is not None and near.tagged("noun", "wall"))
        and "length" not in slots
        and not scene.amounts
    ):
        return
    if tiny and size.unit in {"mm", "in", "cm"} and size.to_mm() >= 40:
        if not of_a_unit(scene, i, item):
            return
        if "thickness" not in slots and "thickness" not in (slots.get("block") or {}):
            put(scene, "block", "thickness", plain(size, size.unit), item)
        return
    if tiny and not size.negative and size.unit in {"mm", "in"}:
        return
    thick = size.value in scene.region.known.get("thickness", ()) and size.value >= 75
    if (
        not size.unit
        and not size.decimal
        and thick
        and ({"length", "area"} & set(slots) or _by_a_leaf(scene, i))
        and of_a_unit(scene, i, item)
    ):
        put(scene, "block", "thickness", plain(size, "mm"), item)
        scene.assume("block", "mm", f"'{item.text}' was taken as a thickness of {size.value:g} mm.")
        return
    if (
        "length" not in slots
        and "length" not in asked
        and not (size.whole and size.value == 1 and not size.unit)
    ):
        after = scene.at(i + 1)
        if not size.unit and after is not None and after.kind == "word" and scene.words.strange(after.low):
            choices = [(show(o), {"length": o}) for o in (plain(size, "m"), plain(size, "ft"))]
            scene.doubt("length", f"{item.text} {after.text}: metres or feet?", choices, item)
            return
        settle(scene, "length", item, "wall")
        return
    if "height" not in slots and "height" not in asked and (size.unit or size.decimal):
        options = [o for o in candidates(scene, size, "wall") if believable(scene, o, "height")]
        if (
            len(options) == 1
            and "length" in slots
            and (follows_length(scene, i) or (i > 0 and scene.items[i - 1].says("walls.all")))
            and convert(options[0]["value"], options[0]["unit"], "m")
            < convert(slots["length"]["value"], slots["length"]["unit"], "m")
        ):
            scene.claim("height", options[0], item)
            scene.assume("height", options[0], f"'{item.text}' was taken as the height.")
            return
    if "length" in slots and size.unit and not tiny:
        settle(scene, "length", item, "wall")


def _of_the_crack(scene: Scene, i: int, item: Item) -> bool:
    """'gone from 3 mm to 8 mm': the width now, and it has grown; '3 to 4 mm': the wider counts."""
    wide = item.sizes[-1]
    if wide.unit not in {"mm", "cm", "in"} or "width" in (scene.heard.slots.get("crack") or {}):
        return False
    width = plain(wide, wide.unit)
    before = scene.at(i - 1)
    if before is not None and before.says("crack.grew_from") and wide.value > item.size.value:
        put(scene, "crack", "width", width, item)
        put(scene, "crack", "growing", True, item)
        return True
    crack = scene.heard.slots.get("crack") or {}
    choices: list[tuple[str, dict[str, Any]]] = [
        (f"It grew to {show(width)}", {"crack": {**crack, "width": width, "growing": True}}),
        (f"{show(width)} where it is widest", {"crack": {**crack, "width": width}}),
    ]
    scene.doubt("crack", f"{item.text}: has it grown, or is it wider in places?", choices, item)
    return True


def _by_a_leaf(scene: Scene, i: int) -> bool:
    """'both leaves 100': a thickness that stands at the leaf it is of."""
    before = scene.at(i - 1)
    return before is not None and before.tagged("slot", "leaf")


def _counts_something(scene: Scene, i: int) -> bool:
    """'3 of them': what it counts is not the length of a wall."""
    size, of, what = scene.items[i].size, scene.at(i + 1), scene.at(i + 2)
    counted = size.whole and of is not None and of.says("walls.number_of")
    return counted and not (what is not None and what.tagged("noun", "wall"))


def both_bare(scene: Scene) -> None:
    """'28 long and 9 high': where the height only makes sense in feet, the length is in doubt with it."""
    heard = scene.heard
    doubt = next(
        (
            d
            for d in heard.doubts
            if d.slot == "height" and any(c[1].get("height", {}).get("unit") == "ft" for c in d.choices)
        ),
        None,
    )
    length = heard.slots.get("length")
    twin = next(
        (
            d
            for d in heard.doubts
            if d.slot == "length"
            and {c[1]["length"]["unit"] for c in d.choices if "length" in c[1]} == {"m", "ft"}
        ),
        None,
    )
    if doubt is not None and twin is not None and not any("length" in c[1] for c in doubt.choices):
        pairs_ = [
            ({"length": a[1]["length"], "height": b[1]["height"]})
            for a in twin.choices
            for b in doubt.choices
            if a[1]["length"]["unit"] == b[1]["height"]["unit"]
        ]
        pairs_.sort(key=lambda p: p["length"]["unit"])
        doubt.choices = [(f"{show(p['length'])} × {show(p['height'])}", p) for p in pairs_]
        twin.choices, twin.ask = doubt.choices, doubt.ask
        return
    if doubt is None or length is None or length["unit"] != "m":
        return
    source = next(
        (
            x
            for x in scene.items
            if x.used == "length" and x.kind == "measure" and not x.size.unit and not x.size.decimal
        ),
        None,
    )
    if source is None:
        return
    del heard.slots["length"]
    heard.evidence.pop("length", None)
    heard.assumed = [a for a in heard.assumed if a["slot"] != "length"]
    doubt.choices = [
        (f"{show(plain(source.size, u))} × {show(h)}", {"length": plain(source.size, u), "height": h})
        for u in ("ft", "m")
        for h in [c[1]["height"] for c in doubt.choices if c[1]["height"]["unit"] == u]
    ]
    doubt.ask = f"Are {source.text} and the height in feet or metres?"
    scene.doubt("length", doubt.ask, doubt.choices)


def leftovers(scene: Scene) -> None:
    """No digit is dropped: what found no slot stops the answer."""
    for item in scene.items:
        if item.used:
            continue
        if item.kind == "bad":
            ask = f"I cannot read '{item.text}'. Please write the number and its unit apart."
            scene.doubt("number", ask, [], item)
        elif item.kind == "measure" and not item.size.unit and _says_no_size(item):
            continue
        elif item.kind in {"measure", "dims", "range", "ratio"}:
            scene.heard.bare.append(item)
            scene.doubt("number", f"What is {item.text} in this?", [], item)


def _says_no_size(item: Item) -> bool:
    """'a half', 'one': a word of number, or a plain 1, that counts nothing."""
    if item.size.spelt and item.size.values[0] in {0.0, 0.5, 1.0}:
        return True
    if item.size.value == 1 and not item.size.decimal:
        item.used = "one"
        return True
    return False
