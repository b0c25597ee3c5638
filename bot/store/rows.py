"""What passes between the chat front and the database."""

from dataclasses import dataclass, field
from typing import Any

from bot.store.saved import Change, Given


@dataclass(frozen=True, slots=True)
class Update:
    """One update as it came in: its number there, the chat whose order it keeps, the raw JSON."""

    update_id: int
    lane: str
    body: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """An update in the inbox that is not yet worked."""

    id: int
    body: str
    tries: int
    at: float = 0.0


@dataclass(frozen=True, slots=True)
class Talk:
    """The conversation of one person in one thread of one chat; `turn` is the update that made this state."""

    key: str
    chat: int
    state: str
    turn: int


@dataclass(frozen=True, slots=True)
class Question:
    """A message that was answered, and the state before it."""

    chat: int
    message: int
    key: str
    turn: int
    before: str
    digest: str


@dataclass(frozen=True, slots=True)
class Queue:
    """How a queue stands: rows waiting, when the oldest of them came, rows set aside."""

    name: str
    waiting: int
    oldest: float | None
    aside: int


@dataclass(slots=True)
class Letter:
    """One call to make; `chat` and `message` name the question that it answers."""

    method: str
    body: dict[str, Any]
    lane: str
    chat: int | None = None
    message: int | None = None
    id: int = 0
    tries: int = 0
    due: float = 0.0
    misses: int = 0


@dataclass(slots=True)
class Settled:
    """All that one update changes; it is written at once or not at all."""

    id: int
    fault: str | None = None
    talk: Talk | None = None
    question: Question | None = None
    letters: list[Letter] = field(default_factory=list)
    given: Given | None = None
    changes: list[Change] = field(default_factory=list)
    site: Any = None  # the chat's settings after this, where it may have changed them
