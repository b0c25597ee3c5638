"""Whole conversations, line by line. The talks are in tests/talks, one a file.

`> message` is followed by what comes back: `number:`, `read:`, `ask:` and `danger:` lines in their order, or
`[acknowledged]` or `[declined]` where nothing is answered. Three dots stand for any words. `# ` says why.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from bot.talk import Reply, State, turn
from tests.reading.records import check

TALKS = sorted((Path(__file__).parents[1] / "talks").glob("*.txt"))
COMPARED = ("danger", "number", "read", "ask")


@dataclass
class Exchange:
    """One message with the lines that must come back."""

    message: str
    expected: list[str] = field(default_factory=list)


def exchanges(path: Path) -> list[Exchange]:
    """The exchanges of one talk; a line that is none of the known kinds is a fault of the file."""
    found: list[Exchange] = []
    for n, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if line.startswith("> "):
            found.append(Exchange(line[2:]))
        elif line.partition(":")[0] in COMPARED or re.fullmatch(r"\[(acknowledged|declined)\]", line):
            found[-1].expected.append(line)
        else:
            assert not line or line.startswith("# "), f"{path.name}, line {n}: {line!r}"
    return found


def shown(reply: Reply) -> list[str]:
    """The compared lines of a reply."""
    if reply.outcome in {"acknowledged", "declined"}:
        return [f"[{reply.outcome}]"]
    return [f"{line.kind}: {line.text}" for line in reply.lines if line.kind in COMPARED]


def fits(expected: str, line: str) -> bool:
    """Whether a line is the expected one, three dots standing for any words."""
    pattern = ".*".join(re.escape(piece) for piece in expected.split("..."))
    return re.fullmatch(pattern, line, re.DOTALL) is not None


@pytest.mark.parametrize("path", TALKS, ids=[path.stem for path in TALKS])
def test_talk(path: Path) -> None:
    state = State()
    for exchange in exchanges(path):
        state, reply = turn(state, exchange.message)
        check(exchange.message, reply)
        lines = shown(reply)
        story = "\n".join(
            [f"{path.name}: > {exchange.message}", "expected", *exchange.expected, "came", *lines]
        )
        assert len(lines) == len(exchange.expected), story
        assert all(fits(want, line) for want, line in zip(exchange.expected, lines, strict=True)), story


def test_there_are_talks_and_each_says_something() -> None:
    assert len(TALKS) >= 8
    for path in TALKS:
        talk = exchanges(path)
        assert len(talk) >= 2, path.name
        assert all(exchange.expected for exchange in talk), path.name


@pytest.mark.parametrize(
    ("expected", "line", "right"),
    [
        ("number: 2 joints...", "number: 2 joints; at 3 m.", True),
        ("number: 2 joints...", "number: 12 joints", False),
        ("read: a (b)", "read: a (b)", True),
        ("read: a", "read: a b", False),
        ("ask: ...feet...", "ask: Is it feet?", True),
    ],
)
def test_three_dots_stand_for_any_words(expected: str, line: str, right: bool) -> None:
    assert fits(expected, line) is right
