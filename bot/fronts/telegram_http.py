"""The chat library's requests over lines of our own: a fraction of the processor time of its default."""

import asyncio
import socket
import ssl
import time
from collections import deque
from typing import Any
from urllib.parse import urlsplit

import aiohappyeyeballs
import httpx
from pydantic_core import from_json
from telegram.error import NetworkError, TimedOut
from telegram.request import BaseRequest, RequestData

from bot.fronts.telegram_wire import Broken, Wire
from bot.written import encoded

_JSON = "application/json"
CONNECT_SECONDS = 5.0
IDLE_SECONDS = 60.0
"""A line that was quiet for so long may be dead without anybody having said so."""
NEXT_ADDRESS = 0.25
"""Seconds after which the next address of the platform is tried beside the first."""


class Unsent(NetworkError):
    """No connection was made, so the call cannot have reached the platform."""


class SiteRequest(BaseRequest):
    """One pool of open lines; addresses (they hold the token) never reach an error's text."""

    def __init__(self, read_timeout: float = 20.0) -> None:
        self._read_timeout = read_timeout
        self._free: deque[Wire] = deque()
        self._secure: ssl.SSLContext | None = None
        self._heads: dict[tuple[str, str], bytes] = {}

    @property
    def read_timeout(self) -> float:
        """Seconds to wait for an answer where the call does not say."""
        return self._read_timeout

    async def initialize(self) -> None:
        """Nothing to do: lines are opened when they are needed."""

    async def shutdown(self) -> None:
        """Hang up."""
        while self._free:
            self._free.pop().close()

    async def do_request(
        self,
        url: str,
        method: str,
        request_data: RequestData | None = None,
        read_timeout: Any = BaseRequest.DEFAULT_NONE,
        write_timeout: Any = BaseRequest.DEFAULT_NONE,  # noqa: ARG002
        connect_timeout: Any = BaseRequest.DEFAULT_NONE,
        pool_timeout: Any = BaseRequest.DEFAULT_NONE,  # noqa: ARG002
    ) -> tuple[int, bytes]:
        """Make one call; the status and the body."""
        wait = self._read_timeout if read_timeout is BaseRequest.DEFAULT_NONE else read_timeout
        connect = CONNECT_SECONDS if connect_timeout is BaseRequest.DEFAULT_NONE else connect_timeout
        kind, body = encode(request_data)
        head = self._heads.get((url, method)) or self._head(url, method)
        request = b"%bContent-Type: %b\r\nContent-Length: %d\r\n\r\n%b" % (head, kind, len(body), body)
        wire = self._take() or await self._open(url, connect)
        try:
            answer = await wire.ask(request, wait)
        except TimeoutError:
            raise TimedOut("no answer in time") from None
        except Broken as error:
            raise NetworkError(str(error)) from None
        wire.since = time.monotonic()
        self._free.append(wire)
        return answer

    @staticmethod
    def parse_json_payload(payload: bytes) -> dict[str, Any]:
        """What the platform answered, in half the time; what is not so plain is left to the library."""
        try:
            answer: dict[str, Any] = from_json(payload)
        except ValueError:
            return BaseRequest.parse_json_payload(payload)
        return answer

    def _take(self) -> Wire | None:
        """A line that is free; the one used last, so that the others may be let go."""
        while self._free:
            wire = self._free.pop()
            if wire.is_open and time.monotonic() - wire.since < IDLE_SECONDS:
                return wire
            wire.close()
        return None

    async def _open(self, url: str, seconds: float) -> Wire:
        place = urlsplit(url)
        secure = place.scheme == "https"
        if secure and self._secure is None:
            self._secure = ssl.create_default_context()
        loop = asyncio.get_running_loop()
        try:
            async with asyncio.timeout(seconds):
                port = place.port or (443 if secure else 80)
                found = await loop.getaddrinfo(place.hostname, port, type=socket.SOCK_STREAM)
                line = await aiohappyeyeballs.start_connection(found, happy_eyeballs_delay=NEXT_ADDRESS)
                try:
                    line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
                    name = place.hostname if secure else None
                    _, wire = await loop.create_connection(
                        Wire, sock=line, ssl=self._secure, server_hostname=name
                    )
                except BaseException:
                    line.close()
                    raise
        except TimeoutError:
            raise Unsent("no connection in time") from None
        except (OSError, ssl.SSLError) as error:
            raise Unsent(type(error).__name__) from None
        return wire

    def _head(self, url: str, method: str) -> bytes:
        place = urlsplit(url)
        target = (place.path or "/") + (f"?{place.query}" if place.query else "")
        lines = (f"{method} {target} HTTP/1.1", f"Host: {place.netloc}", f"User-Agent: {self.USER_AGENT}")
        head = "".join(f"{line}\r\n" for line in lines).encode("ascii")
        if len(self._heads) < 100:
            self._heads[url, method] = head
        return head


def encode(data: RequestData | None) -> tuple[bytes, bytes]:
    """A call's body and its type, as JSON where no file goes along: a form of a long answer is half percent
    signs."""
    if data is None:
        return _JSON.encode(), b""
    if not data.contains_files:
        return _JSON.encode(), encoded(data.parameters)
    form = httpx.Request("POST", "http://form", data=data.json_parameters, files=data.multipart_data)
    return form.headers["Content-Type"].encode(), form.read()
