"""The buttons under an answer: workings, drawing, wall sheet, misread; and the examples of the start."""

import json
from typing import Any

from bot.fronts.desk.moment import Moment
from bot.fronts.desk.papers import digest
from bot.fronts.telegram_answer import press_answer
from bot.fronts.telegram_arrival import Arrival
from bot.speaking.echo import echo, slot_text
from bot.speaking.html import units
from bot.speaking.results import value_text
from bot.speaking.say import phrases, rule_text
from bot.speaking.say import whole as whole_lines
from bot.store.rows import Settled
from knowledge.answers import Answer, Decline, Need

Plain = dict[str, Any]
CAPTION = 1024
"""Most UTF-16 units of the words under a picture or a file."""
PARTS = 12
"""Parts of one reading that have a button."""


def workings(moment: Moment) -> Settled:
    """The arithmetic whole, and every rule with its source."""
    record = _record(moment)
    if record is None:
        return _gone(moment)
    words = phrases(record["language"])
    blocks: list[tuple[bool, str]] = [(True, moment.words["workings_of"].format(question=record["question"]))]
    told: set[str] = set()
    for answer in record["answers"]:
        if answer["wall"]:
            blocks.append((True, answer["wall"]))
        if read := echo({**answer["reading"], **answer.get("more", {})}):
            blocks.append((False, f"{words['turn']['read']} {read}."))
        steps = [f"{s['step']}: {s['expression']} = {value_text(s['value'])}" for s in answer["working"]]
        blocks += [(False, step) for step in steps] or [(False, moment.words["no_sum"])]
        blocks += [(False, why) for why in dict.fromkeys(entry["because"] for entry in answer["assumed"])]
    blocks.append((True, moment.words["rules_of"]))
    for answer in record["answers"]:
        for rule in answer["rules"]:
            text = rule_text(rule, words)
            if text not in told:
                told.add(text)
                blocks.append((False, f"• {text}"))
    return moment.blocks(blocks)


def draw(moment: Moment) -> Settled:
    """The elevation as a picture, its words under it for who cannot see it."""
    return _paper(moment, "drawing", "sendPhoto")


def sheet(moment: Moment) -> Settled:
    """The wall sheet as a document."""
    return _paper(moment, "sheet", "sendDocument")


def misread(moment: Moment) -> Settled:
    """Which wall, where there are several, and which part was read wrong: a button for each."""
    record = _record(moment)
    if record is None or not _newest(moment):
        return _gone(moment)
    walls = _walls(record)
    if len(walls) < 2:
        return _which_part(moment, record, 0)
    labels = list(walls)
    pairs = [labels[place : place + 2] for place in range(0, len(labels), 2)]
    rows = [[(label[:40], "v", walls[label]) for label in pair] for pair in pairs]
    return moment.say(moment.words["which_wall"], buttons=rows, turn=moment.press.turn)


def of_wall(moment: Moment) -> Settled:
    """The wall whose button was pressed: which part of it."""
    record = _record(moment)
    if record is None or not _newest(moment) or moment.press.choice not in _walls(record).values():
        return _gone(moment)
    return _which_part(moment, record, moment.press.choice)


def _which_part(moment: Moment, record: Plain, place: int) -> Settled:
    slots = _slots(record, place)
    if not slots:
        return moment.say(moment.words["nothing_read"])
    texts = [slot_text(slot, _reading(record, place)[slot]) for slot in slots]
    rows = [[(text[:40], "c", place * PARTS + number)] for number, text in enumerate(texts)]
    wall = record["answers"][place]["wall"]
    head = moment.word("which_slot_of", wall=wall) if wall else moment.words["which_slot"]
    return moment.say(head, buttons=rows, turn=moment.press.turn)


def correct(moment: Moment) -> Settled:
    """That part is taken out of the reading, and what is typed next takes its place."""
    record = _record(moment)
    place, number = divmod(max(moment.press.choice, 0), PARTS)
    slots = _slots(record, place) if record and place < len(record["answers"]) else []
    if record is None or not _newest(moment) or moment.press.choice < 0 or number >= len(slots):
        return _gone(moment)
    slot, wall = slots[number], record["answers"][place]["wall"]
    text = slot_text(slot, _reading(record, place)[slot])
    state = without(moment.state(), slot, wall)
    moment.answerer.tally.misread("button")
    example = moment.words.get(f"such_as_{slot}", moment.words["such_as"])
    name = "type_slot_of" if state.mending else "type_slot"
    return moment.say(moment.word(name, slot=text, example=example, wall=wall or ""), state=state)


def without(state: Any, slot: str, wall: str | None) -> Any:
    """The state with one part taken out, and asked for: of one wall where several are spoken of."""
    left = {name: value for name, value in state.slots.items() if name != slot}
    mended: Plain = {"slots": left, "asked": slot, "pending": (), "mending": None}
    if wall is not None and any(one["label"] == wall for one in state.walls):
        shared = {slot: state.slots[slot]} if slot in state.slots else {}
        walls = []
        for one in state.walls:
            own = {**shared, **one["slots"]}
            if one["label"] == wall:
                own.pop(slot, None)
            walls.append({"label": one["label"], "slots": own})
        mended |= {"walls": tuple(walls), "mending": wall}
    return state.model_copy(update=mended)


def example(moment: Moment) -> Settled:
    """A question of the start screen, asked with one tap."""
    listed = moment.words["examples"].splitlines()
    place, old = moment.press.turn, moment.arrival
    if not 0 <= place < len(listed):
        return Settled(moment.row, letters=[press_answer(old, moment.words["stale_press"])])
    asked = Arrival("text", old.chat, old.person, old.thread, old.message, listed[place], group=old.group)
    settled = moment.answerer.ask(moment.row, asked, moment.talk, moment.site)
    settled.letters.insert(0, press_answer(old))
    return settled


def _record(moment: Moment) -> Plain | None:
    found = moment.given(moment.press.turn)
    return None if found is None else dict(json.loads(found.record))


def _newest(moment: Moment) -> bool:
    return moment.talk is not None and moment.talk.turn == moment.press.turn


def _walls(record: Plain) -> dict[str, int]:
    """The walls of an answer by their labels, each with the place where it is first answered."""
    found: dict[str, int] = {}
    for place, answer in enumerate(record["answers"]):
        if answer["wall"]:
            found.setdefault(answer["wall"], place)
    return found


def _reading(record: Plain, place: int = 0) -> Plain:
    answer = record["answers"][place]
    return {**answer["reading"], **answer.get("more", {})}


def _slots(record: Plain, place: int = 0) -> list[str]:
    reading = _reading(record, place)
    return [slot for slot in reading if slot_text(slot, reading[slot])][:PARTS]


def _gone(moment: Moment) -> Settled:
    return Settled(moment.row, letters=[press_answer(moment.arrival, moment.words["stale_press"])])


def _paper(moment: Moment, kind: str, method: str) -> Settled:
    from bot.speaking.again import whole
    from knowledge.figure import figure

    record = _record(moment)
    found = whole(record) if record else None
    if record is None or found is None:
        return _gone(moment)
    question, finding = found
    if isinstance(finding, Need):
        return moment.say(moment.word("need_first", why=finding.ask))
    if isinstance(finding, Decline):
        return moment.say(moment.word("need_first", why=finding.why))
    assert isinstance(finding, Answer)
    if figure(question, finding) is None:
        return moment.say(moment.words["no_wall_to_draw"])
    recipe = {"kind": kind, "record": record, "digest": digest(kind, record)}
    return moment.paper(method, recipe, _caption(moment, kind, record, finding))


def _caption(moment: Moment, kind: str, record: Plain, finding: Answer) -> str:
    """What the paper shows, in words."""
    from bot.speaking.numerals import tidy

    results = tidy(finding.results)
    own = results if finding.topic == "wall" else {finding.topic: results}
    told = " ".join(text for _, text in whole_lines(own, phrases(record["language"])))
    text = f"{moment.words[f'alt_{kind}']} {echo(_reading(record))}. {told}".strip()
    while units(text) > CAPTION:
        text = text[: len(text) - 40].rstrip() + "…"
    return text
