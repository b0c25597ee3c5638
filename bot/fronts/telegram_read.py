"""Reading a raw update: only the handful of fields we look at, each checked before it is believed."""

import json
import re
from typing import Any, TypeVar

from bot.fronts.telegram_arrival import Arrival
from bot.speaking.html import whole

_WORDLESS = (
    *("photo", "voice", "video", "video_note", "audio", "document", "animation", "sticker"),
    *("location", "venue", "contact", "poll", "dice"),
)
_COMMAND = re.compile(r"/([A-Za-z0-9_]{1,32})(?:@(\w+))?(?:\s+|$)")
_PRESS = re.compile(r"[!-~]{1,64}")
_NOTHING = Arrival("nothing")
T = TypeVar("T")


class Malformed(ValueError):
    """An update that is not what the platform says it sends."""


def take(holder: dict[str, Any], name: str, kind: type[T]) -> T:
    """A field that must be there and be of this kind."""
    value = holder.get(name)
    if type(value) is not kind:
        raise Malformed(f"{name} is not {kind.__name__}")
    if isinstance(value, int) and not -(2**63) <= value < 2**63:
        raise Malformed(f"{name} is beyond 64 bits")
    return value


def may_take(holder: dict[str, Any], name: str, kind: type[T]) -> T | None:
    """A field that may be left out."""
    return take(holder, name, kind) if name in holder else None


class Reader:
    """Reads updates for the bot of this name and number."""

    def __init__(self, username: str, own: int) -> None:
        self.username = username.lower()
        self.own = own
        self._mention = re.compile(rf"(?<!\w)@{re.escape(username)}\b", re.IGNORECASE)

    def read(self, raw: str) -> Arrival:
        """What came in; raises Malformed."""
        update = json.loads(raw)
        for name, edited in (("message", False), ("edited_message", True)):
            if name in update:
                return self._message(take(update, name, dict), edited)
        if "callback_query" in update:
            return _press(take(update, "callback_query", dict))
        return _NOTHING

    def _message(self, message: dict[str, Any], edited: bool) -> Arrival:
        number = take(message, "message_id", int)
        chat = take(message, "chat", dict)
        chat_id, chat_type = take(chat, "id", int), take(chat, "type", str)
        for name, here in (("migrate_to_chat_id", True), ("migrate_from_chat_id", False)):
            if name in message and not edited:
                other = take(message, name, int)
                return Arrival("moved", chat_id if here else other, text=str(other if here else chat_id))
        text = whole(may_take(message, "text", str) or may_take(message, "caption", str) or "").strip()
        person = _person(message)
        if person is None:
            return _NOTHING
        command = _COMMAND.match(text)
        if command and command[2] and command[2].lower() != self.username:
            return _NOTHING
        group, named = chat_type != "private", False
        if group:
            named = self._mention.search(text) is not None
            if not command and not self._addressed(message, text):
                return _NOTHING
            text = self._mention.sub(" ", text).strip()
        kind, name = "text", ""
        if command:
            kind, name = "command", command[1].lower()
            text = text[command.end() :].strip()
        elif not text and any(part in message for part in _WORDLESS):
            kind = "wordless"
        elif not text:  # in a group our name alone asks for a word
            kind, name = ("command", "ask") if named else ("nothing", "")
        if edited:
            if kind != "text" and name != "ask":
                return _NOTHING
            kind = "edit"
        topic = message.get("is_topic_message") is True
        thread = may_take(message, "message_thread_id", int) if topic else 0
        return Arrival(kind, chat_id, person, thread or 0, number, text, name, group)  # type: ignore[arg-type]

    def _addressed(self, message: dict[str, Any], text: str) -> bool:
        answered = may_take(message, "reply_to_message", dict)
        if answered and (may_take(answered, "from", dict) or {}).get("id") == self.own:
            return True
        return self._mention.search(text) is not None


def _person(message: dict[str, Any]) -> int | None:
    """Who speaks: a person, or the chat in whose name an admin speaks; none for bots and channels."""
    spokesman = may_take(message, "sender_chat", dict)
    if spokesman:
        return take(spokesman, "id", int)
    sender = may_take(message, "from", dict)
    return None if sender is None or sender.get("is_bot") else take(sender, "id", int)


def _press(query: dict[str, Any]) -> Arrival:
    number, person = take(query, "id", str), take(take(query, "from", dict), "id", int)
    if not _PRESS.fullmatch(number):
        raise Malformed("id of a press")
    message = may_take(query, "message", dict)
    data = whole(may_take(query, "data", str) or "")
    if message is None:
        return Arrival("press", person=person, text=data, press=number)
    chat = take(message, "chat", dict)
    thread = may_take(message, "message_thread_id", int) if message.get("is_topic_message") is True else 0
    return Arrival(
        "press",
        chat=take(chat, "id", int),
        person=person,
        thread=thread or 0,
        message=take(message, "message_id", int),
        text=data,
        group=chat.get("type") != "private",
        press=number,
    )
