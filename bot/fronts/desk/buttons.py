"""What sits under an answer, and what a press of it carries: edition, verb, turn, and a choice."""

from dataclasses import dataclass
from typing import Any

CODE = "2"
"""Edition of these buttons; the choices of a question back have their own."""
Keyboard = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Press:
    """A pressed button of ours: which verb, of which turn, which choice."""

    verb: str
    turn: int
    choice: int = -1


def code(verb: str, turn: int, choice: int | None = None) -> str:
    """What the button carries: well under the platform's 64 bytes."""
    return f"{CODE}:{verb}:{turn:x}" + (f":{choice:x}" if choice is not None else "")


def read_code(data: str) -> Press | None:
    """A press read back; None where it is none of ours."""
    edition, *parts = data.split(":")
    if edition != CODE or not 2 <= len(parts) <= 3 or not parts[0].isalpha():
        return None
    try:
        numbers = [int(part, 16) for part in parts[1:]]
    except ValueError:
        return None
    if not all(0 <= number < 2**63 for number in numbers):
        return None
    return Press(parts[0], *numbers)


def under_answer(record: dict[str, Any], turn: int, words: dict[str, str], share: bool) -> Keyboard | None:
    """The buttons under an answer; a drawing and a sheet only where there is a wall with a length."""
    if not record.get("answers"):
        return None
    answer = record["answers"][0]
    first = [("workings", "w")]
    if "length" in answer["reading"]:
        first += [("draw", "d"), ("sheet", "s")]
    rows = [[{"text": words[f"button_{name}"], "callback_data": code(verb, turn)} for name, verb in first]]
    rows.append([{"text": words["button_misread"], "callback_data": code("m", turn)}])
    if share:
        rows[-1].append({"text": words["button_share"], "switch_inline_query": shared(turn)})
    return {"inline_keyboard": rows}


SIZES = ("bag_size", "bucket_size", "roll", "board", "block")
"""Sizes that a site may set; a button carries the place of one here times EACH, and that of its size."""
EACH = 8
NARROW = 12
"""Letters of a label that stand whole with two others beside it on a screen of 320 pixels."""


def size_rows(slot: str, labels: list[str], turn: int) -> list[list[dict[str, str]]]:
    """Buttons that set a size of the site, the last for another; as many in a row as a phone shows."""
    first = SIZES.index(slot) * EACH
    found = [{"text": text, "callback_data": code("z", turn, first + n)} for n, text in enumerate(labels)]
    across = 3 if max(map(len, labels)) <= NARROW else 2
    return [found[place : place + across] for place in range(0, len(found), across)]


def examples(words: dict[str, str]) -> Keyboard:
    """The questions of the start screen, each asked with one tap."""
    listed = words["examples"].splitlines()
    return {
        "inline_keyboard": [[{"text": text, "callback_data": code("x", n)}] for n, text in enumerate(listed)]
    }


def shared(turn: int) -> str:
    """What a shared answer is asked for by."""
    return f"answer {turn:x}"


def shared_turn(query: str) -> int | None:
    """The turn of an answer to share, if the query names one."""
    name, _, number = query.partition(" ")
    if name != "answer" or not 0 < len(number) <= 16:
        return None
    try:
        return int(number, 16) % 2**63
    except ValueError:
        return None
