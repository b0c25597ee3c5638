"""'take off 9.5 m² for the windows', 'add 6 m²': an area is taken from the one in force, or added to it."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show
from knowledge.units import UnitFault, convert, kind

Plain = dict[str, Any]
AREA = kind("m²")
PLUS = ("plus ", "+")
AWAY, MORE = {"by taken", "by off"}, {"by added", "by onto"}


def by_area(heard: Heard, before: Plain) -> None:
    """The area that is left; of a wall told by its sides, an opening of that area."""
    plus = heard.text.lower().lstrip().startswith(PLUS) and not heard.topics
    sign = -1 if heard.marks & AWAY else 1 if plus or heard.marks & MORE else 0
    own = {"length", "height"} & set(heard.slots)
    if not sign or own or heard.walls or "new" in heard.marks or not {"area", "length"} & set(before):
        return
    size, spans = _said(heard)
    if size is None:
        return
    kinds = [o["kind"] for o in heard.slots.get("openings", [])]
    for slot in ("area", "openings", "number"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.doubts = [d for d in heard.doubts if not set(d.spans) & set(spans) and d.slot != "openings"]
    heard.set_aside = [e for e in heard.set_aside if tuple(e["span"]) not in spans]
    heard.assumed = [a for a in heard.assumed if a["slot"] != "area"]
    heard.lone = None
    had = before.get("area")
    left = _sum(had, sign, size) if had is not None else None
    if had is not None and left is not None:
        how = "added to" if sign > 0 else "taken from"
        heard.slots["area"], heard.evidence["area"] = left, spans
        because = f"{show(size)} was {how} {show(had)}."
        heard.assumed.append({"slot": "area", "value": left, "because": because})
    elif had is None and sign < 0:
        opening = {"kind": kinds[0] if len(kinds) == 1 else "opening", "count": 1, "area": size}
        heard.slots["openings"], heard.evidence["openings"] = [opening], spans
    else:
        heard.doubts.append(Doubt("number", f"What is {show(size)} in this?", spans=spans))


def _said(heard: Heard) -> tuple[Plain | None, list[tuple[int, int]]]:
    """The one area of the message, whatever it was taken for when it was read alone."""
    if heard.lone is not None and heard.lone.unit and kind(heard.lone.unit) == AREA:
        lone = heard.lone
        return {"value": lone.value, "unit": lone.unit}, [(lone.start, lone.end)]
    if "area" in heard.slots:
        return heard.slots["area"], list(heard.evidence.get("area", []))
    openings = heard.slots.get("openings") or []
    if len(openings) == 1 and "area" in openings[0] and openings[0].get("count", 1) == 1:
        return openings[0]["area"], list(heard.evidence.get("openings", []))
    return None, []


def _sum(had: Plain, sign: int, size: Plain) -> Plain | None:
    try:
        value = round(had["value"] + sign * convert(size["value"], size["unit"], had["unit"]), 6)
    except UnitFault:
        return None
    return {**had, "value": value} if value > 0 else None
