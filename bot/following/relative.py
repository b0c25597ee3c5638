"""'1 m longer', 'add 3 m', 'double it': a change of what stands, reckoned or asked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.items import Measure
from bot.reading.scene import show
from knowledge.senses import Sense
from knowledge.units import UnitFault, convert

Plain = dict[str, Any]
SIGN = {"longer": 1, "shorter": -1, "higher": 1, "lower": -1}
SLOT = {"longer": "length", "shorter": "length", "higher": "height", "lower": "height"}


def relative(heard: Heard, before: Plain, sense: Sense) -> None:
    """A size said beside 'longer' and the like is added to what stands; other changes are asked about."""
    _more_courses(heard, before)
    marks = {mark.removeprefix("by ") for mark in heard.marks if mark.startswith("by ")}
    if not marks or "new" in heard.marks or heard.walls:
        return
    way = next((name for name in SIGN if name in marks), None)
    size = _in_millimetres(heard.lone, sense) if heard.lone is not None else None
    if way is None and size is None and ("off" in marks or {"added", "onto"} <= marks):
        _add_to_the_named(heard, before, -1 if "off" in marks else 1)
    elif way is not None and size is not None:
        _add(heard, before, SLOT[way], SIGN[way], size)
    elif marks & {"added", "taken"} and size is not None and size.unit and "length" in before:
        _ask(heard, before, 1 if "added" in marks else -1, size)
    elif marks & {"double", "half"} and size is None and "length" in before and not heard.slots:
        times = 2.0 if "double" in marks else 0.5
        had = before["length"]
        new = {**had, "value": round(had["value"] * times, 6)}
        choices = [(f"{show(new)} long", {"length": new}), (f"As it was, {show(had)}", {"length": had})]
        heard.doubts.append(Doubt("length", "Which length shall I take?", choices))


def _more_courses(heard: Heard, before: Plain) -> None:
    """'3 courses more': upon those that are in force; upon a height, that is asked."""
    if "courses more" not in heard.marks or "courses" not in heard.slots:
        return
    if before.get("courses"):
        more, had = heard.slots["courses"], before["courses"]
        heard.slots["courses"] = had + more
        because = f"{more} courses were added to {had}."
        heard.assumed.append({"slot": "courses", "value": had + more, "because": because})
    elif before.get("height"):
        more, spans = heard.slots.pop("courses"), heard.evidence.pop("courses", [])
        heard.doubts.append(Doubt("height", f"How high is it with {more} courses more?", spans=spans))


def _in_millimetres(size: Measure, sense: Sense) -> Measure:
    """'300 higher': more metres than any wall grows by."""
    large = not size.unit and not size.decimal and size.value >= sense.millimetres_from
    return replace(size, unit="mm") if large else size


def _sum(had: Plain, sign: int, size: Any) -> Plain | None:
    try:
        more = convert(size.value, size.unit or had["unit"], had["unit"])
    except UnitFault:
        return None
    value = round(had["value"] + sign * more, 6)
    return {**had, "value": value} if value > 0 else None


def _forget(heard: Heard) -> None:
    for slot in ("length", "height", "thickness", "number", "block", "temperature"):
        heard.slots.pop(slot, None)
    heard.doubts = [d for d in heard.doubts if d.slot not in {"length", "height", "thickness", "number"}]
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height", "thickness", "block"}]


def _add(heard: Heard, before: Plain, slot: str, sign: int, size: Any) -> None:
    had = before.get(slot)
    new = _sum(had, sign, size) if isinstance(had, dict) else None
    if new is None:
        return
    _forget(heard)
    said = heard.text[size.start : size.end]
    heard.slots[slot] = new
    heard.evidence[slot] = [(size.start, size.end)]
    how = "added to" if sign > 0 else "taken from"
    heard.assumed.append({"slot": slot, "value": new, "because": f"{said} was {how} {show(had or {})}."})
    heard.lone = None


def _add_to_the_named(heard: Heard, before: Plain, sign: int) -> None:
    """'add 1m to the length': the one dimension that is named beside the only number."""
    slots = [slot for slot in ("length", "height") if slot in heard.named]
    if len(slots) != 1 or set(heard.slots) != set(slots) or slots[0] not in before:
        return
    spans, size = heard.evidence.get(slots[0], []), heard.slots[slots[0]]
    if len(spans) == 1 and heard.text[slice(*spans[0])].strip():
        _add(heard, before, slots[0], sign, Measure((size["value"],), size["unit"], *spans[0]))


def _ask(heard: Heard, before: Plain, sign: int, size: Any) -> None:
    new = _sum(before["length"], sign, size)
    if new is None:
        return
    _forget(heard)
    own = {"value": size.value, "unit": size.unit}
    choices = [(f"{show(new)} in all", {"length": new}), (f"{show(own)} in all", {"length": own})]
    heard.doubts.append(Doubt("length", "How long is the wall now?", choices, spans=[(size.start, size.end)]))
    heard.lone = None
