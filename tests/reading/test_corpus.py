"""Every message of the corpus beside its label: no misread, and exact at or above the floor."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import Any

import pytest

from bot.talk import State, turn
from knowledge.questions import TOPICS, Reading
from tests.scorecard import (
    NEEDLESS_CEILING,
    Verdict,
    describe,
    faults,
    floors,
    judge,
    messages,
    needless,
    read_all,
    same,
    scorecard,
)

MESSAGES = messages()
TAGS = {
    "metric",
    "feet",
    "fractions",
    "words",
    "pairs",
    "ratios",
    "openings",
    "bare",
    "typos",
    "leftovers",
    "ranges",
}
TAGS |= {
    "negation",
    "correction",
    "hedge",
    "several",
    "general",
    "danger",
    "offtopic",
    "hostile",
    "impossible",
}
TAGS |= {"improbable", "asides", "ends"}


@cache
def verdicts() -> list[Verdict]:
    """Every message beside its label."""
    return read_all(MESSAGES)


def test_nothing_is_misread() -> None:
    misread = [describe(v) for v in verdicts() if v.misread]
    assert not misread, "\n".join(misread)


def test_exact_stays_at_or_above_its_floor() -> None:
    missed = [describe(v) for v in verdicts() if not v.exact]
    assert floors(verdicts()) == [], "\n".join([scorecard(verdicts()), *missed])


@pytest.mark.parametrize("region", ["US", "IN", "AU", "IE"])
def test_each_region_has_messages_of_its_own(region: str) -> None:
    """Sixty at least; half of them were put aside when they were written, until the others were done."""
    own = [m for m in MESSAGES if m["region"] == region]
    assert len(own) >= 60
    assert sum(m.get("unseen", False) for m in own) >= 30


def test_needless_asks_stay_few() -> None:
    asked = [describe(v) for v in verdicts() if v.needless]
    assert needless(verdicts()) <= NEEDLESS_CEILING, "\n".join(asked)


@pytest.mark.parametrize("tag", ["danger", "hostile", "offtopic"])
def test_what_is_not_ours_is_never_answered(tag: str) -> None:
    answered = [
        describe(v)
        for v in verdicts()
        if tag in v.message["tags"]
        and v.message["outcome"] == "declined"
        and v.record["outcome"] == "answered"
    ]
    assert not answered, "\n".join(answered)


def test_the_corpus_is_large_and_its_words_are_distinct() -> None:
    texts = [" ".join(m["text"].lower().split()) for m in MESSAGES]
    assert len(texts) >= 300
    assert [text for text, n in Counter(texts).items() if n > 1] == []
    outcomes = Counter(m["outcome"] for m in MESSAGES)
    assert min(outcomes[o] for o in ("answered", "needs", "declined")) >= 50
    for tag in TAGS:
        assert sum(tag in m["tags"] for m in MESSAGES) >= 5, tag


@pytest.mark.parametrize("message", MESSAGES, ids=[f"{m['file']} {m['number']}" for m in MESSAGES])
def test_labels_are_well_formed(message: dict[str, Any]) -> None:
    """A label speaks in the slots of the contract, in their types."""
    extra = {"file", "number", "region", "unseen", "also", "may", "walls", "unclear", "set_aside", "note"}
    assert set(message) - extra == {"text", "topics", "outcome", "reading", "tags"}
    assert message["outcome"] in {"answered", "needs", "declined", "acknowledged"}
    assert set(message["topics"]) <= set(TOPICS)
    assert set(message["tags"]) <= TAGS
    walls = [wall["reading"] for wall in message.get("walls", [])]
    for label in [message["reading"], *message.get("also", []), *walls]:
        ends = [end or None for end in label.get("ends", [])]
        plain = {k: v for k, v in label.items() if not (isinstance(v, dict) and "min" in v)}
        if ends:
            plain["ends"] = ends
        Reading.model_validate(plain)
    if message["outcome"] == "needs":
        assert message["unclear"]


# --- the scorecard itself: it must be able to see a fault -------------------------------------------------

LABEL: dict[str, Any] = {
    "text": "10 m wall 2.4 high, joints",
    "topics": ["joints"],
    "outcome": "answered",
    "reading": {"length": {"value": 10, "unit": "m"}, "height": {"value": 2.4, "unit": "m"}},
    "tags": [],
}


@pytest.mark.parametrize(
    ("text", "misread"),
    [
        ("10 m wall 2.4 high, joints", False),
        ("10000 mm wall 2400 high, joints", False),
        ("12 m wall 2.4 high, joints", True),  # another value
        ("10 m wall, joints", True),  # a stated fact left out
        ("10 m wall 2.4 high, free both ends, joints", True),  # a fact that nobody said
        ("wall 2.4 high, joints", False),  # asked, so nothing was misread
    ],
)
def test_the_scorecard_sees_a_misread(text: str, misread: bool) -> None:
    verdict = judge(LABEL, turn(State(), text)[1].record)
    assert verdict.misread == misread, verdict.faults
    if misread:
        assert not verdict.exact


def test_an_answer_to_what_had_to_be_asked_is_a_misread() -> None:
    label = {**LABEL, "outcome": "needs", "unclear": ["length"], "reading": {}, "may": ["height", "length"]}
    assert judge(label, turn(State(), LABEL["text"])[1].record).misread
    impossible = {**LABEL, "outcome": "declined", "may": ["length", "height"]}
    assert judge(impossible, turn(State(), LABEL["text"])[1].record).misread


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        (
            {"value": 1, "unit": "ft"},
            {"value": 304.8, "unit": "mm"},
            True,
        ),  # an inch is 25.4 mm, by definition
        ({"value": 1, "unit": "m"}, {"value": 1, "unit": "ft"}, False),
        ({"value": 1, "unit": "m"}, {"value": 1, "unit": "kg"}, False),
        (["return", None], ["return", ""], True),
        (["return", "free"], ["free", "return"], False),
        ([1, 2], [1], False),
        (True, 1, False),
    ],
)
def test_values_are_compared_in_one_unit(one: object, other: object, alike: bool) -> None:
    assert same(one, other) is alike


def test_a_thickness_is_the_thickness_of_the_block() -> None:
    mm = {"value": 100, "unit": "mm"}
    assert faults({"thickness": mm}, {"block": {"thickness": mm}}) == []
    assert faults({"thickness": mm}, {}, ["thickness"]) == []
    assert faults({"openings": [{"kind": "door", "count": 1}]}, {"openings": [{"kind": "door"}]}) == []
    assert faults({"openings": [{"kind": "door", "count": 2}]}, {"openings": [{"kind": "door"}]})
