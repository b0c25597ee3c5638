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


def _contract(tidied: Plain) -> Plain:
    """The slots of the contract, in its order."""
    said = [slot for slot in tidied if slot in _PLACE]
    said.sort(key=_PLACE.__getitem__)
    return {slot: tidied[slot] for slot in said}


def _others(tidied: Plain) -> Plain:
    """The slots beside the contract."""
    return {slot: value for slot, value in tidied.items() if slot not in _PLACE}


def finish(done: Turn) -> Plain:
    """Build the object of answer-contract.md."""
    heard = done.heard
    force = tidy(done.slots)
    record: Plain = {
        "question": heard.text,
        "outcome": "declined",
        "region": done.region,
        "language": done.language,
        "answers": [],
        "needs": [],
        "declined": [],
        "set_aside": heard.set_aside,
        "in_force": _contract(force),
    }
    for finding, wall in done.findings:
        own = {**wall.slots, **heard.shown} if wall else heard.shown
        slots = tidy({**done.slots, **own}) if own else force
        evidence = {**heard.evidence, **wall.evidence} if wall else heard.evidence
        if isinstance(finding, Answer):
            record["answers"].append(_answer(finding, slots, evidence, heard))
        elif isinstance(finding, Need):
            record["needs"].append(_need(finding, slots))
        else:
            record["declined"].append(_decline(finding, slots))
    for doubt in done.doubts:
        record["needs"].append(_doubt(doubt, done, force))
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
    reading, more = _contract(slots), _others(slots)
    mine = [tidy(a) for a in heard.assumed if a["slot"] in slots]
    return {
        "topic": found.topic,
        "wall": found.wall,
        "reading": reading,
        "evidence": {slot: [list(s) for s in evidence.get(slot, ())] for slot in (*reading, *more)},
        "assumed": mine
        + [{"slot": a.slot, "value": tidy(a.value), "because": a.because} for a in found.assumed],
        "repaired": [{"typed": a, "taken_as": b} for a, b in heard.repaired],
        "results": tidy(found.results),
        "working": [
            {"step": s.step, "expression": s.expression, "value": tidy(s.value)} for s in found.working
        ],
        "rules": [{**vars(rule)} for rule in found.rules],
        "cautions": list(found.cautions),
        "lead": list(found.lead),
        "first": list(found.first),
        "notes": list(found.notes),
        **({"more": more} if more else {}),
    }


def _need(found: Need, slots: Plain) -> Plain:
    choices = []
    for option in found.options:
        settles = tidy(option.reading)
        choices.append(
            {"label": option.label, "reading": _contract({**slots, **settles}), "settles": settles}
        )
    need: Plain = {
        "topic": found.topic,
        "wall": found.wall,
        "reading": _contract(slots),
        "slot": found.slot,
        "ask": found.ask,
        "choices": choices,
    }
    if found.others:
        need["or"] = list(found.others)
    return need


def _slots(settles: Plain) -> Plain:
    return {slot: value for slot, value in settles.items() if slot not in {"topic", "wall", "said", "way"}}


def _doubt(doubt: Doubt, done: Turn, force: Plain) -> Plain:
    topic = done.topics[0][0] if done.topics else None
    of_wall = {wall.label: tidy(wall.slots) for wall in done.heard.walls if wall.label is not None}
    choices = []
    for label, choice in doubt.choices:
        settles = tidy(choice)
        reading = {**force, **of_wall.get(settles.get("wall", ""), {}), **_slots(settles)}
        choices.append({"label": label, "reading": _contract(reading), "settles": settles})
    return {
        "topic": topic,
        "wall": None,
        "reading": _contract(force),
        "slot": doubt.slot,
        "ask": doubt.ask,
        "choices": choices,
        **({"or": list(doubt.others)} if doubt.others else {}),
    }


def _decline(found: Decline, slots: Plain) -> Plain:
    return {"topic": found.topic, "wall": found.wall, "reading": _contract(slots), "why": found.why}
