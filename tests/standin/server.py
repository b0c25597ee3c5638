"""The stand-in's HTTP side: offsets and redelivery, faults on demand, every call recorded."""

import asyncio
import json
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from random import Random
from typing import Any

from aiohttp import web

from tests.standin import rules
from tests.standin.people import BOT, People
from tests.standin.rules import Refusal

WRITTEN = ("sendMessage", "editMessageText", "sendPhoto", "sendDocument")
TOKEN = "4200:stand-in_token_for_tests"


async def _form(request: web.Request) -> dict[str, Any]:
    """A form's fields; a file as its name and content."""
    return {
        name: (value.filename, value.file.read()) if isinstance(value, web.FileField) else value
        for name, value in (await request.post()).items()
    }


def _menu(values: dict[str, Any]) -> str:
    """A menu is for a scope and, where one is named, a language."""
    return json.dumps(values.get("scope", {})) + values.get("language_code", "")


def _check_file(name: str, filename: str, content: bytes) -> None:
    """Bot API, "Sending files": a photo is a picture up to 10 MB, others have up to 50 MB; none empty."""
    if not content or len(content) > (10 if name == "photo" else 50) * 1024 * 1024:
        raise Refusal(400, "Bad Request: file must be non-empty and within the limit")
    if name == "photo" and not content.startswith((b"\x89PNG\r\n", b"\xff\xd8\xff")):
        raise Refusal(400, "Bad Request: IMAGE_PROCESS_FAILED")
    if not filename or "/" in filename:
        raise Refusal(400, "Bad Request: wrong file name")


class Dropped(Exception):
    """The connection breaks off without an answer."""


@dataclass
class Call:
    """One call as it was made and answered."""

    method: str
    values: dict[str, Any]
    code: int
    at: float
    text: str = ""
    message_id: int | None = None


@dataclass
class Faults:
    """What goes wrong: shares of calls (seeded), chats that are too fast, calls that always fail."""

    error_500: float = 0.0
    dropped_before: float = 0.0
    dropped_after: float = 0.0
    nobody_knows: bool = False  # the platform does not say who is an administrator
    slow: float = 0.0
    too_many: float = 0.0
    always_500: set[int] = field(default_factory=set)
    limited: dict[int, float] = field(default_factory=dict)
    each: dict[int, float] = field(default_factory=dict)  # chat: least seconds between messages
    lose: str = ""  # the next call of these is done and not answered so: dropped, 500, or with silence
    losing: set[int | str] = field(default_factory=set)  # by chat what is written there, by number a press
    dice: Random = field(default_factory=lambda: Random(7))


class Standin(People):
    """A Bot API server for one bot."""

    def __init__(self, latency: float = 0.0) -> None:
        super().__init__()
        self.latency = latency
        self.faults = Faults()
        self.calls: list[Call] = []
        self.violations: list[str] = []
        self.polled_at: list[float] = []
        self.menus: dict[str, list[dict[str, str]]] = {}
        self.delivered: dict[int, int] = {}
        self.url = ""
        self.down = False
        self.lost = 0  # messages that arrived and the bot was not told so
        self.bad_token = False
        self._news = asyncio.Event()
        self._over = asyncio.Event()
        self._polls = 0
        self._hush = False
        self._last: dict[int, float] = {}

    @asynccontextmanager
    async def serving(self, port: int = 0) -> AsyncIterator["Standin"]:
        """Serve on loopback for as long as the block lasts."""
        app = web.Application()
        app.router.add_route("*", "/bot{token}/{method}", self._handle)
        runner = web.AppRunner(app, access_log=None, shutdown_timeout=0.1)
        await runner.setup()
        site = web.TCPSite(runner, "127.0.0.1", port)
        await site.start()
        self.url = f"http://127.0.0.1:{runner.addresses[0][1]}"
        try:
            yield self
        finally:
            self._polls += 1
            self._news.set()
            self._over.set()
            await runner.cleanup()

    def arrived(self) -> None:
        """Wakes whoever polls."""
        self._news.set()

    def end_poll(self) -> None:
        """The long poll under way ends with nothing, as when its time is up."""
        self._hush = True
        self._news.set()

    def sent(self, chat: int | None = None) -> list[Call]:
        """Messages that got through, in order."""
        made = [x for x in self.calls if x.method in WRITTEN and x.code == 200]
        return [x for x in made if chat is None or x.values["chat_id"] == chat]

    async def until(self, done: Any, seconds: float = 10.0, look: float = 0.005) -> None:
        """Wait until a condition holds; fails loudly."""
        end = time.monotonic() + seconds
        while not done():
            if time.monotonic() > end:
                raise AssertionError(
                    f"not in {seconds} s; calls: {[(c.method, c.code) for c in self.calls[-8:]]}"
                )
            await asyncio.sleep(look)

    async def _handle(self, request: web.Request) -> web.StreamResponse:
        method = request.match_info["method"]
        if request.content_type == "application/json":
            raw = await request.json()
        else:
            raw = await _form(request)
        try:
            body, code = await self.answer(request.match_info["token"], method, raw)
        except Dropped:
            if request.transport is not None:
                request.transport.abort()
            return web.Response(status=500)
        return web.Response(body=json.dumps(body).encode(), status=code, content_type="application/json")

    async def answer(self, token: str, method: str, raw: dict[str, Any]) -> tuple[dict[str, Any], int]:
        """One call and what comes of it: the body and the status; raises Dropped."""
        if self.latency:
            await asyncio.sleep(self.latency / 2)
        faults = self.faults
        if faults.dice.random() < faults.slow:
            await asyncio.sleep(faults.dice.uniform(0.05, 0.5))
        if self.down or faults.dice.random() < faults.dropped_before:
            raise Dropped
        try:
            if token != TOKEN or self.bad_token:
                raise Refusal(401, "Unauthorized")
            if faults.dice.random() < faults.error_500:
                raise Refusal(500, "Internal Server Error")
            if method in WRITTEN and faults.dice.random() < faults.too_many:
                raise Refusal(429, "Too Many Requests: retry later", retry_after=1)
            values = rules.read(method, self._files(method, raw))
            result = await self._do(method, values)
        except Refusal as refusal:
            self.calls.append(Call(method, dict(raw), refusal.code, time.monotonic()))
            if refusal.code in (400, 404) and "not modified" not in refusal.why:
                self.violations.append(f"{method}: {refusal.why}")
            body = {"ok": False, "error_code": refusal.code, "description": refusal.why}
            if refusal.parameters:
                body["parameters"] = refusal.parameters
            return await self._late(body), refusal.code
        if method != "getUpdates" and faults.dice.random() < faults.dropped_after:
            self.lost += method in WRITTEN
            raise Dropped
        whose = values.get("callback_query_id", values.get("chat_id") if method in WRITTEN else None)
        if whose in faults.losing:
            faults.losing.discard(whose)
            self.lost += 1
            if faults.lose == "silence":
                await self._over.wait()
            if faults.lose == "500":
                error = {"ok": False, "error_code": 500, "description": "Internal Server Error"}
                return await self._late(error), 500
            raise Dropped
        return await self._late({"ok": True, "result": result}), 200

    async def _late(self, body: dict[str, Any]) -> dict[str, Any]:
        if self.latency:
            await asyncio.sleep(self.latency / 2)
        return body

    async def _do(self, method: str, values: dict[str, Any]) -> Any:
        match method:
            case "getMe":
                result: Any = BOT
            case "getUpdates":
                return await self._updates(**values)
            case "deleteWebhook":
                result = True
            case "getChatMember":
                result = self._member(**values)
            case "getMyCommands":
                result = self.menus.get(_menu(values), [])
            case "setMyCommands":
                rules.check_commands(values["commands"], values.get("scope", {}))
                self.menus[_menu(values)] = values["commands"]
                result = True
            case "answerInlineQuery":
                if values["inline_query_id"] not in self.inline:
                    raise Refusal(
                        400,
                        "Bad Request: query is too old and response timeout expired or query ID is invalid",
                    )
                rules.check_results(values["results"])
                self.inline[values["inline_query_id"]] = values["results"]
                result = True
            case "answerCallbackQuery":
                if values["callback_query_id"] not in self.queries:
                    raise Refusal(
                        400,
                        "Bad Request: query is too old and response timeout expired or query ID is invalid",
                    )
                if rules.units(values.get("text", "")) > 200:
                    raise Refusal(400, "Bad Request: MESSAGE_TOO_LONG")
                self.queries[values["callback_query_id"]] = result = True
            case _:
                result = self._write(method, values)
        self.calls.append(Call(method, values, 200, time.monotonic(), *self._seen(method, values, result)))
        return result

    def _member(self, chat_id: int, user_id: int) -> dict[str, Any]:
        """Bot API, "ChatMember": creator, administrator, member, restricted, left or kicked."""
        if chat_id not in self.chats:
            raise Refusal(400, "Bad Request: chat not found")
        if self.faults.nobody_knows:
            raise Refusal(500, "Internal Server Error")
        person = {"id": user_id, "is_bot": False, "first_name": "P"}
        return {"status": self.ranks.get((chat_id, user_id), "member"), "user": person}

    def _seen(self, method: str, values: dict[str, Any], result: Any) -> tuple[str, int | None]:
        if method in WRITTEN:
            return result.get("text") or result.get("caption", ""), result["message_id"]
        return values.get("text", ""), None

    def _write(self, method: str, values: dict[str, Any]) -> dict[str, Any]:
        chat = values["chat_id"]
        self._limits(chat)
        if chat not in self.chats:
            raise Refusal(400, "Bad Request: chat not found")
        file = {"sendPhoto": "photo", "sendDocument": "document"}.get(method)
        text = rules.caption(values) if file else rules.shown(values)
        rules.check_keyboard(values.get("reply_markup"))
        messages = self.chats[chat]
        if method == "editMessageText":
            old = messages.get(values["message_id"])
            if old is None:
                raise Refusal(400, "Bad Request: message to edit not found")
            if old["from"]["id"] != BOT["id"]:
                raise Refusal(400, "Bad Request: message can't be edited")
            if (old["raw"], old.get("reply_markup")) == (values["text"], values.get("reply_markup")):
                raise Refusal(
                    400, "Bad Request: message is not modified: specified new message content is the same"
                )
            number = values["message_id"]
            where = {name: old[name] for name in ("message_thread_id", "is_topic_message") if name in old}
        else:
            where = {}
            answered = values.get("reply_parameters")
            if (
                answered
                and not answered.get("allow_sending_without_reply")
                and answered["message_id"] not in messages
            ):
                raise Refusal(400, "Bad Request: message to be replied not found")
            number = self.new_message_id()
        first = next(iter(messages.values()))
        kept = {"message_id": number, "date": self.now, "chat": first["chat"], "from": BOT, **where}
        if file:
            held = {"file_id": values[file], "file_unique_id": values[file][-12:]}
            sizes = [
                {**held, "file_id": "small", "width": 90, "height": 45},
                {**held, "width": 1200, "height": 600},
            ]
            kept |= {file: sizes if file == "photo" else held} | ({"caption": text} if text else {})
        else:
            kept["text"] = text
        if values.get("message_thread_id"):
            if values["message_thread_id"] not in {m.get("message_thread_id") for m in messages.values()}:
                raise Refusal(400, "Bad Request: message thread not found")
            kept |= {"message_thread_id": values["message_thread_id"], "is_topic_message": True}
        if "reply_markup" in values:
            kept["reply_markup"] = values["reply_markup"]
        messages[number] = {**kept, "raw": values.get("text", "")}
        return kept

    def _files(self, method: str, raw: dict[str, Any]) -> dict[str, Any]:
        """Uploads get a number to be known by; a number that was never given out is refused."""
        values = dict(raw)
        for name in ("photo", "document"):
            if name not in values or method not in WRITTEN:
                continue
            if isinstance(values[name], tuple):
                filename, content = values[name]
                _check_file(name, filename, content)
                number = f"file-{len(self.files) + 1}"
                self.files[number] = content
                values[name] = number
            elif values[name] not in self.files:
                raise Refusal(400, "Bad Request: wrong file identifier/HTTP URL specified")
        return values

    def _limits(self, chat: int) -> None:
        now = time.monotonic()
        if chat in self.faults.always_500:
            raise Refusal(500, "Internal Server Error")
        end = self.faults.limited.get(chat, 0.0)
        each = self.faults.each.get(chat)
        if each and now - self._last.get(chat, 0.0) < each:
            end = max(end, now + 1.0)
        if now < end:
            raise Refusal(429, "Too Many Requests: retry later", retry_after=max(1, round(end - now + 0.5)))
        self._last[chat] = now

    async def _updates(
        self, offset: int = 0, limit: int = 100, timeout: int = 0, allowed_updates: list[str] | None = None
    ) -> list[dict[str, Any]]:
        if not 1 <= limit <= 100:
            raise Refusal(400, "Bad Request: limit must be between 1 and 100")
        self._polls += 1
        mine = self._polls
        self.polled_at.append(time.monotonic())
        self._news.set()  # an older poll ends here
        await asyncio.sleep(0)
        for number in [n for n in self.updates if n < offset]:
            del self.updates[number]
        end = time.monotonic() + timeout
        while True:
            if mine != self._polls:
                raise Refusal(409, "Conflict: terminated by other getUpdates request")
            found = [self.updates[n] for n in sorted(self.updates) if n >= offset][:limit]
            if allowed_updates:
                known = {"message", "edited_message", "callback_query", "channel_post", "inline_query"}
                found = [u for u in found if not known & set(u) or set(allowed_updates) & set(u)]
            left = end - time.monotonic()
            if found or left <= 0 or self._hush:
                self._hush = False
                break
            self._news.clear()
            try:
                await asyncio.wait_for(self._news.wait(), left)
            except TimeoutError:
                continue
        for update in (u for u in found if "update_id" in u):
            self.delivered[update["update_id"]] = self.delivered.get(update["update_id"], 0) + 1
        self.calls.append(Call("getUpdates", {"offset": offset, "count": len(found)}, 200, time.monotonic()))
        return found
