"""The bot, unchanged, against an emulator of the Bot API that others wrote (npm telegram-test-api 4.2.1).

It has no files, inline queries, command menus, members of a group, limits, markup check, 429, offsets,
redelivery: for those tests/standin.
"""

import asyncio
import shutil
import socket
import subprocess
import tempfile
from collections.abc import AsyncIterator, Iterator
from pathlib import Path
from typing import Any

import aiohttp
import pytest

from bot.fronts.talking import talking
from bot.fronts.telegram_run import serve
from bot.memory import Memory
from bot.settings import Settings
from tests.standin.markup import plain

HERE = Path(__file__).parent
TOKEN = "4200:token_for_the_emulator"


@pytest.fixture(scope="session")
def installed() -> Path:
    """The folder with the emulator's modules; installed once, skipped where that cannot be done."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        pytest.skip("the emulator needs node and npm")
    folder = Path(tempfile.gettempdir()) / "perpend-emulator-4.2.1"
    if not (folder / "node_modules" / "telegram-test-api" / "lib").is_dir():
        folder.mkdir(exist_ok=True)
        shutil.copy(HERE / "package.json", folder)
        made = subprocess.run(
            [npm, "install", "--no-audit", "--no-fund", "--ignore-scripts"],
            cwd=folder, capture_output=True, check=False, timeout=180,
        )  # fmt: skip
        if made.returncode:
            pytest.skip("the emulator cannot be installed here")
    return folder


class Emulator:
    """People on the emulator's side."""

    def __init__(self, url: str, session: aiohttp.ClientSession) -> None:
        self.url = url
        self.session = session

    async def say(self, chat: int, text: str, **more: Any) -> None:
        """Someone types."""
        group = chat < 0
        message = {
            "botToken": TOKEN,
            "date": 1_700_000_000,
            "from": {"id": abs(chat), "is_bot": False, "first_name": "P"},
            "chat": {"id": chat, "type": "supergroup" if group else "private", "title": "Site"},
            "text": text,
            **more,
        }
        await self._post("sendMessage", message)

    async def press(self, chat: int, message_id: int, data: str) -> None:
        """Someone presses a button."""
        person = {"id": abs(chat), "is_bot": False, "first_name": "P"}
        message = {"message_id": message_id, "date": 1_700_000_000, "chat": {"id": chat, "type": "private"}}
        await self._post(
            "sendCallback", {"botToken": TOKEN, "from": person, "message": message, "data": data}
        )

    async def sent(self, chat: int) -> list[dict[str, Any]]:
        """What the bot wrote into a chat, as it stands after edits."""
        history = await self._post("getUpdatesHistory", {"token": TOKEN})
        ours = [one for one in history if "chat_id" in one.get("message", {})]
        return [one for one in ours if str(one["message"]["chat_id"]) == str(chat)]

    async def until(self, chat: int, count: int, words: str = "") -> list[dict[str, Any]]:
        """Wait for so many messages, and for words in the last."""
        for _ in range(200):
            found = await self.sent(chat)
            if len(found) >= count and words in plain(found[-1]["message"]["text"]):
                return found
            await asyncio.sleep(0.05)
        raise AssertionError(f"no {count} messages with {words!r}")

    async def _post(self, route: str, body: dict[str, Any]) -> Any:
        async with self.session.post(f"{self.url}/{route}", json=body) as answer:
            return (await answer.json()).get("result")


@pytest.fixture
def address(installed: Path) -> Iterator[str]:
    """The emulator as a process of its own."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = ["node", str(HERE / "start.js"), str(installed), str(port)]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as process:
        try:
            assert process.stdout is not None
            assert process.stdout.readline().strip() == b"ready"
            yield f"http://127.0.0.1:{port}"
        finally:
            process.kill()


@pytest.fixture
async def emulator(address: str, tmp_path: Path) -> AsyncIterator[Emulator]:
    """The bot at work on the emulator, and people on the other side."""
    database = f"sqlite:///{tmp_path / 'chat.db'}"
    memory, stop = Memory(database), asyncio.Event()
    settings = Settings(token=TOKEN, api_url=address, database=database)
    bot = asyncio.create_task(serve(settings, memory, stop, talking))
    try:
        async with aiohttp.ClientSession() as session:
            yield Emulator(address, session)
    finally:
        stop.set()
        await asyncio.wait_for(bot, 10)
        memory.close()


async def test_question_follow_up_and_help(emulator: Emulator) -> None:
    await emulator.say(5, "joints for 18 m")
    await emulator.until(5, 1, "3 movement joints")
    await emulator.say(5, "and at 20?")
    await emulator.until(5, 2, "length 20 m")
    await emulator.say(5, "/help")
    await emulator.until(5, 3, "Say the wall and the job")


async def test_a_question_back_is_answered_with_its_button(emulator: Emulator) -> None:
    await emulator.say(5, "30 long 8 high joints")
    (asked,) = await emulator.until(5, 1)
    buttons = [b for row in asked["message"]["reply_markup"]["inline_keyboard"] for b in row]
    feet = next(b for b in buttons if "ft" in b["text"])
    await emulator.press(5, asked["messageId"], feet["callback_data"])
    (answered,) = await emulator.until(5, 1, "length 30 ft")
    assert answered["messageId"] == asked["messageId"]  # in its place


async def test_workings_kept_walls_and_markup(emulator: Emulator) -> None:
    await emulator.say(5, "how many blocks for 10 x 2.4")
    (answer,) = await emulator.until(5, 1, "blocks")
    code = answer["message"]["reply_markup"]["inline_keyboard"][0][0]["callback_data"]
    await emulator.press(5, answer["messageId"], code)
    await emulator.until(5, 2, "Rules and where they stand")
    await emulator.say(5, "/keep <b>front & back")
    await emulator.until(5, 3, "Kept as “<b>front & back”: length 10 m")
    await emulator.say(5, "/walls")
    await emulator.until(5, 4, "<b>front & back: length 10 m")


async def test_a_group_is_answered_only_when_spoken_to_and_in_its_topic(emulator: Emulator) -> None:
    await emulator.say(-100, "joints for 12 m")
    await emulator.say(-100, "/ask@TestNameBot joints for 18 m", message_thread_id=7, is_topic_message=True)
    (answer,) = await emulator.until(-100, 1, "3 movement joints")
    assert int(answer["message"]["message_thread_id"]) == 7
    assert answer["message"]["reply_parameters"]


async def test_where_nobody_says_who_is_an_administrator_nothing_is_set(emulator: Emulator) -> None:
    """getChatMember is unknown to the emulator, as to a platform that cannot be reached."""
    await emulator.say(-7, "/site feet")
    await emulator.until(-7, 1, "could not be found out")
    await emulator.say(5, "/site feet")
    await emulator.until(5, 1, "Answers in: feet and inches")
    await emulator.say(5, "joints for 10 m")
    await emulator.until(5, 2, "8 ft 2½ in")
