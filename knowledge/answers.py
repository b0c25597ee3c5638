"""What comes back: an answer, a need or a decline. Values, never exceptions."""

from dataclasses import dataclass
from functools import lru_cache
from math import isfinite
from typing import Any, Literal, NamedTuple

from knowledge.questions import Quantity, Reading

Standing = Literal["published", "common practice", "from memory"]


@dataclass(frozen=True, kw_only=True)
class Range:
    """Least and most, in one unit."""

    min: float
    max: float
    unit: str = ""


class Assumed(NamedTuple):
    slot: str
    value: Any
    because: str


class Step(NamedTuple):
    """One line of arithmetic: what, the sum with its numbers, and what came out."""

    step: str
    expression: str
    value: Any


@dataclass(frozen=True, kw_only=True)
class Cited:
    """A rule as an answer shows it."""

    id: str
    statement: str
    source: str
    clause: str
    standing: Standing


@dataclass(frozen=True, kw_only=True)
class Answer:
    """Results of one topic for one wall. `lead` orders them; `notes` are the sentences that go with them."""

    topic: str
    wall: str | None = None
    reading: Reading
    assumed: tuple[Assumed, ...] = ()
    results: dict[str, Any]
    lead: tuple[str, ...] = ()
    first: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    working: tuple[Step, ...] = ()
    rules: tuple[Cited, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Option:
    """One way to go on; `reading` holds only the slots that it settles."""

    label: str
    reading: Reading


@dataclass(frozen=True, kw_only=True)
class Need:
    """Something that only the asker knows."""

    topic: str
    wall: str | None = None
    reading: Reading
    slot: str
    ask: str
    options: tuple[Option, ...] = ()
    others: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Decline:
    """Not for this rule book, impossible, or for a licensed person; `why` says what to do."""

    topic: str | None = None
    wall: str | None = None
    reading: Reading
    why: str
    impossible: str | None = None
    """The slot whose value can be no such size."""


Finding = Answer | Need | Decline


@lru_cache(maxsize=1000)
def quantity(value: float, unit: str, digits: int = 6) -> Quantity:
    """A result, freed of the dust of binary fractions; raises ValueError for what is no number."""
    if not isfinite(value):
        raise ValueError(f"{value} {unit} is no size")
    return Quantity(round(value, digits), unit)
