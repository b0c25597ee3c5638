"""Whose rules? A chat that has not chosen its region and speaks like another is asked, once."""

from __future__ import annotations

import re
from functools import cache

from bot.record import contract
from bot.speaking.say import phrases
from bot.talking.state import Choice, Line, Plain, Reply, State
from knowledge.rulebook import book, regions

ENOUGH = 2  # a word that stands alone counts as much as two that stand together
MOST = 2  # regions that are offered beside the one in force


@cache
def _pattern(words: tuple[str, ...]) -> re.Pattern[str]:
    """Any of these words, whole; a number may touch a unit ('10cum')."""
    ways = []
    for word in sorted(words, key=len, reverse=True):
        before = r"(?<![\w.])" if word[0].isdigit() else r"(?<![^\W\d_])"
        ways.append(before + r"\s*".join(map(re.escape, word.split())) + r"(?![\w²³])")
    return re.compile("|".join(ways) or r"(?!)")


def spoken(text: str, record: Plain) -> tuple[str, ...]:
    """The words of a message that speak for a region: its code, how far they count, and the word."""
    low, units = text.lower(), _units([entry["reading"] for entry in _entries(record)])
    if not any(head in low for head in _heads()) and not units & _spoken_units():
        return ()
    found = []
    for code in regions():
        speech = book(code).region.speaks
        found += [f"{code} {ENOUGH} {word}" for word in _said(speech.alone, low)]
        found += [f"{code} 1 {word}" for word in _said(speech.together, low)]
        found += [f"{code} 1 unit"] if units & set(speech.units) else []
    return tuple(dict.fromkeys(found))


@cache
def _heads() -> tuple[str, ...]:
    """How the words of all regions begin: most texts hold none of it, and that is quickly seen."""
    speeches = (book(code).region.speaks for code in regions())
    return tuple({word.split()[0] for speech in speeches for word in (*speech.alone, *speech.together)})


@cache
def _spoken_units() -> frozenset[str]:
    return frozenset(unit for code in regions() for unit in book(code).region.speaks.units)


def _said(words: tuple[str, ...], low: str) -> list[str]:
    return [re.sub(r"\s+", "", found.group()) for found in _pattern(words).finditer(low)]


def like(state: State) -> list[str]:
    """The regions that this chat speaks like, more than like the one in force."""
    points = dict.fromkeys(regions(), 0)
    for entry in state.spoke:
        code, count, _ = entry.split(" ", 2)
        points[code] += int(count)
    most = max(points.values())
    if most < ENOUGH or points[state.region] >= most:
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
    found: Plain = entries[0]["reading"] if entries else contract(reply.record["in_force"])
    return found


def _units(value: object) -> set[str]:
    """Every unit that a reading holds."""
    if isinstance(value, dict):
        own = {value["unit"]} if isinstance(value.get("unit"), str) else set()
        return own.union(*(_units(inner) for inner in value.values()))
    if isinstance(value, (list, tuple)):
        return set().union(*(_units(inner) for inner in value))
    return set()
