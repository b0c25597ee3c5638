"""Conversations by the thousand through one turn after another: `python -m tests.soak.turns FIRST COUNT`.

Each conversation is a lot of its own, named by a number, so that a failure can be had again alone.
"""

from __future__ import annotations

import json
import re
import sys
import time
from collections import Counter
from random import Random
from typing import Any

from bot.talk import Reply, State, choose, correct, turn
from knowledge.rulebook import RULES
from tests.reading.records import check
from tests.soak.memory import Scale
from tests.soak.sayings import saying

REGIONS = sorted(path.parent.name.upper() for path in RULES.glob("*/habits.toml"))
SITES: tuple[dict[str, Any], ...] = (
    {"block": {"length": {"value": 600, "unit": "mm"}, "height": {"value": 250, "unit": "mm"}}},
    {"bag_size": {"value": 20, "unit": "kg"}, "bucket_size": {"value": 12, "unit": "l"}},
    {"roll": {"width": {"value": 1, "unit": "m"}, "length": {"value": 25, "unit": "m"}}},
)
SECONDS = 1.0  # of processor time for one turn; a usual one takes a thousandth of this
NO_NUMBER = re.compile(r"\b(?:nan|inf|None)\b")


class Broken(AssertionError):
    """A turn that broke a promise; says which, in which conversation."""


def check_whole(text: str, reply: Reply) -> None:
    """What the record promises, and that what is shown has a reading, a rule and a caution."""
    check(text, reply)
    kinds = {line.kind for line in reply.lines}
    for answer in reply.record["answers"]:
        assert "read" in kinds or not (answer["reading"] or answer.get("more")), "answered without reading"
        shown = json.dumps([answer["working"], answer["results"]])
        assert not NO_NUMBER.search(shown), shown
    assert {"rule", "caution"} <= kinds or not reply.record["answers"]


def converse(name: int) -> Counter[str]:
    """One conversation, checked turn by turn; how its turns ended."""
    lot = Random(name)
    site = lot.choice(SITES) if lot.random() < 0.2 else {}
    state = State(region=lot.choice(REGIONS), site=site)
    ends: Counter[str] = Counter()
    said: list[str] = []
    for _ in range(lot.choice((1, 1, 2, 3, 5, 9))):
        text = saying(lot)
        how = lot.random()
        said.append(text)
        began = time.process_time()
        try:
            if state.pending and how < 0.5:
                text = state.pending[lot.randrange(len(state.pending))].label
                said[-1] = f"pressed {text}"
                state, reply = choose(state, [c.label for c in state.pending].index(text))
                text = reply.record["question"]
            elif how > 0.95:
                said[-1] = f"edited to {text}"
                state, reply = correct(state, text)
            else:
                state, reply = turn(state, text)
            check_whole(text, reply)
            took = time.process_time() - began
            assert took < SECONDS, f"{took:.1f} s"
            if lot.random() < 0.1:  # as it comes back from the database
                state = State.model_validate_json(state.model_dump_json(exclude_defaults=True))
        except Exception as error:
            raise Broken(f"conversation {name} ({state.region}): {said!r}: {error!r}") from error
        ends[reply.outcome] += 1
    return ends


def main(first: int, count: int) -> None:
    """Conversations from this one on until there were so many turns; the figures as JSON."""
    ends: Counter[str] = Counter()
    converse(first)
    scale = Scale(count)
    name = first
    broken: list[str] = []
    while ends.total() < count and len(broken) < 20:
        try:
            ends += converse(name)
        except Broken as error:
            broken.append(str(error))
            ends["broken"] += 1
        name += 1
        scale.look(ends.total())
    print(json.dumps({"counts": ends, "conversations": name - first, "broken": broken, **scale.told()}))


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
