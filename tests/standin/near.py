"""The stand-in in this very process: the library's requests go to it without a network between."""

import json
from typing import Any

from telegram.error import NetworkError
from telegram.request import BaseRequest, RequestData

from tests.standin.server import Dropped, Standin


class NearRequest(BaseRequest):
    """Takes the place of the request class of the front; all else is as it runs."""

    def __init__(self, standin: Standin, **_options: Any) -> None:
        self._standin = standin

    @property
    def read_timeout(self) -> float:
        """Nothing to wait for."""
        return 0.0

    async def initialize(self) -> None:
        """Nothing to open."""

    async def shutdown(self) -> None:
        """Nothing to close."""

    async def do_request(
        self, url: str, method: str, request_data: RequestData | None = None, *_timeouts: Any, **_more: Any
    ) -> tuple[int, bytes]:
        """Make one call; the status and the body."""
        del method
        token, _, name = url.rpartition("/bot")[2].partition("/")
        raw: dict[str, Any] = {}
        if request_data is not None:
            raw = json.loads(json.dumps(request_data.parameters))
            for part, (filename, content, _kind) in request_data.multipart_data.items():
                raw[part] = (filename, content)
        try:
            body, code = await self._standin.answer(token, name, raw)
        except Dropped:
            raise NetworkError("dropped") from None
        return code, json.dumps(body).encode()
