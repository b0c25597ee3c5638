"""Wishes lie over the phrases."""

from __future__ import annotations

from bot.reading.walk.walk import Walk


def lay_wishes(way: Walk) -> None:
    """Each wish goes with the item that it begins at, and names the weak words of its topic inside it."""
    begins, t = way.words.wishes, way.t
    places: dict[int, int] = {}
    for i in [i for i, token in enumerate(t) if token.text in begins]:
        found = way.words.wish(t, i)
        if not found:
            continue
        places = places or _places(way)
        if i not in places:
            continue
        for end, tags in found:
            first = way.items[places[i]]
            first.tags = (*first.tags, *(tag for tag in tags if tag not in first.tags))
            if end - i > 1:
                _name_weak(way, {places[k] for k in range(i, end) if k in places}, {tag[1] for tag in tags})


def _places(way: Walk) -> dict[int, int]:
    """The item that each token lies in."""
    t, at = way.t, 0
    places = {}
    for n, item in enumerate(way.items):
        while at < len(t) and t[at].start < item.end:
            places[at] = n
            at += 1
    return places


def _name_weak(way: Walk, inside: set[int], topics: set[str]) -> None:
    """A weak word of a topic names it strongly, where it lies inside a wish of that topic."""
    for n in inside:
        item = way.items[n]
        named = tuple(
            ("topic", tag[1], "strong")
            for tag in item.tags
            if tag[0] == "topic" and tag[1] in topics and tag[2] == "weak"
        )
        item.tags = (*item.tags, *(tag for tag in named if tag not in item.tags))
