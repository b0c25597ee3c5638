"""Pattern, growth and place of a crack."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.put import put


def take_crack(scene: Scene) -> None:
    if "crack" not in scene.topics:
        return
    for i, item in enumerate(scene.items):
        for word in item.low.split():
            for part, value in _word_of_crack(scene, i, item, word):
                if part not in scene.heard.slots.get("crack", {}):
                    put(scene, "crack", part, value, item)
    where = _place(scene)
    if where and "crack" in scene.heard.slots:
        scene.heard.slots["crack"] = {**scene.heard.slots["crack"], "where": where}
    hair = next((x for x in scene.items if x.low.startswith("hairline")), None)
    if hair is not None and "width" not in scene.heard.slots.get("crack", {}):
        scene.heard.marks.add("hairline")
        scene.heard.slots.setdefault("crack", {})
        scene.heard.slots["crack"] = {
            "where": "hairline" if not where else f"hairline, {where}",
            **{k: v for k, v in scene.heard.slots["crack"].items() if k != "where"},
        }


def _word_of_crack(scene: Scene, i: int, item: Item, word: str) -> list[tuple[str, Any]]:
    """What a single word tells of a crack."""
    names = scene.words.names(word)
    pattern = next((name.partition(".")[2] for name in names if name.startswith("pattern.")), None)
    if pattern is not None and item.kind in {"word", "phrase"}:
        return [("pattern", pattern)]
    if "crack.growing" in names:
        before = scene.items[max(0, i - 3) : i]
        denied = scene.negated(i) or any(x.says("crack.not_growing") for x in before)
        noun = item.tagged("noun", "opening") and word == item.low  # 'a crack in the opening'
        return [] if noun else [("growing", not denied)]
    if "crack.steady" in names:
        return [("growing", False)]
    if "crack.leaning" in names and not scene.negated(i):
        return [("leaning", True)]
    return []


def _place(scene: Scene) -> str | None:
    text = " ".join(x.low for x in scene.items)
    return next((place for place in scene.words.cue["crack.where"] if place in text), None)
