"""The foreman's commands, in his own chat: how the queue stands, what was set aside, pause and go on."""

import time
from collections.abc import Callable

from bot.fronts.telegram_answer import letter_to
from bot.fronts.telegram_arrival import Arrival
from bot.fronts.telegram_send import Sender
from bot.memory import Memory
from bot.speaking.html import escape
from bot.store import yard as book
from bot.store.rows import Settled

COMMANDS = ("yard", "rejects", "relay", "downtools", "crackon")
PAUSED, SLOW = "paused", "slow"
LISTED = 20


class Yard:
    """Knows the standing orders, and does what a foreman asks."""

    LOOK = 1.0

    def __init__(
        self,
        memory: Memory,
        sender: Sender,
        news: Callable[[], None],
        words: dict[str, str],
        foremen: frozenset[int],
    ) -> None:
        self.memory = memory
        self.sender = sender
        self.words = words
        self.foremen = foremen
        self.paused = False  # an order that only a foreman can take back counts only while there is one
        self.news = news
        self._look_again = 0.0
        sender.objected = self._slow_down

    def only(self) -> list[str] | None:
        """The lanes that are worked: all, or only the foremen's own while tools are down."""
        now = time.monotonic()
        if now >= self._look_again:
            self._look_again = now + self.LOOK if self.memory.shared else float("inf")
            standing = self.memory.look(book.standing_orders)
            self._pause(PAUSED in standing and bool(self.foremen))
            left = self.sender.tempo.SLOW_FOR - standing.get(SLOW, float("inf"))
            if left > 0:
                self.sender.tempo.slow_until = max(self.sender.tempo.slow_until, now + left)
        return [str(person) for person in self.foremen] if self.paused else None

    def takes(self, arrival: Arrival) -> bool:
        """Whether this is a foreman's command; to anybody else it is none."""
        return (
            arrival.kind == "command"
            and arrival.command in COMMANDS
            and arrival.person in self.foremen
            and arrival.chat == arrival.person
        )

    def take(self, row: int, arrival: Arrival) -> Settled:
        """Do it; what it changes stands when this returns, and doing it twice does no harm."""
        match arrival.command:
            case "yard":
                said = self._yard()
            case "rejects":
                said = self._rejects()
            case "relay":
                said = self._relay(arrival.text)
            case "downtools":
                said = self._order(paused=True)
            case _:
                said = self._order(paused=False)
        letter = letter_to(arrival, said)
        letter.message = None
        return Settled(row, letters=[letter])

    def _yard(self) -> str:
        lines = [
            self.words["yard_queue"].format(
                queue=self.words[f"yard_{queue.name}"],
                waiting=queue.waiting,
                age=round(time.time() - queue.oldest) if queue.oldest else 0,
                aside=queue.aside,
            )
            for queue in self.memory.queues()
        ]
        return "\n".join([*lines, self.words["yard_paused" if self.paused else "yard_at_work"]])

    def _rejects(self) -> str:
        found = self.memory.look(lambda connection: book.rejects(connection, LISTED))
        if not found:
            return self.words["no_rejects"]
        now = time.time()
        lines = [
            self.words["reject"].format(
                way=one.way,
                row=one.row,
                fault=escape(one.fault),
                tries=one.tries,
                hours=round((now - one.at) / 3600, 1),
            )
            for one in found
        ]
        return "\n".join([*lines, self.words["relay_how"]])

    def _relay(self, asked: str) -> str:
        way, _, number = asked.partition(" ")
        number = number.strip()
        if way not in (book.IN, book.OUT) or not (number.isascii() and number.isdigit() and len(number) < 19):
            return self.words["relay_how"]
        row = int(number)
        if way == book.IN:
            done = self.memory.look(lambda connection: book.relay_in(connection, row))
        else:
            letter = self.memory.look(lambda connection: book.relay_out(connection, row))
            done = letter is not None
            if letter and not self.memory.shared:  # else it is found with its lane
                self.sender.offer([letter])
        if done:
            self.news()
        return self.words["relayed" if done else "no_such_reject"]

    def _order(self, paused: bool) -> str:
        if paused:
            self.memory.look(lambda connection: book.give_order(connection, PAUSED))
        else:
            self.memory.look(lambda connection: book.lift_orders(connection, [PAUSED]))
        self._pause(paused)
        self.news()
        return self.words["yard_paused" if paused else "yard_at_work"]

    def _pause(self, paused: bool) -> None:
        self.paused = paused
        self.sender.tally.paused(paused)

    def _slow_down(self) -> None:
        """The platform finds all of us too fast: every worker is to know."""
        self.memory.look(lambda connection: book.give_order(connection, SLOW))
