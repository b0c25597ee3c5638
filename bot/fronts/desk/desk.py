"""What is done at the desk rather than asked: buttons under answers, saved walls, settings, forgetting."""

from collections.abc import Callable
from typing import TypeVar

from sqlalchemy import Connection

from bot.fronts.desk import administrators, forgetting, keeping, settings, sizing, together, under
from bot.fronts.desk.buttons import CODE, read_code
from bot.fronts.desk.moment import Moment
from bot.fronts.desk.site import read_site
from bot.fronts.telegram_answer import Answerer, press_answer, pressed_turn
from bot.fronts.telegram_arrival import Arrival, Line
from bot.memory import Memory
from bot.store.rows import Settled, Talk
from bot.store.saved import Change, site_bodies

T = TypeVar("T")
Look = Callable[[Callable[[Connection], T]], T]
Verb = Callable[[Moment], Settled]

COMMANDS: dict[str, Verb] = {
    "new": keeping.new,
    "keep": keeping.keep,
    "walls": keeping.walls,
    "open": keeping.open_wall,
    "rename": keeping.rename,
    "scrap": keeping.scrap,
    "undo": keeping.undo,
    "total": together.total,
    "sheets": together.sheets,
    "record": together.record,
    "names": settings.names,
    "site": settings.site,
    "forget": forgetting.forget,
}
PRESSES: dict[str, Verb] = {
    "w": under.workings,
    "d": under.draw,
    "s": under.sheet,
    "m": under.misread,
    "v": under.of_wall,
    "c": under.correct,
    "o": keeping.open_pressed,
    "t": together.total,
    "p": together.sheets,
    "r": settings.region,
    "u": settings.units,
    "l": settings.language,
    "z": sizing.size,
    "n": settings.names_pressed,
    "f": forgetting.confirmed,
    "x": under.example,
}
FREE = {"x"}
"""Presses that belong to no turn: anybody may press them."""


class Desk:
    """Takes what changes or shows what a chat keeps; writes nothing itself."""

    def __init__(self, answerer: Answerer, memory: Memory, line: Line) -> None:
        self.answerer = answerer
        self.memory = memory
        self.line = line

    def takes(self, arrival: Arrival, talk: Talk | None) -> bool:
        """Whether this is for the desk; then all before it must be written first."""
        if arrival.kind == "press":
            return arrival.group or arrival.text.startswith(f"{CODE}:")
        if arrival.kind == "moved" or (arrival.kind == "command" and arrival.command in COMMANDS):
            return True
        return self._for_all(arrival, talk)

    async def take(self, row: int, arrival: Arrival, talk: Talk | None) -> Settled:
        """Do what was asked for; where it is for administrators alone, the platform is asked first."""
        if arrival.kind == "moved":
            new = int(arrival.text)
            return Settled(row, changes=[Change("move", row={"old": arrival.chat, "new": new})])
        body = self.memory.look(lambda book: site_bodies(book, [arrival.chat])).get(arrival.chat)
        moment = Moment(row, arrival, talk, read_site(body), self.answerer, self.memory)
        if arrival.kind == "press":
            return await self._pressed(moment)
        if self._for_all(arrival, talk):
            admin = await administrators.is_one(self.line, arrival)
            return self.answerer.ask(row, arrival, talk, moment.site, admin)
        if administrators.matters(arrival):
            moment.admin = await administrators.is_one(self.line, arrival)
        return COMMANDS[arrival.command](moment)

    def _for_all(self, arrival: Arrival, talk: Talk | None) -> bool:
        """Whether a word of this person may choose the region of a whole group."""
        said = arrival.kind == "text" or (arrival.command == "ask" and arrival.text != "")
        return arrival.group and said and talk is not None and self.answerer.talking.waits(talk.state)

    async def _pressed(self, moment: Moment) -> Settled:
        """A press: of whose turn, and whether this person may press there."""
        press, arrival = read_code(moment.arrival.text), moment.arrival
        if not arrival.chat:  # under a message that was passed on: it has no buttons of ours
            return _word(moment, "stale_press")
        if press and press.verb in FREE:
            moment.press = press
            return PRESSES[press.verb](moment)
        choice = pressed_turn(arrival.text)
        turn = press.turn if press and press.verb in PRESSES else choice
        question = self.memory.question_of(turn) if turn is not None else None
        given = moment.given(turn) if turn is not None and question is None else None
        asked = question or given
        if asked is None:
            return _word(moment, "stale_press")
        if asked.chat != arrival.chat:
            return _word(moment, "foreign_press")
        asker = self.memory.recall([asked.key]).get(asked.key)
        region = choice is not None and asker is not None and self.answerer.talking.waits(asker.state)
        hidden = arrival.group and asked.key.endswith(f":{arrival.chat}")
        setting = press is not None and press.verb in administrators.SETTINGS
        other = asked.key != arrival.key
        if other and not (region or hidden or (setting and arrival.group)):
            return _word(moment, "foreign_press")
        if other or region or administrators.matters(arrival):
            moment.admin = await administrators.is_one(self.line, arrival)
        if other and not setting:
            if moment.admin is not True:
                return _word(moment, "foreign_press")
            moment.arrival = administrators.as_asker(arrival, asked.key)
            moment.talk = asker
        if press is None:
            return self.answerer.choose(
                moment.row, moment.arrival, moment.talk, question, moment.site, moment.admin
            )
        moment.press, moment.question = press, question
        return PRESSES[press.verb](moment)


def _word(moment: Moment, name: str) -> Settled:
    return Settled(moment.row, letters=[press_answer(moment.arrival, moment.words[name])])
