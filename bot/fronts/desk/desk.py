"""What is done at the desk rather than asked: buttons under answers, saved walls, settings, forgetting."""

from collections.abc import Callable
from typing import TypeVar

from sqlalchemy import Connection

from bot.fronts.desk import forgetting, keeping, settings, under
from bot.fronts.desk.buttons import CODE, read_code
from bot.fronts.desk.moment import Moment
from bot.fronts.desk.site import read_site
from bot.fronts.telegram_answer import Answerer, press_answer
from bot.fronts.telegram_arrival import Arrival
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
    "total": keeping.total,
    "sheets": keeping.sheets,
    "record": keeping.record,
    "names": settings.names,
    "site": settings.site,
    "forget": forgetting.forget,
}
PRESSES: dict[str, Verb] = {
    "w": under.workings,
    "d": under.draw,
    "s": under.sheet,
    "m": under.misread,
    "c": under.correct,
    "o": keeping.open_pressed,
    "t": keeping.total,
    "p": keeping.sheets,
    "r": settings.region,
    "n": settings.names_pressed,
    "f": forgetting.confirmed,
}


class Desk:
    """Takes what changes or shows what a chat keeps; writes nothing itself."""

    def __init__(self, answerer: Answerer, memory: Memory) -> None:
        self.answerer = answerer
        self.memory = memory

    def takes(self, arrival: Arrival) -> bool:
        """Whether this is for the desk; then all before it must be written first."""
        if arrival.kind == "press":
            return arrival.text.startswith(f"{CODE}:")
        return arrival.kind == "moved" or (arrival.kind == "command" and arrival.command in COMMANDS)

    def take(self, row: int, arrival: Arrival, talk: Talk | None) -> Settled:
        """Do what was asked for."""
        if arrival.kind == "moved":
            new = int(arrival.text)
            return Settled(row, changes=[Change("move", row={"old": arrival.chat, "new": new})])
        body = self.memory.look(lambda book: site_bodies(book, [arrival.chat])).get(arrival.chat)
        moment = Moment(row, arrival, talk, read_site(body), self.answerer, self.memory)
        if arrival.kind == "command":
            return COMMANDS[arrival.command](moment)
        press = read_code(arrival.text)
        if press is None or (press.verb not in PRESSES and press.verb != "x"):
            return self._word(row, arrival, "stale_press")
        if press.verb == "x":
            return under.example(moment, press)
        question = self.memory.question_of(press.turn)
        given = moment.given(press.turn)
        key = question.key if question else given.key if given else None
        chat = question.chat if question else given.chat if given else None
        if key is None:
            return self._word(row, arrival, "stale_press")
        if key != arrival.key or chat != arrival.chat:
            return self._word(row, arrival, "foreign_press")
        moment.press, moment.question = press, question
        return PRESSES[press.verb](moment)

    def _word(self, row: int, arrival: Arrival, name: str) -> Settled:
        return Settled(row, letters=[press_answer(arrival, self.answerer.words[name])])
