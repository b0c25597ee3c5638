"""A size for a slot: one reading is taken, several are asked."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.units import believable, candidates


def settle(scene: Scene, slot: str, item: Item, use: str) -> None:
    """A size for a slot: one reading is taken, several that differ are asked."""
    size = item.size
    options = candidates(scene, size, "wall")
    if len(options) > 1:
        kept = [o for o in options if believable(scene, o, use)]
        options = kept or options
    if not options and not size.unit:
        short = size.value < scene.sense.millimetres_from
        options_all = [plain(size, "m"), plain(size, "ft")] if short else [plain(size, "mm")]
        scene.doubt(
            slot, f"{item.text} what: metres or feet?", [(show(o), {slot: o}) for o in options_all], item
        )
        return
    if len(options) == 1:
        one = options[0]
        if (
            not size.unit
            and not size.decimal
            and use == "height"
            and one["unit"] == "m"
            and as_well_in_feet(scene, one)
        ):
            scene.doubt(
                slot,
                f"Is the {slot} {item.text} in feet or metres?",
                [(show(o), {slot: o}) for o in (plain(size, "ft"), plain(size, "m"))],
                item,
            )
            return
        say_unit(scene, slot, item, one)
        scene.claim(slot, one, item)
        return
    if not options:
        return
    scene.doubt(slot, f"How should I read {item.text}?", [(show(o), {slot: o}) for o in options], item)


def as_well_in_feet(scene: Scene, height: dict[str, Any]) -> bool:
    """'24 by 6', 'and 8 high': whole metres so high are as soon feet."""
    return height["value"] >= scene.sense.feet_high_from or not believable(scene, height, "height")


def say_unit(scene: Scene, slot: str, item: Item, taken: dict[str, Any]) -> None:
    """Say how a number was read, where its unit was lent or supplied or its mark is in doubt."""
    size = item.size
    if not size.unit or size.lent or size.comma or len(size.values) > 1:
        scene.assume(slot, taken["unit"], f"'{item.text}' was taken as {show(taken)}.")


def ranged(scene: Scene, item: Item, slot: str) -> None:
    """'5 to 6 m': kept as a range; which end counts is asked."""
    if scene.topics == ["mortar"] and all(not s.unit for s in item.sizes):
        scene.doubt("mix", f"Is {item.text} a mix? Which part is cement, which sand?", [], item)
        return
    if scene.says("range.changed") and all(len(candidates(scene, s, "wall")) == 1 for s in item.sizes):
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
