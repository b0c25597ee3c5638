"""'laid 12 courses today, is it ok': how much wall is raised in a day."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene

OTHERS = {"blocks"}  # what the courses alone would name


def raised_in_a_day(scene: Scene, strong: dict[str, int]) -> int | None:
    """The place of what is raised, where it is asked whether so much may be raised in a day."""
    lift = scene.tagged("wants", "safety", "day_lift")
    spoken = lift or scene.says("day.raised") or scene.tagged("noun", "course")
    if not spoken or set(strong) - OTHERS - {"safety"}:
        return None
    text = f" {' '.join(x.low for x in scene.items)} "
    day = any(f" {words} " in text for words in scene.words.cue["day.one"])
    asked = scene.tagged("ask", "can") or scene.tagged("ask", "question") or scene.says("day.asked")
    if not day or not asked or scene.tagged("ask", "quantity"):
        return None
    return next((i for i, item in enumerate(scene.items) if _so_high(scene, i, item)), None)


def _so_high(scene: Scene, i: int, item: Item) -> bool:
    """'12 courses', '2 m', '2.4': a height of wall."""
    if item.kind != "measure" or item.used or item.size.negative:
        return False
    behind = scene.at(i + 1)
    if behind is not None and behind.tagged("noun", "course"):
        return item.size.whole
    return item.size.unit in {"m", "ft"} or (item.size.decimal and not item.size.unit)
