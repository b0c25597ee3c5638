"""A question typed in any chat: answered at once, past the queue, for the one who asks, without writing."""

import asyncio
import json
import logging
import time
from typing import Any

from bot.fronts.desk.buttons import shared_turn
from bot.fronts.desk.site import Site, read_site
from bot.fronts.telegram_answer import Answerer, digest
from bot.fronts.telegram_arrival import Line
from bot.fronts.telegram_gate import Turnstile
from bot.fronts.telegram_log import fail, place_of
from bot.languages import FIRST
from bot.memory import Memory
from bot.speaking.html import escape, render, units, whole
from bot.speaking.say import phrases
from bot.store.saved import given, site_bodies

log = logging.getLogger("perpend.inline")

Plain = dict[str, Any]
CACHED = 60
TITLE, BELOW = 60, 120
_SHOWN = ("danger", "number", "read", "assumed", "caution", "rule")


class Inline:
    """Answers inline queries; a fault of one is no fault of another."""

    def __init__(self, line: Line, answerer: Answerer, memory: Memory) -> None:
        self.line = line
        self.answerer = answerer
        self.memory = memory
        self.turnstile: Turnstile | None = None
        self._tasks: set[asyncio.Task[None]] = set()

    def take(self, query: Any) -> None:
        """Begin to answer; the poll does not wait for it."""
        task = asyncio.get_running_loop().create_task(self._answer(query))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def _answer(self, query: Any) -> None:
        began = time.perf_counter()
        try:
            number, person, text = str(query["id"]), int(query["from"]["id"]), str(query["query"])
            if self.turnstile and not self.turnstile.lets_ask(person):
                return
            results = self.results(person, text)
        except Exception as error:
            fail(log, "inline question not answered", fault=type(error).__name__, place=place_of(error))
            self.answerer.tally.inline(None)
            return
        self.answerer.tally.inline(time.perf_counter() - began)
        body = {"inline_query_id": number, "results": results, "cache_time": CACHED, "is_personal": True}
        await self.line.call("answerInlineQuery", body)

    def results(self, person: int, text: str) -> list[Plain]:
        """One article with the question and its answer; none where there is nothing to answer."""
        text = whole(text).strip()
        if not text:
            return []
        turn = shared_turn(text)
        if turn is not None:
            return self._shared(person, turn)
        site = read_site(self.memory.look(lambda book: site_bodies(book, [person])).get(person))
        talking = self.answerer.talking
        state = talking.at(talking.fresh(), site)
        _, reply = talking.turn(state, text)
        self.answerer.tally.turn(reply)
        if not reply.record.get("answers"):
            return []
        return [self._article(text, reply.lines, site.language)]

    def _shared(self, person: int, turn: int) -> list[Plain]:
        """An answer that was given to this person; nobody else's."""
        found = self.memory.look(lambda book: given(book, turn))
        if found is None or found.key.rpartition(":")[2] != str(person):
            return []
        from bot.fronts.desk.lines import lines_of

        record = json.loads(found.record)
        language = record.get("language", FIRST)
        return [self._article(record["question"], lines_of(record), language)]

    def _article(self, question: str, lines: Any, language: str) -> Plain:
        said = [line for line in lines if line.kind in _SHOWN]
        asked = self.answerer.said(Site(language=language))["asked"]
        head = f"<b>{escape(asked)}</b> {escape(whole(question)[:300])}\n"
        first = next((line.text for line in said if line.kind in ("danger", "number")), question)
        marks = phrases(language)["mark"]
        html = head + render(said, marks)[0]
        if units(html) > 4000:
            short = [line for line in said if line.kind in ("danger", "number", "caution")]
            html = head + render(short, marks)[0]
        return {
            "type": "article",
            "id": digest(question + html)[:32],
            "title": _cut(first, TITLE),
            "description": _cut(question, BELOW),
            "input_message_content": {
                "message_text": html,
                "parse_mode": "HTML",
                "link_preview_options": {"is_disabled": True},
            },
        }


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1] + "…"
