"""The door of the web hook by itself: whatever knocks, the right status; in come only sound updates."""

import asyncio
import json
from collections.abc import Iterable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.fronts.web import MOST, Site
from tests.reading.lots import lots
from tests.service.hooks import SECRET

SOUND = {"update_id": 7, "message": {"message_id": 1}}
TOKEN = b"x-telegram-bot-api-secret-token"
RIGHT = {TOKEN: SECRET.encode(), b"content-type": b"application/json"}
Headers = Iterable[tuple[bytes, bytes]]


def knock(
    method: str, headers: Headers, *parts: bytes, path: str = "/hook"
) -> tuple[int, list[dict[str, Any]]]:
    """One request in so many parts; its status, and what was taken in."""
    taken: list[dict[str, Any]] = []
    said: list[Any] = []
    bodies = [
        {"type": "http.request", "body": p, "more_body": n < len(parts)} for n, p in enumerate(parts, 1)
    ]
    coming = iter(bodies)

    async def take(update: dict[str, Any]) -> None:
        json.dumps(update)  # as it is written down
        taken.append(update)

    async def receive() -> Any:
        return next(coming, {"type": "http.disconnect"})

    async def send(part: Any) -> None:
        said.append(part)

    site = Site(lambda: True, lambda: (b"", "text/plain"), SECRET, take)
    scope = {"type": "http", "path": path, "method": method, "headers": list(headers)}
    asyncio.run(site(scope, receive, send))
    return said[0]["status"], taken


def body(update: Any) -> bytes:
    """It as JSON."""
    return json.dumps(update).encode()


# Status by RFC 9110: 15.3.1, 15.5.1, 15.5.2, 15.5.6, 15.5.14, 15.5.16
KNOCKS: dict[str, tuple[str, dict[bytes, bytes | None], tuple[bytes, ...], int]] = {
    "sound": ("POST", {}, (body(SOUND),), 200),
    "sound in parts": ("POST", {}, (body(SOUND)[:9], b"", body(SOUND)[9:]), 200),
    "charset named": ("POST", {b"content-type": b"Application/JSON ; charset=utf-8"}, (body(SOUND),), 200),
    "other shapes are looked at later": ("POST", {}, (body({"update_id": 0, "message": [None]}),), 200),
    "no secret": ("POST", {TOKEN: None}, (body(SOUND),), 401),
    "empty secret": ("POST", {TOKEN: b""}, (body(SOUND),), 401),
    "half of it": ("POST", {TOKEN: SECRET[:-1].encode()}, (body(SOUND),), 401),
    "more than it": ("POST", {TOKEN: f"{SECRET}x".encode()}, (body(SOUND),), 401),
    "another case": ("POST", {TOKEN: SECRET.upper().encode()}, (body(SOUND),), 401),
    "no letters": ("POST", {TOKEN: b"\xff\x00"}, (body(SOUND),), 401),
    "wrong secret before size": (
        "POST", {TOKEN: b"x", b"content-length": b"9999999999"}, (b"",), 401),
    "no type": ("POST", {b"content-type": None}, (body(SOUND),), 415),
    "a form": ("POST", {b"content-type": b"application/x-www-form-urlencoded"}, (body(SOUND),), 415),
    "nearly the type": ("POST", {b"content-type": b"application/json5"}, (body(SOUND),), 415),
    "said to be large": ("POST", {b"content-length": str(MOST + 1).encode()}, (body(SOUND),), 413),
    "said to be endless": ("POST", {b"content-length": b"9" * 5000}, (body(SOUND),), 413),
    "no length": ("POST", {b"content-length": b"-1"}, (body(SOUND),), 413),
    "large in parts": ("POST", {}, (b" " * (MOST // 2),) * 3, 413),
    "as large as may be": ("POST", {}, (body(SOUND).ljust(MOST),), 200),
    "hung up": ("POST", {}, (), 400),
    "empty": ("POST", {}, (b"",), 400),
    "no JSON": ("POST", {}, (b"update_id=7",), 400),
    "half of it JSON": ("POST", {}, (body(SOUND)[:-1],), 400),
    "not UTF-8": ("POST", {}, (b'{"update_id": 7, "x": "\xff\xfe"}',), 400),
    "a word": ("POST", {}, (b'"update_id"',), 400),
    "nothing": ("POST", {}, (b"null",), 400),
    "no number": ("POST", {}, (body({"message": {}}),), 400),
    "yes for a number": ("POST", {}, (body({"update_id": True}),), 400),
    "text for a number": ("POST", {}, (body({"update_id": "7"}),), 400),
    "half a number": ("POST", {}, (body({"update_id": 7.0}),), 400),
    "below nothing": ("POST", {}, (body({"update_id": -1}),), 400),
    "beyond 64 bits": ("POST", {}, (body({"update_id": 2**63}),), 400),
    "a number of 5,000 digits": ("POST", {}, (b'{"update_id": ' + b"9" * 5000 + b"}",), 400),
    **{
        f"{method} is no way in": (method, {}, (body(SOUND),), 405)
        for method in ("GET", "HEAD", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "post", "")
    },
}  # fmt: skip


@pytest.mark.parametrize("name", KNOCKS)
def test_every_knock_gets_its_status_and_only_sound_ones_get_in(name: str) -> None:
    method, changed, parts, status = KNOCKS[name]
    headers = [(key, value) for key, value in {**RIGHT, **changed}.items() if value is not None]
    got, taken = knock(method, headers, *parts)
    assert got == status
    assert len(taken) == (status == 200)


@pytest.mark.parametrize("path", ["/", "/hook/", "/Hook", "/hook/../hook", "//hook", "/hook\x00"])
def test_there_is_one_address(path: str) -> None:
    assert knock("POST", RIGHT.items(), body(SOUND), path=path) == (404, [])


@pytest.mark.parametrize("deep", [*range(100, 1000, 50), *range(930, 1000), 5000, 100_000])
def test_parts_within_parts_are_taken_or_refused(deep: int) -> None:
    status, taken = knock(
        "POST", RIGHT.items(), b'{"update_id": 7, "message": ' + b"[" * deep + b"]" * deep + b"}"
    )
    assert (status, len(taken)) in ((200, 1), (400, 0))


PIECES = st.sampled_from(
    [b"", b"{", b"}", b'"update_id"', b":", b"7", b",", b"[", b"]", b"null", b"\xff", b"1e999"]
)


@lots(300)
@given(
    st.dictionaries(st.sampled_from([*RIGHT, b"content-length", b"x"]), st.binary(max_size=40), max_size=4),
    st.booleans(),
    st.lists(st.lists(PIECES, max_size=8).map(b"".join) | st.binary(max_size=60), max_size=4),
)
def test_whatever_knocks(drawn: dict[bytes, bytes], right: bool, parts: list[bytes]) -> None:
    headers = {**drawn, **RIGHT} if right else drawn
    status, taken = knock("POST", headers.items(), *parts)
    assert status in {200, 400, 401, 413, 415}
    assert bool(taken) == (status == 200)
    if not right and drawn.get(TOKEN) != SECRET.encode():
        assert status == 401
