"""The phrases of words.toml: their shapes, the nouns inside them, and how they are looked up."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Tag
from bot.reading.letters import solid

Shape = tuple[str, ...]
# By the first word, then by how many words, the longest first: a message is looked up, not searched.
ByLength = dict[int, dict[Shape, tuple[Tag, ...]]]
Phrases = dict[str, ByLength]


def shape_of(phrase: str) -> Shape:
    """Its words, in lower case."""
    plain = phrase.isascii() and phrase.replace(" ", "").isalpha()  # most are, and need no closer look
    return tuple(phrase.lower().split()) if plain else tuple(token.text for token in solid(phrase))


def laid(merged: dict[Shape, list[Tag]]) -> Phrases:
    """Phrases as they are looked up."""
    found: Phrases = {}
    for shape in sorted(merged, key=len, reverse=True):
        found.setdefault(shape[0], {}).setdefault(len(shape), {})[shape] = tuple(merged[shape])
    return found


def flatten(table: dict[str, Any], head: Tag) -> list[tuple[Tag, str]]:
    """Every phrase with its tag, in the order of the file."""
    found: list[tuple[Tag, str]] = []
    for key, value in table.items():
        if isinstance(value, dict):
            found += flatten(value, (*head, key))
        else:
            found += [((*head, key), phrase) for phrase in value]
    return found


ALONE = {"connect", "not", "correct", "hedge", "side", "aside", "off", "chatter", "filler", "dim", "noun"}
CARRIED = {"bag", "bucket", "cement", "sand", "lime", "roll", "cavity"}


def inherit(merged: dict[Shape, list[Tag]]) -> None:
    """A phrase carries the nouns inside it: 'bags of cement', 'blocks enough' still speak of bags, blocks."""
    for shape, tags in merged.items():
        heads = {tag[0] for tag in tags}
        if len(shape) < 2 or heads & ALONE:
            continue
        material = any(tag[:2] == ("slot", "material") for tag in tags)
        walls = any(tag[:2] == ("slot", "place") for tag in tags) and shape[-1] in {"wall", "walls"}
        if "slot" in heads and not material and not walls:
            continue
        inner: list[Tag] = []
        for length in range(len(shape) - 1, 0, -1):
            for start in range(len(shape) - length + 1):
                inner += merged.get(shape[start : start + length], [])
        for tag in inner:
            if walls:
                fits = tag[:2] == ("noun", "wall")
            elif material:
                fits = tag[:2] == ("noun", "block") or tag == ("topic", "blocks", "weak")
            else:
                fits = (tag[0] == "noun" and tag[1] in CARRIED) or tag[:2] == ("slot", "material")
                fits |= tag[:2] == ("noun", "block") and ("noun", "block") in merged.get(shape[:1], ())
            if fits and tag not in tags:
                tags.append(tag)
