"""A message in its conversation: what is in force, what it changes, what it corrects."""

from __future__ import annotations

from math import log
from typing import Any

from bot.reading.heard import Heard
from bot.reading.scene import Scene
from bot.reading.units import candidates
from knowledge.rulebook import Region
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
    sized = (
        "length" in heard.slots
        or "area" in heard.slots
        or any(d.slot in {"length", "area"} for d in heard.doubts)
    )
    whole = {"length", "height"} <= set(heard.slots) or "wall" in heard.marks
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
    elif {"length", "height"} <= {*heard.slots, *force} and {"length", "height"} & set(heard.slots):
        force.pop("area", None)
    for slot, value in heard.slots.items():
        if slot == "openings":
            force[slot] = openings(force.get("openings"), value, heard)
        elif (
            slot in {"block", "crack", "board", "roll"}
            and isinstance(force.get(slot), dict)
            and isinstance(value, dict)
        ):
            force[slot] = {**force[slot], **value}
        elif slot == "ends" and isinstance(force.get(slot), list) and None in value:
            force[slot] = [
                new if new is not None else old for new, old in zip(value, force[slot], strict=True)
            ]
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
        swapped = next(
            (o["kind"] for o in had if f"{o['kind']}s" in text.split(" one of ")[1].split(" is ")[0] + " "),
            None,
        )
        if swapped:
            _take_out(had, swapped, all_of=False)
        new = [o for o in said if set(o) - {"kind", "count"}] or said
        return had + new
    adds = any(
        w in text
        for w in (
            " add ",
            " another ",
            " plus ",
            " also ",
            " extra ",
            " second ",
            " and a ",
            " as well",
            " more ",
            " too ",
            " with a ",
            " adding ",
            " put a ",
            " put in ",
            " and round ",
        )
    )
    if adds:
        for opening in said:
            if not set(opening) - {"kind", "count", "from_left", "from_right"} or " same" in text:
                like = next((o for o in reversed(had) if o["kind"] == opening["kind"]), had[-1])
                opening = {
                    **{k: v for k, v in like.items() if k not in {"from_left", "from_right", "count"}},
                    **opening,
                    "kind": like["kind"],
                }
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


def lone(heard: Heard, before: Plain, last: list[str], pending: str | None, region: Region) -> None:
    """A bare number in a conversation takes the place and unit of what it follows on from."""
    _same_unit(heard, before)
    size = heard.lone
    if size is None or len(size.values) != 1 or not before and not pending:
        return
    if pending in {"length", "height", "area"} and pending not in before and "correct" not in heard.marks:
        scene = Scene([], heard, region)
        options = candidates(scene, size, "wall") if pending != "area" else []
        if len(options) == 1:
            _clear(heard)
            heard.slots[pending] = options[0]
            heard.evidence[pending] = [(size.start, size.end)]
        return
    slot = _place(heard, before, last)
    if slot is None:
        return
    value: Plain | None = None
    had = _get(before, slot)
    if size.unit:
        if slot not in NUMBERS:
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
        heard.assumed = [
            a for a in heard.assumed if a["slot"] not in {"length", "height", "thickness", "block"}
        ]
        heard.assumed.append(
            {
                "slot": slot.partition(".")[0],
                "value": value,
                "because": f"'{heard.text[size.start : size.end]}' was taken as {value['value']:g} {value['unit']}, as before.",
            }
        )


def _clear(heard: Heard) -> None:
    """Forget what the number was taken for when it was read alone."""
    for slot in ("length", "height", "thickness", "number"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
        heard.doubts = [d for d in heard.doubts if d.slot != slot]


NUMBERS = (
    "length",
    "height",
    "thickness",
    "block.thickness",
    "coat_thickness",
    "cavity",
    "area",
    "temperature",
)


def _place(heard: Heard, before: Plain, last: list[str]) -> str | None:
    """The slot that a bare number speaks of: one that holds the value denied, else of those said last the one nearest in size."""
    size = heard.lone
    known = [slot for slot in NUMBERS if _get(before, slot) is not None]
    for slot in known:
        if any(abs(_get(before, slot)["value"] - v) < 1e-9 for v in heard.denied):
            return slot
    twin = [slot for slot in known if abs(_get(before, slot)["value"] - size.value) < 1e-9]
    if (
        size.unit
        and "correct" in heard.marks
        and len(twin) == 1
        and _alike(size.unit, _get(before, twin[0])["unit"])
    ):
        return twin[0]
    fits = [slot for slot in last if slot in known] or (["length"] if "length" in known else known[:1])
    if size.unit:
        fits = [slot for slot in fits if _alike(size.unit, _get(before, slot)["unit"])] or [
            s for s in known if _alike(size.unit, _get(before, s)["unit"])
        ][:1]
    if not fits:
        return None

    def apart(slot: str) -> float:
        had = _get(before, slot)
        if size.unit:
            one, two = convert(size.value, size.unit, had["unit"]), had["value"]
        else:
            one, two = size.value, had["value"]
        return abs(log(one / two)) if one > 0 and two > 0 else 99.0

    return min(fits, key=apart)


def _same_unit(heard: Heard, before: Plain) -> None:
    """'and 36 long?' after feet: a number in doubt takes the unit that its slot already has."""
    for doubt in list(heard.doubts):
        had = before.get(doubt.slot)
        if not isinstance(had, dict) or "unit" not in had:
            continue
        fits = [
            c for c in doubt.choices if set(c[1]) == {doubt.slot} and c[1][doubt.slot]["unit"] == had["unit"]
        ]
        if len(fits) == 1:
            heard.doubts.remove(doubt)
            heard.slots[doubt.slot] = fits[0][1][doubt.slot]
            heard.evidence[doubt.slot] = doubt.spans
            heard.assumed.append(
                {
                    "slot": doubt.slot,
                    "value": fits[0][1][doubt.slot],
                    "because": f"'{fits[0][0]}' by the unit used before.",
                }
            )


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
