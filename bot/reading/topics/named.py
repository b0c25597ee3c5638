"""The topics that a message names, strongly or weakly, each with the item that names it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from bot.reading.items import Item
from bot.reading.scene import Scene

# Where only weak words are there, the first of these that is hinted at is the topic.
ORDER = (
    *("render", "mesh", "boards", "ties", "reinforcement", "crack", "mortar", "weather", "joints", "bearing"),
    *("safety", "blocks", "thermal", "wall"),
)


@dataclass
class Named:
    """Topics with the place of their word, while it is settled which of them are asked."""

    scene: Scene
    strong: dict[str, int]
    weak: dict[str, int]

    def __post_init__(self) -> None:
        self.items = self.scene.items

    @cached_property
    def words(self) -> set[str]:
        """Every single word of the message."""
        return {word for item in self.items for word in item.low.split()}

    @cached_property
    def ratio(self) -> int | None:
        """The place of the first ratio."""
        return next((i for i, x in enumerate(self.items) if x.kind == "ratio"), None)

    @cached_property
    def degrees(self) -> bool:
        """Whether a temperature is said."""
        return self.measured("°C", "°F")

    def drop(self, *topics: str) -> None:
        """Topics that are not asked."""
        for topic in topics:
            self.strong.pop(topic, None)

    def has(self, *topics: str) -> bool:
        """Whether all of these are named strongly."""
        return set(topics).issubset(self.strong)

    def others(self, topic: str) -> set[str]:
        """What else is named strongly."""
        return set(self.strong) - {topic}

    def word(self, topic: str) -> Item:
        """The item that names a topic strongly."""
        return self.items[self.strong[topic]]

    def speaks(self, cue: str) -> bool:
        """Whether a single word of the message is one of a cue."""
        return not self.words.isdisjoint(self.scene.words.cue[cue])

    def says(self, cue: str) -> bool:
        """Whether a whole item is one of a cue."""
        return self.scene.says(cue)

    def tagged(self, *head: str) -> bool:
        """Whether an item has a tag that begins so."""
        return self.scene.tagged(*head)

    def measured(self, *units: str) -> bool:
        """Whether a measure has one of these units."""
        return any(x.kind == "measure" and x.size.unit in units for x in self.items)

    def sized(self) -> bool:
        """Whether there is a measure or a pair."""
        return any(x.kind in {"measure", "dims"} for x in self.items)

    def free_ratio(self) -> bool:
        """Whether there is a ratio that nothing has taken."""
        return any(x.kind == "ratio" and not x.used for x in self.items)

    def asked_for(self, topic: str) -> bool:
        """Whether a topic is asked for itself: a quantity or a list stands at its word."""
        i = self.strong[topic]
        scene = self.scene
        if any(x.tagged("ask", "quantity") or x.tagged("ask", "need") for x in self.items[max(0, i - 3) : i]):
            return True
        before, after = scene.at(i - 1), scene.at(i + 1)
        if before is not None and before.says("list.and") and i >= 2 and self.items[i - 2].tagged("topic"):
            return True
        if after is None:
            return False
        two = scene.at(i + 2)
        if after.says("list.and") and two is not None and (two.tagged("topic") or two.tagged("ask")):
            return True
        return after.tagged("ask", "quantity") or after.says("topics.asked_behind")
