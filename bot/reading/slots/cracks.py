"""Width, pattern, growth and place of a crack."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.put import put, small_unit

NEAR = 4  # items from 'was' to the size that it was


def take_crack(scene: Scene) -> None:
    """Pattern, growth, lean and place of a crack."""
    if "crack" not in scene.topics:
        return
    for i, item in enumerate(scene.items):
        for word in item.low.split():
            for part, value in _word_of_crack(scene, i, item, word):
                if part not in scene.heard.slots.get("crack", {}):
                    put(scene, "crack", part, value, item)
    crack = scene.heard.slots.get("crack", {})
    where = _place(scene) if crack else None
    hairline = any(x.low.startswith("hairline") for x in scene.items)
    if hairline and "width" not in crack:
        where = f"hairline, {where}" if where else "hairline"
    if where:
        scene.heard.slots["crack"] = {**crack, "where": where}
    if crack.get("leaning"):
        _danger_first(scene)


def as_it_was(scene: Scene) -> None:
    """'it was 2 mm last year', 'only 1 in march': no width of now; it has grown since."""
    if "crack" not in scene.topics or not scene.says("crack.was"):
        return
    items = scene.items
    sizes = [i for i, x in enumerate(items) if x.kind == "measure" and not x.used and not _of_time(scene, i)]
    then = any(x.says("crack.then") or x.why == "a date" for x in items)
    was = next((i for i, x in enumerate(items) if x.says("crack.was")), None)
    if was is None or len(sizes) != 1 or not was < sizes[0] <= was + NEAR or scene.tagged("correct"):
        return
    size = items[sizes[0]]
    if size.size.unit not in {"", "mm", "cm", "in"}:
        return
    if then:
        scene.aside(size, "how wide it was before")
        put(scene, "crack", "growing", True, size)
    elif scene.in_force and not scene.says("crack.crack") and scene.says("crack.only"):
        width = plain(size.size, size.size.unit or "mm")
        choices: list[tuple[str, dict[str, Any]]] = [
            (f"It grew from {show(width)}", {"crack": {"growing": True}}),
            (f"It is {show(width)}", {"crack": {"width": width}}),
        ]
        scene.doubt("crack", f"Was it {show(width)} before, or is it {show(width)}?", choices, size)


def _of_time(scene: Scene, i: int) -> bool:
    """'2 years ago': a number of years."""
    after = scene.at(i + 1)
    return after is not None and after.tagged("noun", "time")


def _danger_first(scene: Scene) -> None:
    """A number that nobody understands does not hold up what is said where a wall may fall."""
    heard = scene.heard
    for item in [x for x in heard.bare if isinstance(x, Item)]:
        scene.aside(item, "not used")
        heard.bare.remove(item)
    heard.doubts = [doubt for doubt in heard.doubts if doubt.slot != "number"]


def _word_of_crack(scene: Scene, i: int, item: Item, word: str) -> list[tuple[str, Any]]:
    """What a single word tells of a crack."""
    names = scene.words.names(word)
    pattern = next((name.partition(".")[2] for name in names if name.startswith("pattern.")), None)
    if pattern is not None and item.kind in {"word", "phrase"}:
        return [("pattern", pattern)]
    if "crack.growing" in names:
        before = scene.items[max(0, i - 3) : i]
        denied = scene.negated(i) or any(x.says("crack.not_growing") for x in before)
        noun = item.tagged("noun", "opening") and word == item.low  # 'a crack in the opening'
        return [] if noun or _wider_there(scene, i, item) else [("growing", not denied)]
    if "crack.moving" in names and not scene.negated(i):
        cracked = scene.says("crack.crack")
        return [("growing" if cracked else "leaning", True)]
    if "crack.steady" in names:
        return [("growing", False)]
    if "crack.leaning" in names and not scene.negated(i):
        return [("leaning", True)]
    return []


def _wider_there(scene: Scene, i: int, item: Item) -> bool:
    """'wider at the top': its shape, where it is not said that it is getting so."""
    behind, ahead = scene.at(i + 1), scene.items[max(0, i - 2) : i]
    there = behind is not None and behind.low.startswith(scene.words.cue["crack.there_begins"])
    return item.says("crack.compared") and there and not any(x.says("crack.becoming") for x in ahead)


def _place(scene: Scene) -> str | None:
    text = " ".join(x.low for x in scene.items)
    return next((place for place in scene.words.cue["crack.where"] if place in text), None)


def of_the_crack(scene: Scene, i: int, item: Item) -> bool:
    """'gone from 3 mm to 8 mm': the width now, and it has grown; '3 to 4 mm': the wider counts."""
    wide = item.sizes[-1]
    unit = wide.unit or "mm"
    if unit not in {"mm", "cm", "in"} or "width" in (scene.heard.slots.get("crack") or {}):
        return False
    width = plain(wide, unit)
    if not wide.unit:
        scene.assume("crack", unit, f"'{item.text}' was taken as {show(width)} at the end.")
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


def place_of_it(scene: Scene, i: int, item: Item) -> bool:
    """'cracked straight down at 6 m': where the crack is."""
    before = scene.at(i - 1)
    at = before is not None and before.tagged("dim", "at") and item.size.unit in {"m", "ft"}
    if scene.topics != ["crack"] or not at:
        return False
    scene.aside(item, "where the crack is")
    return True


def width_alone(scene: Scene, item: Item) -> bool:
    """'about 0.3' where a crack alone is spoken of: its width."""
    if scene.topics != ["crack"] or item.size.unit or not 0 < item.size.value < scene.sense.crack_bare:
        return False
    if "width" not in scene.heard.slots.get("crack", {}):
        unit = small_unit(item)
        width = plain(item.size, unit)
        put(scene, "crack", "width", width, item)
        scene.assume("crack", unit, f"'{item.text}' was taken as {show(width)}.")
    return True
