"""Wishes lie over the phrases."""

from __future__ import annotations

from bot.reading.walk.walk import Walk


def lay_wishes(way: Walk) -> None:
    """Each wish goes with the item that it begins at, and names the weak words of its topic inside it."""
    t = way.t
    at = 0
    places = {}
    for n, item in enumerate(way.items):
        while at < len(t) and t[at].start < item.end:
            places[at] = n
            at += 1
    i = 0
    while i < len(t):
        found = way.words.wish(t, i) if i in places else []
        if not found:
            i += 1
            continue
        for end, tags in found:
            first = way.items[places[i]]
            first.tags = (*first.tags, *(tag for tag in tags if tag not in first.tags))
            topics = {tag[1] for tag in tags}
            for n in {places[k] for k in range(i, end) if k in places}:
                item = way.items[n]
                named = tuple(
                    ("topic", tag[1], "strong")
                    for tag in item.tags
                    if tag[0] == "topic" and tag[1] in topics and tag[2] == "weak" and end - i > 1
                )
                item.tags = (*item.tags, *(tag for tag in named if tag not in item.tags))
        i += 1
