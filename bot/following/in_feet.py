"""A pair whose unit is in doubt, after a wall in feet: it is in feet as well."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard
from bot.reading.scene import show

Plain = dict[str, Any]
PAIR = {"length", "height"}


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
