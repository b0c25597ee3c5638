"""What each call may carry: names, types and limits as the Bot API describes them."""

import json
from typing import Any

from tests.standin.markup import BadMarkup, plain, units

PARAMETERS: dict[str, dict[str, type]] = {
    "getMe": {},
    "getUpdates": {"offset": int, "limit": int, "timeout": int, "allowed_updates": list},
    "deleteWebhook": {"drop_pending_updates": bool},
    "sendMessage": {
        "chat_id": int,
        "message_thread_id": int,
        "text": str,
        "parse_mode": str,
        "link_preview_options": dict,
        "disable_notification": bool,
        "reply_parameters": dict,
        "reply_markup": dict,
    },
    "editMessageText": {
        "chat_id": int,
        "message_id": int,
        "text": str,
        "parse_mode": str,
        "link_preview_options": dict,
        "reply_markup": dict,
    },
    "answerCallbackQuery": {"callback_query_id": str, "text": str, "show_alert": bool, "cache_time": int},
}
REQUIRED = {
    "sendMessage": {"chat_id", "text"},
    "editMessageText": {"chat_id", "message_id", "text"},
    "answerCallbackQuery": {"callback_query_id"},
}


class Refusal(Exception):
    """The call is answered with an error."""

    def __init__(self, code: int, why: str, **parameters: int) -> None:
        super().__init__(why)
        self.code, self.why, self.parameters = code, why, parameters


def read(method: str, raw: dict[str, Any]) -> dict[str, Any]:
    """Parameters with their types; a Refusal names what is wrong."""
    known = PARAMETERS.get(method)
    if known is None:
        raise Refusal(404, "Not Found: method not found")
    values: dict[str, Any] = {}
    for name, value in raw.items():
        if name not in known:
            raise Refusal(400, f"Bad Request: parameter {name} is unknown to {method}")
        kind = known[name]
        if kind is not str and isinstance(value, str):
            try:
                value = json.loads(value)
            except ValueError:
                raise Refusal(400, f"Bad Request: can't parse {name}") from None
        if type(value) is not kind:
            raise Refusal(400, f"Bad Request: {name} must be {kind.__name__}")
        values[name] = value
    if missing := REQUIRED.get(method, set()) - set(values):
        raise Refusal(400, f"Bad Request: {', '.join(sorted(missing))} missing")
    return values


def shown(values: dict[str, Any]) -> str:
    """The text as people see it, within the limits; a Refusal otherwise."""
    text: str = values["text"]
    if values.get("parse_mode") not in (None, "HTML"):
        raise Refusal(400, "Bad Request: unsupported parse_mode")
    if values.get("parse_mode") == "HTML":
        try:
            text = plain(text)
        except BadMarkup as error:
            raise Refusal(400, f"Bad Request: can't parse entities: {error}") from None
    if not text.strip():
        raise Refusal(400, "Bad Request: message text is empty")
    if units(text) > 4096:
        raise Refusal(400, "Bad Request: message is too long")
    return text


def check_keyboard(markup: dict[str, Any] | None) -> None:
    """Only inline keyboards, each button with a label and 1 to 64 bytes of data."""
    if markup is None:
        return
    rows = markup.get("inline_keyboard")
    if set(markup) != {"inline_keyboard"} or not isinstance(rows, list):
        raise Refusal(400, "Bad Request: object expected as reply markup")
    for button in (button for row in rows for button in row):
        if set(button) != {"text", "callback_data"} or not button["text"].strip():
            raise Refusal(400, "Bad Request: inline keyboard button is wrong")
        if not 1 <= len(button["callback_data"].encode()) <= 64:
            raise Refusal(400, "Bad Request: BUTTON_DATA_INVALID")
