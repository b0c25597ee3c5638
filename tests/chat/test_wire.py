"""The line to the platform, against what another implementation of HTTP makes of the same bytes (h11)."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager

import h11
import pytest
from hypothesis import given
from hypothesis import strategies as st
from telegram.error import NetworkError, TimedOut

from bot.fronts.telegram_http import SiteRequest, Unsent
from bot.fronts.telegram_wire import Broken, Wire

Answer = Callable[[bytes], list[bytes]]


class Nowhere(asyncio.Transport):
    """A transport that goes nowhere."""

    def write(self, data: object) -> None:
        """Take what is sent."""

    def abort(self) -> None:
        """Nothing to hang up."""


def made_by_h11(status: int, body: bytes, how: str) -> bytes:
    """A server's answer as h11 writes it."""
    server = h11.Connection(h11.SERVER)
    server.receive_data(b"POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 0\r\n\r\n")
    while type(server.next_event()) is not h11.EndOfMessage:
        pass
    fields = {
        "length": [("Content-Length", str(len(body)))],
        "chunked": [("Transfer-Encoding", "chunked")],
        "close": [("Connection", "close")],
    }[how]
    sent = server.send(h11.Response(status_code=status, headers=[("Server", "x"), *fields])) or b""
    half = len(body) // 2
    for part in (body[:half], body[half:]):
        sent += server.send(h11.Data(data=part)) or b""
    return sent + (server.send(h11.EndOfMessage()) or b"")


@given(
    st.integers(200, 599).filter(lambda n: n not in (204, 304)),
    st.binary(max_size=400),
    st.sampled_from(["length", "chunked"]),
    st.lists(st.integers(1, 60), max_size=40),
)
def test_an_answer_is_read_alike_however_it_is_cut(
    status: int, body: bytes, how: str, cuts: list[int]
) -> None:
    async def read() -> tuple[int, bytes]:
        wire = Wire()
        wire.connection_made(Nowhere())
        asked = asyncio.ensure_future(wire.ask(b"", 5.0))
        await asyncio.sleep(0)
        left = made_by_h11(status, body, how)
        for cut in cuts:
            wire.data_received(left[:cut])
            left = left[cut:]
            if not left:
                break
        if left:
            wire.data_received(left)
        got = await asked
        assert wire.is_open
        return got

    assert asyncio.run(read()) == (status, body)


@given(st.binary(max_size=200))
def test_what_is_no_answer_is_never_taken_for_one(noise: bytes) -> None:
    async def read() -> None:
        wire = Wire()
        wire.connection_made(Nowhere())
        asked = asyncio.ensure_future(wire.ask(b"", 5.0))
        await asyncio.sleep(0)
        wire.data_received(noise)
        wire.connection_lost(None)
        with pytest.raises(Broken):
            await asked
        assert not wire.is_open

    if not noise.startswith(b"HTTP/1."):
        asyncio.run(read())


@asynccontextmanager
async def server(answer: Answer) -> AsyncIterator[str]:
    """A server that answers each request with these pieces; none: it hangs up."""

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            while True:
                head = await reader.readuntil(b"\r\n\r\n")
                length = int(head.lower().partition(b"content-length:")[2].split(b"\r\n")[0])
                pieces = answer(await reader.readexactly(length))
                for piece in pieces:
                    writer.write(piece)
                    await asyncio.sleep(0)
                if not pieces or b"close" in pieces[0]:
                    break
        except (asyncio.IncompleteReadError, ConnectionError):
            pass
        finally:
            writer.transport.abort()

    made = await asyncio.start_server(serve, "127.0.0.1", 0)
    async with made:
        yield f"http://127.0.0.1:{made.sockets[0].getsockname()[1]}/x"
        await asyncio.sleep(0.02)  # both ends hang up


async def test_a_line_is_used_again_and_one_that_closed_is_not() -> None:
    kinds = iter(("length", "chunked", "close", "length"))
    request = SiteRequest()
    async with server(lambda _body: [made_by_h11(200, b"here", next(kinds))]) as url:
        lines = {}  # held, so that a new one does not get the identity of one that is gone
        for _ in range(4):
            assert await request.do_request(url, "POST") == (200, b"here")
            lines |= {id(wire): wire for wire in request._free if wire.is_open}
        assert len(lines) == 2
        await request.shutdown()


async def test_a_line_that_breaks_or_keeps_silent_ends_the_call() -> None:
    request = SiteRequest()
    async with server(lambda _body: []) as url:
        with pytest.raises(NetworkError):
            await request.do_request(url, "POST")
    async with server(lambda _body: [b"HTTP/1.1 200 OK\r\nContent-Length: 10\r\n\r\nhalf"]) as url:
        with pytest.raises(TimedOut):
            await request.do_request(url, "POST", read_timeout=0.05)
        assert not request._free
    with pytest.raises(Unsent):
        await request.do_request(url, "POST")  # nobody listens there any more
