"""The items of a message with the slots they fill: one slot, one value, each with its place in the text."""

from __future__ import annotations

from functools import cached_property
from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.items import Item, Measure, Tag
from bot.reading.words import Words
from knowledge.region import Region
from knowledge.units import UnitFault, convert

STOPS = {".", "?", "!", ";", "\n"}


def plain(size: Measure, unit: str) -> dict[str, Any]:
    """A measure as a slot has it."""
    value: dict[str, Any] = {"value": round(size.value, 9), "unit": unit}
    if size.bound:
        value["bound"] = size.bound
    return value


def same(one: Any, other: Any) -> bool:
    """Whether two slot values mean the same."""
    if not (isinstance(one, dict) and isinstance(other, dict) and "unit" in one and "unit" in other):
        return bool(one == other)
    try:
        apart = convert(one["value"], one["unit"], other["unit"]) - float(other["value"])
    except UnitFault:
        return False
    return abs(apart) < 1e-6 * max(1.0, abs(float(other["value"])))


FOOT = 12  # inches
METRIC = frozenset({"m", "cm", "mm", "m²", "m³"})


class Scene:
    """Items with neighbours, and the slots filled so far."""

    def __init__(
        self,
        items: list[Item],
        heard: Heard,
        region: Region,
        words: Words | None = None,
        feet: bool = False,  # the wall in force is in feet
    ) -> None:
        self.items = items
        self.heard = heard
        self.region = region
        self.sense = region.sense
        self.words = words or Words()
        self.topics: list[str] = []
        self.in_force: tuple[str, ...] = ()  # topics of the conversation so far
        self.named_strongly = False
        self.openings_told = False  # openings of the wall are in force
        self.owners: dict[int, int] = {}  # the opening that each size is of, where they take turns
        sizes = [size for item in items for size in item.sizes]
        small = [
            x.size for x in items if x.kind == "measure" and x.size.unit == "in" and x.size.value <= FOOT
        ]
        self.inches = bool(small)  # '6 inch blocks' say nothing of how a wall is measured
        self.feet = any(size.unit in {"ft", "in"} and size not in small for size in sizes) or any(
            item.kind == "word" and item.says("units.feet") for item in items
        )
        if (feet or region.units.get("wall") == "ft") and not any(size.unit in METRIC for size in sizes):
            self.feet = True
        self.degrees = region.units.get("temperature", "°C")
        for size in sizes:
            if size.unit == "°C" and size.lent:  # 'degrees' alone: those of the region
                size.unit = self.degrees

    # --- the whole message ---------------------------------------------------------------------------------

    @cached_property
    def _heads(self) -> frozenset[Tag]:
        return frozenset().union(*(item.heads() for item in self.items))

    @cached_property
    def cues(self) -> frozenset[str]:
        """The cues that any item is a word of."""
        return frozenset().union(*(item.cues for item in self.items))

    @property
    def amounts(self) -> bool:
        """Whether it asks how many or how much."""
        return self.tagged("ask", "quantity")

    def tagged(self, *head: str) -> bool:
        """Whether any item has a tag that begins so."""
        return head in self._heads

    def says(self, cue: str) -> bool:
        """Whether any item is, whole, one of the words of a cue."""
        return cue in self.cues

    def renew(self) -> None:
        """The items have changed: what was gathered from them is gathered anew."""
        for name in ("_heads", "cues", "nouns", "told"):
            self.__dict__.pop(name, None)

    # --- neighbours ----------------------------------------------------------------------------------------

    def at(self, i: int | None) -> Item | None:
        """The item at i, or None outside."""
        if i is None or i < 0:
            return None
        try:
            return self.items[i]
        except IndexError:
            return None

    def where(self, *head: str) -> list[int]:
        """The places of the items that have a tag that begins so."""
        return [i for i, x in enumerate(self.items) if x.tagged(*head)] if head in self._heads else []

    def right(self, i: int, over: str = "") -> int | None:
        """The next to the right, over small words and those of the cue `over`; None at a stop."""
        j = i + 1
        while j < len(self.items):
            item = self.items[j]
            if (item.kind in {"word", "phrase", "mark"} and item.says("small.word")) or item.says(over):
                j += 1
                continue
            return None if item.kind == "mark" and item.text in STOPS else j
        return None

    def left(self, i: int, over: str = "") -> int | None:
        """The next to the left, over small words and those of the cue `over`; None at a stop."""
        j = i - 1
        while j >= 0:
            item = self.items[j]
            if (item.kind in {"word", "phrase", "mark"} and item.says("small.word")) or item.says(over):
                j -= 1
                continue
            return None if item.kind == "mark" and item.text in STOPS else j
        return None

    def free(self, i: int | None) -> bool:
        """Whether item i is a measure or pair that nothing has taken."""
        item = self.at(i) if i is not None else None
        return item is not None and item.kind in {"measure", "dims", "range"} and not item.used

    def sizes(self) -> list[int]:
        """Indices of measures, pairs and ranges that nothing has taken yet."""
        return [
            i
            for i, item in enumerate(self.items)
            if item.kind in {"measure", "dims", "range"} and not item.used
        ]

    @cached_property
    def nouns(self) -> frozenset[str]:
        """All things that the message names."""
        return frozenset(tag[1] for item in self.items for tag in item.tags if tag[0] == "noun")

    @cached_property
    def told(self) -> dict[str, list[tuple[int, Item, str]]]:
        """By slot: the items whose words fill it, with the value that each stands for."""
        found: dict[str, list[tuple[int, Item, str]]] = {}
        for i, item in enumerate(self.items):
            for slot in {tag[1]: None for tag in item.tags if tag[0] == "slot"}:
                tag = item.tag("slot", slot)
                assert tag is not None
                found.setdefault(slot, []).append((i, item, tag[2]))
        return found

    def as_before(self, i: int) -> bool:
        """Whether 'same' stands at this phrase: it is as it was."""
        before = self.at(i - 1)
        return before is not None and before.tagged("connect", "same")

    def negated(self, i: int) -> bool:
        """Whether 'no', 'not', 'without' stands at this phrase, or it is taken away."""
        away = self.at(i + 1)
        if (
            away is not None
            and away.says("not.away")
            and any(x.says("not.take") for x in self.items[max(0, i - 3) : i])
        ):
            return True
        if away is not None and away.says("not.gone"):
            return True
        led = i > 1 and all(x.says("small.word") for x in self.items[i - 2 : i])  # 'lose one of the windows'
        for j in range(i - 1, max(-1, i - (5 if led else 4)), -1):
            item = self.items[j]
            if item.tagged("correct") and item.says("not.after_all") and j == i - 1:
                return True
            if item.tagged("not"):
                after = self.at(j + 1)
                return not (item.says("not.no") and after is not None and after.says("not.goes_on"))
            if (
                item.kind in {"measure", "dims", "ratio", "range", "mark"}
                or item.tagged("noun")
                or item.tagged("connect", "and")
            ):
                return False
            if item.tagged("slot"):
                return False
        after = self.at(i + 1)
        return after is not None and after.tagged("not") and after.says("not.behind")

    # --- claims --------------------------------------------------------------------------------------------

    def claim(self, slot: str, value: Any, *sources: Item, soft: bool = False) -> None:
        """Fill a slot. A second, different value is a doubt; where `soft`, it is left out."""
        spans = [(item.start, item.end) for item in sources]
        for item in sources:
            if item.kind != "phrase":
                item.used = slot
        slots = self.heard.slots
        if slot in slots and not same(slots[slot], value):
            if soft:  # nothing is dropped in silence
                for item in sources:
                    if item.kind in {"measure", "dims", "range", "ratio"}:
                        self.aside(item, f"a second {slot.replace('_', ' ')}")
                return
            if not any(doubt.slot == slot for doubt in self.heard.doubts):
                self.heard.doubts.append(
                    Doubt(
                        slot,
                        f"I read two values for the {slot.replace('_', ' ')}. Which one?",
                        [(show(slots[slot]), {slot: slots[slot]}), (show(value), {slot: value})],
                        spans=[*self.heard.evidence.get(slot, []), *spans],
                    )
                )
            return
        slots[slot] = value
        self.heard.evidence.setdefault(slot, [])
        for span in spans:
            if span not in self.heard.evidence[slot]:
                self.heard.evidence[slot].append(span)

    def assume(self, slot: str, value: Any, because: str) -> None:
        """Something supplied by us in the reading itself, said aloud."""
        entry = {"slot": slot, "value": value, "because": because}
        if entry not in self.heard.assumed:
            self.heard.assumed.append(entry)

    def aside(self, item: Item, why: str) -> None:
        """A number that is no dimension: said back."""
        item.used = item.used or "aside"
        self.heard.set_aside.append({"text": item.text, "span": [item.start, item.end], "why": why})

    def doubt(self, slot: str, ask: str, choices: list[tuple[str, dict[str, Any]]], *sources: Item) -> None:
        """Ask instead of guessing."""
        for item in sources:
            item.used = slot
        if not any(d.slot == slot for d in self.heard.doubts):
            spans = [(item.start, item.end) for item in sources]
            self.heard.doubts.append(Doubt(slot, ask, choices, spans=spans))


def show(value: Any) -> str:
    """A slot value on a button."""
    if isinstance(value, dict) and "unit" in value:
        return f"{value['value']:g} {value['unit']}"
    if isinstance(value, dict):
        return ", ".join(f"{show(v)}" for v in value.values())
    if isinstance(value, (list, tuple)):
        return " and ".join(show(v) for v in value) or "none"
    return str(value).replace("_", " ")
