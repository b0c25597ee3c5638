"""A message that names one of several walls in force changes that wall alone."""

from __future__ import annotations

import re

from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.read import read
from bot.reading.several.named import apart, names
from bot.reading.words import words
from bot.talking.carrying import carried, placed
from bot.talking.like_walls import Like, label_apart, like_walls
from bot.talking.state import Plain, State, Topics, Whose
from knowledge.rulebook import book

SIZES = ["length", "height"]


def in_force(state: State) -> dict[str, Plain]:
    """All the slots of each wall spoken of, by its label."""
    return {wall["label"]: {**state.slots, **wall["slots"]} for wall in state.walls}


def of_named(state: State, text: str, whose: Whose | None) -> tuple[Heard, Plain, Topics] | None:
    """The message read once for each wall that it names; None where it names none, or says nothing of it."""
    walls = in_force(state)
    if len(walls) < 2:
        return None
    if whose is not None:
        parts = [([whose.wall], text)]
    else:
        found = names(text, list(walls.items()), state.language)
        if all(one.label is None for one in found):
            return None
        parts = apart(text, found)
        if _taken_out(state, parts, walls):
            gone = {label for labels, _ in parts for label in labels}
            left = [Wall(label, slots) for label, slots in walls.items() if label not in gone]
            return Heard(text=text, walls=left), common([wall.slots for wall in left]), list(state.topics)
    whole = Heard(text=text)
    topics: Topics = []
    told = False
    changed: dict[str, list[Wall]] = {}
    for labels, said in parts:
        for label in walls if None in labels else [x for x in labels if x is not None]:
            heard = _read(state, said, walls[label])
            if heard.walls or "new" in heard.marks or heard.kind == "empty":
                return None
            had = walls[label]
            told = told or bool(heard.slots or heard.doubts or heard.negated)
            topics = placed(state, heard, had, SIZES, None)
            walls[label] = carried(had, heard, topics)
            like = like_walls(Like(state, had, walls[label], topics, label), heard, said, whose)
            if like is not None and isinstance(like, list):
                changed[label] = like
            _tell(whole, heard, label)
    if not told:
        return _of_what(whole, parts, walls, state)
    for label, slots in walls.items():
        whole.walls += changed.get(label) or [Wall(label, slots, whole.evidence)]
    label_apart(whole.walls)
    return whole, common([wall.slots for wall in whole.walls]), topics


def _of_what(
    whole: Heard, parts: list[tuple[list[str | None], str]], walls: dict[str, Plain], state: State
) -> tuple[Heard, Plain, Topics] | None:
    """'joints in b', 'just wall 2': told of that wall alone, and the others stand.

    'double wall 1': what is to change is asked, and the number of the wall is no size of it.
    """
    named = {label for found, _ in parts for label in found if label is not None}
    labels = sorted(label for label in named if label.isdigit())
    alone = _asked_alone(state, [said for _, said in parts])
    if not (alone or (labels and any(said.strip() for _, said in parts))) or not named:
        return None
    whole.walls = [Wall(label, slots) for label, slots in walls.items()]
    if whole.topics or alone:
        whole.only = named
        return whole, common([wall.slots for wall in whole.walls]), list(whole.topics or state.topics)
    whole.doubts = [Doubt("wall", f"What is to change in wall {labels[0]}?")]
    return whole, common([wall.slots for wall in whole.walls]), list(state.topics)


def _asked_alone(state: State, said: list[str]) -> bool:
    """Whether nothing is said of the walls but that they are the ones: 'just', 'what about', 'joints in'."""
    table = words(state.language)
    rest = [word for part in said for word in re.findall(r"\w+", part.lower())]
    heard = read(" ".join(said), book(state.region).region, state.language)
    asks = bool(heard.topics) and not (heard.slots or heard.set_aside or heard.unknown)
    only = any(word in table.cue["walls.only_of"] for word in rest)
    return asks or (only and all({"walls.only_of", "small.word"} & table.names(word) for word in rest))


def _taken_out(state: State, parts: list[tuple[list[str | None], str]], walls: dict[str, Plain]) -> bool:
    """'remove wall 2', 'leave out the back': of several walls one is built no longer."""
    table = words(state.language)
    rest = [word for _, said in parts for word in re.findall(r"\w+", said.lower())]
    gone = {label for labels, _ in parts for label in labels}
    if None in gone or not rest or gone >= walls.keys():
        return False
    away = any(word in table.cue["walls.removed"] for word in rest)
    return away and all(w in table.cue["walls.removed"] or "small.word" in table.names(w) for w in rest)


def some_again(state: State, heard: Heard) -> bool:
    """'left 4.5 m, right 4 m' after four walls: those two are told anew, the others stand."""
    had, told = {w["label"] for w in state.walls}, {w.label for w in heard.walls}
    return told < had and not heard.topics and "new" not in heard.marks


def _read(state: State, said: str, had: Plain) -> Heard:
    thing = next((o["kind"] for o in reversed(had.get("openings") or [])), None)
    on = tuple(topic for topic, _ in state.topics)
    return read(said, book(state.region).region, state.language, on, thing)


def _tell(whole: Heard, heard: Heard, label: str) -> None:
    """What was heard of one wall goes to what was heard of all; a doubt stays with its wall."""
    for doubt in heard.doubts:
        doubt.choices = [(said, {"wall": label, **settles}) for said, settles in doubt.choices]
    whole.doubts += [d for d in heard.doubts if d.slot not in {x.slot for x in whole.doubts}]
    whole.assumed += [a for a in heard.assumed if a not in whole.assumed]
    aside = [{**a, "text": whole.text[slice(*a["span"])]} for a in heard.set_aside]  # names are blank there
    whole.set_aside += [a for a in aside if a not in whole.set_aside]
    whole.repaired += [r for r in heard.repaired if r not in whole.repaired]
    whole.unknown += [u for u in heard.unknown if u not in whole.unknown]
    whole.topics = whole.topics or heard.topics
    whole.marks |= heard.marks
    for slot, spans in heard.evidence.items():
        kept = whole.evidence.setdefault(slot, [])
        kept += [span for span in spans if span not in kept]


def common(walls: list[Plain]) -> Plain:
    """What all the walls have alike."""
    return {k: v for k, v in walls[0].items() if all(k in w and w[k] == v for w in walls)}
