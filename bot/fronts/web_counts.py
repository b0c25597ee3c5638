"""Figures for the one who keeps watch, as Prometheus reads them; nobody's name is in them."""

import time
from typing import Any

from prometheus_client import CollectorRegistry, Counter, Gauge, Histogram
from prometheus_client.exposition import CONTENT_TYPE_LATEST, generate_latest
from prometheus_client.process_collector import ProcessCollector
from sqlalchemy.exc import SQLAlchemyError

from bot.fronts.tally import Tally
from bot.memory import Memory
from bot.store.rows import Letter
from bot.store.taking import PIECES

_KINDS = ("message", "edited_message", "callback_query", "inline_query")
_OUTCOMES = {"answers": "answered", "needs": "asked", "declined": "declined"}
_SOON = (0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60, 300)
MANY = 10_000
"""Updates whose beginning is remembered."""


class Counts(Tally):
    """The figures of one worker, and the queue that all of them share."""

    def __init__(self) -> None:
        self._all = CollectorRegistry()
        ProcessCollector(registry=self._all)
        self._requests = self._counter("hook_requests", "Requests at the web hook by status", "status")
        self._updates = self._counter("updates", "Updates by kind", "kind")
        self._calls = self._counter("calls", "Calls of the platform by how they ended", "method", "end")
        self._retries = self._counter("retries", "Calls that are made again", "method")
        self._turns = self._counter("turns", "Turns of talk by outcome", "outcome")
        self._findings = self._counter("findings", "Answered, asked, declined by topic", "topic", "outcome")
        self._misread = self._counter("misread", "Readings put right by people, by how", "way")
        self._held_back = self._counter("held_back", "What came faster than a person may ask", "what")
        self._turned_away = self._counter("turned_away", "Updates of chats that are not on the list")
        self._reply = self._histogram("reply_seconds", "From an update taken in to its first reply sent")
        self._inline = self._histogram("inline_seconds", "How long an inline question took to work out")
        self._inline_failed = self._counter("inline_failed", "Inline questions that broke")
        self._waiting = self._gauge("waiting", "Rows not worked or sent yet", "queue")
        self._age = self._gauge("oldest_seconds", "Age of the oldest of them", "queue")
        self._aside = self._gauge("set_aside", "Rows set aside for a person to look at", "queue")
        self._paused = self._gauge("paused", "1 while a foreman has tools down")
        self._began: dict[int, float] = {}

    def _counter(self, name: str, told: str, *labels: str) -> Counter:
        return Counter(f"perpend_{name}", told, labels, registry=self._all)

    def _gauge(self, name: str, told: str, *labels: str) -> Gauge:
        return Gauge(f"perpend_{name}", told, labels, registry=self._all)

    def _histogram(self, name: str, told: str) -> Histogram:
        return Histogram(f"perpend_{name}", told, buckets=_SOON, registry=self._all)

    def request(self, status: int) -> None:
        """A request at the web hook was answered."""
        self._requests.labels(str(status)).inc()

    def update(self, update: dict[str, Any]) -> None:
        """An update came."""
        self._updates.labels(next((kind for kind in _KINDS if kind in update), "other")).inc()

    def began(self, row: int, at: float) -> None:
        """An update that came at this moment is being worked."""
        while len(self._began) >= MANY:  # those that nobody was answered
            del self._began[next(iter(self._began))]
        self._began[row] = at

    def turn(self, reply: Any) -> None:
        """A turn of talk: its outcome, and each finding by its topic (one of the calculators' names)."""
        self._turns.labels(reply.outcome).inc()
        if getattr(reply, "corrected", False):
            self.misread("typed")
        for name, outcome in _OUTCOMES.items():
            for finding in reply.record.get(name, ()):
                self._findings.labels(finding["topic"] or "none", outcome).inc()

    def misread(self, way: str) -> None:
        """A person put a reading right."""
        self._misread.labels(way).inc()

    def call(self, letter: Letter, end: str) -> None:
        """A call ended; the first message out for an update is its reply."""
        self._calls.labels(letter.method, end).inc()
        if end in ("Wait", "Again"):
            self._retries.labels(letter.method).inc()
        if end == "Done" and letter.chat is not None:
            at = self._began.pop(letter.id // PIECES, None)
            if at is not None:
                self._reply.observe(max(0.0, time.time() - at))

    def inline(self, seconds: float | None) -> None:
        """An inline question was worked out, or broke."""
        if seconds is None:
            self._inline_failed.inc()
        else:
            self._inline.observe(seconds)

    def held_back(self, what: str) -> None:
        """A person was faster than he may be."""
        self._held_back.labels(what).inc()

    def turned_away(self) -> None:
        """An update of a chat that is not on the list."""
        self._turned_away.inc()

    def paused(self, paused: bool) -> None:
        """Tools are down, or up again."""
        self._paused.set(paused)

    def text(self, memory: Memory) -> tuple[bytes, str]:
        """All figures as they stand, and the type of the text."""
        try:
            queues = memory.queues()
        except SQLAlchemyError:  # it shows elsewhere that the database is gone; the other figures still count
            queues = []
        for queue in queues:
            self._waiting.labels(queue.name).set(queue.waiting)
            self._age.labels(queue.name).set(time.time() - queue.oldest if queue.oldest else 0.0)
            self._aside.labels(queue.name).set(queue.aside)
        return generate_latest(self._all), CONTENT_TYPE_LATEST
