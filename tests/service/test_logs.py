"""Hostile traffic over real HTTP, with faults: no word, number or token of it stands in a log line."""

import asyncio
import json
import logging
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bot.fronts.telegram_log import Lines, info
from tests.chat.conftest import House, house, standin
from tests.chat.fake_talk import turn
from tests.standin import Standin
from tests.standin.server import TOKEN

__all__ = ["house", "standin"]

CHAT, PERSON, GROUP = 424242001, 987654321, -1009988776655
WORDS = ("zebrawall", "Ölfarbe", "кирпич", "墙壁", "<script>", "%s%n{0}", "hunter2", "perpend-of-mine")


def assert_silent(lines: str) -> None:
    """Nothing of a person stands in these lines."""
    for word in (*WORDS, str(CHAT), str(PERSON), str(abs(GROUP)), TOKEN, TOKEN.split(":")[1], "127.0.0.1"):
        assert word not in lines, word
        assert json.dumps(word)[1:-1] not in lines, word


@pytest.mark.parametrize("logs", ["json", "lines"])
async def test_no_line_holds_anything_of_anybody(standin: Standin, house: House, logs: str) -> None:
    house.more |= {"foremen": frozenset({PERSON})}
    env = {
        **{k: v for k, v in os.environ.items() if not k.startswith("PERPEND_")},
        "PERPEND_TOKEN": TOKEN,
        "PERPEND_API_URL": standin.url,
        "PERPEND_DATABASE": house.database,
        "PERPEND_LOGS": logs,
        "PERPEND_FOREMEN": str(PERSON),
        "PYTHONASYNCIODEBUG": "1",
        "PYTHONWARNINGS": "always",
    }
    standin.faults.error_500 = 0.1
    standin.faults.dropped_before = 0.05
    standin.faults.limited[CHAT] = time.monotonic() + 0.8
    standin.faults.always_500.add(GROUP)
    made = await asyncio.create_subprocess_exec(
        *(sys.executable, "-m", "tests.chat.process"), env=env, stderr=asyncio.subprocess.PIPE
    )
    try:
        standin.say(5, "first")
        await standin.until(lambda: standin.sent(5), 30)
        for word in WORDS:
            standin.say(CHAT, word, person=PERSON)
            standin.say(CHAT, f"which {word}", person=PERSON)
            standin.say(GROUP, f"/ask {word}", person=PERSON)
            standin.ask_inline(PERSON, word)
            standin.post({"message": {"message_id": 1, "chat": {"id": word}, "text": word}})
            standin.post({"message": {**standin.message(CHAT, word, PERSON), "text": [word]}})
            standin.post({word: {"id": PERSON}})
            standin.post({"inline_query": {"id": "1", "from": {"id": word}, "query": word}})
            standin.press(standin.message(CHAT, "x", PERSON), f"1:zz:{word}"[:60], PERSON)
        standin.say(CHAT, "break", person=PERSON)
        standin.say(PERSON, "/rejects")
        del standin.chats[GROUP]
        standin.say(CHAT, "last words", person=PERSON)
        await standin.until(lambda: any("last words" in call.text for call in standin.sent(CHAT)), 60)
        standin.faults.always_500.clear()
        await asyncio.sleep(1.5)
        made.send_signal(signal.SIGTERM)
        _, written = await asyncio.wait_for(made.communicate(), 30)
    finally:
        if made.returncode is None:
            made.kill()
    standin.violations.clear()
    lines = written.decode()
    assert made.returncode == 0
    assert_silent(lines)
    events = [line for line in lines.splitlines() if line]
    assert len(events) > 20
    if logs == "json":
        objects = [json.loads(line) for line in events]
        assert all(set(one) >= {"at", "level", "log", "event"} for one in objects)
        told = {one["event"] for one in objects}
        assert {"update set aside", "letter waits", "no answer", "inline question not answered"} <= told
        assert all(isinstance(one["row"], int) for one in objects if "row" in one)
    else:
        shape = re.compile(r'at=\S+ level=\w+ log=[\w.]+ event=(\w+|"[^"]+")( \w+=(\S+|"[^"]*"))*')
        assert all(shape.fullmatch(line) for line in events), [e for e in events if not shape.fullmatch(e)]


def test_what_a_library_says_is_left_out_and_that_it_spoke_is_not() -> None:
    for as_json in (True, False):
        lines = Lines(TOKEN, as_json)
        try:
            turn(None, "break")  # type: ignore[arg-type]
        except ValueError as error:
            record = logging.LogRecord(
                "sqlalchemy", logging.ERROR, __file__, 7, f"[zebrawall] {error} %s", (TOKEN,), sys.exc_info()
            )
        said = lines.format(record)
        assert_silent(said)
        assert "secret words" not in said
        assert "ValueError" in said
        assert "sqlalchemy" in said


def test_the_token_is_taken_out_even_of_our_own_lines(caplog: pytest.LogCaptureFixture) -> None:
    with caplog.at_level(logging.INFO):
        info(logging.getLogger("perpend.test"), "something", kind=f"x {TOKEN}")
    assert TOKEN not in Lines(TOKEN).format(caplog.records[0])


def test_every_line_is_written_by_the_one_that_knows_what_may_be_in_it() -> None:
    root = Path(__file__).parents[2]
    found = subprocess.run(
        [
            "git",
            "grep",
            "-nE",
            r"\blog\.(debug|info|warning|error|exception|critical)\(|\bprint\(",
            "--",
            "bot",
        ],
        cwd=root,
        capture_output=True,
        text=True,
        check=False,
    ).stdout.splitlines()
    ours = (
        "bot/cli.py",
        "bot/fronts/terminal.py",
        "bot/fronts/rules.py",
        "bot/fronts/paper.py",
        "bot/fronts/copies.py",
        "bot/fronts/ready.py",
    )
    assert [line for line in found if not line.startswith(ours)] == []
