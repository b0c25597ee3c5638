"""Figures for the one who keeps watch, as Prometheus reads them; nobody's name is in them."""

import time
from typing import Any

from prometheus_client import CollectorRegistry, Counter, Gauge
from prometheus_client.exposition import CONTENT_TYPE_LATEST, generate_latest

from bot.memory import Memory

_KINDS = ("message", "edited_message", "callback_query", "inline_query")


class Counts:
    """The figures of one worker, and the queue that all of them share."""

    def __init__(self) -> None:
        self._all = CollectorRegistry()
        self._requests = Counter(
            "perpend_hook_requests", "Requests at the web hook by status", ["status"], registry=self._all
        )
        self._updates = Counter("perpend_updates", "Updates by kind", ["kind"], registry=self._all)
        self._calls = Counter(
            "perpend_calls", "Calls of the platform by how they ended", ["method", "end"], registry=self._all
        )
        self._waiting = Gauge("perpend_waiting", "Rows not worked or sent yet", ["queue"], registry=self._all)
        self._age = Gauge(
            "perpend_oldest_seconds", "Age of the oldest of them", ["queue"], registry=self._all
        )
        self._aside = Gauge(
            "perpend_set_aside", "Rows set aside for a person to look at", ["queue"], registry=self._all
        )

    def request(self, status: int) -> None:
        """A request at the web hook was answered."""
        self._requests.labels(str(status)).inc()

    def update(self, update: dict[str, Any]) -> None:
        """An update came."""
        self._updates.labels(next((kind for kind in _KINDS if kind in update), "other")).inc()

    def call(self, method: str, end: str) -> None:
        """A call ended: Done, Wait (too fast), Again (trouble), Never (refused)."""
        self._calls.labels(method, end).inc()

    def text(self, memory: Memory) -> tuple[bytes, str]:
        """All figures as they stand, and the type of the text."""
        for queue in memory.queues():
            self._waiting.labels(queue.name).set(queue.waiting)
            self._age.labels(queue.name).set(time.time() - queue.oldest if queue.oldest else 0.0)
            self._aside.labels(queue.name).set(queue.aside)
        return generate_latest(self._all), CONTENT_TYPE_LATEST
