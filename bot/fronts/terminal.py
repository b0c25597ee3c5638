"""The terminal front: one answer, a stream of them, or a conversation."""

from __future__ import annotations

import sys
import textwrap
from typing import TextIO

from bot.speaking.say import on_request, phrases
from bot.talk import Reply, State, choose, excuse, turn
from knowledge.questions import Units

EXIT = {"answered": 0, "acknowledged": 0, "needs": 3, "declined": 4}
WIDTH = 76
FOLDED = "care"


def shown(reply: Reply, working: bool = False, once: bool = False) -> str:
    """A reply as text; of a single question the option beside a region says how to choose it."""
    parts = []
    marks = phrases(reply.record["language"])["mark"]
    told: list[tuple[str, str]] = [line for line in reply.lines if working or line.kind != FOLDED]
    for kind, text in [*told, *(on_request(reply.record) if working else ())]:
        for row in f"{marks.get(kind, '')} {text}".strip().splitlines():
            parts.append(textwrap.fill(row, WIDTH, subsequent_indent="  "))
    for n, choice in enumerate(reply.choices, 1):
        of = f" (--region {choice.region})" if once and choice.region else ""
        parts.append(f"  {n}. {choice.label}{of}")
    return "\n".join(parts)


def as_object(reply: Reply) -> str:
    """A reply as one line of JSON."""
    import json

    return json.dumps(reply.record, ensure_ascii=False)


def _taken(state: State, text: str) -> tuple[State, Reply]:
    """One turn; what is a fault of ours goes to the log, and the asker gets a word."""
    try:
        return turn(state, text)
    except Exception:
        import logging

        logging.getLogger(__name__).exception("a message could not be worked")
        return state, excuse(state, text)


def _begin(region: str | None, as_json: bool, units: Units | None) -> State:
    """A fresh chat; where no region was said, that of the contract, and words may speak for another."""
    if region is not None:
        return State(region=region, units=units)
    return State(region_open="tell" if as_json else "ask", units=units)


def ask(text: str, region: str | None, as_json: bool, working: bool, units: Units | None = None) -> int:
    """Answer one message; '-' with JSON reads one a line from standard input, each on its own."""
    state = _begin(region, as_json, units)
    if as_json and text == "-":
        for row in sys.stdin:
            message = row.rstrip("\r\n")
            print(as_object(_taken(state, message)[1]), flush=True)
        return 0
    _, reply = _taken(state, text)
    print(as_object(reply) if as_json else shown(reply, working, once=True))
    return EXIT[reply.outcome]


def chat(region: str | None, as_json: bool, source: TextIO | None = None, units: Units | None = None) -> int:
    """A conversation: every line is the next message of the same chat; a number picks a choice."""
    state = _begin(region, as_json, units)
    if not as_json and sys.stdin.isatty():
        print("Ask about a wall; an empty line ends it.")
    for row in source or sys.stdin:
        message = row.rstrip("\r\n")
        if not as_json and not message.strip():
            break
        if state.pending and message.strip().isdigit() and 1 <= int(message) <= len(state.pending):
            state, reply = choose(state, int(message) - 1, message)
        else:
            state, reply = _taken(state, message)
        print(as_object(reply) if as_json else shown(reply) + "\n", flush=True)
    return 0
