"""Words that look like one of ours and are none for certain: said back, and asked about beside a number."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.numbers import WORDS
from bot.reading.scene import Scene

SIZES = {"measure", "ratio", "dims"}
PARTS = ("cement", "sand", "lime")


def find_unknown(scene: Scene) -> None:
    """Note every such word; what a number beside it is of is asked."""
    _no_cement(scene)
    for i, item in enumerate(scene.items):
        if item.kind != "word" or item.tags or item.used:
            continue
        part = _part(scene, i, item)
        if not part and not scene.words.like_ours(item.low):
            continue
        scene.heard.unknown.append(item.text)
        _where(scene, item)
        before = scene.at(i - 1)
        if (
            before is not None
            and before.kind == "word"
            and before.low in WORDS
            and "mix" in scene.heard.slots
        ):
            scene.doubt("mix", f"I do not know the word '{item.text}'. What is {before.text} of?", [], before)
        for near in (scene.at(scene.right(i)), scene.at(scene.left(i))):
            if near is not None and near.kind in SIZES and (part or not _told(scene, near, i)):
                ask = f"I do not know the word '{item.text}'. What is {near.text}?"
                slot = near.used if _read(near) else "mix" if near.kind == "ratio" or part else "number"
                scene.heard.doubts = [d for d in scene.heard.doubts if d.slot != slot]
                scene.doubt(slot, ask, [], near)
                break


def _where(scene: Scene, item: Item) -> None:
    """A word not known may be the place of an opening, where joints hang on it."""
    unplaced = [
        o for o in scene.heard.slots.get("openings") or [] if not {"from_left", "from_right"} & set(o)
    ]
    if unplaced and "joints" in scene.topics:
        kind = unplaced[0]["kind"]
        scene.doubt("openings", f"I do not know the word '{item.text}'. Where in the wall is the {kind}?", [])


def _no_cement(scene: Scene) -> None:
    """Cement was named and no part of it was read."""
    mix = scene.heard.slots.get("mix")
    if isinstance(mix, dict) and not mix.get("cement") and scene.tagged("noun", "cement"):
        scene.doubt("mix", "How many parts of cement, lime and sand?", [])


def _part(scene: Scene, i: int, item: Item) -> bool:
    """'1 lim': a number of parts and a slip of what they are of."""
    before = scene.at(i - 1)
    spelt = before is not None and before.kind == "word" and before.low in WORDS
    part = spelt or (before is not None and before.kind == "measure" and not before.size.unit)
    return part and any(scene.words.slip_of(item.low, name) for name in PARTS)


def _read(near: Item) -> bool:
    return bool(near.used) and near.used not in {"aside", "taken back", "moved", "label", "count"}


def _told(scene: Scene, near: Item, word: int) -> bool:
    """Whether a dimension word or noun on its other side says what the number is of."""
    at = scene.items.index(near)
    other = scene.at(at + 1) if word < at else scene.at(at - 1)
    return other is not None and bool(other.tagged("dim") or other.tagged("noun"))
