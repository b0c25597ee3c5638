"""Several workers on one database server: a lane is one worker's, and free as soon as it is dead."""

import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from bot.memory import SharedMemory, open_memory
from bot.store.lanes import Claim
from bot.store.opening import bring_up_to_date, open_engine
from bot.store.rows import Letter, Settled, Talk, Update, Waiting
from bot.store.tables import metadata
from bot.store.upgrading import config
from tests.chat.test_memory import shape
from tests.service.postgres import Server


@pytest.fixture
def url(server: Server) -> str:
    """An empty database."""
    return server.make("shared")


@pytest.fixture
def workers(url: str) -> Iterator[tuple[SharedMemory, SharedMemory]]:
    """Two workers' holds on one database."""
    one, two = SharedMemory(url), SharedMemory(url)
    yield one, two
    one.close()
    two.close()


def quiet(_lane: str) -> bool:
    """Nothing is on its way."""
    return False


def busy(_lane: str) -> bool:
    """Everything is on its way."""
    return True


def until_free(worker: SharedMemory) -> Claim:
    """The first claim with something in it: a server takes note of a cut session in a moment, not in none."""
    for _ in range(200):
        claim = worker.claim(2, quiet)
        if claim.rows:
            return claim
        time.sleep(0.01)
    raise AssertionError("the lane is still held")


def ids(rows: object) -> list[int]:
    """Their numbers."""
    assert isinstance(rows, list)
    return [row.id for row in rows if isinstance(row, Waiting)]


def test_made_and_migrated_tables_are_the_same_on_the_server(server: Server) -> None:
    made, migrated = (open_engine(server.make(name)) for name in ("made", "migrated"))
    bring_up_to_date(made)
    with migrated.begin() as connection:
        command.upgrade(config(connection), "head")
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        after = shape(connection)
    with made.begin() as connection:
        assert shape(connection) == after
    for engine in (made, migrated):
        bring_up_to_date(engine)
        engine.dispose()


def test_a_file_is_one_process_own_and_a_server_is_shared(url: str, tmp_path: Path) -> None:
    memory = open_memory(f"sqlite:///{tmp_path}/chat.db")
    assert not memory.shared
    memory.close()
    shared = open_memory(url)
    assert shared.shared
    shared.close()


def test_a_lane_is_one_workers_until_it_is_quiet(workers: tuple[SharedMemory, SharedMemory]) -> None:
    one, two = workers
    assert one.keep([Update(1, "5", "{}"), Update(2, "6", "{}"), Update(3, "5", "{}")]) == 3
    assert two.keep([Update(3, "5", "{}"), Update(4, "6", "{}")]) == 1
    first = one.claim(1, quiet)
    assert ids(first.rows) == [1]
    assert first.barred is True
    second = two.claim(16, quiet)
    assert [row.body for row in second.rows] == ["{}", "{}"]
    assert second.barred is True  # the other lane waits
    letter = Letter("sendMessage", {"chat_id": 5}, "5", 5, 11)
    one.settle([Settled(first.rows[0].id, talk=Talk("5:0:5", 5, "{}", 1), letters=[letter])])
    two.settle([Settled(row.id) for row in second.rows])
    assert ids(two.claim(16, quiet).rows) == []  # still the other's: its letter is not sent
    later = one.claim(16, busy)
    assert len(later.rows) == 1
    one.settle([Settled(row.id) for row in later.rows])
    one.tick_off([(letter, 77)])
    assert one.claim(16, quiet).rows == []
    two.keep([Update(9, "5", "{}")])
    assert len(two.claim(16, quiet).rows) == 1
    assert two.recall(["5:0:5"])["5:0:5"].turn == 1
    assert two.reply_to(5, 11) == 77


def test_what_a_dead_worker_held_is_free_at_once_and_its_letters_go_first(url: str) -> None:
    dead, alive = SharedMemory(url), SharedMemory(url)
    dead.keep([Update(1, "5", "{}"), Update(2, "5", "{}")])
    claim = dead.claim(1, quiet)
    letter = Letter("sendMessage", {"chat_id": 5}, "5", 5, 11)
    press = Letter("answerCallbackQuery", {"callback_query_id": "7"}, "press 7")
    dead.settle([Settled(claim.rows[0].id, letters=[letter, press])])
    assert alive.claim(16, quiet).rows == []
    assert list(alive.claim(16, quiet).letters) == []
    dead.close()
    taken = until_free(alive)
    assert [one.method for one in taken.letters] == ["sendMessage", "answerCallbackQuery"]
    assert len(taken.rows) == 1
    alive.close()


def test_what_was_in_hand_when_a_worker_died_is_worked_alone(url: str) -> None:
    for _ in range(2):
        dead = SharedMemory(url)
        dead.keep([Update(n, "5", "{}") for n in range(1, 4)])
        until_free(dead)
        dead.close()
    alive = SharedMemory(url)
    first = until_free(alive)
    assert [row.tries for row in first.rows] == [2]
    alive.settle([Settled(first.rows[0].id)])
    second = alive.claim(16, quiet)
    assert [row.tries for row in second.rows] == [1]
    alive.settle([Settled(second.rows[0].id)])
    assert [row.tries for row in alive.claim(16, quiet).rows] == [0]
    alive.close()
