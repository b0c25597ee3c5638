"""How well the messages of the corpus are read: `python -m tests.scorecard`, non-zero where a gate is broken.

A corpus message holds text, topics, outcome, reading; may (slots that count neither way), also (readings as
fair), walls (the readings of several walls), unclear (what has to be asked), set_aside (numbers that are no
dimension), tags, unseen (put aside when it was written; first read when the others were done).
A file may name its region; its messages are answered by the rules of that one.
"""

from __future__ import annotations

import sys
import tomllib
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bot.talk import State, turn
from knowledge.units import UnitFault, convert

Plain = dict[str, Any]
Fault = tuple[str, str, Any, Any]  # missing, extra or wrong; slot; what was read; what was said

CORPUS = Path(__file__).parent / "corpus"
EXACT_FLOOR = 0.95  # of the home region's messages: topics, outcome, every slot, value and unit right
REGION_FLOOR = 0.8  # of the messages in the manner of each other region
HOME = "GB"
NEEDLESS_CEILING = 0.05  # of the messages that can be answered: a question that nobody needed
# Said beside the point of a question; a fair foreman may or may not note them where the label does not.
ASIDES = {"joint_at", "temperature", "trend", "rain", "wind", "work", "crack", "pack_size"}
INNER_ASIDES = {"bound", "where"}


@dataclass(frozen=True)
class Verdict:
    """One message beside its label."""

    message: Plain
    record: Plain
    exact: bool
    misread: bool
    needless: bool
    faults: tuple[Fault, ...]
    wrong_topic: bool
    wrong_outcome: bool


def messages(folder: Path = CORPUS) -> list[Plain]:
    """Every message of the corpus; `file` and `number` say where it stands, `region` whose rules answer."""
    found = []
    for path in sorted(folder.glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        own = {"file": path.stem, "region": table.get("region", "GB")}
        found += [{**row, **own, "number": n} for n, row in enumerate(table["message"], start=1)]
    return found


def same(got: Any, want: Any) -> bool:
    """Whether two slot values mean the same: quantities in one unit, a count of one left out or not."""
    if isinstance(got, dict) and isinstance(want, dict):
        if "unit" in got and "unit" in want and "value" in got and "value" in want:
            try:
                value = convert(got["value"], got["unit"], want["unit"])
            except UnitFault:
                return False
            return bool(abs(value - want["value"]) <= 1e-6 * max(1.0, abs(want["value"])))
        keys = (set(got) | set(want)) - INNER_ASIDES
        return all(key in got and key in want and same(got[key], want[key]) for key in keys)
    if isinstance(got, (list, tuple)) and isinstance(want, (list, tuple)):
        return len(got) == len(want) and all(same(a, b) for a, b in zip(got, want, strict=True))
    if got in (None, "") and want in (None, ""):  # an end that was not said: TOML has no null
        return True
    if isinstance(got, bool) or isinstance(want, bool):
        return got is want
    if isinstance(got, (int, float)) and isinstance(want, (int, float)):
        return abs(got - want) < 1e-6
    return bool(got == want)


def levelled(reading: Plain, may: Iterable[str] = ()) -> Plain:
    """A reading freed of ways of saying the same: a thickness is the block's, an opening is one."""
    level = {slot: dict(value) if isinstance(value, dict) else value for slot, value in reading.items()}
    if "thickness" in level:
        level["block"] = {"thickness": level.pop("thickness"), **level.get("block", {})}
    if isinstance(level.get("openings"), list):
        level["openings"] = [{"count": 1, **opening} for opening in level["openings"]]
    for name in may:
        slot, _, inner = ("block", ".", "thickness") if name == "thickness" else name.partition(".")
        if not inner:
            level.pop(slot, None)
        elif isinstance(level.get(slot), dict):
            level[slot].pop(inner, None)
            if not level[slot]:
                del level[slot]
        elif isinstance(level.get(slot), list):
            level[slot] = [
                {k: v for k, v in o.items() if k != inner} if isinstance(o, dict) else o for o in level[slot]
            ]
    return level


def faults(got: Plain, want: Plain, may: Iterable[str] = ()) -> list[Fault]:
    """Where a reading differs from its label."""
    may = list(may)
    got, want = levelled(got, may), levelled(want, may)
    found: list[Fault] = []
    for slot in sorted(set(got) | set(want)):
        if slot not in want:
            if slot not in ASIDES:
                found.append(("extra", slot, got[slot], None))
        elif slot not in got:
            found.append(("missing", slot, None, want[slot]))
        elif not same(got[slot], want[slot]):
            found.append(("wrong", slot, got[slot], want[slot]))
    return found


def entries(record: Plain) -> list[Plain]:
    """Answers, needs and declines that name a topic."""
    return [entry for key in ("answers", "needs", "declined") for entry in record[key]]


def topics(record: Plain) -> list[str]:
    """Topics of a record, in order."""
    return list(dict.fromkeys(entry["topic"] for entry in entries(record) if entry["topic"]))


def judge(message: Plain, record: Plain) -> Verdict:
    """Compare a record with the label of its message."""
    want, got = message["outcome"], record["outcome"]
    settled = got == want and got in {
        "declined",
        "acknowledged",
    }  # nothing is answered: the reading is no matter
    found: list[Fault] = [] if settled else _nearest(message, record)
    wrong_topic = not settled and set(topics(record)) != set(message["topics"])
    wrong_outcome = got != want
    # A definite answer from a wrong value, from one that nobody said, or without one that was said.
    misread = got == "answered" and (bool(found) or _took_what_was_open(message, record))
    return Verdict(
        message=message,
        record=record,
        exact=not (found or wrong_topic or wrong_outcome),
        misread=misread,
        needless=want == "answered" and got == "needs",
        faults=tuple(found),
        wrong_topic=wrong_topic,
        wrong_outcome=wrong_outcome,
    )


def _took_what_was_open(message: Plain, record: Plain) -> bool:
    """Whether an answer stands on an impossible value, or on one of two values that had to be asked about."""
    readings = [levelled(answer["reading"]) for answer in record["answers"]]
    if message["outcome"] == "declined":
        return any(readings)
    label = levelled(message["reading"])
    return any(
        slot in reading and not same(reading[slot], label.get(slot))
        for slot in message.get("unclear", ())
        for reading in readings
    )


def _nearest(message: Plain, record: Plain) -> list[Fault]:
    """The faults against the label that lies nearest: every answer has to agree with it."""
    may = message.get("may", [])
    answered = [entry["reading"] for entry in record["answers"]]
    read = answered or [entry["reading"] for entry in entries(record)] or [record["in_force"]]
    labels = [*message.get("also", [])]
    if "walls" not in message:
        labels.insert(0, message["reading"])
    ways = [max((faults(one, label, may) for one in read), key=len) for label in labels]
    if "walls" in message:
        ways.append(_walls(message["walls"], record, may))
    return min(ways, key=len)


def _walls(walls: list[Plain], record: Plain, may: Iterable[str]) -> list[Fault]:
    """Every wall of the label needs an answer of its own, and no answer may stand for none of them."""
    answers = [(entry["topic"], entry["reading"]) for entry in record["answers"]]
    found: list[Fault] = []
    for wall in walls:
        fitting = [reading for topic, reading in answers if topic == wall.get("topic", topic)]
        if not fitting:
            found.append(("missing", "walls", None, wall["reading"]))
        else:
            found += _least(faults(reading, wall["reading"], may) for reading in fitting)
    for _, reading in answers:
        found += _least(faults(reading, wall["reading"], may) for wall in walls)
    return found


def _least(ways: Iterable[list[Fault]]) -> list[Fault]:
    return min(ways, key=len)


def read_all(rows: Iterable[Plain]) -> list[Verdict]:
    """Every message, each on its own."""
    return [judge(row, turn(State(region=row["region"]), row["text"])[1].record) for row in rows]


def share(part: int, whole: int) -> float:
    """A share of a whole; nothing of nothing is all."""
    return part / whole if whole else 1.0


def exact(verdicts: list[Verdict]) -> float:
    """Share of messages read exactly."""
    return share(sum(v.exact for v in verdicts), len(verdicts))


def needless(verdicts: list[Verdict]) -> float:
    """Share of answerable messages that met a question."""
    return share(sum(v.needless for v in verdicts), sum(v.message["outcome"] == "answered" for v in verdicts))


def by_region(verdicts: list[Verdict]) -> dict[str, list[Verdict]]:
    """The messages of each region."""
    groups: dict[str, list[Verdict]] = defaultdict(list)
    for verdict in verdicts:
        groups[verdict.message["region"]].append(verdict)
    return dict(sorted(groups.items()))


def floors(verdicts: list[Verdict]) -> list[str]:
    """Regions whose messages are read less well than is wanted."""
    return [
        f"{code}: exact {100 * exact(group):.1f} %, at least {100 * floor:.0f} % is wanted"
        for code, group in by_region(verdicts).items()
        if exact(group) < (floor := EXACT_FLOOR if code == HOME else REGION_FLOOR)
    ]


def scorecard(verdicts: list[Verdict]) -> str:
    """The scorecard as a table: everything, then by outcome, then by capability."""
    groups: dict[str, list[Verdict]] = {"all": verdicts}
    tagged: dict[str, list[Verdict]] = defaultdict(list)
    for verdict in verdicts:
        groups.setdefault(f"to be {verdict.message['outcome']}", []).append(verdict)
        for tag in verdict.message.get("tags", []):
            tagged[tag].append(verdict)
    groups |= {tag: tagged[tag] for tag in sorted(tagged)}
    groups |= {f"region {code}": group for code, group in by_region(verdicts).items()}
    unseen = [v for v in verdicts if v.message.get("unseen")]
    groups |= {f"  put aside {code}": group for code, group in by_region(unseen).items()}
    columns = {
        "messages": 9,
        "exact": 8,
        "misread": 8,
        "answered": 9,
        "needless": 9,
        "asked": 7,
        "declined": 9,
    }
    head = " " * 22 + "".join(f"{name:>{width}}" for name, width in columns.items())
    return "\n".join([head, *(_row(name, group) for name, group in groups.items())])


def _row(name: str, group: list[Verdict]) -> str:
    outcomes = [v.record["outcome"] for v in group]
    return (
        f"{name:22}{len(group):>9}{100 * exact(group):>7.1f}%{sum(v.misread for v in group):>8}"
        f"{outcomes.count('answered'):>9}{sum(v.needless for v in group):>9}{outcomes.count('needs'):>7}"
        f"{outcomes.count('declined'):>9}"
    )


def describe(verdict: Verdict) -> str:
    """One message that was not read exactly, with what differs."""
    message, record = verdict.message, verdict.record
    parts = [f"{message['file']} {message['number']}: {message['text'][:140]!r}"]
    if verdict.wrong_outcome:
        parts.append(f"  {record['outcome']} for {message['outcome']}")
    if verdict.wrong_topic:
        parts.append(f"  topics {topics(record)} for {message['topics']}")
    parts += [f"  {how} {slot}: {got} for {want}" for how, slot, got, want in verdict.faults]
    return "\n".join(parts)


def main() -> int:
    """Print the scorecard, then every message that missed; what broke a gate comes last."""
    verdicts = read_all(messages())
    print(scorecard(verdicts))
    misread = [v for v in verdicts if v.misread]
    if "--all" in sys.argv[1:]:
        for verdict in verdicts:
            if not verdict.exact and not verdict.misread:
                print(describe(verdict))
    for verdict in misread:
        print("MISREAD", describe(verdict))
    broken = [f"{len(misread)} misread, none is allowed"] if misread else []
    broken += floors(verdicts)
    if needless(verdicts) > NEEDLESS_CEILING:
        asked, most = 100 * needless(verdicts), 100 * NEEDLESS_CEILING
        broken.append(f"needless asks {asked:.1f} %, at most {most:.0f} % is wanted")
    for line in broken:
        print(line, file=sys.stderr)
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
