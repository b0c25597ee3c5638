"""A size that was assumed and changes the number: offered once below the answer, set with one press."""

import re
from typing import Any

from bot.fronts.talking import talking
from tests.chat.conftest import House
from tests.chat.hands import ask, buttons, press
from tests.standin import Standin

USUAL = ["Workings", "Draw it", "Wall sheet", "Misread", "Pass on"]


def offered(standin: Standin, chat: int) -> list[str]:
    """The labels below the last answer that are not always there."""
    return [label for label in buttons(standin, chat) if label not in USUAL]


def bags(text: str) -> int:
    """How many bags of cement an answer names."""
    found = re.search(r"(\d+) bags of cement", text)
    assert found is not None, text
    return int(found[1])


def answer(standin: Standin, chat: int) -> dict[str, Any]:
    """The last of our messages as it stands."""
    return standin.chats[chat][standin.sent(chat)[-1].message_id or 0]


async def test_a_size_is_offered_once_in_a_chat_and_set_with_one_press(
    standin: Standin, house: House
) -> None:
    """The same cement takes five bags of 20 kg for four of 25 kg."""
    async with house.bot(talking):
        first = await ask(standin, 5, "how many bags of cement to render 60 m2 outside")
        assert "bag size 25 kg" in first
        assert offered(standin, 5) == ["25 kg bags", "20 kg bags", "Ours differ"]
        rows = answer(standin, 5)["reply_markup"]["inline_keyboard"]
        assert [b["text"] for b in rows[-1]] == offered(standin, 5)  # below all, in one row
        said = await press(standin, 5, "20 kg bags")
        assert said == "Set for this site: 20 kg bags. /site shows it."
        await standin.until(lambda: "bag size 20 kg" in answer(standin, 5)["text"])
        assert len(standin.sent(5)) == 2  # the answer itself changed: a message, and its edit
        assert offered(standin, 5) == []
        await ask(standin, 5, "render coats for 60 m2 outside")
        assert offered(standin, 5) == []
        assert "20 kg" in await ask(standin, 5, "/site")
    large, small = (bags(text) for text in (first, standin.sent(5)[1].text))
    assert 20 * (small - 1) < 25 * large
    assert 25 * (large - 1) < 20 * small
    assert small > large


async def test_who_leaves_the_row_alone_is_not_asked_again(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        assert offered(standin, 5) == ["Block 440 × 215 mm", "Block 620 × 215 mm", "Ours differ"]
        await ask(standin, 5, "how many blocks for 12 x 2.4")
        assert offered(standin, 5) == []
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 14 x 2.4")
        assert offered(standin, 5) == []
        await ask(standin, 6, "how many blocks for 14 x 2.4")  # another chat
        assert len(offered(standin, 6)) == 3


async def test_another_size_is_typed(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        await press(standin, 5, "Ours differ")
        await standin.until(lambda: "/site blocks 600 x 250 x 100" in standin.sent(5)[-1].text)


async def test_an_older_answer_sets_the_size_and_stays(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        await ask(standin, 5, "and the mesh")
        old = standin.sent(5)[0].text
        await press(standin, 5, "Block 620 × 215 mm", 0)
        await standin.until(lambda: standin.sent(5)[-1].text.startswith("Set for this site"))
        assert standin.chats[5][standin.sent(5)[0].message_id or 0]["text"] == old
        assert "block 620 × 215 mm as set here" in await ask(standin, 5, "how many blocks for 10 x 2.4")


async def test_nothing_is_offered_that_changes_no_number_or_in_a_group(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking):
        for text in ("which mortar below dpc", "joints for 18 m", "is 4:1 too strong", "crack 2 mm stepped"):
            await ask(standin, 5, text)
            assert offered(standin, 5) == [], text
        await ask(standin, -100, "/ask how many blocks for 10 x 2.4", person=6)
        assert offered(standin, -100) == []
        await ask(standin, 7, "mesh for 2 x 1")  # one roll of either length
        assert offered(standin, 7) == []
        await ask(standin, 8, "mesh for 18 x 2.6")  # more than 25 m of it, less than 50: a roll or two
        assert offered(standin, 8) == ["Roll 1 × 50 m", "Roll 1 × 25 m", "Ours differ"]


async def test_a_forged_size_is_politely_refused(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        message = answer(standin, 5)
        turn = buttons(standin, 5)["Workings"].split(":")[2]
        for data in (f"2:z:{turn}:ff", f"2:z:{turn}", f"2:z:{turn}:0", "2:z:1:0"):
            query = standin.press(message, data)
            await standin.until(lambda query=query: standin.queries[query])
        assert "none set" in await ask(standin, 5, "/site")
