"""One thing to be done at the desk, with all that it may look at."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from bot.fronts.desk.buttons import Press, code
from bot.fronts.desk.site import Site
from bot.fronts.telegram_answer import Answerer, digest, kept, letter_to, press_answer
from bot.fronts.telegram_arrival import Arrival
from bot.languages import chat
from bot.memory import Memory
from bot.speaking.html import cut, escape, pages
from bot.store.rows import Letter, Question, Settled, Talk
from bot.store.saved import Change, Given, Wall, given, put_site, walls_of
from bot.store.taking import PIECES

Body = dict[str, Any]
FACT = 700
"""Most UTF-16 units of one thing that is told in a text of ours."""


@dataclass
class Moment:
    """Who, where and what; how to look things up; how to say something back."""

    row: int
    arrival: Arrival
    talk: Talk | None
    site: Site
    answerer: Answerer
    memory: Memory
    press: Press = field(default_factory=lambda: Press("", 0))
    question: Question | None = None
    admin: bool | None = True
    """Whether this person may change what holds for the whole chat; None: the platform did not say."""

    @property
    def words(self) -> dict[str, str]:
        """What the chat says about itself."""
        return self.answerer.said(self.site)

    def listed(self, name: str) -> list[str]:
        """Words that people may type for one thing, from chat.toml."""
        return list(chat(self.site.language)["typed"][name])

    def state(self) -> Any:
        """The talk of this person here, as it stands."""
        talking = self.answerer.talking
        state = talking.read(self.talk.state) if self.talk else talking.fresh()
        return talking.at(state, self.site)

    def anew(self) -> Any:
        """A talk of this person that begins again, by the same rules."""
        return self.answerer.talking.at(self.answerer.talking.anew(self.state()), self.site)

    def given(self, turn: int) -> Given | None:
        """The answer of a turn."""
        return self.memory.look(lambda book: given(book, turn))

    def walls(self, with_gone: bool = False) -> list[Wall]:
        """The walls this chat has saved."""
        return self.memory.look(lambda book: walls_of(book, self.arrival.chat, with_gone))

    def word(self, name: str, /, **facts: object) -> str:
        """One of our texts, with what a person wrote escaped, and cut so that the whole fits a message."""
        return self.words[name].format(**{key: escape(cut(str(fact), FACT)) for key, fact in facts.items()})

    def say(self, html: str | list[str], changes: Iterable[Change] = (), **more: Any) -> Settled:
        """Say something; `buttons` are rows of (label, verb, choice), bound to this turn or to `turn`."""
        texts = [html] if isinstance(html, str) else html
        letters = [letter_to(self.arrival, text) for text in texts[: PIECES - 2]]
        for letter in letters:
            letter.message = None  # none of these is the answer that an edit would change
        settled = Settled(self.row, letters=self._noticed(letters), changes=list(changes))
        if buttons := more.get("buttons"):
            rows = [
                [
                    {"text": label, "callback_data": code(verb, more.get("turn", self.row), choice)}
                    for label, verb, choice in row
                ]
                for row in buttons
            ]
            letters[-1].body["reply_markup"] = {"inline_keyboard": rows}
            settled.question = None if "turn" in more else self.bound()
        if "state" in more:
            arrival = self.arrival
            settled.talk = Talk(arrival.key, arrival.chat, kept(more["state"]), self.row)
        return settled

    def refused(self) -> Settled:
        """The word to somebody who may not change what holds for all."""
        said = self.words["admins_unknown" if self.admin is None else "admins_only"]
        if self.arrival.kind == "press":
            return Settled(self.row, letters=[press_answer(self.arrival, said)])
        return self.say(said)

    def blocks(self, blocks: Iterable[tuple[bool, str]], **more: Any) -> Settled:
        """Say plain blocks, the true ones bold, in as few messages as hold them."""
        return self.say(pages(blocks), **more)

    def paper(self, method: str, recipe: Body, caption: str) -> Settled:
        """Send a paper; it is made when it goes out."""
        letter = letter_to(self.arrival, "")
        for name in ("text", "parse_mode", "link_preview_options"):
            del letter.body[name]
        letter.body |= {"caption": caption, "paper": {**recipe, "sorry": self.words["no_paper"]}}
        letter.method, letter.message = method, None
        return Settled(self.row, letters=self._noticed([letter]))

    def put_site(self, site: Site) -> Change:
        """The change that keeps these settings."""
        return put_site(self.arrival.chat, site.body())

    def bound(self) -> Question:
        """Binds the buttons of this turn to this chat and person."""
        arrival = self.arrival
        number = -self.row  # no message of a person: it can never be edited
        before = kept(self.answerer.talking.fresh())
        return Question(arrival.chat, number, arrival.key, self.row, before, digest(""))

    def _noticed(self, letters: list[Letter]) -> list[Letter]:
        return [press_answer(self.arrival), *letters] if self.arrival.kind == "press" else letters
