"""The machine-readable answer: one JSON object a message, the same for every front."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from bot.reading.heard import Doubt, Heard, Wall
from bot.speaking.numerals import tidy
from knowledge.answers import Answer, Decline, Finding, Need

Plain = dict[str, Any]
# Slots of the contract; what else was said stands beside it under "more".
CONTRACT = (
    *("length", "height", "thickness", "area", "walls", "shape", "faces", "courses", "openings", "block"),
    *("block_count", "ends", "place", "leaf", "cavity", "finish", "coat_thickness", "mix", "mortar_class"),
    *("mortar_volume", "bags", "buckets", "bag_size", "bucket_size", "joint_thickness", "plasticiser"),
    *(
        "bed_reinforcement",
        "joint_at",
        "spacing",
        "roll",
        "board",
        "load",
        "padstone",
        "crack",
        "temperature",
    ),
    *("trend", "rain", "wind", "work", "pack_size", "layers"),
)
_PLACE = {slot: place for place, slot in enumerate(CONTRACT)}


@dataclass
class Turn:
    """Everything that one turn found out."""

    region: str
    language: str
    heard: Heard
    slots: Plain
    findings: list[tuple[Finding, Wall | None]]
    doubts: list[Doubt]
    topics: list[tuple[str, tuple[str, ...]]]
    totals: list[Plain] = field(default_factory=list)
    why: str = ""  # what to say where nothing of it is ours


def contract(slots: Plain) -> Plain:
    """The slots of the contract, in its order."""
    said = [slot for slot, value in slots.items() if value is not None and slot in _PLACE]
    return {slot: tidy(slots[slot]) for slot in sorted(said, key=_PLACE.__getitem__)}


def others(slots: Plain) -> Plain:
    """The slots beside the contract."""
    return {slot: tidy(value) for slot, value in slots.items() if value is not None and slot not in _PLACE}


def finish(done: Turn) -> Plain:
    """Build the object of answer-contract.md."""
    heard = done.heard
    record: Plain = {
        "question": heard.text,
        "outcome": "declined",
        "region": done.region,
        "language": done.language,
        "answers": [],
        "needs": [],
        "declined": [],
        "set_aside": heard.set_aside,
        "in_force": contract(done.slots),
    }
    for finding, wall in done.findings:
        slots = {**done.slots, **wall.slots, **heard.shown} if wall else {**done.slots, **heard.shown}
        evidence = {**heard.evidence, **wall.evidence} if wall else heard.evidence
        if isinstance(finding, Answer):
            record["answers"].append(_answer(finding, slots, evidence, heard))
        elif isinstance(finding, Need):
            record["needs"].append(_need(finding, slots))
        else:
            record["declined"].append(_decline(finding, slots))
    for doubt in done.doubts:
        record["needs"].append(_doubt(doubt, done))
    if done.totals:
        record["totals"] = [tidy(total) for total in done.totals]
    record["outcome"] = _outcome(record, heard)
    if record["outcome"] == "declined" and not record["declined"]:
        record["declined"].append({"topic": _off_topic(heard), "wall": None, "reading": {}, "why": done.why})
    return record


def _off_topic(heard: Heard) -> str | None:
    return heard.topics[0][0] if heard.topics else None


def _outcome(record: Plain, heard: Heard) -> str:
    if record["answers"]:
        return "answered"
    if record["needs"]:
        return "needs"
    if heard.kind in {"chatter", "empty", "stale"} and not record["declined"]:
        return "acknowledged" if heard.kind != "empty" else "declined"
    return "declined"


def _answer(found: Answer, slots: Plain, evidence: dict[str, Any], heard: Heard) -> Plain:
    reading, more = contract(slots), others(slots)
    own = found.model_dump(exclude_none=True, exclude={"reading", "wall", "topic"})
    mine = [tidy(a) for a in heard.assumed if a["slot"] in slots]
    return {
        "topic": found.topic,
        "wall": found.wall,
        "reading": reading,
        "evidence": {slot: [list(s) for s in evidence.get(slot, [])] for slot in {**reading, **more}},
        "assumed": mine + [tidy(a) for a in own.get("assumed", [])],
        "repaired": [{"typed": a, "taken_as": b} for a, b in heard.repaired],
        "results": tidy(own["results"]),
        "working": tidy(own.get("working", [])),
        "rules": own["rules"],
        "cautions": list(own["cautions"]),
        "lead": list(own.get("lead", [])),
        "first": list(own.get("first", [])),
        "notes": list(own.get("notes", [])),
        **({"more": more} if more else {}),
    }


def _need(found: Need, slots: Plain) -> Plain:
    reading = contract(slots)
    choices = []
    for option in found.options:
        settles = option.reading.plain()
        choices.append(
            {"label": option.label, "reading": contract({**slots, **settles}), "settles": tidy(settles)}
        )
    need: Plain = {
        "topic": found.topic,
        "wall": found.wall,
        "reading": reading,
        "slot": found.slot,
        "ask": found.ask,
        "choices": choices,
    }
    if found.others:
        need["or"] = list(found.others)
    return need


def _slots(settles: Plain) -> Plain:
    return {slot: value for slot, value in settles.items() if slot not in {"topic", "wall", "said", "way"}}


def _doubt(doubt: Doubt, done: Turn) -> Plain:
    topic = done.topics[0][0] if done.topics else None
    of_wall = {wall.label: wall.slots for wall in done.heard.walls if wall.label is not None}
    choices = [
        {
            "label": label,
            "reading": contract(
                {**done.slots, **of_wall.get(settles.get("wall", ""), {}), **_slots(settles)}
            ),
            "settles": tidy(settles),
        }
        for label, settles in doubt.choices
    ]
    return {
        "topic": topic,
        "wall": None,
        "reading": contract(done.slots),
        "slot": doubt.slot,
        "ask": doubt.ask,
        "choices": choices,
        **({"or": list(doubt.others)} if doubt.others else {}),
    }


def _decline(found: Decline, slots: Plain) -> Plain:
    return {"topic": found.topic, "wall": found.wall, "reading": contract(slots), "why": found.why}
