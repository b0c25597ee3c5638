"""Runs the bot with the counting talk as a process of its own: `python -m tests.chat.process`."""

import os
import sys

from bot.fronts.telegram_run import run_bot
from bot.settings import load
from tests.chat.fake_talk import talking

if __name__ == "__main__":
    os.environ.setdefault("PERPEND_PERSON_A_MINUTE", "0")  # these people type faster than anybody can
    sys.exit(run_bot(load(), talking, "--webhook" in sys.argv))
