"""A talk with the real one's face that counts: what it says shows every state it passed through."""

import os
from typing import Any

from pydantic import BaseModel, ConfigDict

from bot.fronts.talking import Talking


class Frozen(BaseModel):
    """Fixed once made."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class State(Frozen):
    """How many turns, and what waits for a choice."""

    turns: int = 0
    open: tuple[str, ...] = ()


class Choice(Frozen):
    """A button."""

    label: str


class Line(Frozen):
    """A line."""

    kind: str
    text: str


class Reply(Frozen):
    """A reply."""

    outcome: str = "answered"
    lines: tuple[Line, ...] = ()
    choices: tuple[Choice, ...] = ()
    record: dict[str, Any] = {}


def turn(state: State, text: str) -> tuple[State, Reply]:
    """Counts; `which ...` asks back with two choices; `break` breaks, `die` takes the process along."""
    if text == "break":
        raise ValueError(f"secret words of a person: {text}")
    if text == "die":
        os._exit(9)
    if text == "hush":
        return state, Reply(outcome="acknowledged")
    counted = state.turns + 1
    if text.startswith("which"):
        options = ("30 m long", "30 ft long")
        asked = Reply(
            outcome="needs",
            lines=(Line(kind="ask", text=f"turn {counted}: metres or feet?"),),
            choices=tuple(Choice(label=x) for x in options),
        )
        return State(turns=counted, open=options), asked
    lines = (
        Line(kind="working", text="10 / 6 = 1.67"),
        Line(kind="read", text=f"Read: {text}"),
        Line(kind="number", text=f"turn {counted}"),
    )
    return State(turns=counted), Reply(lines=lines)


def choose(state: State, number: int) -> tuple[State, Reply]:
    """Takes one of the open choices."""
    if not 0 <= number < len(state.open):
        return state, Reply(lines=(Line(kind="note", text="no such choice"),))
    return turn(State(turns=state.turns), state.open[number])


def talking() -> Talking:
    """This talk, as the front takes it."""
    return Talking(State, State.model_validate_json, turn, choose)
