"""One size with no word of its own, with what stands beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene

Plain = dict[str, Any]


@dataclass(frozen=True)
class Alone:
    """A size at place i; `near` is what stands behind it, over small words."""

    scene: Scene
    i: int
    item: Item
    near: Item | None

    @property
    def size(self) -> Measure:
        """The size itself."""
        return self.item.size

    @property
    def slots(self) -> Plain:
        """What is filled so far."""
        return self.scene.heard.slots

    @property
    def millimetres(self) -> float:
        """Its length, where its unit was said; else 0."""
        return self.size.to_mm() if self.size.unit else 0.0

    def doubted(self, slot: str) -> bool:
        """Whether a slot is in doubt already."""
        return any(d.slot == slot for d in self.scene.heard.doubts)
