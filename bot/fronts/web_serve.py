"""Serving over HTTP: where, and for how long; what is answered is bot/fronts/web.py."""

import asyncio
import contextlib
import socket
from collections.abc import AsyncIterator, Callable, Iterator

import uvicorn
from sqlalchemy.exc import SQLAlchemyError

from bot.fronts.web import NotNow, Site
from bot.memory import Memory
from bot.settings import Settings
from bot.store.taking import has_tables


class Server(uvicorn.Server):
    """A server that leaves the signals to whoever runs it."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Catch none."""
        yield


@contextlib.asynccontextmanager
async def serving(site: Site, bound: socket.socket) -> AsyncIterator["asyncio.Future[None]"]:
    """Serve for as long as the block lasts; requests under way are answered first. `bound` stays open."""
    server = Server(
        uvicorn.Config(
            site,
            lifespan="off",
            log_config=None,
            access_log=False,
            server_header=False,
            proxy_headers=False,
            ws="none",
            limit_concurrency=500,
            timeout_graceful_shutdown=5,
        )
    )
    task = asyncio.ensure_future(server.serve([bound.dup()]))
    try:
        yield task
    finally:
        server.should_exit = True
        await task


def bind(place: str) -> socket.socket:
    """Take the port of host:port."""
    host, _, port = place.rpartition(":")
    host = host.strip("[]")
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    return socket.create_server((host, int(port)), family=family, backlog=256)


def answers(memory: Memory) -> bool:
    """Whether the database does."""
    try:
        return memory.look(has_tables)
    except SQLAlchemyError:
        return False


async def watch(
    bound: socket.socket, is_ready: Callable[[], bool], figures: Callable[[], tuple[bytes, str]]
) -> None:
    """Serve how the worker does, until cancelled."""
    async with serving(Site(is_ready, figures), bound) as task:
        await task


def refusing(settings: Settings, hook: bool) -> Site:
    """What is answered while the store is down: alive, not ready, and updates are to be brought again."""

    async def refuse(_update: object) -> None:
        raise NotNow

    secret = settings.webhook_secret.get_secret_value() if hook and settings.webhook_secret else None
    return Site(lambda: False, lambda: (b"", "text/plain; charset=utf-8"), secret, refuse)
