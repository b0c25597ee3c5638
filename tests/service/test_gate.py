"""Who is let in, and how fast: over real HTTP, on a file and on a database server that workers share."""

import asyncio
from typing import Any

import psycopg
import pytest

from bot.fronts.talking import talking
from bot.memory import Memory, SharedMemory
from bot.store.paces import OwnPaces, Rate, Verdict
from tests.chat.conftest import House, house, standin
from tests.service.hooks import bring, free_port, ready, worker
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["house", "standin"]

STRANGER, OWN, FOREMAN = 660066066, 5, 7


def kept(memory: Memory) -> str:
    """Everything in the database, as text."""
    tables = ("inbox", "outbox", "talks", "questions", "answers", "walls", "sites", "papers", "paces", "seen")
    with memory._book.begin():
        rows = [memory._book.exec_driver_sql(f"select * from {table}").all() for table in tables]  # noqa: S608
    return str(rows)


async def test_who_is_not_on_the_list_gets_one_word_and_leaves_nothing(
    standin: Standin, house: House
) -> None:
    house.more |= {"chats": frozenset({OWN, -100})}
    async with house.bot(talking) as memory:
        for _ in range(3):
            standin.say(STRANGER, "secret wall of 1234 m")
        standin.say(-200, "@perpend_bot secret wall of 1234 m", person=STRANGER)
        query = standin.ask_inline(STRANGER, "joints for 18 m")
        foreign = standin.message(STRANGER, "x")
        standin.press(foreign, "2:x:0")
        for chat in (OWN, -100):
            standin.say(chat, "/ask joints for 18 m", person=OWN)
        await standin.until(lambda: standin.sent(OWN) and standin.sent(-100) and standin.sent(STRANGER))
        await asyncio.sleep(0.2)
        text = kept(memory)
    assert [call.text.split(",")[0] for call in standin.sent(STRANGER)] == ["Sorry"]
    assert standin.sent(-200) == []
    assert standin.inline[query] is None
    assert "secret" not in text
    assert str(STRANGER) not in text
    assert not standin.updates  # acknowledged all the same


async def test_who_sends_too_much_gets_one_word_and_others_their_answers(
    standin: Standin, house: House
) -> None:
    house.more |= {"person_burst": 5, "person_a_minute": 6, "foremen": frozenset({FOREMAN})}
    async with house.bot() as memory:
        for number in range(30):
            standin.say(OWN, f"m{number}")
            standin.say(FOREMAN, f"m{number}")
            standin.say(-100, f"@perpend_bot g{number}", person=OWN)  # the same person elsewhere
        standin.say(9, "mine")
        await standin.until(lambda: len(standin.sent(FOREMAN)) == 30 and standin.sent(9))
        await asyncio.sleep(0.2)
        stages = memory._book.exec_driver_sql("select distinct stage from inbox").all()
        memory._book.commit()
    said = [call.text for call in (*standin.sent(OWN), *standin.sent(-100))]
    assert sum(text.startswith("turn") for text in said) == 5
    assert sum(text.startswith("That is a lot") for text in said) == 1
    assert len(said) == 6
    assert stages == [("done",)]
    assert not standin.updates


async def test_presses_and_inline_questions_are_counted_as_well(standin: Standin, house: House) -> None:
    house.more |= {"person_burst": 2, "person_a_minute": 1}
    async with house.bot(talking):
        await standin.until(lambda: standin.menus)  # the talk is loaded
        queries = [standin.ask_inline(OWN, f"joints for {10 + n} m") for n in range(14)]
        other = standin.ask_inline(9, "joints for 18 m")
        await standin.until(lambda: standin.inline[other] is not None)
        await asyncio.sleep(0.2)
        answered = [query for query in queries if standin.inline[query] is not None]
        standin.say(OWN, "joints for 18 m")
        await standin.until(lambda: standin.sent(OWN))
        message = standin.chats[OWN][standin.sent(OWN)[0].message_id or 0]
        code = message["reply_markup"]["inline_keyboard"][0][0]["callback_data"]
        presses = [standin.press(message, code) for _ in range(4)]
        await standin.until(lambda: not standin.updates)
        await asyncio.sleep(0.3)
    assert len(answered) == 8  # four to one message
    assert len([press for press in presses if standin.queries[press]]) == 2  # one worked, one told
    told = [c.text for c in standin.calls if c.method == "answerCallbackQuery" and c.text]
    assert len(told) == 1


async def test_a_group_on_the_list_keeps_its_place_when_its_number_changes(
    standin: Standin, house: House, caplog: pytest.LogCaptureFixture
) -> None:
    house.more |= {"chats": frozenset({-100})}
    async with house.bot(talking):
        standin.say(-100, "/ask joints for 18 m", person=OWN)
        await standin.until(lambda: standin.sent(-100))
        standin.say(-100, None, person=OWN, migrate_to_chat_id=-1007)
        standin.say(-1007, "/ask how many joints at 24 m", person=OWN)
        await standin.until(lambda: standin.sent(-1007))
    assert "new number" in caplog.text
    assert "1007" not in caplog.text


async def test_two_workers_hold_back_and_turn_away_together(standin: Standin, server: Server) -> None:
    database = server.make("flood")
    ports = [free_port(), free_port()]
    more = {"PERPEND_PERSON_BURST": "5", "PERPEND_PERSON_A_MINUTE": "1", "PERPEND_CHATS": "5,9"}
    typed = asyncio.Event()
    async with worker(standin, database, ports[0], more), worker(standin, database, ports[1], more):
        await asyncio.gather(*map(ready, ports))
        for number in range(30):
            standin.say(5, f"m{number}")
            standin.say(6, f"m{number}")
        standin.say(9, "one")
        bringing = asyncio.create_task(bring(standin, ports, typed))
        await standin.until(lambda: not standin.updates, 30)
        typed.set()
        await bringing
        await standin.until(lambda: len(standin.sent(5)) == 6 and standin.sent(9))
        await asyncio.sleep(0.5)
    said = [call.text for call in standin.sent(5)]
    assert [text.startswith("turn") for text in said] == [True] * 5 + [False]
    assert len(standin.sent(9)) == 1
    assert 1 <= len(standin.sent(6)) <= 2  # a stranger gets one word of each worker at most
    with psycopg.connect(database) as connection:
        lanes = connection.execute("SELECT DISTINCT lane FROM inbox").fetchall()
        stages = connection.execute("SELECT DISTINCT stage FROM inbox").fetchall()
    assert {lane for (lane,) in lanes} == {"5", "9"}
    assert stages == [("done",)]


def test_places_come_back_with_time_and_the_word_is_said_again_only_after_rest() -> None:
    paces, rate = OwnPaces(), Rate(4, 0.5)
    verdicts = [paces.take(["a"], rate, 0.0)[0] for _ in range(6)]
    assert verdicts == [Verdict.IN] * 4 + [Verdict.TOLD, Verdict.OUT]
    assert paces.take(["b"], rate, 0.0) == [Verdict.IN]
    assert paces.take(["a", "a"], rate, 2.0) == [Verdict.IN, Verdict.OUT]  # one came back
    assert paces.take(["a"] * 4, rate, 8.0) == [Verdict.IN] * 3 + [Verdict.TOLD]
    for number in range(3 * paces.FEW):  # who is rested is forgotten
        paces.take([f"p{number}"], rate, 100.0 + number)
    assert len(paces._places) <= paces.FEW + 1


def test_two_workers_share_what_a_person_may_send(server: Server) -> None:
    url = server.make("paces")
    one, two = SharedMemory(url), SharedMemory(url)
    rate = Rate(10, 0.01)
    verdicts: list[Verdict] = []
    for _ in range(8):
        verdicts += one.admit(["person 5", "person 6"], rate)[:1]
        verdicts += two.admit(["person 5", "person 5"], rate)
    assert verdicts.count(Verdict.IN) == 10
    assert verdicts.count(Verdict.TOLD) == 1
    assert two.admit(["person 6"], rate) == [Verdict.IN]
    one.close()
    two.close()


@pytest.mark.parametrize("trip", ["message", "edited_message", "callback_query", "inline_query", "other"])
def test_the_chat_of_an_update_is_found_without_trusting_it(trip: str) -> None:
    from bot.fronts.telegram_gate import _chat_of

    for part in (
        None,
        [],
        "x",
        {},
        {"chat": 5},
        {"chat": {}},
        {"from": []},
        {"message": {"chat": {"id": "5"}}},
    ):
        body: dict[str, Any] = {"update_id": 1, trip: part}
        assert _chat_of(body)[0] is None
    assert _chat_of({"message": {"chat": {"id": True, "type": "private"}}})[0] is None
