"""What a chat keeps between messages, and what goes back to it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal, NamedTuple

from pydantic import BaseModel, ConfigDict, Field

from knowledge.questions import Units

Plain = dict[str, Any]
Topics = list[tuple[str, tuple[str, ...]]]  # a topic and the wishes within it


# A plain {} as a default would be copied deep, in Python, at every load.


class Choice(BaseModel):
    """A button. `slots` is what it settles; None where it only says something."""

    model_config = ConfigDict(frozen=True)

    label: str
    slots: Plain = Field(default_factory=dict)
    topic: str | None = None
    wall: str | None = None  # where several are spoken of: the label of the one that it settles
    said: str | None = None  # the message that waited to be told of which wall it is
    way: str | None = None  # of several like walls: some, each, together
    region: str | None = None  # the message that waits is answered by the rules of this region


@dataclass(frozen=True)
class Whose:
    """What a message is told to be of: the wall by its label, or all; of like walls, which."""

    wall: str | None = None
    way: str | None = None


class State(BaseModel):
    """What one chat keeps between messages."""

    model_config = ConfigDict(frozen=True)

    region: str = "GB"
    region_open: Literal["", "ask", "tell"] = ""  # nobody chose it; words may speak for another
    region_by: Literal["", "asked", "chosen", "own"] = (
        ""  # whether that was asked, and answered; or for one alone
    )
    spoke: tuple[str, ...] = ()  # words of this chat that speak for a region: its code, then the word
    waits: str | None = None  # the message that waits for its region
    language: str = "en"
    slots: Plain = Field(default_factory=dict)
    site: Plain = Field(default_factory=dict)  # sizes that this site has set for itself
    units: Units | None = None  # to answer in; None: as asked
    topics: tuple[tuple[str, tuple[str, ...]], ...] = ()
    walls: tuple[Plain, ...] = ()  # where several are spoken of: label and slots of each
    last: tuple[str, ...] = ()
    pending: tuple[Choice, ...] = ()
    asked: str | None = None
    left: tuple[str, ...] = ()  # numbers that were asked about, as they were typed
    bare: tuple[str, ...] = ()  # sides of the wall whose number came without a unit
    gable: bool = False  # one is spoken of, and nobody said its shape
    mending: str | None = None  # where several walls are spoken of: the one whose reading is put right
    confirmed: tuple[str, ...] = ()
    before: State | None = None


class Line(NamedTuple):
    """One block of a reply, in plain words."""

    kind: str  # danger, number, read, assumed, rule, caution, ask, note or care
    text: str


@dataclass(frozen=True)
class Reply:
    """What goes back. `record` is the machine-readable answer."""

    outcome: str
    lines: tuple[Line, ...]
    record: Plain
    choices: tuple[Choice, ...] = ()
    corrected: bool = False  # what was answered before is put right by it
