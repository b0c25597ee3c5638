"""The platform's limits hold over all workers: in a group, in a chat, and overall.

Figures: the platform's FAQ, "My bot is hitting limits": one message a second in a chat, 20 a minute in a
group, about 30 a second over all chats.
"""

import asyncio
import time
from collections import deque
from collections.abc import Sequence
from typing import Any

import pytest

from bot.fronts.telegram_window import Pace, Tempo
from bot.memory import Memory, SharedMemory
from bot.store.paces import Rate, Verdict
from bot.store.rows import Settled, Update
from tests.chat.conftest import standin
from tests.service.hooks import bring, free_port, ready, worker
from tests.service.postgres import Server
from tests.standin import Standin

__all__ = ["standin"]


def quiet(_lane: str) -> bool:
    """Nothing is on its way."""
    return False


def handed_over(server: Server, chat: int, use: Any) -> Pace:
    """The pace of a chat as the second worker knows it once the first let go of the lane."""
    url = server.make("handed")
    one, two = SharedMemory(url), SharedMemory(url)
    one.keep([Update(1, str(chat), "{}"), Update(2, str(chat), "{}")])
    row = one.claim(1, quiet).rows[0]
    use(Pace(one.note_pace))
    one.settle([Settled(row.id)])
    one.close()
    end = time.monotonic() + 5
    while not (claim := two.claim(1, quiet)).rows:
        assert time.monotonic() < end
    pace = Pace()
    for lane, places, ago in claim.paces:
        assert 0 <= ago < 5
        pace.learn(int(lane), places, ago, time.monotonic())
    two.close()
    return pace


def test_a_group_gets_twenty_a_minute_whoever_writes(server: Server) -> None:
    def use(pace: Pace) -> None:
        now = time.monotonic()
        assert [pace.wait(-100, now) for _ in range(20)] == [0.0] * 20
        assert pace.wait(-100, now) > 2.9

    pace = handed_over(server, -100, use)
    assert pace.wait(-100, time.monotonic()) > 1.0
    assert pace.wait(-200, time.monotonic()) == 0.0


def test_a_chat_that_was_too_fast_stays_slow_whoever_writes(server: Server) -> None:
    def use(pace: Pace) -> None:
        pace.slow_down(5, time.monotonic())
        assert pace.wait(5, time.monotonic()) == 0.0

    pace = handed_over(server, 5, use)
    assert 0.2 < pace.wait(5, time.monotonic()) <= 1.0


def test_a_chat_that_was_never_too_fast_costs_no_row(server: Server) -> None:
    pace = handed_over(server, 5, lambda pace: pace.wait(5, time.monotonic()))
    assert pace.wait(5, time.monotonic()) == 0.0
    assert pace._full == {}


def test_one_process_writes_nothing_down_for_it(tmp_path: Any) -> None:
    memory = Memory(f"sqlite:///{tmp_path}/chat.db")
    memory.admit(["person 5"] * 3, Rate(2, 1))
    memory.note_pace("-100", 3.0)
    with memory._book.begin():
        assert memory._book.exec_driver_sql("select count(*) from paces").scalar() == 0
    memory.close()


def test_the_platform_objects_in_three_chats_and_all_go_slower_for_a_minute() -> None:
    asked: list[Rate] = []

    def admit(keys: Sequence[str], rate: Rate) -> list[Verdict]:
        asked.append(rate)
        return [Verdict.IN for _ in keys]

    tempo = Tempo(0, admit)
    assert tempo.wait(0.0) == 0.0
    assert [tempo.refused(chat, 0.1) for chat in (5, 5, 6)] == [False, False, False]
    assert tempo.refused(7, 5.0) is False  # long after the others
    assert [tempo.refused(chat, 5.1) for chat in (8, 9)] == [False, True]
    assert tempo.refused(9, 5.2) is False  # known by now
    assert tempo.wait(6.0) == 0.0
    assert len(asked) == 1
    assert asked[0].a_second + asked[0].burst == 30
    tempo.wait(66.0)
    assert len(asked) == 1


@pytest.mark.parametrize("workers", [1, 2])
async def test_so_many_a_second_over_all_workers(standin: Standin, server: Server, workers: int) -> None:
    database = server.make("overall")
    ports = [free_port() for _ in range(workers)]
    more = {"PERPEND_SENDS_A_SECOND": "20"}
    typed = asyncio.Event()
    async with asyncio.timeout(60):
        for chat in range(1, 21):
            for text in ("one", "two", "three"):
                standin.say(chat, text)
        async with (
            worker(standin, database, ports[0], more),
            worker(standin, database, ports[-1], more) if workers == 2 else asyncio.timeout(None),
        ):
            await asyncio.gather(*map(ready, ports))
            bringing = asyncio.create_task(bring(standin, ports, typed))
            typed.set()
            await standin.until(lambda: len(standin.sent()) == 60, 30)
            await bringing
    at = sorted(call.at for call in standin.sent())
    window: deque[float] = deque()
    most = 0
    for moment in at:
        window.append(moment)
        while moment - window[0] > 1.0:
            window.popleft()
        most = max(most, len(window))
    assert most <= 23  # a tenth of a second is how much longer one call is on its way than another
    assert at[-1] - at[0] < 6.0  # and it is not slower than it must
