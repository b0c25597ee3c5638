"""Openings told beside several like walls: one of them has them, or each."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.read import read
from bot.reading.scene import show
from bot.reading.several.shared_out import share, without
from bot.talking.asking import Ground, ask
from bot.talking.state import Plain, State, Topics, Whose
from knowledge.answers import Answer
from knowledge.rulebook import book

AMOUNTS = {"blocks", "render", "mesh", "mortar"}  # what goes by area, however the walls share it


@dataclass(frozen=True)
class Like:
    """The like walls before the message and after it."""

    state: State
    had: Plain
    slots: Plain
    topics: Topics
    label: str | None = None


def like_walls(like: Like, heard: Heard, text: str, whose: Whose | None) -> list[Wall] | None:
    """The walls told apart; None where they stay alike. Where it is not said, a doubt is put to it."""
    n = int(like.slots.get("walls") or 1)
    if n < 2 or "openings" not in heard.slots or not heard.slots["openings"] or heard.doubts:
        return None
    if whose is not None and whose.way:
        way, count = whose.way, 1
    else:
        said = share(text, like.state.language)
        way, count = (said.way, said.count) if said is not None else ("", 0)
    openings = heard.slots["openings"]
    if way == "together" and sum(o.get("count", 1) for o in openings) == 1:
        way, count = "some", 1
    if way == "each" or (way == "some" and count >= n):
        return None
    if way == "some":  # whatever is asked now: the next question may go by the openings
        return _apart(like, n, count)
    if not _matters(like):
        return None
    if way == "together" and _by_area(like):
        return [Wall(like.label, _as_one(like.slots, n), heard.evidence)]
    _ask(like, heard, text, n)
    return None


def read_alike(state: State, heard: Heard) -> Heard:
    """'2 of them have a door': the words that tell which walls have it count no walls anew."""
    had = 1 if state.walls else int(state.slots.get("walls", 1))
    if not heard.slots.get("openings") or max(had, int(heard.slots.get("walls", 1))) < 2:
        return heard
    told = share(heard.text, state.language)
    if told is None or told.end == told.start:
        return heard
    on = tuple(topic for topic, _ in state.topics)
    anew = read(without(heard.text, told), book(state.region).region, state.language, on)
    anew.text = heard.text
    alike = anew.slots.get("walls", had) > 1 and bool(anew.slots.get("openings")) and not anew.walls
    return anew if alike else heard


def _apart(like: Like, n: int, count: int) -> list[Wall]:
    """So many with what was told now, the others as they were."""
    bare = {k: v for k, v in like.slots.items() if k not in {"walls", "openings"}}
    before = {"openings": like.had["openings"]} if like.had.get("openings") else {}
    one = {**bare, "openings": like.slots["openings"], **({"walls": count} if count > 1 else {})}
    others = {**bare, **before, **({"walls": n - count} if n - count > 1 else {})}
    return [Wall(like.label or "1", one), Wall(like.label or "2", others)]


def _as_one(slots: Plain, n: int) -> Plain:
    """As one wall of the whole length."""
    long = {**slots["length"], "value": round(slots["length"]["value"] * n, 6)}
    return {**{k: v for k, v in slots.items() if k != "walls"}, "length": long}


def _by_area(like: Like) -> bool:
    return "length" in like.slots and bool(like.topics) and {t for t, _ in like.topics} <= AMOUNTS


def _matters(like: Like) -> bool:
    """Whether the answer is another with the openings than without them."""
    ground = Ground(book(like.state.region), like.state.confirmed, like.state.site, like.state.units)
    bare = {k: v for k, v in like.slots.items() if k != "openings"}
    shown = []
    for slots in (like.slots, bare):
        found = [f for topic, wants in like.topics for f in ask(topic, wants, None, slots, ground)]
        shown.append([(f.topic, f.results) if isinstance(f, Answer) else f.__class__ for f in found])
    return shown[0] != shown[1]


def _ask(like: Like, heard: Heard, text: str, n: int) -> None:
    """One of the walls, each of them, or all together."""
    openings = like.slots["openings"]
    single = sum(o.get("count", 1) for o in heard.slots["openings"]) == 1
    said = {"said": text, **({"wall": like.label} if like.label is not None else {})}
    size = f" of {show(like.slots['length'])}" if like.label is not None and "length" in like.slots else ""
    one = f"In one of the {n} walls{size}"
    choices = [(one if single else f"All in one of the {n} walls{size}", {**said, "way": "some"})]
    if not single and _by_area(like):
        long = show(_as_one(like.slots, n)["length"])
        label = f"Shared among the {n} walls, worked as one of {long}"
        choices = [(label, {**said, "way": "together"})]
    choices.append((f"In each of the {n} walls{size}", {**said, "way": "each"}))
    spans = heard.evidence.get("openings", [])
    full = [(label, {"openings": openings, **settles}) for label, settles in choices]
    heard.doubts.append(Doubt("openings", "Are the openings in one wall, or in each?", full, spans=spans))


def label_apart(walls: list[Wall]) -> None:
    """Where like walls were told apart and the labels are numbers, they are numbered anew."""
    labels = [wall.label for wall in walls]
    if len(set(labels)) < len(labels) and all(str(label).isdigit() for label in labels):
        for n, wall in enumerate(walls, start=1):
            wall.label = str(n)
        return
    for n, wall in enumerate(walls):
        if wall.label in labels[:n]:
            wall.label = f"{wall.label} {labels[: n + 1].count(wall.label)}"
