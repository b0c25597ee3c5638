"""A message in its conversation: what is in force, what it changes, what it corrects."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard
from knowledge.units import UnitFault, convert, kind

Plain = dict[str, Any]
FOLLOWS = {"same", "if", "just", "correct"}
SIZES = ("length", "height", "area", "thickness")
# Slots that belong to one question and do not pass to the next topic.
PASSING = {"mix", "mortar_class", "bags", "buckets", "crack", "temperature", "trend", "rain", "wind", "work", "load", "padstone", "joint_at", "joint_count", "spacing", "block_count", "rolls", "pack_size"}  # fmt: skip
OWN = {
    "mortar": {"mix", "mortar_class", "bags", "buckets", "block_count", "bag_size", "bucket_size", "plasticiser"},
    "render": {"mix", "coat_thickness", "bags", "buckets"},
    "crack": {"crack"},
    "weather": {"temperature", "trend", "rain", "wind", "work"},
    "bearing": {"load", "padstone"},
    "joints": {"joint_at", "joint_count", "spacing"},
    "blocks": {"block_count", "pack_size"},
    "mesh": {"rolls", "roll"},
}  # fmt: skip


def new_wall(heard: Heard, before: Plain) -> bool:
    """Whether the message speaks of another wall: said so, or a whole wall is described with its topic."""
    if "new" in heard.marks:
        return True
    if not before or heard.marks & FOLLOWS or not heard.topics:
        return False
    sized = "length" in heard.slots or "area" in heard.slots or any(d.slot in {"length", "area"} for d in heard.doubts)
    whole = {"length", "height"} <= set(heard.slots) or "area" in heard.slots or "wall" in heard.marks
    return sized and whole


def merge(before: Plain, heard: Heard, topics: list[str]) -> Plain:
    """The reading in force after this message."""
    force = dict(before)
    if new_wall(heard, before):
        force = {}
    if heard.topics:
        for slot in PASSING & set(force):
            if not any(slot in OWN.get(t, ()) for t in topics):
                del force[slot]
    for slot, value in heard.negated:
        if slot != "openings" and force.get(slot) == value:
            del force[slot]
        elif slot == "material" and (force.get("block") or {}).get("material") == value:
            force["block"] = {k: v for k, v in force["block"].items() if k != "material"}
    if "area" in heard.slots and "length" not in heard.slots:
        for slot in ("length", "height"):
            force.pop(slot, None)
    elif {"length", "height"} & set(heard.slots):
        force.pop("area", None)
    for slot, value in heard.slots.items():
        if slot == "openings":
            force[slot] = openings(force.get("openings"), value, heard)
        elif slot in {"block", "crack", "board", "roll"} and isinstance(force.get(slot), dict) and isinstance(value, dict):
            force[slot] = {**force[slot], **value}
        elif slot == "ends" and isinstance(force.get(slot), list) and None in value:
            force[slot] = [new if new is not None else old for new, old in zip(value, force[slot], strict=True)]
        else:
            force[slot] = value
    if "thickness" in heard.slots and "thickness" in (force.get("block") or {}):
        force["block"] = {k: v for k, v in force["block"].items() if k != "thickness"}
        if not force["block"]:
            del force["block"]
    elif "thickness" in (heard.slots.get("block") or {}):
        force.pop("thickness", None)
    if heard.negated and "openings" not in heard.slots and any(s == "openings" for s, _ in heard.negated):
        force["openings"] = openings(force.get("openings"), [], heard)
    return force


def openings(had: list[Plain] | None, said: list[Plain], heard: Heard) -> list[Plain]:
    """Openings after 'add a door', 'lose the other window', 'one of the windows is now a door'."""
    had = [dict(o) for o in had or []]
    text = f" {heard.text.lower()} "
    denied = [k for s, k in heard.negated if s == "openings"]
    for kind_ in denied:
        single = any(w in text for w in (" the other ", " one of ", " that ", " a ", " one ", " last "))
        _take_out(had, kind_, all_of=not single)
    if not said:
        return had if denied else []
    if not had:
        return said
    if " one of the " in text or " one of them " in text:
        swapped = next((o["kind"] for o in had if f"{o['kind']}s" in text.split(" one of ")[1].split(" is ")[0] + " "), None)
        if swapped:
            _take_out(had, swapped, all_of=False)
        new = [o for o in said if set(o) - {"kind", "count"}] or said
        return had + new
    adds = any(w in text for w in (" add ", " another ", " plus ", " also ", " extra ", " second ", " and a ", " as well", " more ", " too ", " with a ", " adding ", " put a ", " put in ", " and round "))
    if adds:
        for opening in said:
            if not set(opening) - {"kind", "count", "from_left", "from_right"} or " same" in text:
                like = next((o for o in reversed(had) if o["kind"] == opening["kind"]), had[-1])
                opening = {**{k: v for k, v in like.items() if k not in {"from_left", "from_right", "count"}}, **opening, "kind": like["kind"]}
            had.append(opening)
        return had
    kinds = {o["kind"] for o in said}
    kept = [o for o in had if o["kind"] not in kinds]
    if len(said) == 1 and not kept and len(had) == 1:
        return [{**had[0], **said[0]}] if not {"width", "height"} <= set(said[0]) else said
    return kept + said


def _take_out(had: list[Plain], kind_: str, all_of: bool) -> None:
    for opening in [o for o in had if kind_ in {o["kind"], "opening"}]:
        if all_of or opening.get("count", 1) == 1:
            had.remove(opening)
        else:
            opening["count"] -= 1
        if not all_of:
            return


def lone(heard: Heard, before: Plain, last: list[str], pending: str | None) -> None:
    """A bare number in a conversation takes the place and unit of what it follows on from."""
    size = heard.lone
    if size is None or len(size.values) != 1:
        return
    slot = _place(heard, before, last, pending)
    if slot is None:
        return
    value: Plain | None = None
    had = _get(before, slot)
    if size.unit:
        if slot not in {"length", "height", "thickness", "block.thickness", "coat_thickness", "cavity"}:
            return
        if had is not None and not _alike(size.unit, had["unit"]):
            return
        value = {"value": size.value, "unit": size.unit}
    elif had is not None and isinstance(had, dict) and "unit" in had:
        ratio = size.value / had["value"] if had["value"] else 0
        unit = had["unit"]
        if not 0.08 <= ratio <= 12:
            if unit == "m" and size.value >= 300:
                unit = "mm"
            elif unit == "mm" and size.value < 30:
                unit = "m"
            else:
                return
        value = {"value": size.value, "unit": unit}
    elif pending in {"length", "height"}:
        value = None
    if value is None:
        return
    _clear(heard)
    spans = [(size.start, size.end)]
    if slot.startswith("block."):
        heard.slots["block"] = {slot.partition(".")[2]: value}
        heard.evidence["block"] = spans
    else:
        heard.slots[slot] = value
        heard.evidence[slot] = spans
    if not size.unit:
        heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height", "thickness", "block"}]
        heard.assumed.append({"slot": slot.partition(".")[0], "value": value, "because": f"'{heard.text[size.start : size.end]}' was taken as {value['value']:g} {value['unit']}, as before."})


def _clear(heard: Heard) -> None:
    """Forget what the number was taken for when it was read alone."""
    for slot in ("length", "height", "thickness", "number"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
        heard.doubts = [d for d in heard.doubts if d.slot != slot]


def _place(heard: Heard, before: Plain, last: list[str], pending: str | None) -> str | None:
    if pending and pending in {"length", "height", "thickness"} and "correct" not in heard.marks:
        return pending if _get(before, pending) is not None else None
    for slot in reversed(last):
        if slot in {"length", "height", "thickness", "block.thickness", "coat_thickness", "cavity"} and _get(before, slot) is not None:
            if "correct" in heard.marks or heard.lone is not None:
                return slot
    return "length" if "length" in before else None


def _get(before: Plain, slot: str) -> Any:
    head, _, part = slot.partition(".")
    value = before.get(head)
    return value.get(part) if part and isinstance(value, dict) else value


def _alike(one: str, other: str) -> bool:
    try:
        return kind(one) == kind(other)
    except UnitFault:
        return False


def said(heard: Heard) -> list[str]:
    """The slots that a message filled, in order, for what follows on from it."""
    found = []
    for slot, value in heard.slots.items():
        if slot == "block" and isinstance(value, dict):
            found += [f"block.{part}" for part in value]
        else:
            found.append(slot)
    return found


def metres(value: Plain) -> float:
    """A length in metres."""
    return convert(value["value"], value["unit"], "m")
