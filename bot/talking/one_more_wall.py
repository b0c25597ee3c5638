"""A wall more beside those spoken of: all of them stand, each answered, and the total."""

from __future__ import annotations

from bot.reading.heard import Heard, Wall
from bot.reading.read import read
from bot.reading.several.further import one_more
from bot.talking.carrying import carried, placed
from bot.talking.of_one_wall import common, in_force
from bot.talking.state import Plain, State, Topics
from knowledge.rulebook import book

# What the next wall does not take over from those before it.
ITS_OWN = {
    *("length", "area", "openings", "ends", "walls", "shape", "courses", "block_count", "joint_at"),
    *("joint_count", "rolls", "bags", "buckets", "mortar_volume", "waste"),
}


COUNTED = {"blocks", "mortar", "render", "mesh", "boards", "ties", "wall"}


def further(state: State, text: str) -> tuple[Heard, Plain, Topics] | None:
    """The walls in force and the one that this message adds; None where it adds none."""
    walls = in_force(state)
    if not walls and ({"length", "area"} & set(state.slots)):
        walls = {"1": dict(state.slots)}
    if not walls or not state.topics:
        return None
    opening = any(slots.get("openings") for slots in walls.values())
    counted = bool(COUNTED & {topic for topic, _ in state.topics})
    said = one_more(text, len(walls), opening, state.language, counted)
    if said is None:
        return None
    on = tuple(topic for topic, _ in state.topics)
    heard = read(said, book(state.region).region, state.language, on)
    if heard.walls or not ({"length", "area"} & {*heard.slots, *(d.slot for d in heard.doubts)}):
        return None
    if heard.topics and {t for t, _ in heard.topics} != set(on):
        return None
    heard.text = text
    shared = {k: v for k, v in common(list(walls.values())).items() if k not in ITS_OWN}
    heard.lone = None
    topics = placed(state, heard, shared, [], None)
    new = carried(shared, heard, topics)
    numbers = [int(label) for label in walls if label.isdigit()]
    label = str(max([*numbers, len(walls)]) + 1)
    told = dict(heard.evidence)
    heard.walls = [Wall(name, slots) for name, slots in walls.items()]
    heard.walls.append(Wall(label, new, told))
    heard.evidence, heard.slots = {}, {}
    for doubt in heard.doubts:
        doubt.choices = [(said_, {"wall": label, **settles}) for said_, settles in doubt.choices]
    return heard, common([wall.slots for wall in heard.walls]), topics
