"""Whose rules? A chat that has not chosen its region and speaks like another is asked, once."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Any, NamedTuple

from bot.speaking.say import phrases
from bot.talking.state import Choice, Line, Plain, Reply, State
from knowledge.rulebook import book, regions

ENOUGH = 2  # a word that stands alone counts as much as two that stand together
FIRST = 3  # letters by which a word is looked up
MOST = 2  # regions that are offered beside the one in force


class _Speech(NamedTuple):
    """What speaks for one region: how far its words count, with each word by its solid form; its units."""

    code: str
    words: tuple[tuple[int, dict[str, list[str]]], ...]
    solids: frozenset[str]
    units: frozenset[str]


@cache
def _speeches(codes: tuple[str, ...]) -> tuple[_Speech, ...]:
    found = []
    for code in codes:
        speaks = book(code).region.speaks
        words = ((ENOUGH, _by_solid(speaks.alone)), (1, _by_solid(speaks.together)))
        solids = frozenset(solid for _, each in words for solid in each)
        found.append(_Speech(code, words, solids, frozenset(speaks.units)))
    return tuple(found)


@cache
def _all_solid(codes: tuple[str, ...]) -> dict[str, list[str]]:
    """Every word that speaks for a region, without its spaces, by its first letters."""
    found: dict[str, list[str]] = {}
    for word in {solid for speech in _speeches(codes) for solid in speech.solids}:
        found.setdefault(word[:FIRST] if len(word) >= FIRST else "", []).append(word)
    return found


def _there(codes: tuple[str, ...], solid: str) -> set[str]:
    """Those that stand in a text without spaces: few do, so that only those are looked for whole."""
    begun = [words for first, words in _all_solid(codes).items() if first in solid]
    return {word for words in begun for word in words if word in solid}


def _by_solid(words: tuple[str, ...]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for word in words:
        found.setdefault(_solid(word), []).append(word)
    return found


def _solid(text: str) -> str:
    """Without its spaces."""
    return "".join(text.split())


@lru_cache(maxsize=512)
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    """Any of these words, whole; a number may touch a unit ('10cum')."""
    ways = []
    for word in sorted(words, key=len, reverse=True):
        before = r"(?<![\w.])" if word[0].isdigit() else r"(?<![^\W\d_])"
        ways.append(before + r"\s*".join(map(re.escape, word.split())) + r"(?![\w²³])")
    return re.compile("|".join(ways))


def spoken(text: str, record: Plain) -> tuple[str, ...]:
    """The words of a message that speak for a region: its code, how far they count, and the word."""
    codes, low = regions(), text.lower()
    solid, units = _solid(low), _units([entry["reading"] for entry in _entries(record)])
    there = _there(codes, solid)
    found = []
    for code, words, solids, own in _speeches(codes):
        for count, each in () if there.isdisjoint(solids) else words:
            maybe = tuple(sorted(word for bare in there & each.keys() for word in each[bare]))
            if maybe:
                found += [f"{code} {count} {_solid(said.group())}" for said in _pattern(maybe).finditer(low)]
        if not own.isdisjoint(units):
            found.append(f"{code} 1 unit")
    return tuple(dict.fromkeys(found))


def like(region: str, spoke: tuple[str, ...]) -> list[str]:
    """The regions that a chat speaks like by these words, more than like the one in force."""
    if all(entry.startswith(region) for entry in spoke):
        return []
    points = dict.fromkeys(regions(), 0)
    for entry in spoke:
        code, count, _ = entry.split(" ", 2)
        points[code] += int(count)
    most = max(points.values())
    if most < ENOUGH or points[region] >= most:
        return []
    return [code for code, count in points.items() if count == most][:MOST]


def differs(one: Reply, other: Reply) -> bool:
    """Whether two regions come to something else; a danger waits for no question."""
    if any(entry["first"] for reply in (one, other) for entry in reply.record["answers"]):
        return False
    return _shown(one) != _shown(other)


def _shown(reply: Reply) -> list[object]:
    answers = [
        (a["topic"], {name: a["results"][name] for name in a["lead"]}) for a in reply.record["answers"]
    ]
    return [*answers, *sorted(need["slot"] for need in reply.record["needs"]), reply.outcome]


def asked(replies: dict[str, Reply], language: str) -> Plain:
    """The question, with a choice for each region: the message as it reads there."""
    names = {code: book(code).region.name for code in replies}
    *others, own = names.values()
    words = phrases(language)
    ask = words["turn"]["whose_rules"].format(", ".join(others), own)
    choices = [
        {"label": names[code], "region": code, "reading": _reading(reply)} for code, reply in replies.items()
    ]
    return {"ask": ask, "choices": choices}


def held(state: State, reply: Reply, question: Plain) -> Reply:
    """The question in place of the answer, which waits for the choice."""
    need = {"topic": None, "wall": None, "reading": _reading(reply), "slot": "region", **question}
    entries = _entries(reply.record)
    if entries:
        need["topic"] = entries[0]["topic"]
    record = {**reply.record, "outcome": "needs", "answers": [], "needs": [need], "declined": []}
    record.pop("totals", None)
    lines = (
        Line(kind="ask", text=question["ask"]),
        *(line for line in reply.lines if line.kind == "read"),
        Line(kind="caution", text=phrases(state.language)["turn"]["caution"]),
    )
    choices = tuple(Choice(label=c["label"], region=c["region"]) for c in question["choices"])
    return Reply(outcome="needs", lines=lines, choices=choices, record=record)


def _entries(record: Plain) -> list[Plain]:
    return [entry for key in ("answers", "needs", "declined") for entry in record[key]]


def _reading(reply: Reply) -> Plain:
    entries = _entries(reply.record)
    found: Plain = entries[0]["reading"] if entries else reply.record["in_force"]
    return found


def _units(value: Plain | list[Any], found: set[str] | None = None) -> set[str]:
    """Every unit that a reading holds."""
    units = set() if found is None else found
    inside: Iterable[Any] = value
    if isinstance(value, dict):
        inside = value.values()
        if isinstance(value.get("unit"), str):
            units.add(value["unit"])
    for inner in inside:
        if isinstance(inner, dict | list):
            _units(inner, units)
    return units
