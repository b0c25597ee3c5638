"""A number alone that could as well be of something else: which of them is asked, never guessed."""

from __future__ import annotations

from math import log
from typing import Any

from bot.following.place import apart
from bot.reading.heard import Heard
from bot.reading.scene import show
from knowledge.region import Region
from knowledge.units import convert

Plain = dict[str, Any]
Choices = list[tuple[str, Plain]]
STRENGTHS = {"load", "block", "mix"}
CROSS = "x"
MOST, FEW = 99, 5  # openings or walls alike; what a number of openings is set right to
ALIKE, OTHER = log(1.4), log(4)  # how near a size is to what it may take the place of, how far from the rest
OF_AN_OPENING = ("width", "height", "from_left", "from_right", "sill")


def alone(heard: Heard) -> bool:
    """Whether the number is all that was said."""
    size = heard.lone
    return bool(heard.text[size.start : size.end] == heard.text.strip(" .,?!"))


def a_strength(size: Any, before: Plain, region: Region) -> bool:
    """'what about 7.3' where blocks bear a load: a strength that blocks are known by."""
    known = size.value in region.known.get("strength", ()) and size.decimal and not size.unit
    return known and bool(STRENGTHS & set(before))


def doubtful(
    heard: Heard, before: Plain, topics: tuple[str, ...], last: list[str], slot: str | None, region: Region
) -> Choices | None:
    """What it may be, where that is in doubt; None where it is not, and an empty list of open choices."""
    size = heard.lone
    if slot in {"length", "height"} and (found := _a_count(heard, before, slot)):
        return found
    if slot == "load" and (a_strength(size, before, region) or _a_thickness(size, before, region)):
        return []
    if slot == "block_count" and "correct" not in heard.marks and _a_thickness(size, before, region):
        return []
    of_blocks = slot in {"thickness", "block.thickness"} and not size.unit
    of_blocks = of_blocks and ("correct" not in heard.marks or "block_count" in before)
    if of_blocks and size.value not in region.known.get("thickness", ()):
        return []
    if slot == "area" and _as_well_a_thickness(heard, topics, region):
        return []
    if slot == "area" and alone(heard) and "length" in heard.slots and "length" not in before:
        return []
    if slot in {"length", "height"} and (name := _of_the_opening(size, before, last)):
        return _opening_or_wall(size, before, name, slot)
    if slot == "length" and before[slot]["unit"] == "ft" and _as_a_thickness(size, before, region):
        return []  # '150 then' of 6 inch blocks in a wall of 20 ft
    in_mm = slot in {"length", "height"} and not size.unit and before[slot]["unit"] == "mm"
    if in_mm and size.value in region.known.get("thickness", ()):  # '215' after 2400 mm high
        return []
    if slot == "length" and alone(heard) and _a_height(heard, before, region):
        high = {"value": size.value, "unit": size.unit or before["length"]["unit"]}
        return [(f"{show(high)} high", {"height": high}), (f"{show(high)} long", {"length": high})]
    return None


def _a_count(heard: Heard, before: Plain, slot: str) -> Choices:
    """'x3', 'there are 4': how many walls or openings, as soon as a size."""
    size, openings = heard.lone, before.get("openings") or []
    crossed = heard.text.strip(" .?!").lower() == f"{CROSS}{size.value:g}"
    counted = crossed or heard.text.strip(" .?!").lower() == f"{CROSS} {size.value:g}"
    several = any(one.get("count", 1) > 1 for one in openings)
    corrected = "correct" in heard.marks and several and size.value <= FEW
    corrected = corrected and not heard.denied and not heard.named
    counted = counted or "counted" in heard.changes or corrected  # 'my mistake 3' after two windows
    if not counted or size.unit or not size.whole or not 1 <= size.value <= MOST:
        return []
    many = int(size.value)
    choices: Choices = [(f"{many} walls like that", {"walls": many})]
    if openings:
        *others, one = openings
        choices.insert(0, (f"{many} × {one['kind']}", {"openings": [*others, {**one, "count": many}]}))
    own = {"value": size.value, "unit": before[slot]["unit"]}
    return [*choices, (OF_THE_WALL[slot].format(show(own)), {slot: own})]


def _as_a_thickness(size: Any, before: Plain, region: Region) -> bool:
    """A bare number that blocks are called by in millimetres, and no size that the wall had."""
    known = not size.unit and size.whole and size.value in region.known.get("thickness", ())
    return known and apart(size, before["length"]) > OTHER


def _a_thickness(size: Any, before: Plain, region: Region) -> bool:
    """'100' after a load, or after so many blocks, on a wall whose thickness nobody said."""
    said = "thickness" in before or "thickness" in (before.get("block") or {})
    return not said and not size.unit and size.value in region.known.get("thickness", ())


def _as_well_a_thickness(heard: Heard, topics: tuple[str, ...], region: Region) -> bool:
    """'15' and no more after so many m²: the thickness of a coat, a block or a board as soon as an area."""
    size = heard.lone
    if size.unit or not alone(heard):
        return False
    thin, thick = region.sense.coat_bare_behind
    coat = bool({"render", "boards"} & set(topics)) and thin <= size.value <= thick
    return coat or size.value in region.known.get("thickness", ())


def _of_the_opening(size: Any, before: Plain, last: list[str]) -> str | None:
    """'no 4 m' after a door at 3 m in a wall of 9: nearer to a size of the opening that was just told."""
    if "openings" not in last or not before.get("openings"):
        return None
    wall = [before[slot] for slot in ("length", "height") if isinstance(before.get(slot), dict)]
    own = {name: value for name, value in before["openings"][-1].items() if name in OF_AN_OPENING}
    if not wall or not own:
        return None
    nearest = min(own, key=lambda name: apart(size, own[name]))
    away, far = apart(size, own[nearest]), min(apart(size, had) for had in wall)
    near = (
        away < far if last == ["openings"] else away < ALIKE < OTHER < far
    )  # '9 x 2.4 door 900 x 2100', '1000'
    return nearest if near else None


OF_IT = {
    "width": "The {0} is {1} wide",
    "height": "The {0} is {1} high",
    "from_left": "The {0} is {1} from the left",
    "from_right": "The {0} is {1} from the right",
    "sill": "The sill is at {1}",
}
OF_THE_WALL = {"length": "The wall is {} long", "height": "The wall is {} high"}


def _opening_or_wall(size: Any, before: Plain, name: str, slot: str) -> Choices:
    *others, one = before["openings"]
    own = {"value": size.value, "unit": size.unit or one[name]["unit"]}
    walls = {"value": size.value, "unit": size.unit or before[slot]["unit"]}
    return [
        (OF_IT[name].format(one["kind"], show(own)), {"openings": [*others, {**one, name: own}]}),
        (OF_THE_WALL[slot].format(show(walls)), {slot: walls}),
    ]


def _a_height(heard: Heard, before: Plain, region: Region) -> bool:
    """'2.4' after a wall of 9 m whose height nobody said."""
    if {"height", "courses", "walls"} & set(before) or {"correct", "new"} & heard.marks or heard.denied:
        return False
    size, had = heard.lone, before.get("length")
    if not isinstance(had, dict):
        return False
    storey = 0 < convert(size.value, size.unit or had["unit"], "m") <= region.sense.storey_highest
    return storey and convert(size.value, size.unit or had["unit"], had["unit"]) < had["value"] / 2
