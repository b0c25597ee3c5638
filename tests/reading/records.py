"""What must hold of every record, whatever was typed."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from typing import Any

from bot.talk import Reply

Plain = dict[str, Any]
OUTCOMES = {"answered", "needs", "declined", "acknowledged"}
STANDINGS = {"published", "common practice", "from memory"}
# Digits that are no number of their own: the power of a unit (m2, N/mm2), a rank (1st); read with their word.
PARTS_OF_WORDS = re.compile(r"(?<=[a-z])[23](?![0-9])|[0-9]+(?=(?:st|nd|rd|th)\b)", re.IGNORECASE)


def numbers(value: Any) -> Iterator[float]:
    """Every number anywhere in a record."""
    if isinstance(value, dict):
        for inner in value.values():
            yield from numbers(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, (int, float)) and not isinstance(value, bool):
        yield float(value)


def spans(record: Plain) -> list[tuple[int, int]]:
    """Every place of the message that a record accounts for."""
    found = [tuple(aside["span"]) for aside in record["set_aside"]]
    for answer in record["answers"]:
        for places in answer["evidence"].values():
            found += [tuple(place) for place in places]
    return found


def lost_digits(record: Plain) -> str:
    """Digits of an answered message that no reading stands on and that were not said back as unused."""
    text = record["question"]
    if record["outcome"] != "answered":  # asked or declined: nothing was built on a part of the message
        return ""
    held = {i for start, end in spans(record) for i in range(start, end)}
    held |= {i for match in PARTS_OF_WORDS.finditer(text) for i in range(*match.span())}
    return "".join(c if c.isdecimal() and i not in held else " " for i, c in enumerate(text)).strip()


def check(text: str, reply: Reply) -> None:
    """The promise of the machine-readable answer."""
    record = reply.record
    json.dumps(record, allow_nan=False)
    assert record["question"] == text
    assert record["outcome"] in OUTCOMES
    assert reply.outcome == record["outcome"]
    assert all(math.isfinite(n) for n in numbers(record)), text
    assert bool(record["answers"]) == (record["outcome"] == "answered"), text
    if record["outcome"] == "needs":
        assert record["needs"], text
    if record["outcome"] == "declined":
        assert record["declined"], text
    for start, end in spans(record):
        assert 0 <= start < end <= len(text), (text, start, end)
    for aside in record["set_aside"]:
        start, end = aside["span"]
        assert text[start:end] == aside["text"], aside
        assert aside["why"], aside
    for need in record["needs"]:
        assert need["slot"], need
        assert need["ask"], need
    for answer in record["answers"]:
        assert answer["rules"], text
        assert answer["cautions"], text
        assert all(answer["cautions"]), text
        assert set(answer["reading"]) <= set(answer["evidence"]), text
        for rule in answer["rules"]:
            assert rule["statement"], rule
            assert rule["source"], rule
            assert rule["standing"] in STANDINGS, rule
        for entry in answer["assumed"]:
            assert set(entry) == {"slot", "value", "because"}, entry
            assert entry["because"], entry
    kinds = [line.kind for line in reply.lines]
    assert reply.lines, text
    assert all(line.text for line in reply.lines), text
    if record["answers"]:
        assert {"rule", "caution"} <= set(kinds), text
