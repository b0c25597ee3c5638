"""The retention period, by a given clock: the old goes, a silent chat goes whole, the rest stays."""

import asyncio
import contextlib
from collections.abc import Callable
from typing import Any

import pytest

from bot.fronts.telegram_sweep import DAY, sweep
from bot.memory import Memory, SharedMemory
from bot.store.rows import Letter, Question, Settled, Talk, Update
from bot.store.saved import Change, Given, keep_paper, put_site
from tests.service.postgres import Server

NOW = 1_800_000_000.0
TABLES = ("inbox", "outbox", "talks", "questions", "answers", "walls", "sites", "papers", "seen")


class Clock:
    """Stands at a day until it is set to another."""

    def __init__(self) -> None:
        self.day = 0.0

    def time(self) -> float:
        """The moment."""
        return NOW + self.day * DAY


@pytest.fixture(params=["file", "server"])
def memory(request: pytest.FixtureRequest, tmp_path: Any) -> Memory:
    """An empty memory of either kind."""
    if request.param == "file":
        return Memory(f"sqlite:///{tmp_path}/chat.db")
    server: Server = request.getfixturevalue("server")
    return SharedMemory(server.make("retention"))


def count(memory: Memory, chat: int) -> dict[str, int]:
    """Rows of a chat by table, those that there are."""
    found = {}
    with memory._book.begin():
        for table in TABLES:
            column = "lane" if table in ("inbox", "outbox", "seen") else "chat"
            asked = f"select count(*) from {table} where cast({column} as varchar) = '{chat}'"  # noqa: S608
            rows = memory._book.exec_driver_sql(asked).scalar()
            if rows:
                found[table] = int(rows)
    return found


def write(memory: Memory, number: int, chat: int, fault: str | None = None) -> None:
    """One update of a chat, answered, with all that can be kept of it."""
    memory.keep([Update(number, str(chat), '{"x": 1}')])
    key = f"{chat}:0:{chat}"
    letter = Letter("sendMessage", {"chat_id": chat}, str(chat), chat, number)
    while not (claim := memory.claim(1, lambda _lane: False)).rows:
        pass
    row = claim.rows[0].id
    memory.settle(
        [
            Settled(
                row,
                fault=fault,
                talk=Talk(key, chat, "{}", row),
                question=Question(chat, number, key, row, "{}", "d"),
                letters=[letter],
                given=Given(row, chat, key, chat, "words", "{}"),
                changes=[put_site(chat, {"region": "GB"})],
            )
        ]
    )
    memory.tick_off([(letter, number)])


def furnish(memory: Memory, chat: int, at: float) -> None:
    """A wall that is kept, one that was scrapped, and a paper that was sent."""
    rows = [
        {"id": abs(chat) * 10 + n, "chat": chat, "name": f"w{n}", "body": "{}", "gone": gone, "at": at}
        for n, gone in ((1, None), (2, at))
    ]
    memory.settle([Settled(0, changes=[Change("put", "walls", row) for row in rows])])
    memory.look(lambda book: keep_paper(book, chat, "digest", "file"))


async def swept(memory: Memory, days: int) -> None:
    """One round of the sweep."""
    with contextlib.suppress(TimeoutError):
        await asyncio.wait_for(sweep(memory, days), 0.5)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Callable[[float], None]:
    """Sets the day."""
    made = Clock()
    monkeypatch.setattr("bot.fronts.telegram_sweep.REST", 0)
    for place in ("bot.memory.time.time", "bot.fronts.telegram_sweep.time.time"):
        monkeypatch.setattr(place, made.time)

    def set_to(day: float) -> None:
        made.day = day

    return set_to


async def test_a_silent_chat_goes_whole_and_a_lively_one_keeps_what_is_young(
    memory: Memory, clock: Callable[[float], None]
) -> None:
    for number, chat in ((1, 5), (2, 6)):
        write(memory, number, chat)
        furnish(memory, chat, NOW)
    memory.look(lambda book: book.exec_driver_sql("insert into paces values ('person 5', 1, 0, 1800000000)"))
    await swept(memory, 30)
    before = count(memory, 5)
    assert set(before) == {
        "inbox",
        "outbox",
        "talks",
        "questions",
        "answers",
        "walls",
        "sites",
        "papers",
        "seen",
    }
    clock(20)
    write(memory, 3, 6)
    await swept(memory, 30)
    assert set(count(memory, 5)) == {
        "talks",
        "answers",
        "walls",
        "sites",
        "papers",
        "seen",
    }  # three days for the rest
    assert count(memory, 5)["walls"] == 2
    clock(31)
    await swept(memory, 30)
    assert count(memory, 5) == {}
    there = count(memory, 6)
    assert there["answers"] == 1  # the young one
    assert there["walls"] == 1  # the kept one: the scrapped one is past undoing
    assert {"talks", "sites", "papers", "seen"} <= set(there)
    with memory._book.begin():
        assert memory._book.exec_driver_sql("select count(*) from paces").scalar() == 0
    clock(51)
    await swept(memory, 30)
    assert count(memory, 6) == {}
    memory.close()


async def test_a_chat_that_only_looks_at_its_walls_is_not_silent(
    memory: Memory, clock: Callable[[float], None]
) -> None:
    write(memory, 1, 5)
    furnish(memory, 5, NOW)
    for day in (10, 20, 29):
        clock(day)
        memory.keep([Update(100 + day, "5", "{}")])  # a command that changes nothing
        while not (claim := memory.claim(1, lambda _lane: False)).rows:
            pass
        memory.settle([Settled(claim.rows[0].id)])
        await swept(memory, 30)
    clock(45)
    await swept(memory, 30)
    assert {"walls", "sites", "papers"} <= set(count(memory, 5))
    assert "talks" not in count(memory, 5)
    memory.close()


async def test_without_a_period_nothing_that_chats_keep_is_forgotten(
    memory: Memory, clock: Callable[[float], None]
) -> None:
    write(memory, 1, 5)
    furnish(memory, 5, NOW)
    clock(5000)
    await swept(memory, 0)
    assert set(count(memory, 5)) == {"talks", "answers", "walls", "sites", "papers"}
    await swept(memory, 3650)  # the period is set later: what was never noted begins with its newest
    assert set(count(memory, 5)) == {
        "walls",
        "sites",
        "papers",
        "seen",
    }  # settings bear no date: theirs is now
    memory.close()


async def test_more_than_a_few_go_in_one_sweep(
    memory: Memory, clock: Callable[[float], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.store.retention.A_FEW", 3)
    monkeypatch.setattr("bot.store.retention.FEW_CHATS", 3)
    for number in range(1, 11):
        write(memory, number, number)
    await swept(memory, 30)
    clock(40)
    await swept(memory, 30)
    assert all(count(memory, chat) == {} for chat in range(1, 11))
    memory.close()
