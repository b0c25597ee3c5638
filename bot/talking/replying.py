"""The reply to a turn: its record, its lines, and the choices of its first question."""

from __future__ import annotations

from dataclasses import replace

from bot.on_site import tell, tell_units
from bot.reading.heard import Doubt, Heard
from bot.record import Turn, finish
from bot.speaking.say import declined, lines
from bot.talking.asking import Found
from bot.talking.state import Choice, Line, Plain, Reply, State, Topics

MOST = 6  # buttons under one question


def replied(
    state: State,
    heard: Heard,
    slots: Plain,
    findings: Found | None = None,
    doubts: list[Doubt] | None = None,
    topics: Topics | None = None,
    totals: list[Plain] | None = None,
) -> Reply:
    """What goes back: all that was found, or a plain word where nothing was asked."""
    done = Turn(
        state.region,
        state.language,
        heard,
        slots,
        findings or [],
        doubts or [],
        topics or [],
        totals or [],
        declined(heard, state.language),
    )
    record = finish(done)
    if state.site:
        record["site"] = state.site
        for given in record["answers"]:
            tell(state.site, given)
    if state.units is not None:
        record["units"] = state.units
        for given in record["answers"]:
            tell_units(state.units, state.region, given)
    choices = tuple(
        _choice(choice["label"], choice["settles"])
        for need in record["needs"][:1]
        for choice in need["choices"][:MOST]
    )
    for need in record["needs"]:
        for choice in need["choices"]:
            choice.pop("settles")
    said = tuple([Line(kind, text) for kind, text in lines(record, heard)])
    corrected = "correct" in heard.marks and bool(state.topics)
    return Reply(outcome=record["outcome"], lines=said, choices=choices, record=record, corrected=corrected)


def in_these_words(reply: Reply, text: str) -> Reply:
    """The reply to a choice: what was read stands in the message before it, and in no place of this one."""
    answers = [{**a, "evidence": {slot: [] for slot in a["evidence"]}} for a in reply.record["answers"]]
    record = {**reply.record, "question": text, "answers": answers, "set_aside": []}
    return replace(reply, record=record)


def _choice(label: str, settles: Plain) -> Choice:
    slots = {slot: value for slot, value in settles.items() if slot not in {"topic", "wall", "said", "way"}}
    return Choice(
        label=label,
        slots=slots,
        topic=settles.get("topic"),
        wall=settles.get("wall"),
        said=settles.get("said"),
        way=settles.get("way"),
    )
