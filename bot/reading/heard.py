"""What was heard: topics, slots with their place in the text, doubts, and what was set aside."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Span = tuple[int, int]
Plain = dict[str, Any]


@dataclass
class Doubt:
    """Something that can be read in two ways, or is missing. A choice is (label, slots that it settles)."""

    slot: str
    ask: str
    choices: list[tuple[str, Plain]] = field(default_factory=list)
    others: tuple[str, ...] = ()
    spans: list[Span] = field(default_factory=list)
    spread: Plain | None = None  # a range that was said, as a slot has it


@dataclass
class Wall:
    """One of several walls in a message."""

    label: str | None
    slots: Plain
    evidence: dict[str, list[Span]] = field(default_factory=dict)
    topic: str | None = None


@dataclass(frozen=True)
class Swap:
    """An opening told before that becomes another: which one, of what kind, how many (none: all of them)."""

    which: int | str | None
    kind: str | None
    count: int | None


@dataclass
class Heard:
    """The reading of one message, before any conversation."""

    text: str
    kind: str = "asked"  # asked, chatter, off, empty
    why: str = ""
    topics: list[tuple[str, tuple[str, ...]]] = field(default_factory=list)
    slots: Plain = field(default_factory=dict)
    evidence: dict[str, list[Span]] = field(default_factory=dict)
    assumed: list[dict[str, Any]] = field(default_factory=list)
    repaired: list[tuple[str, str]] = field(default_factory=list)
    unknown: list[str] = field(default_factory=list)  # words like ours that are none for certain
    left: list[str] = field(
        default_factory=list
    )  # numbers asked about before, that this message does not take up
    set_aside: list[dict[str, Any]] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    walls: list[Wall] = field(default_factory=list)
    only: set[str] = field(default_factory=set)  # the walls that are asked about, where it is not all of them
    negated: list[tuple[str, str]] = field(default_factory=list)
    marks: set[str] = field(default_factory=set)  # turns of speech that a conversation needs
    bare: list[Any] = field(default_factory=list)  # measures that found no slot
    wants: dict[str, tuple[str, ...]] = field(default_factory=dict)  # wishes by topic in force
    shown: Plain = field(default_factory=dict)  # slots whose range was said and makes no difference
    weak: bool = False  # topics only hinted at, not named
    denied: list[float] = field(default_factory=list)  # sizes that were denied or taken back
    changes: set[str] = field(default_factory=set)  # what it changes of the openings told before
    stray: list[str] = field(default_factory=list)  # words beside the numbers that are none of ours
    same: set[str] = field(default_factory=set)  # slots that stay as they are in another wall
    named: set[str] = field(default_factory=set)  # dimensions that a word of the message names
    of_parts: list[Span] = field(default_factory=list)  # numbers beside a lintel, a sill, a pier
    gable: str = ""  # "open": one is named, and nothing that tells its shape; "told": it is told
    swap: Swap | None = None  # 'swap the second window for a door'
    lone: Any = None  # the only measure of a message, where no word says what it is of
