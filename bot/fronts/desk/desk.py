"""What is done at the desk rather than asked: buttons under answers, saved walls, settings, forgetting."""

from collections.abc import Callable
from typing import TypeVar

from sqlalchemy import Connection

from bot.fronts.desk import administrators, forgetting, keeping, settings, sizing, under
from bot.fronts.desk.buttons import CODE, read_code
from bot.fronts.desk.moment import Moment
from bot.fronts.desk.site import read_site
from bot.fronts.telegram_answer import Answerer, press_answer
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
    "v": under.of_wall,
    "c": under.correct,
    "o": keeping.open_pressed,
    "t": keeping.total,
    "p": keeping.sheets,
    "r": settings.region,
    "u": settings.units,
    "l": settings.language,
    "z": sizing.size,
    "n": settings.names_pressed,
    "f": forgetting.confirmed,
}


class Desk:
    """Takes what changes or shows what a chat keeps; writes nothing itself."""

    def __init__(self, answerer: Answerer, memory: Memory, line: Line) -> None:
        self.answerer = answerer
        self.memory = memory
        self.line = line

    def takes(self, arrival: Arrival) -> bool:
        """Whether this is for the desk; then all before it must be written first."""
        if arrival.kind == "press":
            return arrival.text.startswith(f"{CODE}:")
        return arrival.kind == "moved" or (arrival.kind == "command" and arrival.command in COMMANDS)

    async def take(self, row: int, arrival: Arrival, talk: Talk | None) -> Settled:
        """Do what was asked for; where it is for administrators alone, the platform is asked first."""
        guarded = administrators.matters(arrival)
        admin = await administrators.is_one(self.line, arrival) if guarded else True
        if arrival.kind == "moved":
            new = int(arrival.text)
            return Settled(row, changes=[Change("move", row={"old": arrival.chat, "new": new})])
        body = self.memory.look(lambda book: site_bodies(book, [arrival.chat])).get(arrival.chat)
        moment = Moment(row, arrival, talk, read_site(body), self.answerer, self.memory, admin=admin)
        if arrival.kind == "command":
            return COMMANDS[arrival.command](moment)
        press = read_code(arrival.text)
        if press is None or (press.verb not in PRESSES and press.verb != "x"):
            return _word(moment, "stale_press")
        if press.verb == "x":
            return under.example(moment, press)
        question = self.memory.question_of(press.turn)
        given = moment.given(press.turn)
        key = question.key if question else given.key if given else None
        chat = question.chat if question else given.chat if given else None
        if key is None:
            return _word(moment, "stale_press")
        # who hides behind the group's name asks as the group and presses as himself
        hidden = guarded and admin is True and key.endswith(f":{arrival.chat}")
        if chat != arrival.chat or (key != arrival.key and not hidden):
            return _word(moment, "foreign_press")
        moment.press, moment.question = press, question
        return PRESSES[press.verb](moment)


def _word(moment: Moment, name: str) -> Settled:
    return Settled(moment.row, letters=[press_answer(moment.arrival, moment.words[name])])
