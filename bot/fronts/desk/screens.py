"""The commands that change nothing of what a chat keeps: the start, the help, and a question behind /ask."""

from collections.abc import Callable

from bot.fronts.desk.buttons import examples
from bot.fronts.desk.site import Site
from bot.fronts.telegram_answer import Answerer
from bot.fronts.telegram_arrival import Arrival
from bot.languages import chat
from bot.store.rows import Settled, Talk

Screen = Callable[[Answerer, int, Arrival, Talk | None, Site], Settled]


def start(answerer: Answerer, row: int, arrival: Arrival, _talk: Talk | None, site: Site) -> Settled:
    """What this is, and questions that are asked with one tap."""
    settled = answerer.say(row, arrival, "start", site)
    settled.letters[0].body["reply_markup"] = examples(answerer.said(site))
    return settled


def help_(answerer: Answerer, row: int, arrival: Arrival, _talk: Talk | None, site: Site) -> Settled:
    """Examples by the job in hand."""
    return answerer.say(row, arrival, "help", site)


def asked(answerer: Answerer, row: int, arrival: Arrival, talk: Talk | None, site: Site) -> Settled:
    """The question that stands behind /ask."""
    if not arrival.text:
        return answerer.say(row, arrival, "empty_ask", site)
    return answerer.ask(row, arrival, talk, site)


def is_help(text: str, language: str) -> bool:
    """Whether a message says nothing but that somebody wants the help."""
    return text.strip(" ?!.").casefold() in chat(language)["typed"]["help"]


COMMANDS: dict[str, Screen] = {"start": start, "help": help_, "ask": asked}


def command(answerer: Answerer, row: int, arrival: Arrival, talk: Talk | None, site: Site) -> Settled:
    """A command that is not the desk's; one that nobody knows is met with a word, in a group with silence."""
    screen = COMMANDS.get(arrival.command)
    if screen is not None:
        return screen(answerer, row, arrival, talk, site)
    return Settled(row) if arrival.group else answerer.say(row, arrival, "unknown_command", site)
