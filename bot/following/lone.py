"""A number said alone in a conversation: it takes the place and unit of what it follows on from."""

from __future__ import annotations

from math import log
from typing import Any

from bot.following.doubtful import Choices, a_strength, alone, doubtful
from bot.following.place import COUNTS, NUMBERS, alike, apart, get, place
from bot.following.same_unit import same_unit
from bot.following.thick_alone import thick_alone
from bot.reading.heard import Doubt, Heard
from bot.reading.items import Measure
from bot.reading.scene import Scene
from bot.reading.units import believable, candidates
from knowledge.region import Region
from knowledge.senses import Sense
from knowledge.units import convert, kind

Plain = dict[str, Any]
STRENGTH = "N/mm²"
OF_A_WALL = {"joints", "blocks", "wall"}  # topics where a number alone is how long the wall is
FAR, NEAR = log(2), log(1.4)  # how far a size is from what it may take the place of
PICKED = {"number", "joint_at", "shape", "ends"}  # open questions that no bare number answers
ANSWERED = {"temperature": "", "load": "kN", "crack": "mm"}
"""Open questions that name the unit of their answer; that of the air is the region's."""


def lone(
    heard: Heard, before: Plain, topics: tuple[str, ...], last: list[str], pending: str | None, region: Region
) -> None:
    """A bare number in a conversation takes the place and unit of what it follows on from."""
    same_unit(heard, before)
    size = heard.lone
    if size is None or len(size.values) != 1 or thick_alone(heard, before, topics, region):
        return
    if not (before or pending):
        return
    asked = (pending or "").removeprefix("confirm ")
    if size.spelt and size.value == 1 and not size.unit and asked not in COUNTS:  # 'one without a door'
        _ask_what(heard)
        return
    if _settled(heard, before, asked, last):
        return
    open_ = asked not in before or asked != pending
    new = bool(heard.topics) and not heard.weak  # 'joints for 12 m': a question of its own
    if (
        asked in {"length", "height", "area"}
        and open_
        and not new
        and ("correct" not in heard.marks or asked != pending)
    ):
        _to_the_question(heard, asked, region)
        return
    on = all(topic in topics for topic, _ in heard.topics)  # 'load 20' in talk of a padstone
    if asked in ANSWERED and asked not in before and (on or not new) and {*heard.stray} <= {asked}:
        if asked == "load" and not size.unit and heard.text.rstrip().endswith("?"):  # '150 ok?' of a bearing
            _ask_what(heard)
        else:
            _answers(heard, asked, region)
        return
    slot, before = _speaks_of(heard, before, topics, last, region)
    choices = doubtful(heard, before, topics, last, slot, region)
    if choices is not None:
        if slot != "load" or "strength" not in heard.slots.get("block", {}):  # '7.3': of the block or on it
            _ask_what(heard, choices)
        return
    small = size.unit and {"thickness", "block"} & set(heard.slots) and "length" not in heard.slots
    if small and slot not in {"cavity", "coat_thickness", "joint_thickness", "crack.width", "spacing"}:
        return  # small enough to be said of the block
    if slot in {None, "length"} and "length" not in last and a_strength(size, before, region):
        slot = "block.strength"
        before = {
            **before,
            "block": {"strength": {"value": size.value, "unit": STRENGTH}, **before.get("block", {})},
        }
    counts = slot == "height" and size.whole and "openings" in last and not (heard.denied or heard.named)
    if counts and apart(size, before["height"]) > NEAR:  # '2 windows 1.2', then '1'
        _ask_what(heard)
        return
    if slot not in {None, "temperature"} and _astray(heard, slot):
        _ask_what(heard)
        return
    if slot == "joint_count":
        _clear(heard)
        heard.slots[slot], heard.evidence[slot] = int(size.value), [(size.start, size.end)]
        heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height"}]
        return
    if slot in COUNTS and heard.topics and slot != "walls" and "blocks" not in [t for t, _ in heard.topics]:
        _ask_what(heard)
        return
    if slot in COUNTS:
        _clear(heard)
        heard.slots[slot] = int(size.value)
        heard.evidence[slot] = [(size.start, size.end)]
        return
    value = _taken(size, get(before, slot), region.sense) if slot is not None else None
    if slot == "height" and value is not None and "length" in before:
        longer = _taken(size, before["length"], region.sense)
        if longer is not None and not believable(Scene([], heard, region), value, "height"):
            slot, value = "length", longer
    if slot == "length" and value is None and "length" in heard.slots and "new" not in heard.marks:
        span = (size.start, size.end)
        if heard.evidence.get("length") == [span]:  # '600' after a wall of 9.5 m: no new length, unasked
            _clear(heard)
            heard.doubts.append(Doubt("number", f"What is {heard.text[slice(*span)]} in this?", spans=[span]))
    if slot is None or value is None:
        if slot is None and _of_no_wall(heard, before, topics, pending):
            _ask_what(heard)
        return
    _clear(heard)
    head, _, part = slot.partition(".")
    heard.slots[head] = {part: value} if part else value
    heard.evidence[head] = [(size.start, size.end)]
    if not size.unit:
        said = heard.text[size.start : size.end]
        because = f"'{said}' was taken as {value['value']:g} {value['unit']}, as before."
        heard.assumed = [
            a for a in heard.assumed if a["slot"] not in {"length", "height", "thickness", "block"}
        ]
        heard.assumed.append({"slot": head, "value": value, "because": because})


def _of_no_wall(heard: Heard, before: Plain, topics: tuple[str, ...], pending: str | None) -> bool:
    """'2 then', after coats of render: no wall is spoken of, and nothing was asked that it would answer."""
    wall = bool({"length", "height", "area"} & set(before) or OF_A_WALL & set(topics) or heard.topics)
    said = wall or bool(pending) or "wall" in heard.marks or bool(heard.named)
    return not said and not heard.lone.unit and not heard.lone.decimal and "length" in heard.slots


def _settled(heard: Heard, before: Plain, asked: str, last: list[str]) -> bool:
    """What the words beside the number settle, before it is looked for among what is in force."""
    size = heard.lone
    if "new" in heard.marks and "length" in heard.slots:
        return True  # of another wall, as it is read alone
    if "laid with" in heard.marks and "block" in heard.slots:
        return True  # 'with 140': of the block
    if "crossed" in heard.marks and "length" in before and "height" not in before:  # '10.5', then 'x 2.6'
        _clear(heard)
        heard.slots["height"] = {"value": size.value, "unit": size.unit or before["length"]["unit"]}
        heard.evidence["height"] = [(size.start, size.end)]
        return True
    if last == ["waste"] and not size.unit and "waste" in before and not heard.topics:
        _clear(heard)
        heard.slots["waste"] = {"value": size.value, "unit": "%"}
        heard.evidence["waste"] = [(size.start, size.end)]
        heard.assumed.append(
            {"slot": "waste", "value": f"{size.value:g} %", "because": "Taken as waste, as before."}
        )
        return True
    bare = len(heard.text.split()) <= 2 and not heard.denied and "correct" not in heard.marks
    after_another = asked in PICKED and bare and not size.unit  # one that was asked about and not told
    if after_another or ("change" in heard.marks and not _was_so(heard, before)):
        _ask_what(heard)
        return True
    return False


def _speaks_of(
    heard: Heard, before: Plain, topics: tuple[str, ...], last: list[str], region: Region
) -> tuple[str | None, Plain]:
    """The slot that it is of, and what is in force with a place for it there."""
    size = heard.lone
    if _of_the_cavity(size, before, topics) and alone(heard):
        return "cavity", {**before, "cavity": {"value": size.value, "unit": "mm"}}
    if _of_a_coat(heard, before, topics, region):
        return "coat_thickness", {**before, "coat_thickness": {"value": size.value, "unit": "mm"}}
    slot = _nearer_height(heard, before, place(heard, before, last))
    other = slot in {"load", "thickness", "block.thickness"} and a_strength(size, before, region)
    if other and get(before, "block.strength") is not None:
        slot = "block.strength"  # 'and 7.3' after 3.6
    return slot, before


def _nearer_height(heard: Heard, before: Plain, slot: str | None) -> str | None:
    """'8.5', then 'and 2.7' of a wall of 8.5 by 2.4: far from its length, and near its height."""
    told = isinstance(before.get("length"), dict) and isinstance(before.get("height"), dict)
    if slot != "length" or not told or heard.denied or heard.named or "new" in heard.marks:
        return slot
    long, high = (apart(heard.lone, before[side]) for side in ("length", "height"))
    return "height" if long > FAR and high < NEAR else slot


def _answers(heard: Heard, asked: str, region: Region) -> None:
    """A bare number after a question that named its unit: in that unit, and said so."""
    size = heard.lone
    wanted = ANSWERED[asked] or region.units.get("temperature", "°C")
    unit = size.unit or wanted
    if kind(unit) != kind(wanted) or (asked != "temperature" and size.value <= 0):
        return
    if asked == "temperature" and abs(size.value) > region.sense.hottest:
        return
    said, span = heard.text[size.start : size.end], (size.start, size.end)
    value = {"value": size.value, "unit": unit}
    _clear(heard)
    heard.slots[asked] = {**heard.slots.get("crack", {}), "width": value} if asked == "crack" else value
    heard.evidence[asked] = [span]
    if not size.unit:
        because = f"'{said}' was taken as {value['value']:g} {unit}, as it was asked for."
        heard.assumed.append({"slot": asked, "value": value, "because": because})


def _of_a_coat(heard: Heard, before: Plain, topics: tuple[str, ...], region: Region) -> bool:
    """'12 ok' in talk of render, where no wall is spoken of: a coat."""
    size, sized = heard.lone, {"length", "height", "area", "coat_thickness"} & set(before)
    thin, thick = region.sense.coat_bare
    return topics == ("render",) and not (sized or size.unit or size.decimal) and thin <= size.value <= thick


def _of_the_cavity(size: Measure, before: Plain, topics: tuple[str, ...]) -> bool:
    """'125mm' after the ties of a cavity whose width was not told."""
    return topics == ("ties",) and "cavity" not in before and size.unit == "mm"


def _was_so(heard: Heard, before: Plain) -> bool:
    """'change 8 to 12': whether anything in force is the size that is to be changed."""
    sizes = [get(before, slot) for slot in NUMBERS]
    counts = [before.get(slot) for slot in COUNTS]
    return any(value["value"] in heard.denied for value in sizes if value) or any(
        n in heard.denied for n in counts
    )


def _astray(heard: Heard, slot: str | None) -> bool:
    """Whether words beside the number may say that it is of something else."""
    if "load" in heard.stray:  # 'load 20' in talk of blocks
        return slot != "load"
    if any(topic == "bearing" for topic, _ in heard.topics):
        return True  # 'bearing 150' after a load: how long it bears
    changed = heard.denied or "correct" in heard.marks
    if "openings" in heard.slots and not heard.text[: heard.lone.start].strip():
        return False  # '7 m with a door in the middle'
    return bool(heard.stray) and not changed and not heard.topics and "wall" not in heard.marks


def _ask_what(heard: Heard, choices: Choices | None = None) -> None:
    """The number stays out of every slot, and is asked about."""
    size = heard.lone
    _clear(heard)
    span = (size.start, size.end)
    if not any(span in d.spans for d in heard.doubts):
        ask = f"What is {heard.text[slice(*span)]} in this?"
        heard.doubts.append(Doubt("number", ask, choices or [], spans=[span]))


def _to_the_question(heard: Heard, pending: str, region: Region) -> None:
    """A number after an open question answers it, where it can be read in one way."""
    size = heard.lone
    if size.unit == "mm" and size.value in region.known.get("thickness", ()):  # '140 mm' is no wall's length
        return
    options = candidates(Scene([], heard, region), size, "wall") if pending != "area" else []
    if len(options) == 1:
        _clear(heard)
        heard.slots[pending] = options[0]
        heard.evidence[pending] = [(size.start, size.end)]


def _taken(size: Any, had: Any, sense: Sense) -> Plain | None:
    """The number with its own unit where it fits the place, else with the unit of what was there."""
    least, most = sense.changed
    if size.unit:
        if not alike(size.unit, had["unit"]):
            return None
        if had["value"] > 0 and size.value > 0 and kind(size.unit) == kind("m"):
            ratio = convert(size.value, size.unit, had["unit"]) / had["value"]
            if not least <= ratio <= most:
                return None
        return {"value": size.value, "unit": size.unit, **({"bound": size.bound} if size.bound else {})}
    if not isinstance(had, dict) or "unit" not in had or not had["value"]:
        return None
    ratio = size.value / had["value"]
    unit = had["unit"]
    if not least <= ratio <= most:
        if unit == "m" and size.value >= sense.millimetres_from:
            unit = "mm"
        elif unit == "mm" and size.value < sense.millimetres_never:
            unit = "m"
        else:
            return None
        if not least <= convert(size.value, unit, had["unit"]) / had["value"] <= most:
            return None  # '600' beside a wall of 9.5 m is no length of it
    return {"value": size.value, "unit": unit}


def _clear(heard: Heard) -> None:
    """Forget what the number was taken for when it was read alone."""
    slots = ["length", "height", "thickness", "number"]
    if heard.lone is not None:
        start, end = heard.lone.start, heard.lone.end
        heard.set_aside = [entry for entry in heard.set_aside if entry["span"] != [start, end]]
        if heard.evidence.get("block") == [(start, end)]:
            slots.append("block")
    for slot in slots:
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
        heard.doubts = [d for d in heard.doubts if d.slot != slot]
