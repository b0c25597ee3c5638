"""What people do in a chat of the stand-in, and what they then see there."""

import asyncio
import re
from typing import Any

from bot.memory import Memory
from tests.soak.front import nothing_waits
from tests.standin import Standin


def buttons(standin: Standin, chat: int, place: int = -1) -> dict[str, Any]:
    """Labels and what they carry, of one of our messages."""
    message = standin.chats[chat][standin.sent(chat)[place].message_id or 0]
    rows = message.get("reply_markup", {}).get("inline_keyboard", [])
    return {b["text"]: b.get("callback_data") or b["switch_inline_query"] for row in rows for b in row}


def as_it_stands(standin: Standin, chat: int, place: int = -1) -> str:
    """One of our messages as it stands after edits."""
    return str(standin.chats[chat][standin.sent(chat)[place].message_id or 0]["text"])


async def press(standin: Standin, chat: int, label: str, place: int = -1, person: int | None = None) -> str:
    """Press a button under one of our messages, wait until it is answered; the word over it."""
    message = standin.chats[chat][standin.sent(chat)[place].message_id or 0]
    query = standin.press(message, buttons(standin, chat, place)[label], person)
    await standin.until(lambda: standin.queries[query])
    said = [
        c for c in standin.calls
        if c.method == "answerCallbackQuery" and c.values["callback_query_id"] == query
    ]  # fmt: skip
    return said[-1].text


async def ask(standin: Standin, chat: int, text: str, **more: Any) -> str:
    """Say something and wait for what comes back; its text."""
    before = len(standin.sent(chat))
    standin.say(chat, text, **more)
    await standin.until(lambda: len(standin.sent(chat)) > before)
    return standin.sent(chat)[-1].text


async def quiet(standin: Standin, memory: Memory, seconds: float = 10.0) -> None:
    """Wait until all that was brought is worked, and all that came of it is sent."""

    def still() -> bool:
        left = any(
            "channel_post" not in update for update in standin.updates.values()
        )  # we are not told of it
        return not left and None not in standin.inline.values() and memory.look(nothing_waits)

    await standin.until(still, seconds, 0.002)
    await asyncio.sleep(0)


class Hands:
    """Somebody in one chat, who acts step by step: see `do`."""

    def __init__(self, standin: Standin, chat: int, person: int) -> None:
        self.standin = standin
        self.chat = chat
        self.person = person
        self.typed: dict[str, Any] = {}

    def ours(self) -> list[dict[str, Any]]:
        """Our messages in this chat, as they stand."""
        seen = {c.message_id: None for c in self.standin.sent(self.chat)}
        return [self.standin.chats[self.chat][number or 0] for number in seen]

    def do(self, step: str) -> None:
        """Type it; or `[Label` is pressed, `!data` pressed under our last message, `~` edits what was typed
        last, `?` asks inline, `=pattern` types what in our last message matches, `>` answers our message,
        `*` is something without words.
        """
        sign, rest = step[:1], step[1:]
        last = self.ours()[-1] if self.ours() else {}
        match sign:
            case "[" | "!":
                self.standin.press(*self.under(step), self.person)
            case "~":
                self.standin.edit(self.typed, rest)
            case "?":
                self.standin.ask_inline(self.person, rest.replace("{turn}", self.turn()))
            case "=":
                found = re.search(rest, last["text"])
                assert found, last["text"]
                self._say(found[0])
            case ">":
                self._say(rest, reply_to_message=last)
            case "*":
                self.standin.post(self._wordless(rest))
            case _:
                self._say(step)

    def turn(self) -> str:
        """The turn that the newest of our buttons belong to, as they carry it."""
        for message in reversed(self.ours()):
            for row in message.get("reply_markup", {}).get("inline_keyboard", ()):
                for button in row:
                    if button.get("callback_data", "").startswith("2:"):
                        return str(button["callback_data"].split(":")[2])
        return "1"

    def _say(self, text: str, **more: Any) -> None:
        self.typed = self.standin.say(self.chat, text, self.person, **more)

    def _wordless(self, kind: str) -> dict[str, Any]:
        more: dict[str, Any] = {
            "location": {"location": {"latitude": 1.0, "longitude": 2.0}},
            "title": {"new_chat_title": "x"},
            "moved": {"migrate_to_chat_id": self.chat - 10**9},
            "malformed": {"message_id": "none"},
        }[kind]
        return {"message": {**self.standin.message(self.chat, None, self.person), **more}}

    def under(self, step: str) -> tuple[dict[str, Any], str]:
        """The message that a step presses under, and what the button carries."""
        if step[0] == "!":
            return self.ours()[-1], step[1:].replace("{turn}", self.turn())
        label = step[1:]
        for message in reversed(self.ours()):
            for row in message.get("reply_markup", {}).get("inline_keyboard", ()):
                for button in row:
                    if button["text"].startswith(label):
                        return message, button["callback_data"]
        raise AssertionError(f"no button {label}: {self.ours()[-1:]}")
