"""An opening in force that a message goes on from, and what it is told of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import log
from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.items import Item, Measure
from bot.reading.scene import show
from knowledge.senses import Sense
from knowledge.units import UnitFault, convert, kind

Plain = dict[str, Any]
ENDS = ("from_left", "from_right")
THEY = {"em", "them", "those", "theyre"}
NEAR = log(1.4)  # how far a size is from the one that it takes the place of
OF_A_WALL = ("length", "height", "number")  # what a size was taken for while it stood alone


@dataclass(frozen=True)
class Follow:
    """A message that names no opening, after a wall whose openings are in force."""

    heard: Heard
    openings: list[Plain]
    wall: Plain
    sense: Sense
    n: int  # the opening that is spoken of: the one that is named, or the last
    told: bool = False  # it was told right before, and nothing else

    @property
    def one(self) -> Plain:
        """The opening that is spoken of."""
        return self.openings[self.n]

    def with_one(self, *instead: Plain) -> list[Plain]:
        """All openings, with these in place of the one that is spoken of."""
        return [*self.openings[: self.n], *instead, *self.openings[self.n + 1 :]]

    def size(self) -> Measure | None:
        """The one size of the message, which no word gives to anything else."""
        heard = self.heard
        bare = [x for x in heard.bare if isinstance(x, Item)]
        if heard.lone is not None:
            found: Measure = heard.lone
            return found
        others = set(heard.slots) - {"openings"}
        return None if others or len(bare) != 1 or bare[0].kind != "measure" else bare[0].size

    def metric(self, size: Measure) -> Plain:
        """A place or height in the unit that stands at it, or the one that such a number has."""
        unit = size.unit or ("mm" if size.value >= self.sense.millimetres_never else "m")
        return {"value": size.value, "unit": unit}

    def placed(self) -> list[tuple[int, str]]:
        """The openings whose place was said, each with the end that it is measured from."""
        return [(n, end) for n, o in enumerate(self.openings) for end in ENDS if end in o]

    def metric_of(self, at: tuple[int, str]) -> float:
        """How far in metres an opening stands from the end that it is measured from."""
        place = self.openings[at[0]][at[1]]
        return convert(place["value"], place["unit"], "m")

    def put(self, openings: list[Plain], spans: list[tuple[int, int]], value: Plain, because: str) -> bool:
        """The openings as they are now; what was read of the wall for it is let go. Always True."""
        heard = self.heard
        for slot in OF_A_WALL:
            heard.slots.pop(slot, None)
            heard.evidence.pop(slot, None)
        of_wall = {"length", "height"}
        heard.doubts = [
            d for d in heard.doubts if d.slot not in of_wall and not (d.spans and set(d.spans) <= set(spans))
        ]
        heard.assumed = [a for a in heard.assumed if a["slot"] not in OF_A_WALL]
        heard.set_aside = [entry for entry in heard.set_aside if tuple(entry["span"]) not in spans]
        heard.slots["openings"] = openings
        heard.evidence["openings"] = spans
        heard.marks.add("all openings")
        heard.lone = None
        heard.assumed.append({"slot": "openings", "value": value, "because": because})
        return True


def instead(follow: Follow) -> bool:
    """'change the 1.2 to 1.5' after a window 1.2 wide: the side or place of an opening that was so."""
    heard, size = follow.heard, follow.size()
    if size is None or len(heard.denied) != 1 or any(_so(value, heard) for value in follow.wall.values()):
        return False
    found = [
        (n, part) for n, o in enumerate(follow.openings) for part, value in o.items() if _so(value, heard)
    ]
    if len(found) != 1:
        return False
    n, part = found[0]
    had = follow.openings[n][part]
    value = {"value": size.value, "unit": size.unit or had["unit"]}
    openings = [{**o, part: value} if k == n else o for k, o in enumerate(follow.openings)]
    because = f"Taken for the {follow.openings[n]['kind']}, in the place of what was taken back."
    return follow.put(openings, [(size.start, size.end)], value, because)


def _so(value: Any, heard: Heard) -> bool:
    """Whether it is the size that was taken back."""
    return isinstance(value, dict) and value.get("value") in heard.denied


def higher_or_lower(follow: Follow) -> bool:
    """'2 windows 900 x 1200', then 'make em 1050 high': nearer to their height than to the wall's."""
    heard, last, wall = follow.heard, follow.one, follow.wall.get("height")
    high = heard.slots.get("height")
    other = {"length", "openings", "area", "courses"} & set(heard.slots)
    if "by high" not in heard.marks or high is None or other or wall is None or "height" not in last:
        return False
    if not (follow.told or set(heard.stray) & THEY):
        return False
    try:
        new, had, whole = (convert(size["value"], size["unit"], "m") for size in (high, last["height"], wall))
    except UnitFault:
        return False
    if not 0 < new < whole or abs(log(new / had)) >= abs(log(new / whole)):
        return False
    filled = {**last, "height": high}
    because = f"The height was taken for the {last['kind']} told right before."
    return follow.put(follow.with_one(filled), heard.evidence.get("height", []), filled, because)


def one_so(follow: Follow) -> bool:
    """'2 windows 1.2 x 1.2', then 'make one 1.8': one of them, and never a side of the wall."""
    heard, last, size = follow.heard, follow.one, follow.size()
    many = last.get("count", 1)
    if "one so" not in heard.marks or size is None or (size.unit and kind(size.unit) != kind("m")):
        return False
    new = follow.metric(size) if size.unit or size.value >= follow.sense.millimetres_never else None
    new = new or {"value": size.value, "unit": "m"}
    span = (size.start, size.end)
    if "width" in last and "height" not in last and many > 1:  # each was told its width alone
        because = f"The width was taken for one {last['kind']}."
        split = follow.with_one({**last, "count": many - 1}, {**last, "count": 1, "width": new})
        return follow.put(split, [span], new, because)
    if many * len(follow.openings) < 2:
        return _its_side(follow, new, span)
    choices: list[tuple[str, Plain]] = []
    for side, way in (("width", "wide"), ("height", "high")) if many > 1 else ():
        split = follow.with_one({**last, "count": many - 1}, {**last, "count": 1, side: new})
        choices.append((f"One {last['kind']} is {show(new)} {way}", {"openings": split}))
    for slot in OF_A_WALL:
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.assumed = [a for a in heard.assumed if a["slot"] not in OF_A_WALL]
    heard.doubts = [d for d in heard.doubts if span not in d.spans]
    heard.doubts.append(
        Doubt(
            "number",
            f"What is {heard.text[slice(*span)]}: how wide it is, or how high?",
            choices,
            spans=[span],
        )
    )
    heard.lone = None
    return True


def _its_side(follow: Follow, new: Plain, span: tuple[int, int]) -> bool:
    """'the other one is 826 now', where one is left: the side that it is nearest to."""
    last = follow.one
    away = {
        side: abs(log(convert(new["value"], new["unit"], had["unit"]) / had["value"]))
        for side in ("width", "height")
        if (had := last.get(side)) is not None and had["value"] > 0 and new["value"] > 0
    }
    near = [side for side, apart in away.items() if apart < NEAR]
    if len(near) != 1:
        return False
    because = f"The size was taken for the {near[0]} of the {last['kind']}."
    return follow.put(follow.with_one({**last, near[0]: new}), [span], new, because)


def so_many_or_so_wide(follow: Follow, filled: Plain, side: str) -> bool:
    """'2 openings 1.2 wide', then '3': three of them, or 3 m? Always True."""
    heard, size, last = follow.heard, follow.heard.lone, follow.one
    span, n = (size.start, size.end), int(size.value)
    way = "high" if side == "height" else "wide"
    choices = [
        (f"{n} {last['kind']}s", {"openings": follow.with_one({**last, "count": n})}),
        (f"{show(filled[side])} {way}", {"openings": follow.with_one(filled)}),
    ]
    for slot in OF_A_WALL:
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.assumed = [a for a in heard.assumed if a["slot"] not in OF_A_WALL]
    heard.doubts.append(Doubt("openings", f"Is that {n} {last['kind']}s, or {n} m?", choices, spans=[span]))
    heard.lone = None
    return True


def them_all(follow: Follow) -> bool:
    """'make them 1.5 wide' of windows that were told one by one: each of them."""
    heard, last = follow.heard, follow.one
    side = next((s for s, mark in (("width", "by wide"), ("height", "by high")) if mark in heard.marks), None)
    slot = "length" if side == "width" else "height"
    size = heard.slots.get(slot)
    like = [n for n, o in enumerate(follow.openings) if o["kind"] == last["kind"]]
    if side is None or size is None or len(like) < 2 or not set(heard.stray) & THEY:
        return False
    if not set(heard.stray) <= THEY or {"openings", "length", "height"} & set(heard.slots) != {slot}:
        return False
    widest = follow.sense.opening_widest if side == "width" else follow.sense.opening_highest
    try:
        if convert(size["value"], size["unit"], "m") > widest:
            return False
    except UnitFault:
        return False
    each = [{**o, side: size} if n in like else o for n, o in enumerate(follow.openings)]
    because = f"The {side} was taken for each {last['kind']}."
    return follow.put(each, heard.evidence.get(slot, []), size, because)


def a_pair(heard: Heard) -> bool:
    """Whether both sizes were said as one."""
    return heard.evidence.get("length") == heard.evidence.get("height")


def as_high(follow: Follow) -> bool:
    """'2 windows 1.2', then '1.2 high': the height that the openings have not been told, below the wall's."""
    heard, last, wall = follow.heard, follow.one, follow.wall.get("height")
    if (
        "by high" not in heard.marks
        or "height" not in heard.slots
        or {"length", "openings"} & set(heard.slots)
    ):
        return False
    high = heard.slots["height"]
    if wall is None or "width" not in last or "height" in last or heard.stray:
        return False
    try:
        lower = convert(high["value"], high["unit"], "m") < convert(wall["value"], wall["unit"], "m")
    except UnitFault:
        return False
    if not lower:
        return False
    filled = {**last, "height": high}
    because = f"The height was taken for the {last['kind']}, which had none."
    return follow.put(follow.with_one(filled), heard.evidence.get("height", []), filled, because)
