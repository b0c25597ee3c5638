"""A size said after an opening that has none: it is the opening's, not the wall's."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard
from knowledge.units import UnitFault, convert

Plain = dict[str, Any]
WIDEST, HIGHEST = 6.0, 3.5  # m: what is larger is a wall


def for_the_opening(heard: Heard, before: Plain) -> None:
    """'less 2 doors', then '900x2000': fills the last opening, where the pair could be one."""
    openings = before.get("openings") or []
    if not openings or "openings" in heard.slots or heard.walls or "wall" in heard.marks or heard.negated:
        return
    last = openings[-1]
    if "by moved" in heard.marks and heard.lone is not None:
        _moved(heard, openings)
        return
    if not (heard.slots or heard.doubts or heard.set_aside) and _other_end(heard, openings):
        return
    if "of_several" in heard.changes and last.get("count", 1) > 1 and _one_of_several(heard, openings):
        return
    if "by wide" in heard.marks and "length" in heard.slots and "height" not in heard.slots:
        _as_wide(heard, before, openings)
        return
    pair = [heard.slots.get(slot) for slot in ("length", "height")]
    if {"width", "height"} & set(last) or not all(isinstance(size, dict) for size in pair):
        return
    if heard.evidence.get("length") != heard.evidence.get("height"):  # not said as one pair
        return
    try:
        width, height = (convert(size["value"], size["unit"], "m") for size in pair if size)
    except UnitFault:
        return
    if width > WIDEST or height > HIGHEST:
        return
    spans = heard.evidence.pop("length")
    for slot in ("length", "height"):
        heard.slots.pop(slot)
        heard.evidence.pop(slot, None)
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height"}]
    filled = {**last, "width": pair[0], "height": pair[1]}
    heard.slots["openings"] = [*openings[:-1], filled]
    heard.evidence["openings"] = spans
    heard.marks.add("all openings")
    because = f"The size was taken for the {last['kind']}, which had none."
    heard.assumed.append({"slot": "openings", "value": filled, "because": because})


def _other_end(heard: Heard, openings: list[Plain]) -> bool:
    """'no, from the right': the one opening with a place is measured from the other end."""
    ends = [end for end in ("from_left", "from_right") if f"by {end}" in heard.marks]
    placed = [n for n, o in enumerate(openings) if {"from_left", "from_right"} & set(o)]
    if len(ends) != 1 or len(placed) != 1 or ends[0] in openings[placed[0]]:
        return False
    one = dict(openings[placed[0]])
    place = one.pop("from_right" if ends[0] == "from_left" else "from_left")
    one[ends[0]] = place
    heard.slots["openings"] = [one if n == placed[0] else o for n, o in enumerate(openings)]
    heard.evidence["openings"] = [(0, len(heard.text))]
    heard.marks.add("all openings")
    because = f"The {one['kind']} is measured from the other end now."
    heard.assumed.append({"slot": "openings", "value": place, "because": because})
    return True


def _one_of_several(heard: Heard, openings: list[Plain]) -> bool:
    """'one of them is 1.8 x 1.2', 'one is 1.8 wide': one of those told together is of another size."""
    width, height = heard.slots.get("length"), heard.slots.get("height")
    paired = heard.evidence.get("length") == heard.evidence.get("height")
    if width is None or not (paired if height is not None else "by wide" in heard.marks):
        return False
    last = openings[-1]
    size = {"width": width} | ({"height": height} if height is not None else {})
    spans = heard.evidence.get("length", [])
    for slot in ("length", "height"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    one = {**last, **size, "count": 1}
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height"}]
    heard.slots["openings"] = [*openings[:-1], {**last, "count": last["count"] - 1}, one]
    heard.evidence["openings"] = spans
    heard.marks.add("all openings")
    heard.lone = None
    because = f"The size was taken for one {last['kind']} of {last['count']}."
    heard.assumed.append({"slot": "openings", "value": one, "because": because})
    return True


def _moved(heard: Heard, openings: list[Plain]) -> None:
    """'move it to 5 m': the one opening whose place was said stands there now, from the same end."""
    placed = [(n, end) for n, o in enumerate(openings) for end in ("from_left", "from_right") if end in o]
    if len(placed) != 1:
        return
    n, end = placed[0]
    size = heard.lone
    place = {"value": size.value, "unit": size.unit or openings[n][end]["unit"]}
    for slot in ("length", "height", "number"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.doubts = [d for d in heard.doubts if d.slot not in {"length", "height", "number"}]
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height"}]
    heard.slots["openings"] = [{**o, end: place} if k == n else o for k, o in enumerate(openings)]
    heard.evidence["openings"] = [(size.start, size.end)]
    heard.marks.add("all openings")
    heard.lone = None
    because = f"The {openings[n]['kind']} was moved, from the same end."
    heard.assumed.append({"slot": "openings", "value": place, "because": because})


def _still_in_the_middle(one: Plain, new: Plain, wall: Plain | None) -> Plain:
    """What stood in the middle of the wall stands there with its new width."""
    if wall is None or "from_left" not in one or "width" not in one:
        return new
    unit = wall["unit"]
    was, wide, place = (
        convert(s["value"], s["unit"], unit) for s in (one["width"], new["width"], one["from_left"])
    )
    if abs(place - (wall["value"] - was) / 2) > 1e-6:
        return new
    return {**new, "from_left": {"value": round((wall["value"] - wide) / 2, 6), "unit": unit}}


def _as_wide(heard: Heard, before: Plain, openings: list[Plain]) -> None:
    """'make it 1010 wide' after a door: its width, where the wall would be far too short."""
    wide, wall = heard.slots["length"], before.get("length")
    try:
        metres = convert(wide["value"], wide["unit"], "m")
        limit = convert(wall["value"], wall["unit"], "m") / 2 if wall else WIDEST
    except UnitFault:
        return
    if metres > min(limit, WIDEST):
        return
    heard.slots.pop("length")
    filled = _still_in_the_middle(openings[-1], {**openings[-1], "width": wide}, wall)
    heard.slots["openings"] = [*openings[:-1], filled]
    heard.evidence["openings"] = heard.evidence.pop("length", [])
    heard.marks.add("all openings")
    heard.lone = None
    heard.assumed = [a for a in heard.assumed if a["slot"] != "length"]
    because = f"The width was taken for the {filled['kind']}."
    heard.assumed.append({"slot": "openings", "value": filled, "because": because})
