"""Doubts that make no difference, and the doubt of a wall that nothing was asked about."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.talking.asking import Ground, ask
from bot.talking.state import Plain, Topics
from knowledge.answers import Answer


def settle(topics: Topics, heard: Heard, slots: Plain, doubts: list[Doubt], ground: Ground) -> Plain | None:
    """Where every reading of a doubtful number leads to the same answer, take one and say so."""
    if (
        len(doubts) != 1
        or doubts[0].slot not in {"length", "height", "thickness"}
        or not 2 <= len(doubts[0].choices) <= 4
        or heard.walls
        or any("said" in settles for _, settles in doubts[0].choices)  # of which wall it is
    ):
        return None
    doubt = doubts[0]
    if not _all_the_same(topics, slots, doubt, ground):
        return None
    label, choice = doubt.choices[0]
    if doubt.spread is not None:
        label, choice = doubt.choices[-1]
        heard.shown[doubt.slot] = doubt.spread
    because = f"'{label}' was worked with; the other end or reading gives the same answer."
    for slot, value in choice.items():
        heard.slots[slot] = value
        heard.evidence[slot] = doubt.spans
        heard.assumed.append({"slot": slot, "value": value, "because": because})
    return {**slots, **choice}


def _all_the_same(topics: Topics, slots: Plain, doubt: Doubt, ground: Ground) -> bool:
    """Whether each choice is answered, and all of them alike."""
    shown: list[Any] = []
    for _, choice in doubt.choices:
        found = [f for topic, wants in topics for f in ask(topic, wants, None, {**slots, **choice}, ground)]
        answers = [f for f in found if isinstance(f, Answer)]
        if not found or len(answers) != len(found):
            return False
        shown.append(
            [(f.topic, {n: f.results[n] for n in f.lead}, sorted(r.id for r in f.rules)) for f in answers]
        )
    return all(one == shown[0] for one in shown[1:])


def which_topic() -> Doubt:
    """A wall was described and nothing asked."""
    names = [
        ("How many joints", "joints"),
        ("How many blocks", "blocks"),
        ("Which mortar", "mortar"),
        ("Everything", "wall"),
    ]
    return Doubt(
        "topic", "What do you want to know about it?", [(label, {"topic": name}) for label, name in names]
    )
