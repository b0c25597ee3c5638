"""'first one ended up at 4': one of the joints that were proposed stands elsewhere now."""

from __future__ import annotations

from typing import Any

from bot.following.place import alike, apart
from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show

PLACES = {"joint_1": 0, "joint_2": 1, "joint_3": 2, "joint_last": -1}


def joint_moved(heard: Heard, before: dict[str, Any], last: list[str]) -> None:
    """The place of the joint that is named among those in force; the others stay."""
    had = before.get("joint_at")
    if had and "joint_at" in heard.slots and "one_more_joint" in heard.changes:
        more = {place["value"]: place for place in (*had, *heard.slots["joint_at"])}
        heard.slots["joint_at"] = [more[at] for at in sorted(more)]
        return
    named = [PLACES[turn] for turn in PLACES if turn in heard.changes]
    if had and len(had) == 1 and not named and "joint_at" in last and _nearer_to_it(heard, before):
        named = [0]
    if had and not named and {"by moved", "joint"} <= heard.marks:  # 'shift the joint to 4.5'
        named = [0] if len(had) == 1 else []
        if len(had) > 1:
            _which(heard, had)
            return
    if not had and {"by moved", "joint"} <= heard.marks and heard.lone is not None:
        _which(heard, [])
        return
    own = {"openings", "ends"} & set(heard.slots)
    if not had or len(named) != 1 or own or heard.walls or not -len(had) <= named[0] < len(had):
        return
    new, span, said = _said(heard, had[0]["unit"])
    if new is None or not alike(new["unit"], "m"):
        return
    places = [dict(place) for place in had]
    places[named[0]] = new
    for slot in ("length", "height", "thickness", "number", "block", "joint_at"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.doubts = [d for d in heard.doubts if span not in d.spans]
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height", "thickness", "block"}]
    heard.set_aside = [e for e in heard.set_aside if tuple(e["span"]) != span]
    heard.lone = None
    in_order = sorted(places, key=lambda place: float(place["value"]))
    if in_order != places and len({place["unit"] for place in places}) == 1:
        ask = f"Is {heard.text[slice(*span)]} the place of that joint? The others stand beyond it."
        heard.doubts.append(Doubt("joint_at", ask, [("Yes", {"joint_at": in_order})], spans=[span]))
        return
    heard.slots["joint_at"], heard.evidence["joint_at"] = places, [span]
    if not said:
        because = f"'{heard.text[slice(*span)]}' was taken as {new['value']:g} {new['unit']}, as before."
        heard.assumed.append({"slot": "joint_at", "value": new, "because": because})


def _which(heard: Heard, had: list[dict[str, Any]]) -> None:
    """One of several joints is moved, and not said which: asked."""
    new, span, _ = _said(heard, had[0]["unit"] if had else "m")
    if new is None or not alike(new["unit"], "m"):
        return
    for slot in ("length", "height", "thickness", "number", "block", "joint_at"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height", "thickness", "block"}]
    choices = [
        (f"The one at {show(one)}", {"joint_at": [new if one is two else two for two in had]}) for one in had
    ]
    heard.doubts = [d for d in heard.doubts if span not in d.spans]
    heard.doubts.append(Doubt("joint_at", "Which joint is that?", choices, spans=[span]))
    heard.lone = None


def _nearer_to_it(heard: Heard, before: dict[str, Any]) -> bool:
    """'4 then', after one joint at 5 in 8 m: nearer to its place than to any side of the wall."""
    size, place = heard.lone, before["joint_at"][0]
    if size is None or len(size.values) != 1 or heard.topics or heard.named or "wall" in heard.marks:
        return False
    if size.unit and not alike(size.unit, "m"):
        return False
    sides = [before[side] for side in ("length", "height") if isinstance(before.get(side), dict)]
    return all(apart(size, place) < apart(size, side) for side in sides)


def _said(heard: Heard, unit: str) -> tuple[dict[str, Any] | None, tuple[int, int], bool]:
    """The place that is told, where in the text, and whether with its unit."""
    told = heard.slots.get("joint_at") or []
    spans = heard.evidence.get("joint_at", [])
    if len(told) == 1 and spans:
        return dict(told[0]), spans[0], True
    size = heard.lone
    if size is None or len(size.values) != 1:
        return None, (0, 0), False
    return {"value": size.value, "unit": size.unit or unit}, (size.start, size.end), bool(size.unit)
