"""A question typed in any chat: answered past the queue, for the asker, with reading, rule and caution."""

import time
from typing import Any

import pytest
from sqlalchemy import Connection

from bot.fronts import telegram_run
from bot.fronts.desk.inline import Inline
from bot.fronts.talking import talking
from bot.fronts.telegram_answer import Answerer, words
from bot.fronts.telegram_arrival import Done, Line, Outcome
from bot.memory import Memory
from tests.chat.conftest import House
from tests.chat.hands import ask, buttons
from tests.standin import Standin
from tests.standin.markup import plain, units


async def inline(standin: Standin, person: int, text: str) -> list[dict[str, Any]]:
    """Ask inline and wait for the answer."""
    query = standin.ask_inline(person, text)
    await standin.until(lambda: standin.inline[query] is not None)
    return standin.inline[query] or []


async def test_the_answer_names_the_question_the_reading_the_rule_and_the_caution(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking) as memory:
        await ask(standin, 9, "/start")
        (article,) = await inline(standin, 5, "joints for 18 m <b>& wall")
        rows = memory._book.exec_driver_sql("select count(*) from inbox").scalar()
        memory._book.commit()
    text = plain(article["input_message_content"]["message_text"])
    assert text.startswith("Asked: joints for 18 m <b>& wall\n3 movement joints")
    assert "Read: length 18 m" in text
    assert "General guidance only" in text
    assert "6 m" in text
    assert "[" in text  # the rule with its source
    assert rows == 1  # the start only: the inline question was not written down
    call = next(c for c in standin.calls if c.method == "answerInlineQuery")
    assert call.values["is_personal"] is True
    assert standin.sent(5) == []


async def test_an_answer_is_passed_on_by_the_one_who_got_it(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "joints for 18 m")
        await ask(standin, 5, "and at 20?")
        code = buttons(standin, 5)["Pass on"]
        (article,) = await inline(standin, 5, code)
        assert await inline(standin, 6, code) == []
    text = plain(article["input_message_content"]["message_text"])
    assert text.startswith("Asked: and at 20?\n")
    assert "length 20 m" in text


async def test_hostile_queries_get_an_empty_answer_or_none(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        for text in (
            "",
            "   ",
            "🧱" * 128,
            "answer zz",
            "answer " + "f" * 30,
            "x" * 256,
            "<b>",
            "30 long 8 high joints",
        ):
            assert await inline(standin, 5, text) == []
        standin.post({"inline_query": {"id": 1}})
        standin.post({"inline_query": []})
        standin.post({"inline_query": {"id": "1", "from": {"id": "x"}, "query": 5}})
        assert await inline(standin, 5, "which mortar below dpc") != []
        assert "movement" in await ask(standin, 5, "joints for 18 m")


async def test_what_is_asked_while_the_bot_is_starting_is_answered(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def late(line: Line) -> tuple[str, int, bool]:
        await standin.until(lambda: not standin.updates)  # the poll was quicker
        return await introduce(line)

    introduce = telegram_run.introduce
    monkeypatch.setattr(telegram_run, "introduce", late)
    query = standin.ask_inline(5, "joints for 18 m")
    async with house.bot(talking):
        await standin.until(lambda: standin.inline[query] is not None)
    assert standin.inline[query]


async def test_the_site_of_the_asker_counts(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "/site blocks 600 x 250 x 100")
        (own,) = await inline(standin, 5, "how many blocks for a wall 6.1 m long 2.6 m high")
        (other,) = await inline(standin, 6, "how many blocks for a wall 6.1 m long 2.6 m high")
    assert own["title"].startswith("100 blocks")  # 10 × 10 coordinating faces of 610 × 260 mm
    assert own["title"] != other["title"]


class Quiet:
    """A line that takes everything."""

    async def call(self, method: str, body: dict[str, Any], wait: float = 20.0) -> Outcome:  # noqa: ARG002
        """Done."""
        return Done(True)


async def test_it_takes_less_than_ten_milliseconds(tmp_path: Any) -> None:
    memory = Memory(f"sqlite:///{tmp_path / 'chat.db'}")
    answerer = Answerer(talking(), words(), share=True)
    answerer.warm_up()
    desk = Inline(Quiet(), answerer, memory)
    took = []
    for number in range(60):
        begun = time.perf_counter()
        (article,) = desk.results(5, f"joints for {10 + number / 2} m wall 2.4 high")
        took.append(time.perf_counter() - begun)
        assert units(plain(article["input_message_content"]["message_text"])) <= 4096
    memory.close()
    assert sorted(took)[len(took) // 2] < 0.010


async def test_nothing_is_written_and_no_queue_waited_for(standin: Standin, house: House) -> None:
    """The file's own counter of changes stands still, and a backlog of messages is overtaken."""
    async with house.bot(talking) as memory:
        await ask(standin, 5, "/start")
        await standin.until(lambda: len(standin.menus) == 2)

        def changes() -> tuple[int, ...]:
            handles = (memory._door, memory._book)
            return tuple(h.connection.driver_connection.total_changes for h in handles)  # type: ignore[union-attr]

        await standin.until(lambda: memory.look(_unsettled) == 0)
        before = changes()
        for number, text in enumerate(("joints for 18 m", "which mortar below dpc", "answer 1", "", "🧱")):
            await inline(standin, 100 + number, text)
        assert changes() == before
        for number in range(60):
            standin.say(200 + number, "everything for a rendered 10 m x 2.4 wall")
        (article,) = await inline(standin, 300, "joints for 18 m")
        made = [call.method for call in standin.calls]
        place = len(made) - 1 - made[::-1].index("answerInlineQuery")
        await standin.until(lambda: all(standin.sent(200 + number) for number in range(60)))
    after = [call.method for call in standin.calls[place:]]
    assert article["title"].startswith("3 movement joints")
    assert after.count("sendMessage") > 30  # most of the backlog was still to be answered


def _unsettled(connection: Connection) -> int:
    """Updates and letters that are not done with."""
    count = "(select count(*) from {} where stage = 'new')"
    waiting = f"select {count.format('inbox')} + {count.format('outbox')}"
    return int(connection.exec_driver_sql(waiting).scalar() or 0)
