"""What can go wrong between the bot and the platform, and that nothing is lost by it."""

import asyncio
import logging
import time

import pytest

from tests.chat.conftest import House
from tests.standin import Standin
from tests.standin.server import TOKEN


async def test_malformed_updates_are_set_aside_and_stop_nobody(standin: Standin, house: House) -> None:
    for body in (
        {"message": {"message_id": 1}},
        {"message": {"message_id": 1, "date": "noon", "chat": {"id": "x", "type": 3}, "text": 7}},
        {"message": []},
        {
            "message": {
                "message_id": 1,
                "chat": {"id": 2**70, "type": "private"},
                "from": {"id": 5},
                "text": "x",
            }
        },
        {"callback_query": {"id": "1"}},
        {},
        {"unheard_of": {"a": 1}},
    ):
        standin.post(body)
    standin.say(5, "sound")
    async with house.bot() as memory:
        await standin.until(lambda: standin.sent(5))
        rows = memory._book.exec_driver_sql("select stage, count(*) from inbox group by stage").all()
        memory._book.commit()
    assert dict(rows)["set aside"] >= 3
    assert "new" not in dict(rows)


async def test_a_message_that_breaks_the_talk_is_set_aside_with_a_word(
    standin: Standin, house: House, caplog: pytest.LogCaptureFixture
) -> None:
    async with house.bot():
        standin.say(5, "one")
        standin.say(5, "break")
        standin.say(5, "two")
        await standin.until(lambda: len(standin.sent(5)) == 3)
    assert "Sorry" in standin.sent(5)[1].text
    assert standin.sent(5)[2].text.startswith("turn 2")
    assert "secret words" not in caplog.text


async def test_too_many_requests_hold_back_one_chat_only(standin: Standin, house: House) -> None:
    standin.faults.limited[5] = time.monotonic() + 0.9
    async with house.bot():
        for text in ("one", "two"):
            standin.say(5, text)
        for chat in range(10, 20):
            standin.say(chat, "one")
        await standin.until(lambda: len(standin.sent()) == 12)
    refused = [c for c in standin.calls if c.code == 429]
    first = next(c for c in standin.sent(5))
    assert 1 <= len(refused) <= 2
    assert first.at - refused[0].at >= 1.0  # retry_after is whole seconds
    assert max(c.at for c in standin.sent() if c.values["chat_id"] != 5) < first.at
    assert [c.text.split("\n")[0] for c in standin.sent(5)] == ["turn 1", "turn 2"]


async def test_a_chat_that_was_too_fast_is_written_to_slower(standin: Standin, house: House) -> None:
    standin.faults.each[5] = 0.9  # the platform's rule of one a second, without its allowance for bursts
    async with house.bot():
        for text in ("one", "two", "three"):
            standin.say(5, text)
        await standin.until(lambda: len(standin.sent(5)) == 3)
    assert [c.text.split("\n")[0] for c in standin.sent(5)] == ["turn 1", "turn 2", "turn 3"]
    assert len([c for c in standin.calls if c.code == 429]) == 1


async def test_errors_and_dropped_connections_lose_nothing(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.fronts.telegram_send.FIRST_PAUSE", 0.01)
    monkeypatch.setattr("bot.fronts.telegram_take.FIRST_PAUSE", 0.01)
    standin.faults.error_500 = 0.05
    standin.faults.dropped_before = 0.05
    async with house.bot():
        for number in range(10):
            for chat in range(1, 11):
                standin.say(chat, f"m{number}")
        await standin.until(lambda: len(standin.sent()) >= 100 and not standin.updates, 40)
        await asyncio.sleep(0.2)
    for chat in range(1, 11):
        assert [c.text.split("\n")[0] for c in standin.sent(chat)] == [f"turn {n}" for n in range(1, 11)]


async def test_a_letter_that_always_fails_is_set_aside_after_five_attempts(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr("bot.fronts.telegram_send.FIRST_PAUSE", 0.01)
    standin.faults.always_500.add(5)
    async with house.bot() as memory:
        standin.say(5, "one")
        standin.say(6, "one")
        await standin.until(lambda: "set aside" in caplog.text)
        standin.faults.always_500.clear()
        standin.say(5, "two")
        await standin.until(lambda: len(standin.sent(5)) == 1 and not memory.unsent())
        rows = memory._book.exec_driver_sql("select stage, tries from outbox where stage <> 'done'").all()
        memory._book.commit()
    assert rows == [("set aside", 5)]
    assert len([c for c in standin.calls if c.code == 500]) == 5
    assert standin.sent(5)[0].text.startswith("turn 2")


async def test_an_outage_is_no_fault_of_the_letters(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.fronts.telegram_send.FIRST_PAUSE", 0.01)
    async with house.bot() as memory:
        standin.say(5, "one")
        await standin.until(lambda: standin.sent(5))
        standin.say(5, "two")
        await standin.until(lambda: len(standin.sent(5)) == 2)
        standin.down = True
        standin.end_poll()
        await asyncio.sleep(0.05)
        standin.say(5, "three")
        await asyncio.sleep(1.5)
        standin.down = False
        await standin.until(lambda: len(standin.sent(5)) == 3, 20)
        await standin.until(lambda: memory.unsent() == [])  # it is put down once the platform has answered


async def test_start_survives_a_platform_that_is_not_there_yet(standin: Standin, house: House) -> None:
    standin.down = True
    standin.say(5, "one")
    async with house.bot():
        await asyncio.sleep(0.7)
        standin.down = False
        await standin.until(lambda: standin.sent(5))


async def test_a_refused_token_ends_the_bot_with_a_status(standin: Standin, house: House) -> None:
    standin.bad_token = True
    async with house.bot():
        await asyncio.sleep(0.3)
    assert house.status == 1


async def test_redelivered_updates_are_answered_once(standin: Standin, house: House) -> None:
    async with house.bot():
        number = standin.post({"message": standin.message(5, "one")})
        kept = dict(standin.updates[number])
        await standin.until(lambda: standin.sent(5))
        standin.updates[number] = kept  # the acknowledgement was lost on the way
        standin.say(5, "two")
        await standin.until(lambda: len(standin.sent(5)) == 2)
    assert [c.text.split("\n")[0] for c in standin.sent(5)] == ["turn 1", "turn 2"]


async def test_numbering_may_start_anew(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(5, "one")
        await standin.until(lambda: standin.sent(5) and not standin.updates)
        standin.end_poll()  # as in a quiet week
        await asyncio.sleep(0.05)
        standin.post({"message": standin.message(5, "two")}, update_id=17)
        await standin.until(lambda: len(standin.sent(5)) == 2)


async def test_an_update_is_written_down_before_it_is_acknowledged(standin: Standin, house: House) -> None:
    async with house.bot() as memory:
        keep = memory.keep

        def keep_and_look(updates):  # type: ignore[no-untyped-def]
            held = list(updates)
            assert all(update.update_id in standin.updates for update in held), "acknowledged too early"
            return keep(held)

        memory.keep = keep_and_look  # type: ignore[method-assign]
        for chat in range(1, 200):
            standin.say(chat, "one")
        await standin.until(lambda: len(standin.sent()) == 199)


async def test_log_lines_hold_no_text_number_or_token(
    standin: Standin, house: House, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG, "perpend")
    standin.faults.error_500 = 0.1
    standin.faults.limited[424242] = time.monotonic() + 0.5
    async with house.bot():
        for text in ("confidential wall", "break", "/start"):
            standin.say(424242, text)
        del standin.chats[424242]
        standin.say(5, "one")
        await standin.until(lambda: standin.sent(5))
        await asyncio.sleep(1.5)
    standin.violations.clear()
    lines = "\n".join(r.getMessage() for r in caplog.records if r.name.startswith("perpend"))
    assert lines
    for secret in ("confidential", "424242", TOKEN, "break"):
        assert secret not in lines


async def test_answers_of_no_known_shape_do_not_stop_the_poll(standin: Standin, house: House) -> None:
    standin.post({"message": {"text": "x"}}, update_id=2**70)
    standin.updates[3] = ["no", "update"]  # type: ignore[assignment]
    async with house.bot():
        await asyncio.sleep(0.3)
        standin.updates.clear()
        standin.say(5, "sound")
        await standin.until(lambda: standin.sent(5))
