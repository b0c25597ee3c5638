"""Turns of speech that change what a conversation holds: one more, one of them, the same again."""

from __future__ import annotations

import re

from bot.reading.scene import Scene
from bot.reading.slots.opening_sizes import KINDS, stays

NTH = {"1": "first_one", "2": "second_one", "3": "third_one"}
_MARKS = re.compile(r"[.,;:!?]")


def find_changes(scene: Scene) -> set[str]:
    """Names of the turns that stand in the text, and `swap <kind>` for the opening that becomes another."""
    text = f" {_MARKS.sub(' ', scene.heard.text.lower())} "
    begins = scene.words.changes
    found = {turn for word in begins.keys() & text.split() for words, turn in begins[word] if words in text}
    if scene.items and scene.items[0].says("list.and"):
        found.add("begins_and")
    labels = [scene.items[i].low for i in scene.where("label") if not stays(scene, i)]
    if len(labels) == 1 and labels[0][-1:] in NTH:  # W1, D2
        found.add(NTH[labels[0][-1:]])
    if "swap" in found:
        at = min(text.find(f" {words} ") for words in scene.words.cue["change.swap"] if f" {words} " in text)
        words = text[at:].split()
        kinds = (k for word in words for k in KINDS if ("noun", k) in scene.words.written.get((word,), ()))
        found |= {f"swap {kind}" for kind in list(kinds)[:1]}
    return found
