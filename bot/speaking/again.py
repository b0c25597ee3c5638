"""The whole wall behind an answer that was given: for a drawing or a sheet that is asked for afterwards."""

from __future__ import annotations

from typing import Any

from bot.on_site import at_site, worked_with
from knowledge.answering import answer
from knowledge.answers import Answer, Finding
from knowledge.questions import Question, Reading
from knowledge.rulebook import book

Plain = dict[str, Any]


def whole(record: Plain, place: int = 0) -> tuple[Question, Finding] | None:
    """The question about everything of the wall in the record's answer at `place`, and what comes of it.

    A Need says what is missing for the whole wall; then the answer of the one topic is the wall to draw.
    None where the record has no such answer.
    """
    if place >= len(record.get("answers", ())):
        return None
    given = record["answers"][place]
    reading = Reading.model_validate(at_site(record.get("site", {}), "wall", worked_with(given)))
    rules = book(record.get("region", "GB"))
    question = Question(
        topic="wall",
        reading=reading,
        wall=given.get("wall"),
        confirmed=_sizes(reading),
        units=record.get("units"),
    )
    found = answer(question, rules)[0]
    if isinstance(found, Answer) or given["topic"] == "wall":
        return question, found
    question = question.model_copy(update={"topic": given["topic"]})
    return question, answer(question, rules)[0]


def _sizes(reading: Reading) -> tuple[str, ...]:
    """What was answered once was believed then."""
    return tuple(reading.plain())
