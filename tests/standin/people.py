"""The people on the other side: what they say, edit and press becomes updates."""

import itertools
from typing import Any

BOT = {"id": 4200, "is_bot": True, "first_name": "Perpend", "username": "perpend_bot"} | {
    "supports_inline_queries": True
}


class People:
    """Makes well-formed updates and keeps the chats' messages."""

    def __init__(self) -> None:
        self.updates: dict[int, dict[str, Any]] = {}
        self.chats: dict[int, dict[int, dict[str, Any]]] = {}
        self.queries: dict[str, bool] = {}
        self.inline: dict[str, list[dict[str, Any]] | None] = {}
        self.files: dict[str, bytes] = {}
        self.ranks: dict[tuple[int, int], str] = {}  # chat and person: how the platform calls them there
        self.now = 1_700_000_000
        self._update_ids = itertools.count(900_000_001)
        self._message_ids = itertools.count(11)
        self._query_ids = itertools.count(70_001)

    def new_message_id(self) -> int:
        """The next message number."""
        return next(self._message_ids)

    def post(self, body: dict[str, Any], update_id: int | None = None) -> int:
        """Queue a raw update, well-formed or not."""
        number = next(self._update_ids) if update_id is None else update_id
        self.updates[number] = {"update_id": number, **body}
        self.arrived()
        return number

    def arrived(self) -> None:
        """Wakes whoever polls."""

    def message(self, chat: int, text: str | None, person: int | None = None, **more: Any) -> dict[str, Any]:
        """A message object in a private chat, or in a group where the number is negative."""
        person = person if person is not None else abs(chat)
        kind: dict[str, Any] = {"id": chat, "type": "private", "first_name": "P"}
        if chat < 0:
            kind = {"id": chat, "type": "supergroup", "title": "Site"}
        message = {
            "message_id": self.new_message_id(),
            "date": self.now,
            "chat": kind,
            "from": {"id": person, "is_bot": False, "first_name": "P", "language_code": "en"},
            **more,
        }
        if text is not None:
            message["text"] = text
            if text.startswith("/"):
                message["entities"] = [{"type": "bot_command", "offset": 0, "length": len(text.split()[0])}]
        self.chats.setdefault(chat, {})[message["message_id"]] = message
        return message

    def say(self, chat: int, text: str | None, person: int | None = None, **more: Any) -> dict[str, Any]:
        """Someone types; the message."""
        message = self.message(chat, text, person, **more)
        self.post({"message": message})
        return message

    def edit(self, message: dict[str, Any], text: str) -> None:
        """Someone edits a message."""
        edited = {**message, "text": text, "edit_date": self.now + 5}
        self.chats[message["chat"]["id"]][message["message_id"]] = edited
        self.post({"edited_message": edited})

    def ask_inline(self, person: int, text: str) -> str:
        """Someone types our name and a question in some chat; the query's number."""
        number = str(next(self._query_ids))
        self.inline[number] = None
        who = {"id": person, "is_bot": False, "first_name": "P"}
        self.post({"inline_query": {"id": number, "from": who, "query": text, "offset": ""}})
        return number

    def press(self, message: dict[str, Any], data: str, person: int | None = None) -> str:
        """Someone presses a button under one of our messages; the query's number."""
        number = str(next(self._query_ids))
        self.queries[number] = False
        who = person if person is not None else abs(message["chat"]["id"])
        self.post(
            {
                "callback_query": {
                    "id": number,
                    "from": {"id": who, "is_bot": False, "first_name": "P"},
                    "message": message,
                    "chat_instance": "77",
                    "data": data,
                }
            }
        )
        return number
