"""The one file that knows the chat library: it reads updates and makes calls with it."""

import json
import os
import re
from typing import Any

import telegram
from telegram.error import (
    BadRequest,
    ChatMigrated,
    Conflict,
    Forbidden,
    InvalidToken,
    NetworkError,
    RetryAfter,
    TelegramError,
)

from bot.fronts.telegram_arrival import Again, Arrival, Barred, Clash, Done, Never, Outcome, Wait
from bot.fronts.telegram_http import SiteRequest, Unsent
from bot.settings import Settings
from bot.speaking.html import whole

POLL_SECONDS = 30
os.environ.setdefault("PTB_TIMEDELTA", "true")  # the library's documented way to the coming type of its waits
_WORDLESS = (
    *("photo", "voice", "video", "video_note", "audio", "document", "animation", "sticker"),
    *("location", "venue", "contact", "poll", "dice"),
)
_COMMAND = re.compile(r"/([A-Za-z0-9_]{1,32})(?:@(\w+))?(?:\s+|$)")


class SiteBot(telegram.Bot):
    """The library's bot, asked for raw results: no objects are built from what nobody looks at."""

    def __init__(self, settings: Settings) -> None:
        super().__init__(
            settings.token.get_secret_value(),
            base_url=f"{settings.api_url}/bot",
            base_file_url=f"{settings.api_url}/file/bot",
            request=SiteRequest(),
            get_updates_request=SiteRequest(read_timeout=POLL_SECONDS + 10.0, connections=1),
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
            return Done(await self._post(method, body, read_timeout=wait))
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
        except (NetworkError, TelegramError) as error:
            return Again(type(error).__name__)


def _seconds(error: RetryAfter) -> float:
    wait = error.retry_after
    return float(wait) if isinstance(wait, int | float) else wait.total_seconds()


def parse(raw: str, username: str, own: int) -> Arrival:
    """Read one raw update; a malformed one raises whatever the library raises."""
    update = telegram.Update.de_json(json.loads(raw), None)
    if update.callback_query is not None:
        return _press(update.callback_query)
    message = update.message or update.edited_message
    if message is None:
        return Arrival("nothing")
    person = (
        message.sender_chat.id if message.sender_chat else message.from_user.id if message.from_user else 0
    )
    if not person or (message.from_user and message.from_user.is_bot and not message.sender_chat):
        return Arrival("nothing")
    group = message.chat.type != "private"
    text = whole(message.text or message.caption or "").strip()
    command = _COMMAND.match(text)
    if command and command[2] and command[2].lower() != username.lower():
        return Arrival("nothing")
    if group and not command and not _addressed(message, text, username, own):
        return Arrival("nothing")
    kind, name = ("edit" if update.message is None else "text"), ""
    if command:
        name, text = command[1].lower(), text[command.end() :].strip()
        kind = "command" if kind == "text" or name != "ask" else "edit"
    elif not text:
        kind = "wordless" if any(getattr(message, part) for part in _WORDLESS) else "nothing"
    if update.message is None and kind != "edit":
        return Arrival("nothing")
    return Arrival(
        kind,  # type: ignore[arg-type]
        chat=message.chat.id,
        person=person,
        thread=(message.message_thread_id or 0) if message.is_topic_message else 0,
        message=message.message_id,
        text=re.sub(rf"@{re.escape(username)}\b", " ", text, flags=re.IGNORECASE).strip() if group else text,
        command=name,
        group=group,
    )


def _addressed(message: telegram.Message, text: str, username: str, own: int) -> bool:
    answered = message.reply_to_message
    if answered and answered.from_user and answered.from_user.id == own:
        return True
    return re.search(rf"(?<!\w)@{re.escape(username)}\b", text, re.IGNORECASE) is not None


def _press(query: telegram.CallbackQuery) -> Arrival:
    message = query.message
    topic = isinstance(message, telegram.Message) and message.is_topic_message
    return Arrival(
        "press",
        chat=message.chat.id if message else 0,
        person=query.from_user.id,
        thread=(message.message_thread_id or 0) if topic and isinstance(message, telegram.Message) else 0,
        message=message.message_id if message else 0,
        text=query.data or "",
        group=message is not None and message.chat.type != "private",
        press=query.id,
    )


def run(settings: Settings) -> int:
    """Run the bot until it is told to stop; the exit status."""
    from bot.fronts.telegram_run import run_bot

    return run_bot(settings)
