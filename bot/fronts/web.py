"""What is answered over HTTP: one ASGI application, four paths, nothing else."""

import hmac
import json
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

MOST = 512 * 1024
"""Bytes of one update; the longest message with all its entities is a tenth of this."""
_SECRET = b"x-telegram-bot-api-secret-token"
_TEXT = "text/plain; charset=utf-8"

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]


class NotNow(RuntimeError):
    """The store is down: the platform is to bring the update again."""


class Refused(Exception):
    """A request that is not the platform's, or not one of its updates."""

    def __init__(self, status: int, **headers: str) -> None:
        super().__init__(status)
        self.status = status
        self.headers = headers


async def _nothing(_update: dict[str, Any]) -> None:
    """There is no web hook here."""


class Site:
    """Takes updates in and tells how the worker does."""

    def __init__(
        self,
        is_ready: Callable[[], bool],
        figures: Callable[[], tuple[bytes, str]],
        secret: str | None = None,
        take: Callable[[dict[str, Any]], Awaitable[None]] = _nothing,
        counted: Callable[[int], None] = lambda _status: None,
    ) -> None:
        self._secret = secret.encode() if secret else None  # None: there is no web hook here
        self._take = take
        self._is_ready = is_ready
        self._figures = figures
        self._counted = counted

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        body, kind = b"", _TEXT
        try:
            status, body, kind = await self._answer(scope, receive)
            headers = {}
        except Refused as refusal:
            status, headers = refusal.status, refusal.headers
        if scope["path"] == "/hook" and self._secret is not None:
            self._counted(status)
        lines = [(b"content-type", kind.encode()), (b"content-length", str(len(body)).encode())]
        lines += [(name.encode(), value.encode()) for name, value in headers.items()]
        await send({"type": "http.response.start", "status": status, "headers": lines})
        await send({"type": "http.response.body", "body": b"" if scope["method"] == "HEAD" else body})

    async def _answer(self, scope: Message, receive: Receive) -> tuple[int, bytes, str]:
        path, method = scope["path"], scope["method"]
        if path == "/hook" and self._secret is not None:
            if method != "POST":
                raise Refused(405, allow="POST")
            return await self._hook(dict(scope["headers"]), receive)
        if path not in ("/live", "/ready", "/metrics"):
            raise Refused(404)
        if method not in ("GET", "HEAD"):
            raise Refused(405, allow="GET, HEAD")
        if path == "/metrics":
            return 200, *self._figures()
        ready = path == "/live" or self._is_ready()
        return (200, b"yes\n", _TEXT) if ready else (503, b"not yet\n", _TEXT)

    async def _hook(self, headers: dict[bytes, bytes], receive: Receive) -> tuple[int, bytes, str]:
        assert self._secret is not None
        if not hmac.compare_digest(headers.get(_SECRET, b""), self._secret):
            raise Refused(401)
        if headers.get(b"content-type", b"").partition(b";")[0].strip().lower() != b"application/json":
            raise Refused(415)
        update = _update(await _body(headers, receive))
        try:
            await self._take(update)
        except NotNow:
            raise Refused(503) from None
        except RecursionError:  # parts within parts, just short of what the reading of JSON itself refuses
            raise Refused(400) from None
        return 200, b"", _TEXT


async def _body(headers: dict[bytes, bytes], receive: Receive) -> bytes:
    length = headers.get(b"content-length", b"0")
    if not length.isdigit() or len(length) > 9 or int(length) > MOST:
        raise Refused(413)
    body = b""
    while True:
        part = await receive()
        if part["type"] == "http.disconnect":
            raise Refused(400)
        body += bytes(part.get("body", b""))
        if len(body) > MOST:
            raise Refused(413)
        if not part.get("more_body"):
            return body


def _update(body: bytes) -> dict[str, Any]:
    """An update with a number; what else it holds is looked at once it is written down."""
    try:
        update = json.loads(body)
    except (ValueError, RecursionError):
        raise Refused(400) from None
    number = update.get("update_id") if isinstance(update, dict) else None
    if type(number) is not int or not 0 <= number < 2**63:
        raise Refused(400)
    return dict(update)
