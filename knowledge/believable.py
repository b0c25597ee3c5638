"""Believable at both ends: an impossible value is declined, an improbable one is asked."""

from __future__ import annotations

from knowledge.answers import Decline, Need, Option
from knowledge.questions import Quantity, Question, Reading
from knowledge.rulebook import RuleBook

_SLOTS = ("length", "height", "thickness", "area")


def doubt(question: Question, book: RuleBook) -> Decline | Need | None:
    """What stands against the values of a question, by the records 'believable.*'; None: nothing."""
    for slot in _SLOTS:
        said: Quantity | None = getattr(question.reading, slot)
        if said is None:
            continue
        possible = book.seek(f"believable.{slot}", use="possible")
        if possible is not None and not _inside(said, possible.min, possible.max, possible.unit):
            return Decline(
                topic=question.topic, wall=question.wall, reading=question.reading,
                why=f"A {slot} of {said.value:g} {said.unit} cannot be right. {possible.statement}",
            )  # fmt: skip
        probable = book.seek(f"believable.{slot}", use="probable")
        if slot in question.confirmed or probable is None:
            continue
        if not _inside(said, probable.min, probable.max, probable.unit):
            return Need(
                topic=question.topic, wall=question.wall, reading=question.reading, slot=slot,
                ask=f"Is the {slot} really {said.value:g} {said.unit}?", options=_options(slot, said),
            )  # fmt: skip
    return None


def _inside(said: Quantity, least: float | None, most: float | None, unit: str) -> bool:
    value = round(said.to(unit), 9)  # feet and back again
    return (least is None or value > least) and (most is None or value <= most)


def _options(slot: str, said: Quantity) -> tuple[Option, ...]:
    """Yes, or a tenth of it: the decimal mark is what gets lost."""
    tenth = said.model_copy(update={"value": round(said.value / 10, 6)})
    return tuple(
        Option(label=f"{q.value:g} {q.unit}", reading=Reading.model_validate({slot: q}))
        for q in (said, tenth)
    )
