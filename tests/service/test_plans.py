"""Neither a look at the queues nor the housekeeping goes through a whole table: the databases tell how."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event, text

from bot.fronts.telegram_sweep import walk
from bot.memory import Memory, open_memory
from bot.store import retention, yard
from bot.store.tables import metadata
from bot.store.taking import has_tables, queues
from tests.service.postgres import Server

MANY, OLD = 20_000, 2_000
_NUMBERS = {
    False: "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 20000) ",
    True: "WITH n(i) AS (SELECT * FROM generate_series(1, 20000)) ",
}
_FILLED = {
    "inbox (update_id, lane, body, stage, at)": "i, CAST(i AS VARCHAR(80)), NULL, 'done', i",
    "outbox (id, lane, method, body, chat, message, stage, at)": "i * 16, '5', 'x', '', i, i, 'done', i",
    "talks (key, chat, state, turn, at)": "CAST(i AS VARCHAR(80)), i, '{}', i, i",
    "questions (chat, message, key, turn, before, digest, at)": "i, 1, 'k', i, '{}', 'd', i",
    "answers (turn, chat, key, asked, record, at)": "i, i, 'k', 'words', '{}', i",
    "walls (chat, name, body, gone, at)": "i, 'front', '{}', CASE WHEN i % 50 = 0 THEN i END, i",
    "sites (chat, body)": "i, '{}'",
    "papers (chat, digest, file_id)": "i, 'd', 'f'",
    "paces (key, places, at)": "CAST(i AS VARCHAR(80)), 1, i",
}
_BOUNDED_SCAN = re.compile(r"^SCAN \w+ USING (COVERING )?INDEX \w+_(open|aside|gone)$")


@pytest.fixture(params=["file", "server"])
def memory(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Memory]:
    """A memory of either kind in which twenty thousand chats keep things, nine tenths of them of late."""
    if request.param == "file":
        made = open_memory(f"sqlite:///{tmp_path}/chat.db")
    else:
        server: Server = request.getfixturevalue("server")
        made = open_memory(server.make("plans"))
    with made._at_book():
        for table, values in _FILLED.items():
            words = f"INSERT INTO {table} {_NUMBERS[made.shared]} SELECT {values} FROM n"  # noqa: S608
            made._book.execute(text(words))
        made._book.execute(text("ANALYZE"))
    yield made
    made.close()


@contextmanager
def noted(memory: Memory) -> Iterator[dict[str, Any]]:
    """Every statement that is run meanwhile, with values that it was run with."""
    found: dict[str, Any] = {}

    def note(_connection: Any, _cursor: Any, words: str, values: Any, _context: Any, many: bool) -> None:
        found[words] = values[0] if many else values

    event.listen(memory._engine, "before_cursor_execute", note)
    try:
        yield found
    finally:
        event.remove(memory._engine, "before_cursor_execute", note)


def whole_tables(memory: Memory, words: str, values: Any) -> list[str]:
    """The tables that this statement would go through from one end to the other."""
    with memory._at_book():
        if memory.shared:
            plan = [row[0] for row in memory._book.exec_driver_sql(f"EXPLAIN {words}", values)]
            return re.findall(r"Seq Scan on (\w+)", "\n".join(plan))
        plan = [row[3] for row in memory._book.exec_driver_sql(f"EXPLAIN QUERY PLAN {words}", values)]
    found = []
    for line in plan:
        scan = re.match(r"SCAN (\w+)(.*)", line)
        if scan is None or scan[1] not in metadata.tables or _BOUNDED_SCAN.match(line):
            continue
        if "USING" in scan[2] and "LIMIT" in words:  # in the order that is asked for, and only so many
            continue
        found.append(scan[1])
    return found


def test_the_test_knows_a_whole_table_when_it_meets_one(memory: Memory) -> None:
    for words in ("SELECT count(*) FROM inbox WHERE lane = '5'", "DELETE FROM talks WHERE at < 5"):
        assert whole_tables(memory, words, ())


def test_the_queues_are_counted_by_indexes_of_open_rows_and_rejects_alone(memory: Memory) -> None:
    with noted(memory) as statements:
        memory.look(queues)
        memory.look(has_tables)
        memory.look(lambda book: yard.rejects(book, 20))
        memory.look(yard.standing_orders)
    assert len(statements) == 10
    asked = {words: values for words, values in statements.items() if "orders" not in words}
    assert [words for words, values in asked.items() if whole_tables(memory, words, values)] == []


def test_the_queues_stand_as_they_are(memory: Memory) -> None:
    with memory._at_book():
        memory._book.execute(text("UPDATE inbox SET stage = 'new' WHERE id IN (70, 80, 90)"))
        memory._book.execute(text("UPDATE inbox SET stage = 'set aside' WHERE id IN (10, 20)"))
        memory._book.execute(text("UPDATE outbox SET stage = 'set aside' WHERE id = 32"))
    assert [(q.name, q.waiting, q.oldest, q.aside) for q in memory.queues()] == [
        ("inbox", 3, 70.0, 2),
        ("outbox", 0, None, 1),
    ]


async def test_no_step_of_the_housekeeping_goes_through_a_whole_table_or_changes_many_rows(
    memory: Memory, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.fronts.telegram_sweep.REST", 0)
    steps: list[tuple[Any, Any]] = [
        (retention.note_seen, 0.0),
        *((partial(retention.note_keepers, table=table, now=MANY), None) for table in retention.KEEPERS),
        *((partial(step, before=OLD), None) for step in retention.SWEEPING + retention.FORGETTING),
    ]
    changed: list[int] = []
    look = memory.look

    def counted(step: Callable[[Any], Any]) -> Any:
        with rows_changed(memory, changed):
            return look(step)

    monkeypatch.setattr(memory, "look", counted)
    with noted(memory) as statements:
        for step, place in steps:
            await walk(memory, step, place)
    assert len(changed) > MANY / retention.A_FEW * 8
    assert max(changed) <= 2 * retention.A_FEW
    assert [words for words, values in statements.items() if whole_tables(memory, words, values)] == []
    with memory._at_book():
        left = {
            name: memory._book.execute(text(f"SELECT count(*), min(at) FROM {name}")).one()  # noqa: S608
            for name in ("inbox", "outbox", "talks", "questions", "answers", "paces", "seen")
        }
    young = (MANY - OLD + 1, OLD)  # those of that very moment and later
    assert {name: tuple(row) for name, row in left.items()} == dict.fromkeys(left, young)


@contextmanager
def rows_changed(memory: Memory, into: list[int]) -> Iterator[None]:
    """How many rows one look changed, counted from its statements."""
    found = 0

    def count(_connection: Any, cursor: Any, words: str, *_more: Any) -> None:
        nonlocal found
        if words.lstrip()[:6].upper() in ("INSERT", "DELETE", "UPDATE"):
            found += max(0, cursor.rowcount)

    event.listen(memory._engine, "after_cursor_execute", count)
    try:
        yield
    finally:
        event.remove(memory._engine, "after_cursor_execute", count)
        into.append(found)
