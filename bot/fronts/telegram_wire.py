"""One connection to the platform: a call goes out, its answer comes back, and the line is free again.

HTTP/1.1 (RFC 9112), the client's half: one request at a time, bodies by length, in chunks or to the end.
"""

import asyncio
import re
from typing import cast

MOST = 64 * 1024 * 1024
"""An answer longer than this is none."""
HEAD = 64 * 1024
_FIELD = re.compile(rb"\r\n(connection|content-length|transfer-encoding):(.*?)(?=\r\n|\Z)", re.DOTALL)
"""The fields of a head that tell where the body ends; the rest of it is for others."""


class Broken(Exception):
    """The line broke, or what came back is not HTTP: whether the call was made is not known."""


class Wire(asyncio.Protocol):
    """A line that is kept open between calls."""

    def __init__(self) -> None:
        self.is_open = False
        self.since = 0.0  # when it was last put down
        self._transport: asyncio.Transport | None = None
        self._waits: asyncio.Future[tuple[int, bytes]] | None = None
        self._clear()

    def _clear(self) -> None:
        self._got = bytearray()
        self._status = 0
        self._length: int | None = None  # of the body; none: in chunks, or to the end
        self._chunked = self._last = False
        self._body = bytearray()

    async def ask(self, request: bytes, seconds: float) -> tuple[int, bytes]:
        """Send one request; the status and the body that come back. Raises Broken or TimeoutError."""
        if self._transport is None or not self.is_open:
            raise Broken("closed")
        loop = asyncio.get_running_loop()
        waits: asyncio.Future[tuple[int, bytes]] = loop.create_future()
        self._waits = waits
        end = loop.call_later(seconds, self._late)
        try:
            self._transport.write(request)
            return await waits
        except BaseException:
            self.close()  # what still comes would be taken for the next answer
            raise
        finally:
            end.cancel()
            self._waits = None

    def close(self) -> None:
        """Hang up."""
        self.is_open = False
        if self._transport is not None:
            self._transport.abort()

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """The line stands."""
        self._transport = cast("asyncio.Transport", transport)
        self.is_open = True

    def connection_lost(self, exc: Exception | None) -> None:  # noqa: ARG002
        """The line is gone; a body without a length ends here."""
        self.is_open = False
        if self._status and self._length is None and not self._chunked:
            self._answered(bytes(self._got))
        else:
            self._fail(Broken("connection lost"))

    def data_received(self, data: bytes) -> None:
        """Take in a piece of the answer."""
        if self._waits is None:  # nobody asked
            self.close()
            return
        self._got += data
        try:
            self._take()
        except ValueError:
            self._fail(Broken("not HTTP"))
            self.close()

    def _take(self) -> None:
        while not self._status:
            end = self._got.find(b"\r\n\r\n")
            if end < 0:
                if len(self._got) > HEAD:
                    raise ValueError
                return
            self._read_head(bytes(self._got[:end]))
            del self._got[: end + 4]
        if self._chunked:
            self._take_chunks()
        elif self._length is not None and len(self._got) >= self._length:
            self._last |= len(self._got) > self._length  # more than was said: no use after this
            self._answered(bytes(self._got[: self._length]))
        elif len(self._got) > MOST:
            raise ValueError

    def _read_head(self, head: bytes) -> None:
        version, _, rest = head.partition(b" ")
        if version not in (b"HTTP/1.1", b"HTTP/1.0") or not rest[:3].isdigit():
            raise ValueError
        status = int(rest[:3])
        if status < 200:
            return  # an interim word: the answer follows
        fields = {name: value.strip() for name, value in _FIELD.findall(head.lower())}
        self._status = status
        self._last = version == b"HTTP/1.0" or fields.get(b"connection") == b"close"
        if b"transfer-encoding" in fields:
            if fields[b"transfer-encoding"] != b"chunked":
                raise ValueError
            self._chunked = True
        elif status in (204, 304):
            self._length = 0
        elif b"content-length" in fields:
            if not fields[b"content-length"].isdigit():
                raise ValueError
            self._length = int(fields[b"content-length"])
            if self._length > MOST:
                raise ValueError

    def _take_chunks(self) -> None:
        while (end := self._got.find(b"\r\n")) >= 0:
            size = int(self._got[:end].partition(b";")[0], 16)
            if size == 0:
                if b"\r\n\r\n" in self._got:  # past the trailers
                    self._answered(bytes(self._body))
                return
            after = end + 2 + size
            if size < 0 or len(self._body) + size > MOST:
                raise ValueError
            if len(self._got) < after + 2:
                return
            if self._got[after : after + 2] != b"\r\n":
                raise ValueError
            self._body += self._got[end + 2 : after]
            del self._got[: after + 2]

    def _answered(self, body: bytes) -> None:
        status, last = self._status, self._last or (self._length is None and not self._chunked)
        self._clear()
        if self._waits is not None and not self._waits.done():
            self._waits.set_result((status, body))
        if last:
            self.close()

    def _late(self) -> None:
        self._fail(TimeoutError())

    def _fail(self, error: Exception) -> None:
        if self._waits is not None and not self._waits.done():
            self._waits.set_exception(error)
