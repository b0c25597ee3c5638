"""One question put to the trade."""

from __future__ import annotations

from dataclasses import dataclass

from bot.on_site import at_site
from bot.reading.heard import Wall
from bot.talking.state import Plain
from knowledge.answering import answer
from knowledge.answers import Finding
from knowledge.questions import Question, Reading, Units
from knowledge.rulebook import RuleBook

Found = list[tuple[Finding, Wall | None]]  # each finding with the wall it is of, where several are spoken of


@dataclass(frozen=True)
class Ground:
    """What every question of one turn stands on."""

    rules: RuleBook
    confirmed: tuple[str, ...]  # slots that the asker has said yes to
    site: Plain
    units: Units | None = None  # to answer in; None: as asked


def ask(topic: str, wants: tuple[str, ...], wall: Wall | None, slots: Plain, ground: Ground) -> list[Finding]:
    """What the trade finds on one topic, for one wall or for all that was said."""
    values = at_site(ground.site, topic, {**slots, **wall.slots} if wall is not None else slots)
    question = Question(
        topic=topic,
        reading=Reading.model_validate(values),
        wall=wall.label if wall else None,
        wants=wants,
        confirmed=ground.confirmed,
        units=ground.units,
    )
    return answer(question, ground.rules)
