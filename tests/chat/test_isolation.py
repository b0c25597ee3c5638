"""Whatever is typed, edited, pressed or asked inline: nothing of one chat is seen in another.

Every chat has a word and a length of its own, which its people put into questions and wall names. They are
looked for in every call that goes out, and in every paper.
"""

import json
from functools import partial
from random import Random
from typing import Any

import pypdfium2
import pytest

from bot.fronts.talking import talking
from bot.memory import Memory
from tests.chat.conftest import House
from tests.chat.hands import quiet
from tests.reading.lots import MORE
from tests.standin import Standin
from tests.standin.near import NearRequest

STEPS = 600
WORDS = ("brindlewick", "corrowmere", "dunsapwell", "ferncastle", "gorsehythe", "halmburgh")
CHATS = (101, 102, 103, -201, -202, -203)
PEOPLE = (101, 102, 103)
THREADS = (0, 31, 32)
NAMES = ("front", "back", "gable")  # the same in every chat: taking another's by its name is tried as well
SAID = (
    "joints for {length} m wall 2.4 high at {word}",
    "how many blocks for {length} x 2.4 {word}",
    "{word} wall {length} m long, which mortar below dpc",
    "30 long 8 high joints {word}",
    "and how many blocks",
    "make it 2.6 high",
    "what did we say before",
)
COMMANDS = (
    *(
        "/keep {name}",
        "/keep {name} {word}",
        "/walls",
        "/open {name}",
        "/open {name} {word}",
        "/undo",
        "/new",
    ),
    *(
        "/rename {name} to {other}",
        "/scrap {name}",
        "/total",
        "/site",
        "/site 20 kg bags",
        "/names",
        "/forget",
    ),
    *("/open", "/ask {length} m joints at {word}", "/sheets", "/record", "/help"),
)


class Village:
    """Chats side by side, and somebody who tries every door."""

    def __init__(self, standin: Standin, memory: Memory, seed: int) -> None:
        self.standin = standin
        self.memory = memory
        self.seed = seed
        self.dice = Random(seed)
        self.words = dict(zip(CHATS, WORDS, strict=True))
        self.lengths = {chat: f"{11 + 2 * n}.{317 + 101 * n}" for n, chat in enumerate(CHATS)}
        self.asked: set[tuple[int, int]] = set()  # chat and person
        self.typed: list[dict[str, Any]] = []
        self.files: dict[str, int] = {}
        self.looked = 0
        self.seen = dict.fromkeys(CHATS, 0)
        self.queries: dict[str, int] = {}  # whose inline query has which number

    def fill(self, text: str, chat: int) -> str:
        """A saying with what is this chat's own."""
        name, other = self.dice.sample(NAMES, 2)
        return text.format(word=self.words[chat], length=self.lengths[chat], name=name, other=other)

    def place(self) -> tuple[int, int, dict[str, Any]]:
        """Somebody somewhere: chat, person, thread."""
        chat = self.dice.choice(CHATS)
        person = chat if chat > 0 else self.dice.choice(PEOPLE)
        thread = self.dice.choice(THREADS) if chat < 0 else 0
        return chat, person, {"message_thread_id": thread, "is_topic_message": True} if thread else {}

    def ours(self) -> list[dict[str, Any]]:
        """Messages of the bot anywhere."""
        return [m for chat in self.standin.chats.values() for m in chat.values() if m["from"]["id"] == 4200]

    def step(self) -> None:
        """One thing that somebody does."""
        chat, person, where = self.place()
        kind = self.dice.choices(range(6), (34, 26, 24, 8, 8, 4))[0]
        getattr(self, ("say", "command", "press", "edit", "inline", "reply")[kind])(chat, person, where)

    def say(self, chat: int, person: int, where: dict[str, Any]) -> None:
        """A question."""
        text = self.fill(self.dice.choice(SAID), chat)
        self.asked.add((chat, person))
        self.typed.append(
            self.standin.say(chat, f"@perpend_bot {text}" if chat < 0 else text, person, **where)
        )

    def command(self, chat: int, person: int, where: dict[str, Any]) -> None:
        """A command."""
        self.asked.add((chat, person))
        self.standin.say(chat, self.fill(self.dice.choice(COMMANDS), chat), person, **where)

    def press(self, chat: int, person: int, where: dict[str, Any]) -> None:
        """A button: one's own, or what another chat's carries, pressed here under any message."""
        buttons = [
            (message, button["callback_data"])
            for message in self.ours()
            for row in message.get("reply_markup", {}).get("inline_keyboard", ())
            for button in row
            if "callback_data" in button
        ]
        if not buttons:
            return
        message, data = self.dice.choice(buttons)
        if self.dice.random() < 0.6:  # forged: pressed elsewhere, by somebody else, with another number
            here = [m for m in self.standin.chats.get(chat, {}).values() if m["from"]["id"] == 4200]
            message = self.dice.choice(here) if here else {**self.standin.message(chat, "x", person), **where}
            if self.dice.random() < 0.4:
                verb, turn = self.dice.choice("wdsmcotprnfx"), self.dice.randrange(400)
                data = f"2:{verb}:{turn:x}:{self.dice.randrange(12):x}"
        else:
            chat = message["chat"]["id"]
            person = chat if chat > 0 else person
        self.asked.add((chat, person))
        self.standin.press(message, data, person)

    def edit(self, chat: int, person: int, where: dict[str, Any]) -> None:
        """An edit: of one's own message, or one that names another chat's message as if it were here."""
        if not self.typed:
            return
        message = self.dice.choice(self.typed)
        if self.dice.random() < 0.5:
            message = {
                **self.standin.message(chat, "x", person, **where),
                "message_id": message["message_id"],
            }
        at = message["chat"]["id"]
        text = self.fill(self.dice.choice(SAID), at)
        self.standin.edit(message, f"@perpend_bot {text}" if at < 0 else text)

    def inline(self, chat: int, person: int, where: dict[str, Any]) -> None:
        """A question in any chat, or an answer asked for by its number."""
        del where, chat
        text = f"answer {self.dice.randrange(400):x}" if self.dice.random() < 0.7 else "joints for 18 m"
        self.queries[self.standin.ask_inline(person, text)] = person

    def reply(self, chat: int, person: int, where: dict[str, Any]) -> None:
        """A reply to a message of the bot, which may stand in another chat."""
        ours = self.ours()
        if ours:
            self.asked.add((chat, person))
            self.standin.say(
                chat, "how many blocks", person, reply_to_message=self.dice.choice(ours), **where
            )

    def look(self) -> None:
        """What went out since the last look, and whose it is."""
        calls, self.looked = self.standin.calls[self.looked :], len(self.standin.calls)
        for call in calls:
            text = json.dumps(call.values, ensure_ascii=False).lower()
            chat = call.values.get("chat_id")
            if call.method == "answerInlineQuery":
                allowed = {c for c, p in self.asked if p == self.queries[call.values["inline_query_id"]]}
            elif chat is not None:
                allowed = {chat}
                text += self.paper(call.values, chat)
            else:
                allowed = set()  # a word over a button, a menu: nothing of anybody
            for owner, word in self.words.items():
                found = (
                    word in text or f"{self.lengths[owner]} m" in text or f"{self.lengths[owner]} x" in text
                )
                if found and owner in allowed:
                    self.seen[owner] += 1
                assert not found or owner in allowed, (self.seed, owner, call)

    def paper(self, values: dict[str, Any], chat: int) -> str:
        """The words of a paper; one that was sent up in one chat is never shown in another."""
        number = values.get("photo") or values.get("document")
        if number is None:
            return ""
        assert self.files.setdefault(number, chat) == chat, (self.seed, number)
        content = self.standin.files[number]
        if content.startswith(b"%PDF"):
            pages = pypdfium2.PdfDocument(content)
            return " ".join(page.get_textpage().get_text_range() for page in pages).lower()
        return "" if content.startswith(b"\x89PNG") else content.decode("utf-8-sig").lower()


@pytest.mark.parametrize("seed", range(max(3, MORE)))
async def test_nothing_of_one_chat_is_seen_in_another(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    monkeypatch.setattr("bot.fronts.telegram.SiteRequest", partial(NearRequest, standin))
    monkeypatch.setattr("bot.fronts.telegram_window.Pace.GROUP_BURST", 1e9)  # this is not about pace
    async with house.bot(talking) as memory:
        village = Village(standin, memory, seed)
        for _ in range(STEPS):
            village.step()
            if village.dice.random() < 0.7:
                await quiet(standin, memory)
                village.look()
        await quiet(standin, memory)
        village.look()
    standin.violations[:] = [v for v in standin.violations if "can't be edited" not in v]
    assert min(village.seen.values()) > 5, "each chat saw its own"
    assert len(village.files) > 3
