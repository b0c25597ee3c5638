"""Of which of several walls is a message that names none? Asked, where it changes one wall alone."""

from __future__ import annotations

from math import log

from bot.following.for_the_opening import can_be_one
from bot.following.new_wall import new_wall
from bot.following.place import place
from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.scene import show
from bot.reading.several.several import WHICH
from bot.reading.several.shared_out import of_all, share
from bot.talking.like_walls import Like, label_apart, like_walls
from bot.talking.state import Plain, State, Topics, Whose
from knowledge.senses import Sense
from knowledge.units import convert

OF_ONE = ("openings", "ends", "length", "area")  # what one wall has for itself; all else is of all
MOST = 5  # walls on buttons


def goes_to(state: State, heard: Heard, walls: dict[str, Plain]) -> str:
    """'all', 'one' (which, is to be asked) or '': what it says is of no one wall."""
    if len(walls) < 2 or heard.walls or heard.doubts or new_wall(heard, state.slots):
        return ""
    own = any(heard.slots.get(slot) for slot in OF_ONE) or _size_alone(state, heard, walls)
    if not own:
        return ""
    return "all" if of_all(heard.text, state.language) else "one"


def _size_alone(state: State, heard: Heard, walls: dict[str, Plain]) -> bool:
    """'it's 5 m': nearer to the length of a wall than to the height of all."""
    size = heard.lone
    if size is None or heard.topics or len(size.values) != 1 or size.value <= 0:
        return False
    if state.asked and "height" in state.asked:
        return False
    full = next(iter(walls.values()))
    slot = place(heard, full, list(state.last))
    if slot not in {"length", "height"} or "length" not in full or "height" not in full:
        return slot == "length"
    try:
        away = [
            abs(log(size.value / convert(w[s]["value"], w[s]["unit"], size.unit or w[s]["unit"])))
            for s in ("height", "length")
            for w in walls.values()
            if s in w
        ]
    except (ValueError, ArithmeticError):
        return False
    return away.index(min(away)) >= sum("height" in w for w in walls.values())


def by_denied(heard: Heard, walls: dict[str, Plain]) -> str | None:
    """'change the 6.2 to 6.5': the one wall that is so long or so high."""
    found = [
        label
        for label, slots in walls.items()
        if any(slots.get(side, {}).get("value") in heard.denied for side in ("length", "height", "area"))
    ]
    return found[0] if len(found) == 1 else None


def by_its_opening(heard: Heard, walls: dict[str, Plain], sense: Sense) -> str | None:
    """'the second has a door', then '926 x 2040': the one wall with an opening whose size was not told."""
    width, height = (heard.slots.get(side) for side in ("length", "height"))
    if (
        heard.topics
        or width is None
        or height is None
        or heard.evidence.get("length") != heard.evidence.get("height")
    ):
        return None
    bare = [k for k, slots in walls.items() if any("width" not in o for o in slots.get("openings") or ())]
    return bare[0] if len(bare) == 1 and can_be_one(sense, width, height) else None


def ask_which(heard: Heard, walls: dict[str, Plain]) -> None:
    """The question which wall it is; what is in doubt is not read."""
    spans = [span for slot in OF_ONE for span in heard.evidence.get(slot, [])]
    if heard.lone is not None:
        spans = [(heard.lone.start, heard.lone.end)]
        for slot in ("height", "thickness"):
            heard.slots.pop(slot, None)
        heard.lone = None
    pair = heard.evidence.get("length") and heard.evidence.get("length") == heard.evidence.get("height")
    own = (*OF_ONE, "height") if pair else OF_ONE
    said = {slot: heard.slots.pop(slot) for slot in own if slot in heard.slots}
    heard.assumed = [a for a in heard.assumed if a["slot"] in heard.slots]
    openings = "openings" in said
    heard.doubts.append(
        Doubt(
            "openings" if openings else next(iter(said), "length"),
            WHICH if openings else "Which wall is that?",
            choices(heard.text, walls, said, openings),
            spans=spans,
        )
    )


def choices(text: str, walls: dict[str, Plain], said: Plain, openings: bool) -> list[tuple[str, Plain]]:
    """One for each wall, by its label and size, and one for all of them."""
    found: list[tuple[str, Plain]] = []
    for label, slots in list(walls.items())[:MOST]:
        settles = {**said, "said": text, "wall": label}
        n = slots.get("walls", 1)
        size = next((show(slots[s]) for s in ("length", "area") if s in slots), "")
        if n > 1 and openings:
            found.append((f"In one of the {n} walls of {size}", {**settles, "way": "some"}))
            continue
        name = f"wall {label}" if label.isdigit() or len(label) == 1 else label
        found.append((f"{name[0].upper()}{name[1:]}{f', {size}' if size else ''}", settles))
    found.append(("In each of them" if openings else "All of them", {**said, "said": text, "way": "each"}))
    return found


def of_own_walls(state: State, heard: Heard, topics: Topics, whose: Whose | None) -> bool:
    """'garage 6 by 3, all four walls, a door': which has it? True where the walls changed."""
    walls = {w.label: w for w in heard.walls if w.label is not None}
    if len(walls) < 2 or len(walls) != len(heard.walls):
        return False
    asked = next((d for d in heard.doubts if d.slot == "openings" and _by_wall(d)), None)
    alike = [w.slots.get("openings") for w in walls.values()]
    shared = alike[0] if alike[0] and all(o == alike[0] for o in alike) else None
    many = any(w.slots.get("walls", 1) > 1 for w in walls.values())
    if whose is not None and (asked is not None or shared):
        openings = asked.choices[0][1]["openings"] if asked is not None else shared or []
        heard.doubts = [d for d in heard.doubts if d is not asked]
        _give(state, heard, topics, whose, openings)
    elif many and (asked is not None or shared):
        said = share(heard.text, state.language)
        if asked is None and (heard.doubts or (said is not None and said.way == "each")):
            return False
        openings = asked.choices[0][1]["openings"] if asked is not None else shared
        for wall in heard.walls:
            wall.slots.pop("openings", None)
        heard.slots.pop("openings", None)
        heard.doubts = [d for d in heard.doubts if d is not asked]
        offered = choices(heard.text, {k: w.slots for k, w in walls.items()}, {"openings": openings}, True)
        heard.doubts.append(Doubt("openings", WHICH, offered))
    else:
        return False
    return True


def _by_wall(doubt: Doubt) -> bool:
    return bool(doubt.choices) and all("openings" in settles for _, settles in doubt.choices)


def _give(state: State, heard: Heard, topics: Topics, whose: Whose, openings: list[Plain]) -> None:
    """The openings go to the wall that was chosen, or to all; the others have none."""
    told: list[Wall] = []
    heard.slots.pop("openings", None)
    for wall in heard.walls:
        had = {k: v for k, v in wall.slots.items() if k != "openings"}
        if whose.wall is not None and wall.label != whose.wall:
            told.append(Wall(wall.label, had, wall.evidence))
            continue
        slots = {**had, "openings": openings}
        own = Heard(text=heard.text, slots={"openings": openings})
        split = like_walls(Like(state, had, slots, topics, wall.label), own, heard.text, whose)
        told += split or [Wall(wall.label, slots, wall.evidence)]
    label_apart(told)
    heard.walls = told
