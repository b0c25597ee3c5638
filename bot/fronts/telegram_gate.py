"""Who is let in at all, and how fast each person may go."""

import asyncio
import logging
from collections.abc import Sequence
from typing import Any

from bot.fronts.tally import Tally
from bot.fronts.telegram_answer import letter_to, press_answer
from bot.fronts.telegram_arrival import Arrival, Line
from bot.fronts.telegram_log import warn
from bot.memory import Memory
from bot.store.paces import Rate, Verdict
from bot.store.rows import Settled, Waiting

log = logging.getLogger("perpend.gate")

_TALKS = ("message", "edited_message", "callback_query", "inline_query")
INLINE = 4.0
"""Inline questions to one message: they are asked while somebody is still typing."""


class Gate:
    """Lets the chats of a list in; others get one polite word in private, silence in groups, and no row."""

    MANY, AT_ONCE = 10_000, 20

    def __init__(self, allowed: frozenset[int], line: Line, word: str, tally: Tally) -> None:
        self._allowed = allowed
        self._line = line
        self._word = word
        self._tally = tally
        self._told: set[int] = set()
        self._tasks: set[asyncio.Task[Any]] = set()

    def lets_in(self, update: dict[str, Any]) -> bool:
        """Whether this update is written down; the word is sent from here, past all that is kept."""
        chat, private = _chat_of(update)
        if chat in self._allowed:
            self._follow(update.get("message"))
            return True
        self._tally.turned_away()
        if private and chat is not None and chat not in self._told and len(self._tasks) < self.AT_ONCE:
            if len(self._told) >= self.MANY:
                self._told.clear()
            self._told.add(chat)
            body = {"chat_id": chat, "text": self._word}
            task = asyncio.get_running_loop().create_task(self._line.call("sendMessage", body))
            self._tasks.add(task)
            task.add_done_callback(self._tasks.discard)
        return False

    def _follow(self, message: Any) -> None:
        """A group on the list became a supergroup: its new number is let in as well, until the next start."""
        new = message.get("migrate_to_chat_id") if isinstance(message, dict) else None
        if type(new) is int and new not in self._allowed:
            self._allowed |= {new}
            warn(log, "a chat on the list has a new number, to be put into the setting before the next start")


def _chat_of(update: dict[str, Any]) -> tuple[int | None, bool]:
    """The chat of a raw update, or the person where there is none; and whether a word may be said there."""
    for name in _TALKS:
        part = update.get(name)
        if not isinstance(part, dict):
            continue
        message = part.get("message") if name == "callback_query" else part
        chat = message.get("chat") if isinstance(message, dict) else None
        if isinstance(chat, dict):
            here = chat.get("id")
            return (here if type(here) is int else None), name == "message" and chat.get("type") == "private"
        person = part.get("from")
        who = person.get("id") if isinstance(person, dict) else None
        return (who if type(who) is int else None), False
    return None, False


class Turnstile:
    """Holds back who sends more than one person can: one polite word, then silence until it is less."""

    def __init__(self, memory: Memory, rate: Rate, word: str, free: frozenset[int], tally: Tally) -> None:
        self._memory = memory
        self._rate = rate
        self._inline = Rate(rate.burst * INLINE, rate.a_second * INLINE)
        self._word = word
        self._free = free
        self._tally = tally

    def held_back(self, read: Sequence[tuple[Waiting, Arrival]]) -> dict[int, Settled]:
        """What of this is not worked, by row: done, and nothing changed by it."""
        asked = [
            (row, one)
            for row, one in read
            if one.kind not in ("nothing", "moved") and one.person not in self._free
        ]
        if not asked:
            return {}
        verdicts = self._memory.admit([f"person {one.person}" for _, one in asked], self._rate)
        held: dict[int, Settled] = {}
        for (row, one), verdict in zip(asked, verdicts, strict=True):
            if verdict is Verdict.IN:
                continue
            self._tally.held_back("press" if one.kind == "press" else "message")
            held[row.id] = Settled(row.id)
            if verdict is Verdict.TOLD:
                held[row.id].letters.append(self._letter(one))
        return held

    def lets_ask(self, person: int) -> bool:
        """Whether this person may ask one more inline question now."""
        if person in self._free:
            return True
        if self._memory.admit([f"inline {person}"], self._inline)[0] is Verdict.IN:
            return True
        self._tally.held_back("inline")
        return False

    def _letter(self, arrival: Arrival) -> Any:
        if arrival.kind == "press":
            return press_answer(arrival, self._word)
        letter = letter_to(arrival, self._word)
        letter.message = None  # not an answer that an edit would change
        return letter
