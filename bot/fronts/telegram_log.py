"""Log lines of the bot: an event, row numbers, kinds of fault; no text, nobody's number, never the token."""

import json
import logging
import sys
from datetime import UTC, datetime

Fact = int | float | str


class Note:
    """One thing that happened, in words of ours, with facts that name nobody."""

    __slots__ = ("event", "facts")

    def __init__(self, event: str, facts: dict[str, Fact]) -> None:
        self.event = event
        self.facts = facts

    def __str__(self) -> str:
        """The event and its facts as one line."""
        return " ".join([self.event, *(f"{name}={json.dumps(fact)}" for name, fact in self.facts.items())])


def note(log: logging.Logger, level: int, event: str, **facts: Fact) -> None:
    """Write down that something happened; a fact is a count, a row, or the name of a kind, nothing else."""
    log.log(level, "%s", Note(event, facts))


def info(log: logging.Logger, event: str, **facts: Fact) -> None:
    """Something worth knowing."""
    note(log, logging.INFO, event, **facts)


def warn(log: logging.Logger, event: str, **facts: Fact) -> None:
    """Something that may pass by itself."""
    note(log, logging.WARNING, event, **facts)


def fail(log: logging.Logger, event: str, **facts: Fact) -> None:
    """Something that somebody should look at."""
    note(log, logging.ERROR, event, **facts)


class Lines(logging.Formatter):
    """A line as `key=value` or as one JSON object; what a library says is left out, not that it spoke."""

    def __init__(self, secret: str, as_json: bool = False) -> None:
        super().__init__()
        self._secret = secret
        self._as_json = as_json

    def format(self, record: logging.LogRecord) -> str:
        """The line as it is written."""
        said = record.args[0] if isinstance(record.args, tuple) and record.args else None
        if not isinstance(said, Note):
            said = Note(
                "a library speaks", {"place": f"{record.module}.{record.funcName}", "line": record.lineno}
            )
        line: dict[str, Fact] = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "log": record.name,
            "event": said.event,
            **said.facts,
        }
        if record.exc_info and record.exc_info[0]:
            line["fault"] = record.exc_info[0].__name__
        if self._as_json:
            text = json.dumps(line)
        else:
            text = " ".join(
                f"{name}={json.dumps(fact) if ' ' in str(fact) else fact}" for name, fact in line.items()
            )
        return text.replace(self._secret, "<token>")


def set_up_logging(secret: str, as_json: bool = False) -> None:
    """Our own lines at INFO; the libraries speak only of trouble, and never of an error's details."""
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(Lines(secret, as_json))
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(logging.WARNING)
    logging.getLogger("perpend").setLevel(logging.INFO)
    for name in ("telegram", "httpx", "sqlalchemy", "alembic"):
        logging.getLogger(name).setLevel(logging.WARNING)
    # the library prints whole answers of the platform when they are no JSON, and those may hold messages
    logging.getLogger("telegram.request").setLevel(logging.CRITICAL)


def place_of(error: BaseException) -> str:
    """Where an error came from, never its words: they may be a person's."""
    trace = error.__traceback__
    while trace and trace.tb_next:
        trace = trace.tb_next
    return f"{trace.tb_frame.f_code.co_name}:{trace.tb_lineno}" if trace else ""
