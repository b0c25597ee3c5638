"""Everything for one wall, in the order of the work: other topics asked, put together, checked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import Any, TypeVar

from knowledge import shown
from knowledge.answers import Answer, Assumed, Decline, Finding, Need
from knowledge.calculators._wall_drawn import drawn
from knowledge.calculators._wall_materials import materials
from knowledge.ledger import Ledger
from knowledge.pieces import Piece, course_height, piece
from knowledge.questions import Question, Reading
from knowledge.rulebook import RuleBook

T = TypeVar("T")
Ask = Callable[[Question, RuleBook], list[Finding]]

_BARE = ("joints", "blocks", "mortar")  # every wall has these; without them there is no answer
_AT_JOINTS = {"reinforcement", "ties", "boards"}  # these stop at a movement joint, or crowd beside it
_LEAVES = {"cavity", "inner", "outer"}


def answer(question: Question, book: RuleBook, ask: Ask) -> list[Finding]:
    """One answer of many topics; a need where the wall has no length or no height."""
    ledger = Ledger(question, book)
    reading = question.reading
    if reading.length is None:
        return [ledger.need("length", "How long is the wall?")]
    if reading.height is None and not reading.courses:
        return [ledger.need("height", "How high is the wall?")]
    parts: dict[str, Answer] = {}
    sized = _sized(ledger)
    for topic in _topics(reading):
        known = _with_joints(sized, parts) if topic in _AT_JOINTS else sized
        asked = question.model_copy(update={"topic": topic, "reading": known, "wants": ()})
        for found in ask(asked, book):
            if isinstance(found, Answer):
                parts[topic] = found
            elif topic in _BARE:
                return [replace(found, topic=question.topic, reading=reading)]
            else:
                ledger.note(_lacking(topic, found))
    return [_together(ledger, parts)]


def _topics(reading: Reading) -> list[str]:
    """The topics that this wall has, in the order of the work."""
    cavity = reading.leaf in _LEAVES or reading.cavity is not None
    bearing = reading.load is not None or reading.padstone is not None
    finished = reading.finish in ("render", "plaster")
    sky = (reading.temperature, reading.trend, reading.rain, reading.wind)
    order = {
        "safety": True,
        "weather": any(said is not None for said in sky),
        "joints": True,
        "blocks": True,
        "mortar": True,
        "reinforcement": bool(reading.openings) or bool(reading.bed_reinforcement),
        "ties": cavity,
        "bearing": bearing,
        "render": finished,
        "mesh": reading.finish == "render",
        "boards": reading.finish == "boards",
        "thermal": bool(reading.layers),
    }
    return [topic for topic, applies in order.items() if applies]


def _sized(ledger: Ledger) -> Reading:
    """The reading with its height, where only courses were said."""
    reading = ledger.reading
    if reading.height is not None or not reading.courses:
        return reading
    tall = shown.length(reading.courses * course_height(ledger), ledger.feet)
    return reading.model_copy(update={"height": tall})


def _with_joints(reading: Reading, parts: dict[str, Answer]) -> Reading:
    """The reading with the joints where they were laid out, whatever was proposed."""
    places = parts["joints"].results.get("joint_positions") if "joints" in parts else None
    return reading.model_copy(update={"joint_at": tuple(places)}) if places else reading


def _lacking(topic: str, found: Need | Decline) -> str:
    """Why a topic is left out, and what would bring it in."""
    return f"{topic.capitalize()} left out: {found.ask if isinstance(found, Need) else found.why}"


def _together(ledger: Ledger, parts: dict[str, Answer]) -> Answer:
    """The topics as one answer; what several of them say stands once."""
    results = {topic: found.results for topic, found in parts.items()}
    for topic, found in results.items():
        ledger.result(topic, found)
    one = piece(ledger)
    ledger.result("materials", materials(ledger, results, one if isinstance(one, Piece) else None))
    ledger.result("checklist", _checklist(ledger, results))
    ledger.result("drawn", drawn(ledger, results, one if isinstance(one, Piece) else None))
    if ledger.reading.finish is None:
        ledger.note("Say how it is finished (render, plaster, boards) for coats, mesh or boards as well.")
    ledger.caution("wall.caution.order")
    own = ledger.answer("blocks", "joints", "mortar", "materials")
    every = (*parts.values(), own)
    steps = [(part.topic, step) for part in every for step in part.working]
    notes = [text for part in parts.values() for text in part.notes]
    return replace(
        own,
        assumed=_assumed(every),
        first=tuple(dict.fromkeys(text for part in parts.values() for text in part.first)),
        notes=tuple(dict.fromkeys((*own.notes, *notes))),
        working=tuple(step._replace(step=f"{topic}: {step.step}") for topic, step in steps),
        rules=_in_turn([part.rules for part in sorted(every, key=lambda part: part.topic == "safety")]),
        cautions=_in_turn([part.cautions for part in every]),
    )


def _in_turn(lists: Sequence[tuple[T, ...]]) -> tuple[T, ...]:
    """One of each topic before the second of any: what is cut short still speaks of every trade."""
    turns = (one for turn in zip_longest(*lists) for one in turn if one is not None)
    return tuple(dict.fromkeys(turns))


def _assumed(answers: tuple[Answer, ...]) -> tuple[Assumed, ...]:
    """What was taken, once for each slot and value: mortar and blocks have each their own waste."""
    found: dict[tuple[str, str], Assumed] = {}
    for part in answers:
        for taken in part.assumed:
            found.setdefault((taken.slot, repr(taken.value)), taken)
    return tuple(found.values())


def _checklist(ledger: Ledger, results: dict[str, dict[str, Any]]) -> list[dict[str, Any]]:
    """What must be right before it is covered, topic by topic."""
    reading = ledger.reading
    jointed = bool(results.get("joints", {}).get("joint_count"))
    facts = {
        "finish": reading.finish,
        "leaf": reading.leaf,
        "place": reading.place,
        "kind": "opening" if reading.openings else None,
        "use": "joints" if jointed else None,
    }
    found = []
    for topic in results:
        if topic == "joints" and not jointed:
            continue
        for rule in ledger.book.family(f"wall.check.{topic}", **facts):
            ledger.cite(rule)
            found.append(
                {"topic": topic, "check": rule.statement, "rule": rule.id, "standing": rule.standing}
            )
    return found
