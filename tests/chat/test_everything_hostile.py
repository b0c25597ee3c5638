"""Whatever may be sent to a bot: each gets a polite word or silence, and the next question its answer."""

import itertools
from typing import Any

import pytest

from bot.fronts.desk.desk import COMMANDS
from bot.fronts.desk.menu import listed
from bot.fronts.talking import talking
from tests.chat.conftest import House
from tests.chat.hands import ask
from tests.standin import Standin
from tests.standin.markup import units

FILE = {"file_id": "a", "file_unique_id": "b"}
# Bot API, "Message": what a message may hold instead of a text
WORDLESS: dict[str, Any] = {
    "photo": [{**FILE, "width": 1, "height": 1}],
    "document": {**FILE, "file_name": "<b>.pdf"},
    "voice": {**FILE, "duration": 1},
    "sticker": {**FILE, "type": "regular", "width": 1, "height": 1, "is_animated": False, "is_video": False},
    "location": {"latitude": 1.0, "longitude": 2.0},
    "contact": {"phone_number": "1", "first_name": "X"},
}
HOSTILE = (
    "<b>x</i> &amp; </blockquote>",
    "🧱" * 2048,
    "9" * 4096,
    "/keep " + "<" * 4000,
    "/site " + "9" * 4000,
    "/rename a to " + "&" * 3000,
    "\u202e\u0000\ud83d",
    "{0}{reading}%s",
    "/open ../../etc",
    "/forget; drop table walls",
    "wall A inches x 140, wall B 87' 1\" x 3.2 how many blocks",
)


@pytest.mark.parametrize("part", WORDLESS)
async def test_what_has_no_words_gets_one_word(standin: Standin, house: House, part: str) -> None:
    async with house.bot(talking):
        assert "Only words" in await ask(standin, 5, None, **{part: WORDLESS[part]})  # type: ignore[arg-type]
        assert "joints" in await ask(standin, 5, "joints for 18 m")


async def test_hostile_words_are_escaped_and_cost_nothing(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        for text in HOSTILE:
            said = await ask(standin, 5, text)
            assert units(said) <= 4096
            assert "could not be worked" not in said
        assert "3 movement joints" in await ask(standin, 5, "joints for 18 m")


@pytest.mark.parametrize("command", [*COMMANDS, "start", "help", "ask"])
async def test_every_command_takes_whatever_stands_behind_it(
    standin: Standin, house: House, command: str
) -> None:
    async with house.bot(talking):
        for tail in ("", " ", " <b>&", " " + "🧱" * 2000, " 4:1", " one to two"):
            await ask(standin, 5, f"/{command}{tail}")
        before = len(standin.sent(-100))
        standin.say(-100, f"/{command}@other_bot", person=5)
        await ask(standin, -100, f"/{command}@perpend_bot", person=5)
        assert len(standin.sent(-100)) <= before + 2
        await ask(standin, 5, "/new")
        standin.say(5, "joints for 18 m")
        await standin.until(lambda: "3 movement joints" in standin.sent(5)[-1].text)


async def test_forwarded_anonymous_channel_and_bot_messages(standin: Standin, house: House) -> None:
    origin = {"type": "hidden_user", "sender_user_name": "<i>", "date": 1}
    anonymous = {"id": -100, "type": "supergroup", "title": "Site"}
    robot = {"id": 77, "is_bot": True, "first_name": "B"}
    async with house.bot(talking):
        assert "3 movement joints" in await ask(standin, 5, "joints for 18 m", forward_origin=origin)
        standin.say(-100, "/ask joints for 12 m", person=77, **{"from": robot})
        standin.post({"channel_post": standin.message(-200, "/ask joints for 12 m", 5)})
        standin.say(-100, "/ask joints for 18 m", person=1087968824, sender_chat=anonymous)
        await standin.until(lambda: standin.sent(-100))
        await ask(standin, 5, "joints for 24 m")
    assert len(standin.sent(-100)) == 1
    assert standin.sent(-200) == []
    assert standin.sent(-100)[0].values["reply_parameters"]["message_id"]


async def test_people_in_one_group_and_one_person_in_two_topics_keep_apart(
    standin: Standin, house: House
) -> None:
    topic = {"message_thread_id": 31, "is_topic_message": True}
    async with house.bot(talking):
        await ask(standin, -100, "/ask joints for 18 m", person=5)
        await ask(standin, -100, "/ask joints for 24 m", person=6)
        await ask(standin, -100, "/ask joints for 12 m", person=5, **topic)
        assert "18 m" in await ask(standin, -100, "@perpend_bot how is that read, which joints?", person=5)
        assert "24 m" in await ask(standin, -100, "@perpend_bot how is that read, which joints?", person=6)
        assert "12 m" in await ask(standin, -100, "@perpend_bot which joints?", person=5, **topic)
    assert standin.sent(-100)[-1].values["message_thread_id"] == 31


async def test_a_menu_is_set_once_for_each_scope_and_holds_what_is_there(
    standin: Standin, house: House
) -> None:
    for _ in range(2):
        async with house.bot(talking):
            await ask(standin, 5, "/start")
            await standin.until(lambda: len([c for c in standin.calls if c.method == "setMyCommands"]) >= 2)
    assert len([c for c in standin.calls if c.method == "setMyCommands"]) == 2
    assert len(standin.menus) == 2
    names = {entry["command"] for entry in itertools.chain(*listed().values())}
    assert names == {*COMMANDS, "start", "help", "ask"}
