"""The talks of tests/talks once more, through the chat: what stands in force is as without it."""

import asyncio
from functools import partial

import pytest

from bot.fronts.talking import talking
from bot.store.taking import recall
from bot.talk import State, turn
from tests.chat.conftest import House
from tests.standin import Standin
from tests.standin.near import NearRequest
from tests.talk.test_talks import TALKS, exchanges, shown

IN_FORCE = {"region", "slots", "topics", "walls", "asked", "pending", "last", "confirmed"}


async def test_every_talk_comes_out_as_it_does_without_the_chat(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.fronts.telegram.SiteRequest", partial(NearRequest, standin))
    async with house.bot(talking) as memory:
        await asyncio.gather(*(_type(standin, chat, place) for chat, place in enumerate(TALKS, 1)))
        keys = [f"{chat}:0:{chat}" for chat in range(1, len(TALKS) + 1)]
        kept = memory.look(lambda book: recall(book, keys))
    for chat, place in enumerate(TALKS, 1):
        state = State()
        for exchange in exchanges(place):
            state, reply = turn(state, exchange.message)
        here = State.model_validate_json(kept[f"{chat}:0:{chat}"].state)
        alone = State.model_validate_json(state.model_dump_json())
        assert here.model_dump(include=IN_FORCE) == alone.model_dump(include=IN_FORCE), place.stem
        last = standin.sent(chat)[-1].text
        for line in shown(reply):
            kind, _, text = line.partition(": ")
            assert not text or text.split("\n")[0] in last, (place.stem, kind)


async def _type(standin: Standin, chat: int, place) -> None:  # type: ignore[no-untyped-def]
    for number, exchange in enumerate(exchanges(place), 1):
        standin.say(chat, exchange.message)
        await standin.until(lambda: len(standin.sent(chat)) >= number, 20)  # noqa: B023 - awaited here
