"""What is in force after a message: what was said before, and what this one adds, changes or takes back."""

from __future__ import annotations

from typing import Any

from bot.following.new_wall import new_wall
from bot.following.openings import openings
from bot.reading.heard import Doubt, Heard
from knowledge.units import convert

Plain = dict[str, Any]
# Slots that belong to one question and do not pass to the next topic.
PASSING = {
    *(
        "mix",
        "mortar_class",
        "bags",
        "buckets",
        "crack",
        "temperature",
        "trend",
        "rain",
        "wind",
        "frost",
        "work",
    ),
    *("load", "padstone", "joint_at", "joint_count", "spacing", "block_count", "rolls", "pack_size"),
    *("spacing_courses", "boards"),
}
OWN = {
    "mortar": {
        *("mix", "mortar_class", "bags", "buckets", "block_count", "bag_size", "bucket_size", "plasticiser"),
    },
    "render": {"mix", "coat_thickness", "bags", "buckets"},
    "crack": {"crack"},
    "weather": {"temperature", "trend", "rain", "wind", "frost", "work"},
    "bearing": {"load", "padstone"},
    "joints": {"joint_at", "joint_count", "spacing"},
    "blocks": {"block_count", "pack_size"},
    "mesh": {"rolls", "roll"},
}


def merge(before: Plain, heard: Heard, topics: list[str]) -> Plain:
    """The reading in force after this message."""
    kept = heard.same if new_wall(heard, before) else before.keys()
    force = {slot: value for slot, value in before.items() if slot in kept}
    _pass_on(force, heard, topics)
    _take_back(force, heard)
    if "area" in heard.slots and "length" not in heard.slots:
        if heard.topics and not heard.weak and "length" in force:
            force.pop(
                "openings", None
            )  # 'ties for 60 m²' after a wall by its sides: other work than that wall
        for slot in ("length", "height"):
            force.pop(slot, None)
    elif {"length", "height"} <= {*heard.slots, *force} and {"length", "height"} & set(heard.slots):
        force.pop("area", None)
    for one, other in (("spacing", "spacing_courses"), ("spacing_courses", "spacing")):
        if one in heard.slots:
            force.pop(other, None)
    if "joint_count" in heard.slots and "joint_at" not in heard.slots:
        force.pop("joint_at", None)  # '3 joints at ...', then 'what if only 2'
    for slot, value in heard.slots.items():
        force[slot] = _changed(slot, force.get(slot), value, heard)
    if "in the middle" in heard.marks and "length" not in heard.slots:
        _in_the_middle(force, heard)
    _one_trend(force, before, heard)
    _one_thickness(force, heard)
    _one_height(force, heard, topics)
    if heard.negated and "openings" not in heard.slots and any(s == "openings" for s, _ in heard.negated):
        force["openings"] = openings(force.get("openings"), [], heard)
    return force


def _in_the_middle(force: Plain, heard: Heard) -> None:
    """'with a window in the middle 1.8 wide' of the wall in force: its place follows from both."""
    told, length = heard.slots.get("openings") or [], force.get("length")
    if len(told) != 1 or length is None or heard.doubts:
        return
    bare = [n for n, o in enumerate(force["openings"]) if o["kind"] == told[0]["kind"] and "width" in o]
    bare = [n for n in bare if not {"from_left", "from_right"} & set(force["openings"][n])]
    if len(bare) != 1 or force["openings"][bare[0]].get("count", 1) != 1:
        return
    one = force["openings"][bare[0]]
    wide = convert(one["width"]["value"], one["width"]["unit"], length["unit"])
    place = {"value": round((length["value"] - wide) / 2, 6), "unit": length["unit"]}
    if place["value"] <= 0:
        return
    force["openings"] = [
        {**o, "from_left": place} if n == bare[0] else o for n, o in enumerate(force["openings"])
    ]
    because = f"In the middle: {place['value']:g} {place['unit']} from the left end."
    heard.assumed.append({"slot": "openings", "value": place, "because": because})


def _pass_on(force: Plain, heard: Heard, topics: list[str]) -> None:
    """Where a topic is named, what belonged to the question before falls away."""
    if heard.topics:
        for slot in PASSING & set(force):
            if not any(slot in OWN.get(t, ()) for t in topics):
                del force[slot]


def _take_back(force: Plain, heard: Heard) -> None:
    """What is denied is no longer in force; openings have their own way."""
    for slot, value in heard.negated:
        if slot != "openings" and force.get(slot) == value:
            del force[slot]
        elif slot in {"material", "laid"} and (force.get("block") or {}).get(slot) == value:
            force["block"] = {k: v for k, v in force["block"].items() if k != slot}
            if not force["block"]:
                del force["block"]


def _changed(slot: str, had: Any, value: Any, heard: Heard) -> Any:
    """One slot as it stands now: a block keeps the sides that were not spoken of, a wall its other end."""
    if slot == "openings":
        return openings(had, value, heard)
    if (
        slot in {"block", "crack", "board", "roll", "padstone"}
        and isinstance(had, dict)
        and isinstance(value, dict)
    ):
        return {**had, **value}
    told = next((end for end in value if end), None) if slot == "ends" else None
    if slot == "ends" and isinstance(had, list) and None in value and "one end" in heard.marks:
        if None not in had and told not in had:  # 'return at one end' after both free: the other is free
            return [new if new is not None else old for new, old in zip(value, had, strict=True)]
        return value  # 'one end free' after both: the other is free no longer
    if slot == "ends" and isinstance(had, list) and "other end" in heard.marks:
        return _other_end(had, next(end for end in value if end), heard)
    if (
        slot == "ends"
        and isinstance(had, list)
        and None in value
        and None not in had
        and "an end" in heard.marks
    ):
        return _one_or_both(had, next(end for end in value if end), heard)
    if slot == "ends" and isinstance(had, list) and None in value:
        return [new if new is not None else old for new, old in zip(value, had, strict=True)]
    return value


def _one_or_both(had: list[str | None], value: str, heard: Heard) -> list[str | None]:
    """'free' where both ends were told: both of them now, or which?"""
    choices = [("Both ends", {"ends": [value, value]}), *_either(had, value)]
    ask = f"Is that both ends, or which? {value.capitalize()}."
    heard.doubts.append(Doubt("ends", ask, choices, spans=heard.evidence.get("ends", [])))
    return had


def _either(had: list[str | None], value: str) -> list[tuple[str, Plain]]:
    return [("The left end", {"ends": [value, had[1]]}), ("The right end", {"ends": [had[0], value]})]


def _other_end(had: list[str | None], value: str, heard: Heard) -> list[str | None]:
    """'return on the left', then 'other end is a column': the one that was not told; else which is asked."""
    if None in had:
        return [value if end is None else end for end in had]
    spans = heard.evidence.get("ends", [])
    heard.doubts.append(Doubt("ends", "Which end is that?", _either(had, value), spans=spans))
    return had


def _one_trend(force: Plain, before: Plain, heard: Heard) -> None:
    """'2 rising', then '-1 tonight'; '4 and dropping', 'tomorrow 8': it does not rise or fall to that."""
    had, now = before.get("temperature"), heard.slots.get("temperature")
    if not had or not now or "trend" in heard.slots or had["unit"] != now["unit"]:
        return
    against = {"rising": now["value"] < had["value"], "falling": now["value"] > had["value"]}
    if against.get(force.get("trend", "")):
        del force["trend"]


def _one_thickness(force: Plain, heard: Heard) -> None:
    """The thickness of the wall or of its block: the one said last counts."""
    if "thickness" in heard.slots and "thickness" in (force.get("block") or {}):
        force["block"] = {k: v for k, v in force["block"].items() if k != "thickness"}
        if not force["block"]:
            del force["block"]
    elif "thickness" in (heard.slots.get("block") or {}):
        force.pop("thickness", None)


def _one_height(force: Plain, heard: Heard, topics: list[str]) -> None:
    """A height in metres or in courses: the one said last counts, where courses are what is asked about."""
    if "height" in heard.slots and "courses" not in heard.slots:
        force.pop("courses", None)
    elif "courses" in heard.slots and "height" not in heard.slots and {"blocks", "wall"} & set(topics):
        force.pop("height", None)
