"""Every handler of the chat: what it is for, and whatever may come in its place."""

import re
from typing import Any

import pytest
from sqlalchemy import Connection, text

from bot.fronts.talking import talking
from bot.memory import Memory
from tests.chat.conftest import House
from tests.chat.handlers import HOSTILE, PLAIN, ROWS, Row, names
from tests.chat.hands import Hands, quiet
from tests.standin import Standin
from tests.standin.markup import plain
from tests.standin.people import BOT
from tests.standin.server import Call

PERSON, OTHER = 5, 6
ROBOT = {"id": 77, "is_bot": True, "first_name": "B"}
CHANNEL = {"id": -555, "type": "channel", "title": "C"}
FORWARDED = {"type": "hidden_user", "sender_user_name": "<i>", "date": 1}
FILE = {"file_id": "a", "file_unique_id": "b", "file_name": "<b>.pdf"}
WORDS = {
    "markup": HOSTILE,
    "unclosed markup": "<b>&amp;</i> </blockquote> & < >",
    "as long as can be": "brick " * 682 + "wall",
    "longer than can be": "9" * 5000,
    "pictures alone": "🧱" * 2048,
    "no letters": "\u202e\u0000\ud83d",
    "our own signs": "{0}{reading}%s",
}


def test_every_handler_has_a_row() -> None:
    assert {name for row in ROWS for name in row.of.split(", ")} == names()


class Scene:
    """A row played in a chat of its own."""

    def __init__(self, standin: Standin, memory: Memory, row: Row, number: int = 0) -> None:
        self.standin, self.memory, self.row = standin, memory, row
        self.chat = PERSON + 1000 * number if row.private else -100 - number
        self.hands = Hands(standin, self.chat, self.chat if row.private else PERSON)
        if row.admin:
            standin.ranks[self.chat, PERSON] = "administrator"

    @property
    def name(self) -> str:
        """What it is, and where."""
        return f"{self.row} in {self.chat}"

    async def prepare(self, name: str) -> None:
        """All that comes before."""
        for step in self.row.before:
            self.hands.do(step.replace("{name}", name))
            await self.quiet()

    async def play(self, name: str) -> list[Call]:
        """What is done; the calls that came of it."""
        before = len(self.standin.calls)
        self.hands.do(self.row.do.replace("{name}", name))
        await self.quiet()
        return self.standin.calls[before:]

    async def quiet(self) -> None:
        """Wait until all is worked."""
        await quiet(self.standin, self.memory)


def seen(call: Call) -> list[str]:
    """What people see of a call: its words, and those on its buttons."""
    rows = call.values.get("reply_markup", {}).get("inline_keyboard", ())
    found = [call.text, *(button["text"] for row in rows for button in row)]
    for article in call.values.get("results", ()):
        found += [plain(article["input_message_content"]["message_text"]), article["title"]]
        found.append(article["description"])
    return found


def as_typed(standin: Standin) -> None:
    """Whatever somebody named is shown as he typed it, wherever it is shown."""
    for words in (words for call in standin.calls for words in seen(call)):
        for found in re.finditer(f"(.{{0,3}}){PLAIN}(.{{0,9}})", words):
            assert "<b>" in found[1], words
            assert "</b>&amp;".startswith(found[2].rstrip("…").rstrip()) or found[2] == "</b>&amp;", words


def aside(book: Connection) -> list[Any]:
    """Why anything was set aside."""
    asked = "SELECT fault FROM {0} WHERE stage = 'set aside'"
    return [row for table in ("inbox", "outbox") for row in book.execute(text(asked.format(table)))]


async def well(scene: Scene, name: str, malformed: int = 0) -> None:
    """Nothing was set aside, nobody got an excuse, and the next question gets its answer."""
    assert len(scene.memory.look(aside)) == malformed, name
    assert not [c for c in scene.standin.calls if "could not be worked" in c.text], name
    if scene.row.foreman:
        scene.hands.do("/crackon")
        await scene.quiet()
    before = len(scene.standin.sent(scene.chat))
    scene.hands.do("/new" if scene.row.private else "/new@perpend_bot")
    scene.hands.do("joints for 18 m" if scene.row.private else "/ask joints for 18 m")
    await scene.quiet()
    if "*moved" not in scene.row.do:
        assert "length 18 m" in scene.standin.sent(scene.chat)[-1].text, name
        assert len(scene.standin.sent(scene.chat)) == before + 2, name


@pytest.mark.parametrize("row", ROWS, ids=str)
async def test_what_it_is_for(standin: Standin, house: House, row: Row) -> None:
    if row.foreman:
        house.more |= {"foremen": frozenset({PERSON})}
    async with house.bot(talking) as memory:
        scene = Scene(standin, memory, row)
        await scene.prepare(PLAIN)
        calls = await scene.play(PLAIN)
        words = "\n".join(word for call in calls for word in seen(call))
        assert row.sees.replace("{name}", PLAIN) in words
        sent = [call for call in calls if call.method.startswith(("send", "edit", "answerInline"))]
        if row.sees and not row.past and "only an" not in row.sees:
            assert row.method in {call.method for call in sent}
        if row.is_press:
            assert len([c for c in calls if c.method == "answerCallbackQuery"]) == 1
        await well(scene, "", row.before.count("*malformed"))


@pytest.mark.parametrize("row", [row for row in ROWS if "{name}" in str((*row.before, row.do))], ids=str)
async def test_what_somebody_named_is_shown_as_he_typed_it(standin: Standin, house: House, row: Row) -> None:
    async with house.bot(talking) as memory:
        scene = Scene(standin, memory, row)
        await scene.prepare(HOSTILE)
        calls = await scene.play(HOSTILE)
        words = "\n".join(word for call in calls for word in seen(call))
        assert row.sees.replace("{name}", HOSTILE) in words
        as_typed(standin)
        await well(scene, "")


@pytest.mark.parametrize("row", ROWS, ids=str)
async def test_whatever_words_come_instead(standin: Standin, house: House, row: Row) -> None:
    """Behind the command, in the edit, as the inline question; else where something else is awaited."""
    if row.foreman:
        house.more |= {"foremen": frozenset({PERSON})}
    async with house.bot(talking) as memory:
        scene = Scene(standin, memory, row)
        await scene.prepare(HOSTILE)
        for name, words in WORDS.items():
            before = len(standin.calls)
            scene.hands.do(instead(row, words))
            await scene.quiet()
            if row.do[0] == "/":
                assert len(standin.calls) > before, name
            assert not [c for c in standin.calls if "could not be worked" in c.text], name
        as_typed(standin)
        await well(scene, "", row.before.count("*malformed"))


def instead(row: Row, words: str) -> str:
    """The step of a row with these words in it."""
    if row.do[0] == "/" and " " not in row.sees[:1]:
        return f"{row.do.split()[0]} {words}"
    if row.do[0] in "~?>":
        return row.do[0] + ("/ask " if row.do.startswith("~/ask") else "") + words
    return words if row.private else f"@perpend_bot {words}"


@pytest.mark.parametrize("row", ROWS, ids=str)
async def test_whatever_comes_in_its_place(standin: Standin, house: House, row: Row) -> None:
    """Files, places, forwarded words, the group itself, channels and other bots."""
    if row.foreman:
        house.more |= {"foremen": frozenset({PERSON})}
    said = row.do.replace("{name}", PLAIN) if row.do[0].isalnum() or row.do[0] in "/@" else HOSTILE
    async with house.bot(talking) as memory:
        scene = Scene(standin, memory, row)
        await scene.prepare(PLAIN)
        chat, person = scene.chat, scene.hands.person
        before = len(standin.sent())
        for silent in (
            {"from": ROBOT},
            {"from": ROBOT, "via_bot": ROBOT},
            {"reply_to_message": {"message_id": 1, "from": BOT}, "from": ROBOT},
        ):
            standin.say(chat, said, person, **silent)
        standin.post({"channel_post": standin.message(chat, said, person, sender_chat=CHANNEL)})
        standin.post({"edited_channel_post": standin.message(chat, said, person, sender_chat=CHANNEL)})
        await scene.quiet()
        assert len(standin.sent()) == before, "bots and channels are not answered"
        standin.say(chat, None, person, document=FILE, caption=said)
        standin.say(chat, None, person, location={"latitude": 1.0, "longitude": 2.0})
        standin.say(chat, said, person, forward_origin=FORWARDED)
        await scene.quiet()
        if row.private:
            assert len(standin.sent()) >= before + 3
        else:
            hidden = {"id": chat, "type": "supergroup", "title": "Site"}
            standin.say(chat, said, 1087968824, sender_chat=hidden)
            standin.say(chat, said, 777000, sender_chat=CHANNEL, is_automatic_forward=True)
            await scene.quiet()
        await well(scene, "", row.before.count("*malformed"))


@pytest.mark.parametrize("row", [row for row in ROWS if row.is_press], ids=str)
async def test_whatever_is_pressed_and_whoever_presses(standin: Standin, house: House, row: Row) -> None:
    """Data that no button of ours carries; somebody else; from an old message; twice in one breath."""
    async with house.bot(talking) as memory:
        scene = Scene(standin, memory, row)
        await scene.prepare(PLAIN)
        message, data = scene.hands.under(row.do.replace("{name}", PLAIN))
        person, before = scene.hands.person, len(standin.sent())
        edition, *parts = data.split(":")
        forged = (
            *("", data[:3], data + ":0", data + HOSTILE, "🧱" * 40, "x" * 500, data.replace(":", "\u0000")),
            *(":".join((edition, *parts[:-1], wrong)) for wrong in ("ff", "-1", "zz", "9" * 20, " 1", "１")),
            *(":".join((edition, *wrong, *parts[1:])) for wrong in (("zz",), ("",))),
        )
        queries = [standin.press(message, one, person) for one in forged]
        await scene.quiet()
        assert all(standin.queries[query] for query in queries)
        told = len(standin.sent()) - before  # what needs no choice, or has none, may be pressed at any
        assert told <= len(forged)
        before = len(standin.sent())
        elsewhere = {**message, "chat": {"id": -999, "type": "supergroup"}}
        queries = (
            []
            if row.of == "press x"
            else [standin.press(message, data, OTHER), standin.press(elsewhere, data, person)]
        )
        await scene.quiet()
        said = [c.text for c in standin.calls if c.method == "answerCallbackQuery"][-len(queries or "x") :]
        if queries:
            assert len(standin.sent()) == before
            refused = ("belong to the one who asked", "moved on", "only an administrator")
            assert all(any(words in text for words in refused) for text in said)
        await well(scene, "")


@pytest.mark.parametrize("row", [row for row in ROWS if row.is_press], ids=str)
async def test_a_press_of_an_old_message_and_a_second_one(standin: Standin, house: House, row: Row) -> None:
    """Bot API, "InaccessibleMessage": of an old message only chat and number come along, and a date of 0."""
    async with house.bot(talking) as memory:
        scene = Scene(standin, memory, row)
        await scene.prepare(PLAIN)
        message, data = scene.hands.under(row.do.replace("{name}", PLAIN))
        kind = {"id": scene.chat, "type": "private" if row.private else "supergroup"}
        old = {"chat": kind, "message_id": message["message_id"], "date": 0}
        queries = [standin.press(old, data, scene.hands.person) for _ in range(2)]
        queries.append(standin.press(old, data, scene.hands.person))
        del standin.updates[max(standin.updates)]["callback_query"]["message"]  # under what was sent inline
        await scene.quiet()
        assert all(standin.queries[query] for query in queries)
        words = "\n".join(word for call in standin.calls for word in seen(call))
        assert row.sees.replace("{name}", PLAIN) in words
        await well(scene, "")
