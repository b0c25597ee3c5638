"""Log lines of the bot: no message text, nobody's number, and never the token."""

import logging
import sys


class Scrub(logging.Formatter):
    """Takes the token out of every line, whoever wrote it."""

    def __init__(self, secret: str) -> None:
        super().__init__("%(asctime)s %(levelname)s %(name)s %(message)s")
        self._secret = secret

    def format(self, record: logging.LogRecord) -> str:
        """The line as it is written."""
        return super().format(record).replace(self._secret, "<token>")


def set_up_logging(secret: str) -> None:
    """Our own lines at INFO; the libraries speak only of trouble, and never of an error's details."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Scrub(secret))
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.WARNING)
    logging.getLogger("perpend").setLevel(logging.INFO)
    for name in ("telegram", "aiohttp", "httpx", "sqlalchemy", "alembic"):
        logging.getLogger(name).setLevel(logging.WARNING)
    # the library prints whole answers of the platform when they are no JSON, and those may hold messages
    logging.getLogger("telegram.request").setLevel(logging.CRITICAL)
