"""What a message speaks of: its own topics and walls, or those spoken of before."""

from __future__ import annotations

import re

from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.topics.mix_wants import AMOUNTS
from bot.talking.state import Choice, Plain, State, Topics

SHORT = 10  # words: 'ok n if we got the render on instead'


def topics_in_force(state: State, heard: Heard) -> Topics:
    """Topics of this message; where it names none, those in force, with the wishes that it adds."""
    if heard.topics:
        names = [t for t, _ in heard.topics]
        before = [t for t, _ in state.topics]
        if _work_in_weather(heard, names, before):
            heard.slots["work"] = "render" if names == ["render"] else "lay"
            return [("weather", ())]
        if names == ["safety"] and before == ["crack"] and set(heard.topics[0][1]) <= {"new_wall"}:
            return [("crack", ())]  # 'can i just prop it'
        if names == ["blocks"] and "mortar" in before and _only_counted(heard):
            return list(state.topics)  # 'how much mortar', then '320 blocks'
        if (
            names == ["mortar"]
            and {"render", "mesh"} & set(before)
            and "new" not in heard.marks
            and not re.search(r"mortar|muck|lay|block|brick", heard.text.lower())
        ):
            return [("render", heard.topics[0][1])]
        if (
            heard.weak
            and ({"mix", "mortar_class"} & set(heard.slots) or "which class" in heard.marks)
            and not {"mortar", "render", "wall"} & set(before)
        ):
            return heard.topics
        if names == ["render"] and "coat_thickness" in heard.slots and not {"render", "wall"} & set(before):
            return heard.topics  # 'both sides plaster 12 mm': a coat is asked, whatever was asked before
        if "same" in heard.marks and names == ["blocks"] and "block" in heard.slots and state.topics:
            return list(state.topics)
        if (
            not (heard.weak and state.topics and not (before == ["safety"] and "length" in heard.slots))
            if before == ["safety"]
            else not (heard.weak and state.topics and not {"length", "area"} <= set(heard.slots))
            or "new" in heard.marks
        ):
            return heard.topics
    if [t for t, _ in state.topics] == ["weather"] and {"area", "length"} & set(heard.slots):
        # 'how much stuff for 22 m²' after the weather: of what was to be done
        heard.topics = [("render", ())] if state.slots.get("work") == "render" else []
        return heard.topics
    return [(topic, _wished(heard, topic, wants)) for topic, wants in state.topics]


def _wished(heard: Heard, topic: str, before: tuple[str, ...]) -> tuple[str, ...]:
    """What is asked of it now; another mix alone is judged, and what was asked of the first is told again."""
    now = heard.wants.get(topic, ())
    if now == ("verdict",) and "mix" in heard.slots and AMOUNTS & set(before):
        return (*before, *now) if "verdict" not in before else before
    spaced = "spacing" in heard.slots and "length" not in heard.slots
    if topic == "joints" and before and now == ("joint_count",) and spaced:
        return before  # '8 m between joints ok?', then '12?'
    return now or before


def _only_counted(heard: Heard) -> bool:
    """Whether a number of blocks was told, and nothing asked of them."""
    return set(heard.slots) == {"block_count"} and set(heard.topics[0][1]) <= {"block_count"}


def _work_in_weather(heard: Heard, names: list[str], before: list[str]) -> bool:
    """'And render?' after the weather: the work is asked about, not another topic."""
    return (
        names in (["render"], ["mortar"])
        and before == ["weather"]
        and "mix" not in heard.slots
        and len(heard.text.split()) <= SHORT
        and not heard.topics[0][1]
    )


def same_walls(state: State, heard: Heard, slots: Plain) -> None:
    """A message that names no wall of its own speaks of all the walls spoken of before."""
    if (
        not state.walls
        or heard.walls
        or "new" in heard.marks
        or {"length", "area"} & {*heard.slots, *(d.slot for d in heard.doubts if not _of_which(d))}
    ):
        return
    gone = set(state.slots) - set(slots)
    heard.walls = [
        Wall(wall["label"], {k: v for k, v in {**wall["slots"], **heard.slots}.items() if k not in gone})
        for wall in state.walls
    ]


def _of_which(doubt: Doubt) -> bool:
    """Whether it asks of which wall a message is: the walls themselves stand."""
    return any("said" in settles for _, settles in doubt.choices)


def mend(state: State, heard: Heard) -> None:
    """What is typed for a wall that was misread is of that wall alone."""
    if state.mending is None or heard.walls or "new" in heard.marks or not (heard.slots or heard.doubts):
        return
    if heard.topics and not heard.weak and {"length", "area"} & set(heard.slots):
        return  # another wall, asked about in its own words
    for wall in state.walls:
        put_right = heard.slots if wall["label"] == state.mending else {}
        heard.walls.append(Wall(wall["label"], {**wall["slots"], **put_right}))
    heard.slots = {}


def chosen_of(choice: Choice, state: State, heard: Heard) -> None:
    """A choice that is made while several walls are spoken of: of the one it names, else of all."""
    for wall in state.walls:
        settled = choice.slots if (choice.wall or state.mending) in {None, wall["label"]} else {}
        heard.walls.append(Wall(wall["label"], {**wall["slots"], **settled}))
    if choice.wall is not None or state.mending is not None:
        heard.slots = {}
