"""The one file that knows the chat library: every call of the platform is made with it."""

import os
from typing import Any

import telegram
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    Forbidden,
    InvalidToken,
    RetryAfter,
)
from telegram.request import RequestData
from telegram.request._requestparameter import RequestParameter

from bot.fronts.telegram_arrival import Again, Barred, Clash, Done, File, Never, Outcome, Wait
from bot.fronts.telegram_http import SiteRequest, Unsent
from bot.settings import Settings

POLL_SECONDS = 30
os.environ.setdefault("PTB_TIMEDELTA", "true")  # the library's documented way to the coming type of its waits


class SiteBot(telegram.Bot):
    """The library's bot, asked for raw results: no objects are built from what nobody looks at."""

    def __init__(self, settings: Settings) -> None:
        super().__init__(
            settings.token.get_secret_value(),
            base_url=f"{settings.api_url}/bot",
            base_file_url=f"{settings.api_url}/file/bot",
            request=SiteRequest(),
            get_updates_request=SiteRequest(read_timeout=POLL_SECONDS + 10.0),
        )

    async def open(self) -> None:
        """Open both pools; the library's own start would ask the platform at once and die of a hiccup."""
        for request in self._request:
            await request.initialize()

    async def close_pools(self) -> None:
        """Close both pools."""
        for request in self._request:
            await request.shutdown()

    async def call(self, method: str, body: dict[str, Any], wait: float = 20.0) -> Outcome:
        """Make one call of the Bot API."""
        try:
            return Done(await self._made(method, body, wait))
        except RetryAfter as error:
            return Wait(_seconds(error))
        except ChatMigrated as error:
            return Never("chat moved", error.new_chat_id)
        except (BadRequest, Forbidden) as error:
            return Never(error.message)
        except InvalidToken as error:
            return Barred(error.message)
        except Conflict as error:
            return Clash(error.message)
        except Unsent as error:
            return Again(error.message, unsent=True)
        except Exception as error:  # trouble on the line, or an answer of a shape nobody promised
            return Again(type(error).__name__)

    async def _made(self, method: str, body: dict[str, Any], wait: float) -> Any:
        if any(isinstance(value, File) for value in body.values()):
            return await self._post(method, _with_files(body), read_timeout=wait)
        # plain data is what the library would make of it, after looking at each value for objects of its own
        plain = RequestData([RequestParameter(name, value, None) for name, value in body.items()])
        request = self._request[0 if method == "getUpdates" else 1]
        return await request.post(f"{self.base_url}/{method}", plain, read_timeout=wait)


def _with_files(body: dict[str, Any]) -> dict[str, Any]:
    """The body in the library's terms: files as it takes them."""
    return {
        name: telegram.InputFile(value.content, value.name) if isinstance(value, File) else value
        for name, value in body.items()
    }


def _seconds(error: RetryAfter) -> float:
    wait = error.retry_after
    return float(wait) if isinstance(wait, int | float) else wait.total_seconds()


def run(settings: Settings, webhook: bool = False) -> int:
    """Run the bot until it is told to stop; the exit status."""
    from bot.fronts.telegram_run import run_bot

    return run_bot(settings, webhook=webhook)
