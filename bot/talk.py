"""One turn, pure: (state, text) → (state, reply). The one place that decides answer, ask or decline."""

from __future__ import annotations

from dataclasses import replace

from bot.following.new_wall import new_wall
from bot.reading.heard import Heard, Wall
from bot.reading.read import read
from bot.talking.answering import answered
from bot.talking.by_unit import answer_in, by_unit
from bot.talking.carrying import carried, placed
from bot.talking.gables import ask_shape
from bot.talking.in_force import chosen_of, mend, same_walls
from bot.talking.like_walls import Like, like_walls, read_alike
from bot.talking.of_one_wall import common, in_force, of_named, some_again
from bot.talking.one_more_wall import further
from bot.talking.openings_sized import openings_sized
from bot.talking.picking import agreed, typed_choice, typed_wall
from bot.talking.replying import in_these_words, replied
from bot.talking.state import Choice, Line, Reply, State, Topics, Whose
from bot.talking.which_wall import ask_which, by_denied, by_its_opening, goes_to, of_own_walls
from bot.talking.whose_rules import asked, differs, held, like, spoken
from knowledge.rulebook import book

STAYS = ("region", "region_open", "region_by", "spoke", "language", "site", "units", "topics")
SHORT = 4  # words: 'so is it ok', and no other thing in it


def turn(state: State, text: str) -> tuple[State, Reply]:
    """Take one message."""
    if state.waits is not None:
        picked = typed_choice(state, text)
        if picked is not None:
            return choose(state, picked, text)
        after, waited = _turn(_unasked(state), state.waits)
        state = _kept(state, after, state.spoke)  # it was let be: the rules in force hold
        after, reply = _turn(state, text)
        if _is_no_word_of_ours(reply, text):  # 'just tell me': then what waited is told
            return state, in_these_words(waited, text)
    else:
        after, reply = _turn(state, text)
    return _whose_rules(state, text, after, reply) if state.region_open else (after, reply)


def _is_no_word_of_ours(reply: Reply, text: str) -> bool:
    declined = reply.record["declined"]
    other = reply.outcome == "declined" and all(entry["topic"] is None for entry in declined)
    return other and not any(letter.isdigit() for letter in text)


def _kept(state: State, after: State, spoke: tuple[str, ...]) -> State:
    """What is known of the region goes with the chat."""
    known = {"region_open": state.region_open, "region_by": state.region_by, "spoke": spoke}
    if all(getattr(after, name) == value for name, value in known.items()):
        return after
    return after.model_copy(update=known)


def anew(state: State) -> State:
    """A chat that begins again: its rules, its site and what it asks about stay, no wall does."""
    return State(**{name: getattr(state, name) for name in STAYS})


def _unasked(state: State) -> State:
    """The chat as it was before it was asked for its region."""
    return state.model_copy(update={"waits": None, "pending": ()})


def _whose_rules(state: State, text: str, after: State, reply: Reply) -> tuple[State, Reply]:
    """Where words speak for another region whose answer is another, that is asked, or told beside it."""
    spoke = tuple(dict.fromkeys((*state.spoke, *spoken(text, reply.record))))
    after = _kept(state, after, spoke)
    if state.region_by or reply.outcome == "acknowledged" or not (codes := like(state.region, spoke)):
        return after, reply
    there = {code: _turn(state.model_copy(update={"region": code}), text)[1] for code in codes}
    there = {code: other for code, other in there.items() if differs(reply, other)}
    if not there:
        return after, reply
    question = asked({**there, state.region: reply}, state.language)
    if state.region_open == "tell":
        return after, replace(reply, record={**reply.record, "region_question": question})
    asking = held(state, reply, question)
    waiting = {"waits": text, "region_by": "asked", "pending": asking.choices, "before": after.before}
    return state.model_copy(update={**waiting, "spoke": spoke}), asking


def _turn(state: State, text: str, whose: Whose | None = None) -> tuple[State, Reply]:
    """Take one message by the rules in force."""
    rules = book(state.region)
    on = tuple(topic for topic, _ in state.topics)
    thing = next((o["kind"] for o in reversed(state.slots.get("openings") or [])), None)
    picked = typed_wall(state, text) if whose is None else None
    if picked is not None:
        return choose(state, picked, text)
    feet = any((state.slots.get(slot) or {}).get("unit") == "ft" for slot in ("length", "height"))
    heard = read(text, rules.region, state.language, on, thing, feet, bool(state.slots))
    picked = typed_choice(state, text) if whose is None else None
    if picked is not None:
        return choose(state, picked, text)
    units = answer_in(state, text)
    if units is not None:
        shown = state.model_copy(update={"units": units})
        heard = Heard(text=text, walls=[Wall(label, slots) for label, slots in in_force(state).items()])
        after, reply = answered(shown, heard, dict(state.slots), list(state.topics), state.confirmed)
        return after.model_copy(update={"units": state.units}), reply
    in_unit = by_unit(state, text)
    if in_unit is not None:
        state = state.model_copy(update={"left": ()})
        return answered(state, in_unit, {**state.slots, **in_unit.slots}, list(state.topics), state.confirmed)
    again = openings_sized(state, heard, rules.region.sense)
    if again is not None:
        return answered(
            state, again, common([w.slots for w in again.walls]), list(state.topics), state.confirmed
        )
    own = heard.walls and not some_again(state, heard)
    if state.mending is None and not own and heard.why in {"", "other"}:
        told = (further(state, text) if whose is None else None) or of_named(state, text, whose)
        if told is not None:
            return answered(state, *told, state.confirmed)
    if heard.why == "anew":
        state = anew(state)
        return state, replied(state, heard, state.slots)
    if heard.kind in {"chatter", "off", "empty"}:
        follows = state.topics and _goes_on(heard, state.asked)
        if not follows:
            return state, replied(state, heard, state.slots)
    walls = in_force(state) if state.mending is None and whose is None else {}
    way = goes_to(state, heard, walls)
    if way == "all":
        told = of_named(state, text, Whose())
        if told is not None:
            return answered(state, *told, state.confirmed)
    if way == "one":
        label = by_denied(heard, walls) or by_its_opening(heard, walls, rules.region.sense)
        told = of_named(state, text, Whose(label)) if label is not None else None
        if told is not None:
            return answered(state, *told, state.confirmed)
        ask_which(heard, walls)
    heard = read_alike(state, heard)
    topics = placed(state, heard, state.slots, list(state.last), state.asked)
    mend(state, heard)
    slots = carried(state.slots, heard, topics)
    new = new_wall(heard, state.slots)
    had = {} if new else state.slots
    if not heard.walls and (new or not state.walls):
        heard.walls = like_walls(Like(state, had, slots, topics), heard, text, whose) or []
        if any(d.slot == "openings" for d in heard.doubts):  # what is in doubt is not in force
            slots = {**slots, "openings": had.get("openings")}
            slots = {k: v for k, v in slots.items() if v is not None}
        elif heard.walls:
            slots = common([wall.slots for wall in heard.walls])
            heard.slots = {}
    if of_own_walls(state, heard, topics, whose):
        slots = {k: v for k, v in slots.items() if all(k in wall.slots for wall in heard.walls)}
    same_walls(state, heard, slots)
    ask_shape(state, heard, slots, topics)
    kept = () if new else (*state.confirmed, *agreed(state, text, slots))
    return answered(state, heard, slots, topics, kept)


def _goes_on(heard: Heard, asked: str | None) -> bool:
    """Whether words that name nothing of ours say something of what is spoken of; danger always goes on.

    Who asks for the source of an answer, or whether it will do, has it again, with its rules and cautions.
    """
    open_ = asked is not None  # what was asked is not passed over
    ours = not open_ and (heard.kind == "chatter" or (heard.kind, heard.why) == ("off", "other"))
    if heard.why == "source" or (ours and "in_all" in heard.changes and len(heard.text.split()) <= SHORT):
        return True
    if ours and "verdict" in heard.changes and len(heard.text.split()) <= SHORT:
        return True
    if (heard.kind, heard.why) != ("off", "other"):
        return False
    changed = bool(heard.negated) or any(mark.startswith("by ") for mark in heard.marks)
    wished = any(heard.wants.values()) and "another part" not in heard.marks
    return changed or wished or bool({"safety", "crack"} & set(heard.wants))


def choose(state: State, number: int, text: str = "") -> tuple[State, Reply]:
    """Take one of the choices of the last question back; a stale number gets a polite word."""
    if not 0 <= number < len(state.pending):
        return state, replied(state, Heard(text=text, kind="stale"), state.slots)
    choice = state.pending[number]
    if choice.region is not None and state.waits is not None:
        chosen = _unasked(state).model_copy(update={"region": choice.region, "region_by": "chosen"})
        after, reply = _turn(chosen, state.waits)
        return _kept(chosen, after, chosen.spoke), reply
    if choice.said is not None:
        after, reply = _turn(state, choice.said, Whose(choice.wall, choice.way))
        return after, in_these_words(reply, text or choice.label)
    heard = Heard(text=text or choice.label)
    state = state.model_copy(update={"left": ()})
    heard.slots = dict(choice.slots)
    heard.gable = "told" if state.asked == "shape" else ""
    topics: Topics = [(choice.topic, ())] if choice.topic else list(state.topics)
    slots = dict(state.slots)
    chosen_of(choice, state, heard)
    for slot, value in heard.slots.items():
        merged = isinstance(value, dict) and isinstance(slots.get(slot), dict) and "unit" not in value
        slots[slot] = {**slots[slot], **value} if merged and slot == "block" else value
    ask_shape(state, heard, slots, topics)
    confirmed = tuple(dict.fromkeys((*state.confirmed, *choice.slots)))
    return answered(state, heard, slots, topics, confirmed)


def excuse(state: State, text: str) -> Reply:
    """The reply where a fault of ours kept a message from being worked; nothing of the chat changes."""
    return replied(state, Heard(text=text, kind="off", why="fault"), state.slots)


def correct(state: State, text: str) -> tuple[State, Reply]:
    """An edited question: answered again from what was in force before it."""
    return turn(state.before if state.before is not None else state, text)


__all__ = ["Choice", "Line", "Reply", "State", "choose", "correct", "excuse", "turn"]
