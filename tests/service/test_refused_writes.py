"""What the database refuses: one update's fault sets that one aside, a full or locked one is waited for.

The faults are the databases' own: a constraint or trigger, SQLite's limit on pages, a held lock, and
the codes of PostgreSQL's documentation, appendix A (23514 check_violation, 53100 disk_full).
"""

import asyncio
import sqlite3
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError

from bot.fronts.telegram_run import serve
from bot.memory import Memory, open_memory
from bot.settings import Settings
from bot.store.faults import is_lost, is_of_a_row, may_pass
from bot.store.rows import Settled, Talk, Update
from tests.chat.conftest import standin
from tests.chat.fake_talk import talking
from tests.service.postgres import Server
from tests.standin import Standin
from tests.standin.server import TOKEN

__all__ = ["standin"]

Refuse = Callable[[Memory, str], None]


@pytest.fixture(params=["file", "server"])
def memory(request: pytest.FixtureRequest, tmp_path: Path) -> Memory:
    """An empty memory of either kind."""
    if request.param == "file":
        return open_memory(f"sqlite:///{tmp_path}/chat.db")
    server: Server = request.getfixturevalue("server")
    return open_memory(server.make("refused"))


def alter(memory: Memory, *words: str) -> None:
    """Change the tables as their administrator could."""
    with memory._at_book():
        for one in words:
            memory._book.execute(text(one))


def refuse_letters(memory: Memory, where: str) -> None:
    """From now on the database takes no letter of which this is true."""
    if memory.shared:
        alter(memory, f"ALTER TABLE outbox ADD CONSTRAINT refused CHECK (({where}) IS NOT TRUE) NOT VALID")
    else:
        told = (
            f"BEFORE INSERT ON outbox WHEN {where.replace('body', 'new.body').replace('chat ', 'new.chat ')}"
        )
        alter(memory, f"CREATE TRIGGER refused {told} BEGIN SELECT RAISE(ABORT, 'refused'); END")


def stages(memory: Memory) -> list[tuple[str, str | None]]:
    """How every update ended, in order."""
    with memory._at_book():
        found = memory._book.exec_driver_sql("SELECT stage, fault FROM inbox ORDER BY id").all()
    return [(stage, fault) for stage, fault in found]


@asynccontextmanager
async def at_work(standin: Standin, memory: Memory) -> AsyncIterator["asyncio.Task[int]"]:
    """The bot on this memory; it may not have ended by itself."""
    stop = asyncio.Event()
    settings = Settings(token=TOKEN, api_url=standin.url, person_a_minute=0)
    task = asyncio.create_task(serve(settings, memory, stop, talking))
    try:
        yield task
        assert not task.done()
    finally:
        stop.set()
        assert await asyncio.wait_for(task, 10) == 0
        memory.close()


async def test_an_update_that_cannot_be_written_is_set_aside_at_once_and_the_others_go_on(
    standin: Standin, memory: Memory, caplog: pytest.LogCaptureFixture
) -> None:
    refuse_letters(memory, "body LIKE '%poison%'")
    for words in ("one", "a poison", "two"):
        standin.say(5, words)
        standin.say(6, words.replace("a poison", "sound"))
    async with at_work(standin, memory):
        await standin.until(lambda: len(standin.sent()) == 6, 10)
        await standin.until(lambda: all(stage != "new" for stage, _ in stages(memory)))
        assert [aside for aside in stages(memory) if aside[0] == "set aside"] == [
            ("set aside", "cannot be written: IntegrityError")
        ]
        assert {queue.name: queue.aside for queue in memory.queues()}["inbox"] == 1  # and so in the figures
    told = [call.text.split("\n")[0] for call in standin.sent(5)]
    assert told[0] == "turn 1"
    assert "Sorry" in told[1]
    assert told[2] == "turn 2"  # on the state before the one that could not be written
    assert [call.text.split("\n")[0] for call in standin.sent(6)] == [f"turn {n}" for n in (1, 2, 3)]
    assert "update set aside" in caplog.text
    assert "poison" not in caplog.text


async def test_where_not_even_the_excuse_can_be_written_the_update_goes_aside_without_a_word(
    standin: Standin, memory: Memory
) -> None:
    refuse_letters(memory, "chat = 5 ")
    standin.say(5, "one")
    standin.say(6, "one")
    async with at_work(standin, memory):
        await standin.until(lambda: standin.sent(6))
        await standin.until(lambda: all(stage != "new" for stage, _ in stages(memory)))
        assert [stage for stage, _ in stages(memory)] == ["set aside", "done"]
    assert not standin.sent(5)


async def test_while_a_database_is_full_all_waits_and_nothing_is_set_aside(
    standin: Standin, memory: Memory, caplog: pytest.LogCaptureFixture
) -> None:
    if memory.shared:
        full = """CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS
            $$BEGIN RAISE EXCEPTION 'no space left' USING ERRCODE = '53100'; END$$"""
        alter(memory, full)
        alter(memory, "CREATE TRIGGER no_room BEFORE INSERT ON outbox EXECUTE FUNCTION full_disk()")
    else:
        driver: Any = memory._book.connection.driver_connection
        driver.execute(f"PRAGMA max_page_count = {driver.execute('PRAGMA page_count').fetchone()[0]}")
        memory._book.rollback()
    async with at_work(standin, memory):
        for number in range(40):
            standin.say(5, f"m{number} {'x' * 1000}")  # a file has some room in its pages
        await standin.until(lambda: "takes nothing for the moment" in caplog.text, 10)
        assert "set aside" not in caplog.text
        if memory.shared:
            alter(memory, "DROP TRIGGER no_room ON outbox")
        else:
            driver.execute("PRAGMA max_page_count = 1000000")
        await standin.until(lambda: len(standin.sent(5)) == 40, 20)
        await standin.until(lambda: all(stage == "done" for stage, _ in stages(memory)))
    assert [call.text.split("\n")[0] for call in standin.sent(5)] == [f"turn {n}" for n in range(1, 41)]


async def test_while_somebody_else_has_the_file_locked_all_waits(
    standin: Standin, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    memory = open_memory(f"sqlite:///{tmp_path}/chat.db")
    for connection in (memory._door, memory._book):
        driver: Any = connection.connection.driver_connection
        driver.execute("PRAGMA busy_timeout = 20")
    async with at_work(standin, memory):
        standin.say(5, "one")
        await standin.until(lambda: standin.sent(5))
        other = sqlite3.connect(tmp_path / "chat.db", isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        standin.say(5, "two")
        await standin.until(lambda: "takes nothing for the moment" in caplog.text)
        other.execute("ROLLBACK")
        other.close()
        await standin.until(lambda: len(standin.sent(5)) == 2)
        await standin.until(lambda: all(stage == "done" for stage, _ in stages(memory)))


@pytest.mark.parametrize(
    ("settled", "kind"),
    [
        (Settled(1, talk=Talk("k", 2**70, "{}", 1)), "row"),  # no column holds it
        (Settled(1, talk=Talk("k", 1, None, 1)), "row"),  # type: ignore[arg-type]
        (Settled(1, talk=Talk("k", 1, "\ud83d", 1)), "row"),  # half a character is no UTF-8
    ],
)
def test_values_that_neither_database_takes_are_the_row_s_fault(
    memory: Memory, settled: Settled, kind: str
) -> None:
    memory.keep([Update(1, "1", "{}")])
    with pytest.raises((SQLAlchemyError, ValueError, OverflowError)) as refused:
        memory.settle([settled])
    assert (kind == "row") == is_of_a_row(refused.value)
    assert not may_pass(refused.value)
    assert not is_lost(refused.value)
    memory.settle([Settled(1)])  # the session is as sound as before
    assert stages(memory) == [("done", None)]
    memory.close()


def test_a_server_that_is_gone_is_nobody_s_fault(server: Server) -> None:
    memory = open_memory(server.make("gone"))
    memory.keep([Update(1, "1", "{}")])
    server.stop()
    try:
        with pytest.raises(SQLAlchemyError) as gone:
            memory.settle([Settled(1)])
        assert is_lost(gone.value)
        assert not is_of_a_row(gone.value)
        assert not may_pass(gone.value)
    finally:
        server.start()
        memory.close()
