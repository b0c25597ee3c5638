"""Believable at both ends: an impossible value is declined, an improbable one is asked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from knowledge.answers import Decline, Need, Option
from knowledge.questions import Quantity, Question, Reading
from knowledge.records import Rule
from knowledge.rulebook import RuleBook
from knowledge.units import UnitFault

_SLOTS = tuple((slot, f"believable.{slot}") for slot in ("length", "height", "thickness", "area"))
# Sizes and counts of other things: what is outside of 'believable.<part>' can be no such thing.
_PARTS = tuple(
    (part, *part.partition(".")[::2])  # its full name, the slot, and the part of it
    for part in (
        *("block.length", "block.height", "block.thickness", "board.length", "board.width", "board.height"),
        *("roll.width", "roll.length", "walls", "courses", "pack_size"),
        *("openings.count", "openings.width", "openings.height"),
        *("joint_thickness", "coat_thickness", "spacing", "spacing_up", "lap", "bag_size", "bucket_size"),
    )
)


def doubt(question: Question, book: RuleBook) -> Decline | Need | None:
    """What stands against the values of a question, by the records 'believable.*'; None: nothing."""
    for slot, figure in _SLOTS:
        said: Quantity | None = getattr(question.reading, slot)
        if said is None:
            continue
        possible = book.seek(figure, use="possible")
        if possible is not None and not _inside(said, possible.min, possible.max, possible.unit):
            return Decline(
                topic=question.topic, wall=question.wall, reading=question.reading,
                why=f"A {slot} of {said.value:g} {said.unit} cannot be right. {possible.statement}",
                impossible=slot,
            )  # fmt: skip
        probable = book.seek(figure, use="probable") if slot not in question.confirmed else None
        if probable is None:
            continue
        if not _inside(said, probable.min, probable.max, probable.unit):
            options = _options(slot, said, said.to(probable.unit) <= (probable.min or 0), book)
            return Need(
                topic=question.topic, wall=question.wall, reading=question.reading, slot=slot,
                ask=f"Is the {slot} really {said.value:g} {said.unit}?", options=options,
            )  # fmt: skip
    return _impossible_part(question, book)


def _impossible_part(question: Question, book: RuleBook) -> Decline | None:
    told = question.reading.model_fields_set
    for part, slot, of_it in [part for part in _PARTS if part[1] in told]:
        holder = getattr(question.reading, slot)
        values = _values(holder, of_it) if holder is not None else ()
        possible = book.seek(f"believable.{part}", use="possible") if values else None
        if possible is None:
            continue
        for said in values:
            if not _fits(said, possible):
                shown = f"{said.value:g} {said.unit}" if isinstance(said, Quantity) else f"{said:g}"
                name = " ".join(reversed(part.split("."))).replace("_", " ")
                return Decline(
                    topic=question.topic, wall=question.wall, reading=question.reading,
                    why=f"{shown} cannot be right ({name}). {possible.statement}",
                )  # fmt: skip
    return None


def _values(holder: Any, part: str) -> list[Quantity | float]:
    """What was said of a part, of each where there are several."""
    each = holder if isinstance(holder, tuple) else (holder,)
    values = [getattr(one, part) for one in each] if part else each
    return [value for value in values if value is not None]


def _fits(said: Quantity | float, possible: Rule) -> bool:
    if not isinstance(said, Quantity):
        return (possible.min is None or said > possible.min) and (
            possible.max is None or said <= possible.max
        )
    try:
        return _inside(said, possible.min, possible.max, possible.unit)
    except UnitFault:  # a bag by its volume
        return said.value > 0


def _inside(said: Quantity, least: float | None, most: float | None, unit: str) -> bool:
    value = round(said.to(unit), 9)  # feet and back again
    return (least is None or value > least) and (most is None or value <= most)


def _options(slot: str, said: Quantity, small: bool, book: RuleBook) -> tuple[Option, ...]:
    """Yes, or a tenth of it: the decimal mark is what gets lost; of what is too small, the unit."""
    other = replace(said, value=round(said.value / 10, 6))
    wall = book.region.units.get("wall", said.unit)
    if small:
        other = replace(said, value=round(said.value * 10, 6))
        if slot in ("length", "height") and said.unit != wall:
            other = replace(said, unit=wall)
    return tuple(
        Option(label=f"{q.value:g} {q.unit}", reading=Reading.model_validate({slot: q}))
        for q in (said, other)
    )
