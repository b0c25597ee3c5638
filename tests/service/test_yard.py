"""The foreman's commands: the queue without content, rows put round again, tools down and up."""

import asyncio
import time
from typing import Any

import pytest

from bot.fronts.telegram_yard import COMMANDS
from bot.memory import Memory, SharedMemory
from bot.store import yard
from bot.store.rows import Letter, Settled, Update
from tests.chat.conftest import House, house, standin
from tests.chat.hands import ask
from tests.service.hooks import free_port, ready, worker
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["house", "standin"]

FOREMAN = 7


@pytest.mark.parametrize("command", COMMANDS)
async def test_to_anybody_else_there_are_no_such_commands(
    standin: Standin, house: House, command: str
) -> None:
    house.more |= {"foremen": frozenset({FOREMAN})}
    async with house.bot():
        assert "That is no command here" in await ask(standin, 5, f"/{command} in 1")
        standin.say(-100, f"/{command}", person=FOREMAN)  # not in front of others either
        standin.say(5, "one")
        await standin.until(lambda: len(standin.sent(5)) == 2)
    assert standin.sent(-100) == []


async def test_what_was_set_aside_is_shown_without_content_and_goes_round_again(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.fronts.telegram_send.FIRST_PAUSE", 0.01)
    house.more |= {"foremen": frozenset({FOREMAN})}
    standin.faults.always_500.add(424242)
    async with house.bot() as memory:
        standin.say(424242, "confidential wall")
        standin.say(6, "break")
        await standin.until(lambda: memory.queues()[1].aside == 1 and standin.sent(6))
        assert "Going out: 0 waiting, the oldest for 0 s, 1 set aside" in await ask(standin, FOREMAN, "/yard")
        listed = await ask(standin, FOREMAN, "/rejects")
        assert "confidential" not in listed
        assert "424242" not in listed
        assert "no answer: ValueError" in listed
        way_out = next(line for line in listed.splitlines() if line.startswith("/relay out"))
        way_in = next(line for line in listed.splitlines() if line.startswith("/relay in"))
        standin.faults.always_500.clear()
        assert "goes round again" in await ask(standin, FOREMAN, " ".join(way_out.split()[:3]))
        await standin.until(lambda: standin.sent(424242))
        assert "goes round again" in await ask(standin, FOREMAN, " ".join(way_in.split()[:3]))
        await standin.until(lambda: len(standin.sent(6)) == 2)  # it breaks again, and is said to again
        assert "Nothing is set aside under that number" in await ask(standin, FOREMAN, "/relay out 77")
        assert "One at a time" in await ask(standin, FOREMAN, "/relay everything")
    assert standin.sent(424242)[0].text.startswith("turn 1")


async def test_tools_down_keeps_messages_and_crackon_answers_them(standin: Standin, house: House) -> None:
    house.more |= {"foremen": frozenset({FOREMAN})}
    async with house.bot():
        assert "Tools are down" in await ask(standin, FOREMAN, "/downtools")
        standin.say(5, "one")
        assert "2 waiting" in await ask(standin, FOREMAN, "/yard")  # the command itself is one
    async with house.bot():  # it outlives a new start
        await asyncio.sleep(0.3)
        assert standin.sent(5) == []
        assert "At work" in await ask(standin, FOREMAN, "/crackon")
        await standin.until(lambda: standin.sent(5))
    assert standin.sent(5)[0].text.startswith("turn 1")


async def test_tools_down_holds_for_all_workers(standin: Standin, server: Server) -> None:
    database = server.make("yard")
    ports = [free_port(), free_port()]
    more = {"PERPEND_FOREMEN": str(FOREMAN)}
    async with worker(standin, database, ports[0], more), worker(standin, database, ports[1], more):
        await asyncio.gather(*map(ready, ports))
        from tests.service.hooks import bring

        typed = asyncio.Event()
        bringing = asyncio.create_task(bring(standin, ports, typed))
        standin.say(FOREMAN, "/downtools")
        await standin.until(lambda: standin.sent(FOREMAN))
        await asyncio.sleep(1.2)  # every worker looks once a second
        for chat in (1, 2, 3, 4):
            standin.say(chat, "one")
        await asyncio.sleep(0.7)
        assert [call for call in standin.sent() if call.values["chat_id"] != FOREMAN] == []
        assert not standin.updates  # acknowledged
        standin.say(FOREMAN, "/crackon")
        await standin.until(lambda: len(standin.sent()) == 6)
        typed.set()
        await bringing


def _aside(memory: Memory) -> None:
    memory.keep([Update(1, "5", '{"update_id": 1}')])
    row: Any = memory.claim(1, lambda _lane: False).rows[0]
    letter = Letter("sendMessage", {"chat_id": 5}, "5", 5, 11)
    memory.settle([Settled(row.id, fault="no answer: KeyError", letters=[letter])])
    assert memory.look(lambda book: yard.relay_in(book, row.id)) is False  # its excuse is still on its way
    memory.set_aside(letter, 'bad request: can\'t parse "private words" at 12')
    (out, back) = sorted(
        memory.look(lambda book: yard.rejects(book, 9)), key=lambda one: one.way, reverse=True
    )
    assert (out.way, out.fault) == ("out", "bad request: can")
    assert (back.way, back.fault) == ("in", "no answer: KeyError")
    assert memory.look(lambda book: yard.relay_in(book, row.id)) is True
    assert memory.look(lambda book: yard.relay_in(book, row.id)) is False
    assert memory.look(lambda book: yard.relay_out(book, letter.id)) is None  # it went with the update
    end = time.monotonic() + 5
    while not (rows := memory.claim(1, lambda _lane: False).rows):
        assert time.monotonic() < end
    assert [one.id for one in rows] == [row.id]
    memory.close()


def test_an_update_goes_round_again_without_its_first_letters(tmp_path: Any, server: Server) -> None:
    _aside(Memory(f"sqlite:///{tmp_path}/chat.db"))
    _aside(SharedMemory(server.make("rejects")))
