"""Papers are made when they are sent: the outbox holds what they are of, so that a kill loses none."""

import asyncio
import logging
from typing import Any

from bot.fronts.telegram_arrival import File
from bot.fronts.telegram_log import fail
from bot.memory import Memory
from bot.store import saved
from bot.store.rows import Letter

log = logging.getLogger("perpend.print")

Body = dict[str, Any]
_FIELD = {"sendPhoto": "photo", "sendDocument": "document"}


class Printer:
    """Turns a letter with a paper into the body of a call; what this chat has had is not sent up again."""

    def __init__(self, memory: Memory) -> None:
        self.memory = memory

    async def ready(self, letter: Letter) -> Body:
        """The body with its file, or with the number of the file where the platform holds it."""
        body = dict(letter.body)
        recipe = body.pop("paper")
        known = self._known(letter)
        if known is not None:
            return {**body, _FIELD[letter.method]: known}
        recipe = dict(recipe)
        if recipe["kind"] == "record":
            recipe["given"] = self.memory.look(lambda book: saved.given_in(book, recipe["chat"]))
            recipe["walls"] = self.memory.look(lambda book: saved.walls_of(book, recipe["chat"]))
        try:
            from bot.fronts.desk.papers import made

            name, content = await asyncio.to_thread(made, recipe)
        except Exception as error:  # the letter still says what it can
            fail(log, "no paper", row=letter.id, fault=type(error).__name__)
            letter.method, letter.body = "sendMessage", _words_only(body, recipe["sorry"])
            return letter.body
        return {**body, _FIELD[letter.method]: File(name, content)}

    def sent(self, letter: Letter, body: Body, result: Any) -> None:
        """Remember the platform's number of a paper that went up."""
        digest = letter.body.get("paper", {}).get("digest")
        if (
            not digest
            or not isinstance(body.get(_FIELD[letter.method]), File)
            or not isinstance(result, dict)
        ):
            return
        held = result.get(_FIELD[letter.method])
        held = held[-1] if isinstance(held, list) and held else held
        if isinstance(held, dict) and isinstance(held.get("file_id"), str):
            self.memory.keep_paper(body["chat_id"], digest, held["file_id"])

    def spoiled(self, letter: Letter, body: Body) -> bool:
        """Whether a refusal may be the file's number's; then it is forgotten."""
        if "paper" not in letter.body or isinstance(body.get(_FIELD[letter.method]), File):
            return False
        self.memory.keep_paper(letter.body["chat_id"], letter.body["paper"]["digest"], None)
        return True

    def _known(self, letter: Letter) -> str | None:
        digest = letter.body["paper"].get("digest")
        return self.memory.paper(letter.body["chat_id"], digest) if digest else None


def _words_only(body: Body, sorry: str) -> Body:
    kept = {name: value for name, value in body.items() if name not in ("caption", "photo", "document")}
    return {**kept, "text": sorry}
