"""The database: one path to the tables whether made or migrated, all or nothing, nothing twice."""

import time
from functools import partial
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, inspect, text
from sqlalchemy.exc import IntegrityError

from bot.fronts.telegram_sweep import walk
from bot.memory import Memory
from bot.store.opening import StoreFault, bring_up_to_date, open_engine
from bot.store.retention import SWEEPING
from bot.store.rows import Letter, Question, Settled, Talk, Update
from bot.store.tables import EDITION, metadata
from bot.store.ticks import Ticks
from bot.store.upgrading import config


def shape(connection: Connection) -> dict[str, object]:
    """Columns and indexes of every table, as the database tells them."""
    seen = inspect(connection)
    return {
        table: (
            [(c["name"], str(c["type"]), c["nullable"], str(c["default"])) for c in seen.get_columns(table)],
            sorted(str(index["column_names"]) + str(index["name"]) for index in seen.get_indexes(table)),
        )
        for table in seen.get_table_names()
        if table != "alembic_version"
    }


def test_made_and_migrated_tables_are_the_same(tmp_path: Path) -> None:
    made, migrated = (open_engine(f"sqlite:///{tmp_path / name}.db") for name in ("made", "migrated"))
    bring_up_to_date(made)
    with migrated.begin() as connection:
        command.upgrade(config(connection), "head")
        assert ScriptDirectory.from_config(config(connection)).get_current_head() == EDITION
        assert compare_metadata(MigrationContext.configure(connection), metadata) == []
        after = shape(connection)
    with made.begin() as connection:
        assert shape(connection) == after
        assert connection.execute(text("select version_num from alembic_version")).scalar() == EDITION
    for engine in (made, migrated):
        bring_up_to_date(engine)
        engine.dispose()


def test_a_database_of_a_newer_edition_is_refused(tmp_path: Path) -> None:
    engine = open_engine(f"sqlite:///{tmp_path / 'new.db'}")
    bring_up_to_date(engine)
    with engine.begin() as connection:
        connection.execute(text("update alembic_version set version_num = '9999'"))
    with pytest.raises(StoreFault):
        bring_up_to_date(engine)
    engine.dispose()


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    """An empty memory."""
    return Memory(f"sqlite:///{tmp_path / 'new' / 'chat.db'}")


def test_the_journal_is_flushed_before_an_update_is_acknowledged(memory: Memory) -> None:
    with memory._door.begin():
        assert memory._door.exec_driver_sql("pragma journal_mode").scalar() == "wal"
        assert memory._door.exec_driver_sql("pragma synchronous").scalar() == 2  # FULL
    memory.close()


def test_the_same_update_is_kept_once(memory: Memory) -> None:
    assert memory.keep([Update(1, "5", "{}"), Update(2, "5", "{}")]) == 2
    assert memory.keep([Update(2, "5", "{}"), Update(3, "5", "{}")]) == 1
    memory.settle([Settled(memory.waiting(1)[0].id)])
    assert memory.keep([Update(1, "5", "{}")]) == 0
    assert len(memory.waiting(10)) == 2
    memory.close()


def test_settling_is_all_or_nothing(memory: Memory) -> None:
    memory.keep([Update(1, "5", "{}"), Update(2, "5", "{}")])
    first, second = memory.waiting(2)
    letter = Letter("sendMessage", {"chat_id": 5}, "5", 5, 11)
    memory.settle([Settled(first.id, letters=[letter])])
    again = Settled(
        first.id, letters=[Letter("sendMessage", {}, "5")]
    )  # the same letter number: it cannot be
    changed = Settled(second.id, talk=Talk("5:0:5", 5, "{}", second.id))
    with pytest.raises(IntegrityError):
        memory.settle([changed, again])
    assert [row.id for row in memory.waiting(10)] == [second.id]
    assert memory.recall(["5:0:5"]) == {}
    memory.tick_off([(letter, 77)])
    assert memory.unsent() == []
    assert memory.reply_to(5, 11) == 77
    memory.close()


async def test_what_is_finished_is_forgotten_in_time_and_what_is_open_is_not(memory: Memory) -> None:
    memory.keep([Update(1, "5", "{}"), Update(2, "5", "{}"), Update(3, "5", "{}")])
    one, two, _ = memory.waiting(3)
    question = Question(5, 11, "5:0:5", one.id, "{}", "d")
    memory.settle([Settled(one.id, question=question), Settled(two.id, fault="cannot be read")])
    for step in SWEEPING:
        await walk(memory, partial(step, before=time.time() - 3600))
    assert memory.question(5, 11) == question
    for step in SWEEPING:
        await walk(memory, partial(step, before=time.time() + 1))
    assert memory.question(5, 11) is None
    assert len(memory.waiting(10)) == 1
    assert memory.keep([Update(1, "5", "{}")]) == 1
    memory.close()


def test_a_worked_update_leaves_no_words_behind(memory: Memory) -> None:
    memory.keep([Update(1, "5", '{"text": "private words"}')])
    letter = Letter("sendMessage", {"text": "private answer"}, "5", 5, 11)
    memory.settle([Settled(memory.waiting(1)[0].id, letters=[letter])])
    memory.tick_off([(letter, 77)])
    with memory._at_book():
        rows = [*memory._book.exec_driver_sql("select * from inbox").all()]
        rows += memory._book.exec_driver_sql("select * from outbox").all()
    assert "private" not in str(rows)
    memory.close()


def killed(tmp_path: Path, *endings: str) -> Memory:
    """What a process finds that starts where one was killed: the files as they lie there."""
    there = tmp_path / "killed" / "chat.db"
    there.parent.mkdir(exist_ok=True)
    for ending in endings:
        there.with_name(there.name + ending).write_bytes((tmp_path / "new" / f"chat.db{ending}").read_bytes())
    return Memory(f"sqlite:///{there}")


def one_letter(memory: Memory) -> Letter:
    """A letter that is still to be sent."""
    memory.keep([Update(1, "5", "{}")])
    letter = Letter("sendMessage", {"text": "answer"}, "5", 5, 11)
    memory.settle([Settled(memory.waiting(1)[0].id, letters=[letter])])
    return letter


def test_what_was_ticked_off_is_known_after_a_kill(memory: Memory, tmp_path: Path) -> None:
    letter = one_letter(memory)
    memory.tick_off([(letter, 77)])
    for endings, left in ((("", "-wal"), [letter.id]), (("", "-wal", "-sent"), [])):
        after = killed(tmp_path, *endings)
        assert [one.id for one in after.unsent()] == left
        assert after.reply_to(5, 11) == (None if left else 77)
        after.close()
    memory.close()


def test_a_tick_is_written_down_with_whatever_comes_next(memory: Memory, tmp_path: Path) -> None:
    letter = one_letter(memory)
    memory.tick_off([(letter, None)])
    memory.settle([])
    after = killed(tmp_path, "", "-wal")
    assert after.unsent() == []
    after.close()
    memory.close()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
def test_a_tick_that_cannot_be_noted_goes_to_the_database_at_once(memory: Memory, tmp_path: Path) -> None:
    letter = one_letter(memory)
    memory._ticks.close()
    memory._ticks._file = Path("/dev/full").open("r+b", buffering=0)  # noqa: SIM115 - closed with the memory
    memory.tick_off([(letter, 77)])
    after = killed(tmp_path, "", "-wal")
    assert after.unsent() == []
    after.close()
    memory.close()


@pytest.mark.parametrize("torn", range(16))
def test_a_note_that_was_torn_is_none(tmp_path: Path, torn: int) -> None:
    notes = Ticks(tmp_path / "chat.db")
    notes.note([(16, 77), (32, None)])
    notes.note([(48, 2**62)])
    notes.close()
    file = tmp_path / "chat.db-sent"
    file.write_bytes(file.read_bytes()[: 32 + torn])
    again = Ticks(tmp_path / "chat.db")
    assert again.noted == [(16, 77), (32, None)]
    again.note([(64, 78)])
    again.close()
    last = Ticks(tmp_path / "chat.db")
    assert last.noted == [(16, 77), (32, None), (64, 78)]
    last.close()
