"""What each call may carry: names, types and limits as the Bot API describes them."""

import json
import re
from typing import Any

from tests.standin.markup import BadMarkup, plain, units

PARAMETERS: dict[str, dict[str, type]] = {
    "getMe": {},
    "getUpdates": {"offset": int, "limit": int, "timeout": int, "allowed_updates": list},
    "getChatMember": {"chat_id": int, "user_id": int},
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
    "sendPhoto": {
        "chat_id": int,
        "message_thread_id": int,
        "photo": str,
        "caption": str,
        "parse_mode": str,
        "disable_notification": bool,
        "reply_parameters": dict,
        "reply_markup": dict,
    },
    "sendDocument": {
        "chat_id": int,
        "message_thread_id": int,
        "document": str,
        "caption": str,
        "parse_mode": str,
        "disable_notification": bool,
        "reply_parameters": dict,
        "reply_markup": dict,
    },
    "answerInlineQuery": {
        "inline_query_id": str,
        "results": list,
        "cache_time": int,
        "is_personal": bool,
        "next_offset": str,
        "button": dict,
    },
    "getMyCommands": {"scope": dict, "language_code": str},
    "setMyCommands": {"commands": list, "scope": dict, "language_code": str},
    "answerCallbackQuery": {"callback_query_id": str, "text": str, "show_alert": bool, "cache_time": int},
}
REQUIRED = {
    "sendMessage": {"chat_id", "text"},
    "editMessageText": {"chat_id", "message_id", "text"},
    "sendPhoto": {"chat_id", "photo"},
    "sendDocument": {"chat_id", "document"},
    "answerInlineQuery": {"inline_query_id", "results"},
    "setMyCommands": {"commands"},
    "getChatMember": {"chat_id", "user_id"},
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


def caption(values: dict[str, Any]) -> str:
    """The words under a file, as people see them: at most 1024 units."""
    if "caption" not in values:
        return ""
    text = shown({**values, "text": values["caption"]})
    if units(text) > 1024:
        raise Refusal(400, "Bad Request: message caption is too long")
    return text


# Bot API, "InlineQueryResultArticle" and "answerInlineQuery": ids of 1-64 bytes, unique; at most 50 results.
_ARTICLE = {"type", "id", "title", "input_message_content", "description", "reply_markup", "url"}


def check_results(results: list[Any]) -> None:
    """Only articles, whole and unlike each other, each with a text that could be sent."""
    if len(results) > 50:
        raise Refusal(400, "Bad Request: RESULTS_TOO_MUCH")
    if len({result.get("id") for result in results}) < len(results):
        raise Refusal(400, "Bad Request: RESULT_ID_DUPLICATE")
    for result in results:
        if not {"type", "id", "title", "input_message_content"} <= set(result) <= _ARTICLE:
            raise Refusal(400, "Bad Request: can't parse inline query result")
        if result["type"] != "article" or not 1 <= len(result["id"].encode()) <= 64:
            raise Refusal(400, "Bad Request: RESULT_ID_INVALID")
        if not result["title"].strip():
            raise Refusal(400, "Bad Request: ARTICLE_TITLE_EMPTY")
        content = result["input_message_content"]
        if not {"message_text"} <= set(content) <= {"message_text", "parse_mode", "link_preview_options"}:
            raise Refusal(400, "Bad Request: can't parse input message content")
        shown({**content, "text": content["message_text"]})
        check_keyboard(result.get("reply_markup"))


_NAME = re.compile(r"[a-z0-9_]{1,32}")
SCOPES = {"default", "all_private_chats", "all_group_chats", "all_chat_administrators"}


def check_commands(commands: list[Any], scope: dict[str, Any]) -> None:
    """At most 100, names of 1-32 small letters, descriptions of 1-256; a scope the platform knows."""
    if scope.get("type", "default") not in SCOPES or set(scope) - {"type"}:
        raise Refusal(400, "Bad Request: unsupported scope")
    if len(commands) > 100:
        raise Refusal(400, "Bad Request: BOT_COMMANDS_TOO_MUCH")
    for command in commands:
        if set(command) != {"command", "description"} or not _NAME.fullmatch(command["command"]):
            raise Refusal(400, "Bad Request: BOT_COMMAND_INVALID")
        if not 1 <= units(command["description"]) <= 256:
            raise Refusal(400, "Bad Request: BOT_COMMAND_DESCRIPTION_INVALID")


def check_keyboard(markup: dict[str, Any] | None) -> None:
    """Only inline keyboards, each button with a label and 1 to 64 bytes of data."""
    if markup is None:
        return
    rows = markup.get("inline_keyboard")
    if set(markup) != {"inline_keyboard"} or not isinstance(rows, list):
        raise Refusal(400, "Bad Request: object expected as reply markup")
    for button in (button for row in rows for button in row):
        if set(button) not in ({"text", "callback_data"}, {"text", "switch_inline_query"}):
            raise Refusal(400, "Bad Request: inline keyboard button is wrong")
        if not button["text"].strip():
            raise Refusal(400, "Bad Request: inline keyboard button is wrong")
        if "switch_inline_query" in button:
            if units(button["switch_inline_query"]) > 256:
                raise Refusal(400, "Bad Request: BUTTON_DATA_INVALID")
            continue
        if not 1 <= len(button["callback_data"].encode()) <= 64:
            raise Refusal(400, "Bad Request: BUTTON_DATA_INVALID")
