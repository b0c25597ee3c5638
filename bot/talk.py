"""One turn, pure: (state, text) → (state, reply). The one place that decides answer, ask or decline."""

from __future__ import annotations

import re
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict

from bot.following import PASSING, lone, merge, new_wall, said
from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.read import read
from bot.record import Turn, finish
from bot.speaking.say import declined, lines
from knowledge.answering import answer
from knowledge.answers import Answer, Finding, Need
from knowledge.questions import Question, Reading
from knowledge.rulebook import RuleBook, book

Plain = dict[str, Any]
Kind = Literal[
    "danger", "number", "read", "assumed", "rule", "caution", "ask", "note", "care", "further", "working"
]


class Choice(BaseModel):
    """A button. `slots` is what it settles; None where it only says something."""

    model_config = ConfigDict(frozen=True)

    label: str
    slots: Plain = {}
    topic: str | None = None


class State(BaseModel):
    """What one chat keeps between messages."""

    model_config = ConfigDict(frozen=True)

    region: str = "GB"
    language: str = "en"
    slots: Plain = {}
    topics: tuple[tuple[str, tuple[str, ...]], ...] = ()
    walls: tuple[Plain, ...] = ()  # where several are spoken of: label and slots of each
    last: tuple[str, ...] = ()
    pending: tuple[Choice, ...] = ()
    asked: str | None = None
    confirmed: tuple[str, ...] = ()
    before: State | None = None


class Line(BaseModel):
    """One block of a reply, in plain words."""

    model_config = ConfigDict(frozen=True)

    kind: Kind
    text: str


class Reply(BaseModel):
    """What goes back. `record` is the machine-readable answer."""

    model_config = ConfigDict(frozen=True)

    outcome: str
    lines: tuple[Line, ...]
    choices: tuple[Choice, ...] = ()
    record: Plain


def turn(state: State, text: str) -> tuple[State, Reply]:
    """Take one message."""
    rules = book(state.region)
    in_force = tuple(topic for topic, _ in state.topics)
    thing = next((o["kind"] for o in reversed(state.slots.get("openings") or [])), None)
    heard = read(text, rules.region, state.language, in_force, thing)
    picked = _typed_choice(state, text, heard)
    if picked is not None:
        return choose(state, picked, text)
    if heard.kind in {"chatter", "off", "empty"}:
        follows = state.topics and heard.kind == "off" and heard.why == "other" and heard.wants
        if not follows:
            return state, _close(state, heard, state.slots, [], [])
    lone(heard, state.slots, list(state.last), state.asked, rules.region)
    topics = _topics(state, heard)
    names = [topic for topic, _ in topics]
    slots = merge(state.slots, heard, names)
    _same_walls(state, heard)
    kept = () if new_wall(heard, state.slots) else state.confirmed
    return _answer(state, heard, slots, topics, kept)


def choose(state: State, number: int, text: str = "") -> tuple[State, Reply]:
    """Take one of the choices of the last question back; a stale number gets a polite word."""
    if not 0 <= number < len(state.pending):
        heard = Heard(text=text, kind="stale")
        return state, _close(state, heard, state.slots, [], [])
    choice = state.pending[number]
    heard = Heard(text=text or choice.label)
    heard.slots = dict(choice.slots)
    topics = [(choice.topic, ())] if choice.topic else list(state.topics)
    slots = dict(state.slots)
    for slot, value in choice.slots.items():
        merged = isinstance(value, dict) and isinstance(slots.get(slot), dict) and "unit" not in value
        slots[slot] = {**slots[slot], **value} if merged and slot == "block" else value
    confirmed = tuple({*state.confirmed, *choice.slots})
    return _answer(state, heard, slots, topics, confirmed)


def excuse(state: State, text: str) -> Reply:
    """The reply where a fault of ours kept a message from being worked; nothing of the chat changes."""
    return _close(state, Heard(text=text, kind="off", why="fault"), state.slots, [], [])


def correct(state: State, text: str) -> tuple[State, Reply]:
    """An edited question: answered again from what was in force before it."""
    return turn(state.before if state.before is not None else state, text)


# --- inside -----------------------------------------------------------------------------------------------------


def _typed_choice(state: State, text: str, heard: Heard) -> int | None:
    """A typed word that picks a choice: its label, its number's unit ('feet'), or yes."""
    if not state.pending:
        return None
    word = text.strip().lower().strip(".!")
    for n, choice in enumerate(state.pending):
        if word == choice.label.lower() or (choice.topic and word == choice.topic):
            return n
    if (
        word in {"yes", "y", "yep", "yeah", "aye", "correct", "that's right"}
        and state.asked
        and state.asked.startswith("confirm")
    ):
        return 0
    units = {"feet": "ft", "foot": "ft", "ft": "ft", "metres": "m", "meters": "m", "metre": "m", "m": "m", "mm": "mm",
             "millimetres": "mm", "cm": "cm", "inches": "in", "in": "in", "meter": "m", "mil": "mm"}  # fmt: skip
    word = re.sub(r" (man|mate|pal|boss|bud|lad|sir|please|pls|ffs|obviously|of course)$", "", word)
    unit = units.get(re.sub(r"^(in|its|it's|thats|that's|they're|theyre|sorry) ", "", word))
    if unit is not None:
        fits = [n for n, c in enumerate(state.pending) if _units(c.slots) == {unit}]
        if len(fits) == 1:
            return fits[0]
    return None


def _units(value: Any) -> set[str]:
    if isinstance(value, dict):
        if "unit" in value:
            return {value["unit"]}
        return set().union(*(_units(v) for v in value.values())) if value else set()
    if isinstance(value, (list, tuple)):
        return set().union(*(_units(v) for v in value)) if value else set()
    return set()


def _same_walls(state: State, heard: Heard) -> None:
    """A message that names no wall of its own speaks of all the walls spoken of before."""
    if (
        not state.walls
        or heard.walls
        or "new" in heard.marks
        or {"length", "area"} & {*heard.slots, *(d.slot for d in heard.doubts)}
    ):
        return
    heard.walls = [Wall(wall["label"], {**wall["slots"], **heard.slots}) for wall in state.walls]


def _topics(state: State, heard: Heard) -> list[tuple[str, tuple[str, ...]]]:
    """Topics of this message; where it names none, those in force, with the wishes that it adds."""
    if heard.topics:
        names = [t for t, _ in heard.topics]
        before = [t for t, _ in state.topics]
        if (
            names in (["render"], ["mortar"])
            and before == ["weather"]
            and "mix" not in heard.slots
            and len(heard.text.split()) <= 7
            and not heard.topics[0][1]
        ):
            heard.slots["work"] = "render" if names == ["render"] else "lay"
            return [("weather", ())]
        if (
            names == ["mortar"]
            and "render" in before
            and "new" not in heard.marks
            and not re.search(r"mortar|muck|lay|block|brick", heard.text.lower())
        ):
            return [("render", heard.topics[0][1])]
        if (
            heard.weak
            and {"mix", "mortar_class"} & set(heard.slots)
            and not {"mortar", "render", "wall"} & set(before)
        ):
            return heard.topics
        if (
            not (heard.weak and state.topics and not {"length", "area"} <= set(heard.slots))
            or "new" in heard.marks
        ):
            return heard.topics
    found = []
    for topic, wants in state.topics:
        own = heard.wants.get(topic, ())
        found.append((topic, own or (wants if heard.slots or heard.doubts else wants)))
    return found


def _answer(
    state: State,
    heard: Heard,
    slots: Plain,
    topics: list[tuple[str, tuple[str, ...]]],
    confirmed: tuple[str, ...],
) -> tuple[State, Reply]:
    rules = book(state.region)
    findings: list[tuple[Finding, Wall | None]] = []
    doubts = list(heard.doubts)
    if not topics:
        doubts.insert(0, _which_topic(slots)) if not doubts else None
    else:
        settled = _settle(topics, heard, slots, doubts, rules, confirmed)
        if settled is not None:
            slots, doubts = settled, []
        if not doubts:
            for topic, wants in topics:
                for wall in heard.walls or [None]:
                    findings += [(f, wall) for f in _ask(topic, wants, wall, slots, rules, confirmed)]
    totals = _totals(topics, findings, slots, rules, confirmed)
    reply = _close(state, heard, slots, findings, doubts, topics, totals)
    needs = [f for f, _ in findings if isinstance(f, Need)]
    asked = doubts[0].slot if doubts else (needs[0].slot if needs else None)
    if needs and not doubts and needs[0].options and needs[0].slot in slots:
        asked = f"confirm {asked}"
    after = State(
        region=state.region, language=state.language, slots=slots,
        walls=tuple({"label": w.label, "slots": w.slots} for w in heard.walls if w.label is not None),
        topics=tuple((t, tuple(w)) for t, w in topics) or state.topics,
        last=tuple(said(heard)) or state.last, pending=reply.choices, asked=asked, confirmed=confirmed,
        before=state.model_copy(update={"before": None}),
    )  # fmt: skip
    return after, reply


def _ask(
    topic: str,
    wants: tuple[str, ...],
    wall: Wall | None,
    slots: Plain,
    rules: RuleBook,
    confirmed: tuple[str, ...],
) -> list[Finding]:
    values = {**slots, **wall.slots} if wall is not None else slots
    question = Question(
        topic=topic, reading=Reading.model_validate(values), wall=wall.label if wall else None, wants=wants, confirmed=confirmed
    )  # fmt: skip
    return answer(question, rules)


def _totals(
    topics: Any,
    findings: list[tuple[Finding, Wall | None]],
    slots: Plain,
    rules: RuleBook,
    confirmed: tuple[str, ...],
) -> list[Plain]:
    """Over several walls: joints are counted up; what goes by area is worked out once for all of it, so that it is rounded once."""
    found: list[Plain] = []
    for topic, wants in topics:
        own = [
            (f, w)
            for f, w in findings
            if isinstance(f, Answer) and f.topic == topic and w is not None and w.label is not None
        ]
        if len(own) < 2:
            continue
        answers = [f for f, _ in own]
        if topic == "joints" and all("joint_count" in f.results for f in answers):
            found.append(
                {
                    "topic": topic,
                    "results": {"joint_count": sum(f.results["joint_count"] for f in answers)},
                    "lead": ["joint_count"],
                }
            )
            continue
        areas = [f.results.get("net_area") for f in answers]
        if any(a is None for a in areas):
            continue
        units = {a.unit if hasattr(a, "unit") else a["unit"] for a in areas}
        if len(units) != 1:
            continue
        area = {
            "value": round(sum(a.value if hasattr(a, "value") else a["value"] for a in areas), 6),
            "unit": units.pop(),
        }
        same = {
            k: v
            for k, v in slots.items()
            if k not in {"length", "height", "walls", "openings", "shape", "courses", "ends"}
        }
        whole = [
            f
            for f in _ask(topic, wants, None, {**same, "area": area}, rules, confirmed)
            if isinstance(f, Answer)
        ]
        if whole:
            lead = [n for n in whole[0].lead if n in whole[0].results][:3]
            found.append(
                {
                    "topic": topic,
                    "reading": {"area": area, **({"block": slots["block"]} if "block" in slots else {})},
                    "results": whole[0].results,
                    "lead": lead,
                }
            )
    return found


def _settle(
    topics: Any, heard: Heard, slots: Plain, doubts: list[Doubt], rules: RuleBook, confirmed: tuple[str, ...]
) -> Plain | None:
    """Where every reading of a doubtful number leads to the same answer, take one and say so."""
    if (
        len(doubts) != 1
        or doubts[0].slot not in {"length", "height", "thickness"}
        or not 2 <= len(doubts[0].choices) <= 4
        or heard.walls
    ):
        return None
    shown: list[Any] = []
    for _, choice in doubts[0].choices:
        found = [
            f
            for topic, wants in topics
            for f in _ask(topic, wants, None, {**slots, **choice}, rules, confirmed)
        ]
        if not found or not all(isinstance(f, Answer) for f in found):
            return None
        shown.append(
            [
                (f.topic, {n: f.results[n] for n in f.lead}, sorted(r.id for r in f.rules))
                for f in found
                if isinstance(f, Answer)
            ]
        )
    if any(one != shown[0] for one in shown[1:]):
        return None
    label, choice = doubts[0].choices[0]
    if doubts[0].spread is not None:
        label, choice = doubts[0].choices[-1]
        heard.shown[doubts[0].slot] = doubts[0].spread
    for slot, value in choice.items():
        heard.slots[slot] = value
        heard.evidence[slot] = doubts[0].spans
        heard.assumed.append(
            {
                "slot": slot,
                "value": value,
                "because": f"'{label}' was worked with; the other end or reading gives the same answer.",
            }
        )
    return {**slots, **choice}


def _which_topic(slots: Plain) -> Doubt:
    """A wall was described and nothing asked."""
    names = [
        ("How many joints", "joints"),
        ("How many blocks", "blocks"),
        ("Which mortar", "mortar"),
        ("Everything", "wall"),
    ]
    return Doubt(
        "topic", "What do you want to know about it?", [(label, {"topic": name}) for label, name in names]
    )


def _close(
    state: State, heard: Heard, slots: Plain, findings: list[tuple[Finding, Wall | None]], doubts: list[Doubt],
    topics: list[tuple[str, tuple[str, ...]]] | None = None, totals: list[Plain] | None = None,
) -> Reply:  # fmt: skip
    done = Turn(
        state.region,
        state.language,
        heard,
        slots,
        findings,
        doubts,
        topics or [],
        totals or [],
        declined(heard, state.language),
    )
    record = finish(done)
    choices = [
        Choice(label=c["label"], slots={k: v for k, v in c["settles"].items() if k != "topic"}, topic=c["settles"].get("topic"))
        for need in record["needs"][:1] for c in need["choices"][:4]
    ]  # fmt: skip
    for need in record["needs"]:
        for choice in need["choices"]:
            choice.pop("settles")
    said_lines = tuple(Line(kind=k, text=t) for k, t in lines(record, heard))
    return Reply(outcome=record["outcome"], lines=said_lines, choices=tuple(choices), record=record)


__all__ = ["PASSING", "Choice", "Line", "Reply", "State", "choose", "correct", "excuse", "turn"]
