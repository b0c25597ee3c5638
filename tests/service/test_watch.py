"""Figures in either mode, a stop that finishes what is in hand, and 503 only while the store is down."""

import asyncio
import contextlib
import re
import signal
import socket
import time
from contextlib import suppress
from pathlib import Path

import aiohttp
import pytest
from prometheus_client.exposition import generate_latest

from bot.fronts.talking import talking
from bot.fronts.telegram_ports import Ports
from bot.fronts.web_counts import Counts
from bot.settings import Settings
from bot.store.rows import Letter
from knowledge.questions import TOPICS
from tests.chat.conftest import House, house, standin
from tests.chat.hands import ask, buttons, press
from tests.chat.test_inline import inline
from tests.chat.test_kills import process
from tests.service.hooks import HEADERS, free_port, ready, worker
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["house", "standin"]


async def got(port: int, path: str) -> tuple[int, str]:
    """What an address of ours says."""
    async with aiohttp.ClientSession() as session, session.get(f"http://127.0.0.1:{port}{path}") as answer:
        return answer.status, await answer.text()


def figures(text: str) -> dict[str, float]:
    """Every figure that is not a bucket, by its name and labels."""
    lines = [line.rsplit(" ", 1) for line in text.splitlines() if not line.startswith("#")]
    return {name: float(value) for name, value in lines if "_bucket" not in name and "_created" not in name}


async def test_figures_while_polling(standin: Standin, house: House) -> None:
    port = free_port()
    house.more = {"watch": f"127.0.0.1:{port}", "person_burst": 12, "person_a_minute": 1}
    standin.faults.error_500 = 0.0
    async with house.bot(talking):
        first = await ask(standin, 424242, "joints for 18 m confidential")
        assert "3 movement joints" in first
        question = standin.say(424242, "joints for 12 m")
        await standin.until(lambda: len(standin.sent(424242)) == 2)
        standin.edit(question, "joints for 13 m")
        await standin.until(lambda: len(standin.sent(424242)) == 3)
        await ask(standin, 424242, "sorry, I meant 14 m")
        await ask(standin, 424242, "joints for 18 m")
        await press(standin, 424242, "Misread")
        await standin.until(lambda: "Which part" in standin.sent(424242)[-1].text)
        first_slot = next(iter(buttons(standin, 424242)))
        told = len(standin.sent(424242))
        await press(standin, 424242, first_slot)
        await standin.until(lambda: len(standin.sent(424242)) > told)  # it asks for that part
        assert "only know block walls" in await ask(standin, 424242, "who won the match last night")
        assert "How high" in await ask(standin, 424242, "how many blocks for 10 m")
        assert await inline(standin, 77, "joints for 18 m")
        for _ in range(8):
            standin.say(424242, "more")
        await standin.until(lambda: any("That is a lot" in call.text for call in standin.sent(424242)))
        await asyncio.sleep(0.1)
        status, text = await got(port, "/metrics")
        assert (await got(port, "/ready"))[0] == (await got(port, "/live"))[0] == status == 200
        assert (await got(port, "/hook"))[0] == 404  # there is none while polling
    there = figures(text)
    assert there['perpend_updates_total{kind="message"}'] >= 14
    assert there['perpend_updates_total{kind="inline_query"}'] == 1
    assert there['perpend_findings_total{outcome="answered",topic="joints"}'] >= 5
    assert there['perpend_findings_total{outcome="asked",topic="blocks"}'] == 1
    assert there['perpend_turns_total{outcome="declined"}'] >= 1
    assert there['perpend_misread_total{way="edited"}'] == 1
    assert there['perpend_misread_total{way="typed"}'] == 1
    assert there['perpend_misread_total{way="button"}'] == 1
    assert there['perpend_held_back_total{what="message"}'] >= 2
    assert there["perpend_reply_seconds_count"] >= 8
    assert 0 < there["perpend_reply_seconds_sum"] < 60
    assert there["perpend_inline_seconds_count"] == 1
    assert there['perpend_set_aside{queue="inbox"}'] == there["perpend_paused"] == 0
    assert "424242" not in text
    assert "confidential" not in text


def test_a_label_is_one_of_a_few_words_of_ours() -> None:
    counts = Counts()
    for number in range(200):
        counts.update({"update_id": number, f"kind{number}": {}})
        counts.call(
            Letter("sendMessage", {"chat_id": number}, str(number), number, 1, id=number * 16), "Done"
        )
        counts.began(number, 0.0)
    for topic in (*TOPICS, None):
        reply = type("Reply", (), {"outcome": "answered", "record": {"declined": [{"topic": topic}]}})
        counts.turn(reply)
    for number in range(30_000):
        counts.began(number, 0.0)
    assert len(counts._began) <= 10_000
    text = generate_latest(counts._all).decode()
    assert len([line for line in text.splitlines() if line.startswith("perpend_")]) < 150
    assert not re.search(r'="-?\d+"', re.sub(r'(le|status)="[\d.]+"', "", text))


async def test_sigterm_finishes_what_is_in_hand_and_keeps_the_rest(standin: Standin, house: House) -> None:
    standin.latency = 0.1
    async with process(house) as made:
        standin.say(5, "warm")
        await standin.until(lambda: standin.sent(5))
        for chat in range(10, 26):
            standin.say(chat, "one")
        await standin.until(lambda: not standin.updates or len(standin.sent()) > 1)
        await asyncio.sleep(0.05)
        made.send_signal(signal.SIGTERM)
        assert await asyncio.wait_for(made.wait(), 15) == 0
    answered = {call.values["chat_id"] for call in standin.sent()}
    assert answered == {5, *range(10, 26)}  # what was in hand went out before the end
    assert len(standin.sent()) == 17
    async with process(house):
        standin.say(5, "two")
        await standin.until(lambda: len(standin.sent(5)) == 2)
        await asyncio.sleep(0.3)
    assert len(standin.sent()) == 18  # and none of it goes out again


async def test_a_stop_does_not_wait_for_what_cannot_go_now(standin: Standin, house: House) -> None:
    standin.faults.limited[5] = time.monotonic() + 30
    house.more["stop_seconds"] = 5
    async with house.bot() as memory:
        standin.say(5, "one")
        await standin.until(lambda: [call for call in standin.calls if call.code == 429])
        await asyncio.sleep(0.1)
        began = time.monotonic()
    assert time.monotonic() - began < 2
    assert house.status == 0
    del memory


async def test_while_the_database_is_stopped_the_platform_is_told_to_come_again(
    standin: Standin, server: Server
) -> None:
    database = server.make("stopped")
    port, watched = free_port(), free_port()
    update = {"update_id": 1, "message": standin.message(5, "one")}

    async def brought(session: aiohttp.ClientSession, headers: dict[str, str]) -> int:
        async with session.post(f"http://127.0.0.1:{port}/hook", json=update, headers=headers) as answer:
            return answer.status

    more = {"PERPEND_WATCH": f"127.0.0.1:{watched}"}
    async with worker(standin, database, port, more) as made, aiohttp.ClientSession() as session:
        await ready(port)
        await asyncio.to_thread(server.stop)
        try:
            seen = []
            for _ in range(40):
                seen.append(await brought(session, HEADERS))
                await asyncio.sleep(0.05)
            assert set(seen) == {503}, seen
            assert await brought(session, {"X-Telegram-Bot-Api-Secret-Token": "wrong"}) == 401
            assert (await got(port, "/ready"))[0] == (await got(watched, "/ready"))[0] == 503
            assert (await got(port, "/live"))[0] == (await got(watched, "/live"))[0] == 200
            assert (await got(watched, "/metrics"))[0] == 200
        finally:
            await asyncio.to_thread(server.start)
        await ready(port)
        assert await brought(session, HEADERS) == 200
        await standin.until(lambda: standin.sent(5))
        assert (await got(watched, "/ready"))[0] == 200
        await asyncio.to_thread(server.stop)
        try:
            await asyncio.sleep(0.5)
            made.send_signal(signal.SIGTERM)
            with suppress(TimeoutError):
                await asyncio.wait_for(made.wait(), 15)
            assert made.returncode in (0, 1)
        finally:
            await asyncio.to_thread(server.start)


def test_a_port_that_is_taken_is_found_at_the_start(tmp_path: Path) -> None:
    with socket.socket() as taken, contextlib.ExitStack() as held:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        place = f"127.0.0.1:{taken.getsockname()[1]}"
        settings = Settings(token="1:a", database=f"sqlite:///{tmp_path}/x.db", watch=place)
        with pytest.raises(OSError, match="in use"):
            Ports.of(settings, False, held)
