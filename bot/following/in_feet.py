"""A size whose unit is in doubt, after a wall or an opening in feet: it is in feet as well."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard
from bot.reading.scene import show

Plain = dict[str, Any]
PAIR = {"length", "height"}
SIDES = ("width", "height")


def in_feet(heard: Heard, before: Plain) -> None:
    """'2 doors 3 by 7' after '26 ft by 9': the size of the opening named without one, else of the wall."""
    wall = before.get("length") or before.get("height")
    if not isinstance(wall, dict) or wall.get("unit") != "ft" or heard.walls:
        return
    doubts = [d for d in heard.doubts if d.choices and all(set(c) == PAIR for _, c in d.choices)]
    fits = [c for d in doubts[:1] for _, c in d.choices if {size["unit"] for size in c.values()} == {"ft"}]
    if len(fits) != 1:
        return
    heard.doubts = [d for d in heard.doubts if d not in doubts]
    size, spans = fits[0], doubts[0].spans
    said = " ".join(heard.text[a:b] for a, b in spans)
    because = f"'{said}' was taken as {show(size['length'])} by {show(size['height'])}, as before."
    openings = heard.slots.get("openings") or []
    if openings and not {"width", "height", "area"} & set(openings[-1]):
        filled = {**openings[-1], "width": size["length"], "height": size["height"]}
        heard.slots["openings"] = [*openings[:-1], filled]
        heard.evidence.setdefault("openings", []).extend(spans)
        heard.assumed.append({"slot": "openings", "value": filled, "because": because})
        return
    for slot in ("length", "height"):
        heard.slots[slot], heard.evidence[slot] = size[slot], spans
    heard.assumed.append({"slot": "length", "value": size["length"], "because": because})


def opening_as_before(heard: Heard, before: Plain) -> None:
    """'make that door 8 wide' after a door of 7 ft by 7 ft: in the unit that its side has."""
    had = {one["kind"]: one for one in before.get("openings") or []}
    for doubt in [d for d in heard.doubts if d.slot == "openings" and len(d.choices) > 1]:
        fits = [(label, c) for label, c in doubt.choices if _in_its_unit(c.get("openings") or [], had)]
        if len(fits) == 1:
            label, choice = fits[0]
            heard.doubts.remove(doubt)
            heard.slots["openings"], heard.evidence["openings"] = choice["openings"], doubt.spans
            because = f"'{label}' by the unit used before."
            heard.assumed.append({"slot": "openings", "value": choice["openings"][-1], "because": because})


def _in_its_unit(openings: list[Plain], had: dict[str, Plain]) -> bool:
    """Whether the sides of the only opening have the unit that the one in force has at that side."""
    if len(openings) != 1 or openings[0]["kind"] not in had:
        return False
    new, old = openings[0], had[openings[0]["kind"]]
    told = [side for side in SIDES if side in new]
    return bool(told) and all(side in old and old[side]["unit"] == new[side]["unit"] for side in told)
