"""A message that asks: answered, or asked back, and what the chat keeps of it."""

from __future__ import annotations

from bot.following.place import filled
from bot.reading.heard import Doubt, Heard, Wall
from bot.talking.asking import Found, Ground, ask
from bot.talking.by_unit import bare
from bot.talking.gables import still_open
from bot.talking.replying import replied
from bot.talking.settling import settle, which_topic
from bot.talking.state import Plain, Reply, State, Topics
from bot.talking.totals import totals
from knowledge.answers import Decline, Need
from knowledge.rulebook import book

TOLD_AGAIN = {"number", "block_count", "walls", "length", "height", "openings"}  # what a number may have been
LENGTHS = {"m", "mm", "cm", "ft", "in", "m²"}


def _nothing(value: object) -> bool:
    """Whether it is a size of nothing or less: declined once, it does not stay in force."""
    return (
        isinstance(value, dict)
        and "unit" in value
        and value["unit"] in LENGTHS
        and value.get("value", 1) <= 0
    )


def _asked_about(heard: Heard, doubts: list[Doubt]) -> tuple[str, ...]:
    """The numbers that are asked about: one that no answer takes up is not passed over in silence."""
    spans = [span for doubt in doubts if doubt.slot in TOLD_AGAIN for span in doubt.spans]
    return tuple(dict.fromkeys(heard.text[a:b] for a, b in spans))


def answered(
    state: State, heard: Heard, slots: Plain, topics: Topics, confirmed: tuple[str, ...]
) -> tuple[State, Reply]:
    """Answer the topics in force by the slots in force; where something is in doubt, ask."""
    ground = Ground(book(state.region), confirmed, state.site, state.units)
    findings: Found = []
    doubts = list(heard.doubts)
    if topics:
        settled = settle(topics, heard, slots, doubts, ground)
        if settled is not None:
            slots, doubts = settled, []
        if not doubts:
            walls: list[Wall | None] = [w for w in heard.walls if not heard.only or w.label in heard.only]
            walls = walls or [None]
            for topic, wants in topics:
                for wall in walls:
                    findings += [(f, wall) for f in ask(topic, wants, wall, slots, ground)]
    elif not doubts:
        doubts = [which_topic()]
    own = bool(heard.topics and heard.slots) and not heard.weak  # another question, with sizes of its own
    if state.left and not doubts and not own and not {"new", "correct"} & heard.marks:
        heard.left = [text for text in state.left if text not in heard.text]
    reply = replied(state, heard, slots, findings, doubts, topics, totals(topics, findings, slots, ground))
    needs = [f for f, _ in findings if isinstance(f, Need)]
    asked = doubts[0].slot if doubts else (needs[0].slot if needs else None)
    if needs and not doubts and needs[0].options and needs[0].slot in slots:
        asked = f"confirm {asked}"
    never = {f.impossible for f, _ in findings if isinstance(f, Decline)}
    kept = {slot: value for slot, value in slots.items() if slot not in never and not _nothing(value)}
    after = State(
        region=state.region,
        region_open=state.region_open,
        region_by=state.region_by,
        spoke=state.spoke,
        language=state.language,
        site=state.site,
        units=state.units,
        slots=kept,
        walls=tuple({"label": w.label, "slots": w.slots} for w in heard.walls if w.label is not None),
        topics=tuple((t, tuple(w)) for t, w in topics) or state.topics,
        last=tuple(filled(heard)) or state.last,
        pending=reply.choices,
        asked=asked,
        left=_asked_about(heard, doubts),
        bare=bare(state, heard, kept),
        gable=still_open(state, heard) and "shape" not in kept,
        mending=state.mending if doubts else None,
        confirmed=confirmed,
        before=state if state.before is None else state.model_copy(update={"before": None}),
    )
    return after, reply
