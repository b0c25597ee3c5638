"""Runs the bot as a process of its own: `python -m tests.chat.process [--webhook] [--real] [--wide]`.

With the counting talk or the real one; `--wide`: many calls are under way at once, as to a far platform, and
what failed is not tried again before the test is over.
"""

import os
import sys

from bot.fronts import talking as real
from bot.fronts import telegram_send
from bot.fronts.telegram_run import run_bot
from bot.fronts.telegram_window import Window
from bot.settings import load
from tests.chat import fake_talk

WIDE = 100


def take_any(window: Window, _seconds: float) -> None:
    """The window stands open from the first call on."""
    window.size = WIDE


if __name__ == "__main__":
    os.environ.setdefault("PERPEND_PERSON_A_MINUTE", "0")  # these people type faster than anybody can
    if "--wide" in sys.argv:
        Window.took = take_any  # type: ignore[method-assign]
        telegram_send.FIRST_PAUSE = telegram_send.LONGEST_PAUSE = 600.0
    talk = real.talking if "--real" in sys.argv else fake_talk.talking
    sys.exit(run_bot(load(), talk, "--webhook" in sys.argv))
