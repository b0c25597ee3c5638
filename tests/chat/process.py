"""Runs the bot with the counting talk as a process of its own: `python -m tests.chat.process`."""

import sys

from bot.fronts.telegram_run import run_bot
from bot.settings import load
from tests.chat.fake_talk import talking

if __name__ == "__main__":
    sys.exit(run_bot(load(), talking, "--webhook" in sys.argv))
