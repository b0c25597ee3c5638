"""What came in and how a call ended, in our own terms; nothing here knows the chat library."""

from dataclasses import dataclass, field
from typing import Any, Literal, Protocol

Kind = Literal["text", "edit", "press", "command", "wordless", "moved", "nothing"]


@dataclass(frozen=True, slots=True)
class Arrival:
    """One update, read: who, where, and what was said or pressed."""

    kind: Kind
    chat: int = 0
    person: int = 0
    thread: int = 0
    message: int = 0
    text: str = ""
    command: str = ""
    group: bool = False
    press: str = ""
    key: str = field(init=False)
    """The conversation this belongs to: one person in one thread of one chat."""

    def __post_init__(self) -> None:
        """It is asked for many times a message."""
        object.__setattr__(self, "key", f"{self.chat}:{self.thread}:{self.person}")

    @property
    def lane(self) -> str:
        """What must stay in order."""
        return str(self.chat)


@dataclass(frozen=True, slots=True)
class File:
    """A file that goes along with a call, made when the call is."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Done:
    """The platform did it; what it gave back."""

    result: Any


@dataclass(frozen=True, slots=True)
class Wait:
    """Too fast for this chat; try again after so many seconds."""

    seconds: float


@dataclass(frozen=True, slots=True)
class Again:
    """It failed for now. `unsent`: it cannot have reached the platform."""

    why: str
    unsent: bool = False


@dataclass(frozen=True, slots=True)
class Never:
    """It is refused and would be refused again."""

    why: str
    moved_to: int | None = None


@dataclass(frozen=True, slots=True)
class Barred:
    """The token is not accepted."""

    why: str


@dataclass(frozen=True, slots=True)
class Clash:
    """Another poller or a web hook stands in the way."""

    why: str


Outcome = Done | Wait | Again | Never | Barred | Clash


class Line(Protocol):
    """The way out: any call of the Bot API by its name."""

    async def call(self, method: str, body: dict[str, Any], wait: float = 20.0) -> Outcome:
        """Make one call; every way it can end is an Outcome, never an exception."""


def chat_of(update: dict[str, Any]) -> str:
    """The lane of a raw update, found without trusting its shape."""
    for part in update.values():
        if isinstance(part, dict):
            holder = part.get("message", part)
            chat = holder.get("chat") if isinstance(holder, dict) else None
            number = chat.get("id") if isinstance(chat, dict) else None
            if type(number) is int and -(2**63) <= number < 2**63:
                return str(number)
    return f"update {update.get('update_id')}"
