"""The chat library's requests over aiohttp: a fraction of the processor time of its default."""

import json
from typing import Any

import aiohttp
from telegram.error import NetworkError, TimedOut
from telegram.request import BaseRequest, RequestData

_JSON = {"Content-Type": "application/json"}


class Unsent(NetworkError):
    """No connection was made, so the call cannot have reached the platform."""


class SiteRequest(BaseRequest):
    """One keep-alive pool; addresses (they hold the token) never reach an error's text."""

    def __init__(self, read_timeout: float = 20.0, connections: int = 0) -> None:
        self._read_timeout = read_timeout
        self._connections = connections
        self._session: aiohttp.ClientSession | None = None

    @property
    def read_timeout(self) -> float:
        """Seconds to wait for an answer where the call does not say."""
        return self._read_timeout

    async def initialize(self) -> None:
        """Open the pool."""
        if self._session is None:
            self._session = aiohttp.ClientSession(
                connector=aiohttp.TCPConnector(
                    limit=self._connections, ttl_dns_cache=300, keepalive_timeout=60
                ),
                cookie_jar=aiohttp.DummyCookieJar(),
                headers={"User-Agent": self.USER_AGENT},
            )

    async def shutdown(self) -> None:
        """Close the pool."""
        if self._session is not None:
            await self._session.close()
            self._session = None

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
        if self._session is None:
            raise RuntimeError("the request pool is not open")
        wait = self._read_timeout if read_timeout is BaseRequest.DEFAULT_NONE else read_timeout
        connect = 5.0 if connect_timeout is BaseRequest.DEFAULT_NONE else connect_timeout
        body, headers = encode(request_data)
        timeout = aiohttp.ClientTimeout(total=wait, sock_connect=connect)
        try:
            async with self._session.request(
                method, url, data=body, headers=headers, timeout=timeout
            ) as answer:
                return answer.status, await answer.read()
        except aiohttp.ConnectionTimeoutError:
            raise Unsent("no connection in time") from None
        except TimeoutError:
            raise TimedOut("no answer in time") from None
        except aiohttp.ClientConnectorError as error:
            raise Unsent(type(error).__name__) from None
        except (aiohttp.ClientError, OSError) as error:
            raise NetworkError(type(error).__name__) from None


def encode(data: RequestData | None) -> tuple[Any, dict[str, str]]:
    """The body of a call, as JSON where no file goes along: a form of a long answer is half percent signs."""
    if data is None:
        return None, {}
    if not data.contains_files:
        return json.dumps(data.parameters).encode(), _JSON
    form = aiohttp.FormData()
    for name, value in data.json_parameters.items():
        form.add_field(name, value)
    for name, (filename, content, kind) in data.multipart_data.items():
        form.add_field(name, content, filename=filename, content_type=kind)
    return form, {}
