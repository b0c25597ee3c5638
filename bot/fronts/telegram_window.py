"""How many calls may be under way at once: as few as keep the pace."""

import asyncio
import math
from collections import deque
from collections.abc import Callable, Sequence

from bot.store.paces import Rate, Verdict

NEAR = 1 / 30
"""A platform within so many seconds is near: one call at a time makes the thirty a second that it allows."""
PACE = 1000
"""Calls a second that the window leaves room for beyond that."""
FEW = 20
"""The first calls, cold ones, that say nothing of how far the platform is."""


class Window:
    """Admits calls in order; widens where the platform is far: each one out is one a kill repeats."""

    def __init__(self) -> None:
        self.size = 1
        self.out = 0
        self._seen: deque[float] = deque(maxlen=200)
        self._least = math.inf  # of these
        self._queue: deque[asyncio.Future[None]] = deque()

    async def __aenter__(self) -> None:
        """Wait for a place."""
        if self.out < self.size and not self._queue:
            self.out += 1
            return
        place: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._queue.append(place)
        try:
            await place
        except asyncio.CancelledError:
            if place.done() and not place.cancelled():
                self._leave()
            raise

    async def __aexit__(self, *_: object) -> None:
        """Give the place on."""
        self._leave()

    def took(self, seconds: float) -> None:
        """Learn how far the platform is; the quickest call counts, the rest is our own waiting.

        It widens slowly, so that the first, slow calls do not throw it open. Below the limit a slow machine,
        with the platform beside it, looks as a far platform does.
        """
        gone = self._seen[0] if len(self._seen) == self._seen.maxlen else None
        self._seen.append(seconds)
        self._least = min(self._seen) if gone == self._least else min(self._least, seconds)
        far = self._least > NEAR
        self.size = max(1, min((len(self._seen) - FEW) // 4, int(self._least * PACE))) if far else 1

    def _leave(self) -> None:
        self.out -= 1
        while self._queue and self.out < self.size:
            place = self._queue.popleft()
            if not place.done():
                self.out += 1
                place.set_result(None)


class Pace:
    """How fast one chat may be written to: a group from the start, a person's chat once it was too fast."""

    GROUP_BURST, GROUP_EACH = 20.0, 3.0  # the platform's rule: twenty a minute in a group
    CHAT_EACH, MEMORY = 1.0, 60.0  # and about one a second in a chat, short bursts allowed

    MANY = 1000
    """Chats noted before those that have been silent are looked for and left out."""

    def __init__(self, note: Callable[[str, float], None] | None = None) -> None:
        self._full: dict[int, tuple[float, float, float]] = {}
        self._note = note
        self._many = self.MANY

    def slow_down(self, chat: int, now: float) -> None:
        """The platform said that this chat was written to too fast."""
        if chat > 0:
            self._set(chat, now, 1.0, self.CHAT_EACH)

    def learn(self, chat: int, places: float, ago: float, now: float) -> None:
        """What the worker that wrote to this chat before noted of it."""
        if chat < 0 or ago < self.MEMORY:
            self._full[chat] = (now - ago, places, self.GROUP_EACH if chat < 0 else self.CHAT_EACH)

    def wait(self, chat: int, now: float) -> float:
        """Seconds until the next message may go; zero takes the place."""
        if chat not in self._full:
            if chat > 0:
                return 0.0
            if len(self._full) >= self._many:
                self._leave_out_silent(now)
            self._full[chat] = (now, self.GROUP_BURST, self.GROUP_EACH)
        at, places, each = self._full[chat]
        if chat > 0 and now - at > self.MEMORY:
            del self._full[chat]
            return 0.0
        most = self.GROUP_BURST if chat < 0 else 1.0
        places = min(most, places + (now - at) / each)
        if places < 1.0:
            return (1.0 - places) * each
        self._set(chat, now, places - 1.0, each)
        return 0.0

    def _set(self, chat: int, now: float, places: float, each: float) -> None:
        self._full[chat] = (now, places, each)
        if self._note:
            self._note(str(chat), places)

    def _leave_out_silent(self, now: float) -> None:
        """A chat that was silent for so long may be written to as if it were new."""
        self._full = {chat: one for chat, one in self._full.items() if now - one[0] <= self.MEMORY}
        self._many = max(self.MANY, 2 * len(self._full))


class Tempo:
    """Calls of all workers together: so many a second as is set, else the platform's rule once it objects."""

    SLOW, SLOW_FOR = 30, 60.0  # the platform's rule: about thirty messages a second over all chats
    CHATS, WITHIN = 3, 2.0  # refused in so many chats within so many seconds: it is not about one chat

    def __init__(self, a_second: int, admit: Callable[[Sequence[str], Rate], Sequence[Verdict]]) -> None:
        self.a_second = a_second
        self.slow_until = 0.0
        self._admit = admit
        self._places = 0
        self._refused: deque[tuple[float, int]] = deque(maxlen=20)

    def wait(self, now: float) -> float:
        """Seconds until one more call may go; zero takes the place."""
        rate = self.a_second or (self.SLOW if now < self.slow_until else 0)
        if not rate:
            return 0.0
        if not self._places:  # where they are many, the database is not asked for every one
            wanted = max(1, rate // 50)
            verdicts = self._admit(["all"] * wanted, Rate(wanted, max(1, rate - wanted)))
            self._places = sum(verdict is Verdict.IN for verdict in verdicts)
        if not self._places:
            return 1.0 / rate
        self._places -= 1
        return 0.0

    def refused(self, chat: int, now: float) -> bool:
        """The platform said too fast; whether that makes it a matter of all chats from now on."""
        self._refused.append((now, chat))
        if len({chat for at, chat in self._refused if now - at < self.WITHIN}) < self.CHATS:
            return False
        fresh = now >= self.slow_until
        self.slow_until = now + self.SLOW_FOR
        return fresh
