"""Parts of the sender on their own: the window, the pace, the form that goes over the line."""

import asyncio
import json

from hypothesis import given
from hypothesis import strategies as st
from telegram.request import RequestData
from telegram.request._requestparameter import RequestParameter

from bot.fronts.telegram_http import encode
from bot.fronts.telegram_window import Pace, Window


@given(st.text(), st.integers(-(2**52), 2**52), st.booleans())
def test_a_call_is_read_back_as_it_was(text: str, chat: int, flag: bool) -> None:
    said = {"chat_id": chat, "text": text, "link_preview_options": {"is_disabled": flag}}
    kind, body = encode(RequestData([RequestParameter.from_input(*part) for part in said.items()]))
    assert kind == b"application/json"  # Bot API, "Making requests"
    assert json.loads(body) == said


async def test_near_by_one_call_is_out_at_a_time_and_far_away_many() -> None:
    window = Window()
    for _ in range(300):
        window.took(0.002)
    assert window.size == 1
    for _ in range(300):
        window.took(0.02)  # a machine that is busy with other things; 30 a second is what the platform takes
    assert window.size == 1
    for _ in range(300):
        window.took(0.05)
    assert 30 <= window.size <= 60


async def test_the_first_calls_of_a_cold_start_do_not_open_the_window() -> None:
    window = Window()
    for _ in range(20):
        window.took(0.2)
    assert window.size == 1


@given(st.lists(st.sampled_from([0.001, 0.034, 0.04, 0.05, 0.08]), min_size=1, max_size=600))
def test_the_quickest_of_the_last_two_hundred_calls_counts(calls: list[float]) -> None:
    window = Window()
    for seconds in calls:
        window.took(seconds)
    last = calls[-200:]
    most = int(min(last) * 1000) if min(last) > 1 / 30 else 1
    assert window.size == max(1, min((len(last) - 20) // 4, most))


async def test_the_window_admits_in_order_and_survives_a_cancelled_waiter() -> None:
    window = Window()
    order: list[int] = []

    async def call(number: int) -> None:
        async with window:
            order.append(number)
            await asyncio.sleep(0.001)

    calls = [asyncio.create_task(call(number)) for number in range(6)]
    await asyncio.sleep(0)
    calls[2].cancel()
    await asyncio.gather(*calls, return_exceptions=True)
    assert order == [0, 1, 3, 4, 5]
    assert window.out == 0


def test_a_group_is_written_to_at_most_twenty_times_a_minute() -> None:
    # Bot API FAQ: "not be able to send more than 20 messages per minute to the same group"
    pace, now, sent = Pace(), 0.0, []
    while now < 300.0:
        rest = pace.wait(-100, now)
        if rest:
            now += rest
        else:
            sent.append(now)
    quiet_after_burst = [at for at in sent if at > 60.0]
    assert len(sent) - len(quiet_after_burst) <= 40
    for start in quiet_after_burst:
        assert sum(start <= at < start + 60.0 for at in sent) <= 21
    assert pace.wait(100, 0.0) == 0.0


def test_groups_that_fell_silent_take_no_room() -> None:
    pace = Pace()
    for number in range(100_000):  # one message to each, a hundred groups a second
        assert pace.wait(-1 - number, number / 100) == 0.0
    assert len(pace._full) < 13_000  # of the last minute there are 6,000
    for _ in range(19):
        pace.wait(-100_000, 1000.0)
    assert pace.wait(-100_000, 1000.0) > 0.0
