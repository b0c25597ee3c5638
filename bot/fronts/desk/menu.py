"""The command menu: set at start by scope and language, and only where it differs from what stands there."""

import logging

from bot.fronts.telegram_arrival import Done, Line
from bot.fronts.telegram_log import info
from bot.languages import FIRST, chat, spoken

log = logging.getLogger("perpend.menu")

SCOPES = {"private": "all_private_chats", "group": "all_group_chats"}


def listed(language: str = "en") -> dict[str, list[dict[str, str]]]:
    """Commands with their descriptions, by scope."""
    menu = chat(language)["menu"]
    everything = [{"command": name, "description": text} for name, text in menu["all"].items()]
    group = [{"command": name, "description": text} for name, text in menu["group"].items()]
    return {"private": everything, "group": group + everything}


async def set_menu(line: Line) -> None:
    """Bring the menu up to date; a platform that does not answer is asked at the next start."""
    for language in spoken():
        await _set_menu(line, language)


async def _set_menu(line: Line, language: str) -> None:
    """The first language is for everybody who has no menu in his own."""
    own = {} if language == FIRST else {"language_code": language}
    for name, commands in listed(language).items():
        scope = {"scope": {"type": SCOPES[name]}, **own}
        match await line.call("getMyCommands", scope):
            case Done(list() as there) if there == commands:
                continue
            case Done():
                await line.call("setMyCommands", {**scope, "commands": commands})
            case _:
                info(log, "the command menu is left as it is")
