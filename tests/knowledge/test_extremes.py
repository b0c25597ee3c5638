"""Sizes and counts far beyond any wall, confirmed as they are: an answer, a question or a decline, and soon.

One message must never hold a worker up: the chat has one for all.
"""

from __future__ import annotations

import json
import math
import time
from collections.abc import Iterator
from typing import Any

import pytest
from pydantic import ValidationError
from pydantic_core import to_jsonable_python

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Need
from knowledge.questions import TOPICS, Question
from knowledge.rulebook import book
from tests.reading.records import numbers

Plain = dict[str, Any]
SECONDS = 1.0  # of processor time for one question; a usual one takes a hundredth of this
LETTERS = 200_000  # of a finding as JSON
METRES = (0, 1e-6, 1e-3, 0.005, 0.021, 0.06, 0.2, 59, 900, 1e6, 1e12)
COUNTS = (0, 1, 100, 1000, 10**5, 10**9, 10**15)


def q(value: float, unit: str = "m") -> Plain:
    return {"value": value, "unit": unit}


WALL = {"length": q(12), "height": q(2.4)}
LARGE = {"length": q(900), "height": q(29)}
WINDOW = {"kind": "window", "width": q(1.2), "height": q(1.05)}


def readings() -> Iterator[Plain]:
    """One thing beyond all bounds, or two."""
    for size in map(q, METRES):
        for slot in ("length", "height", "thickness", "joint_thickness", "coat_thickness", "spacing", "lap"):
            yield {**WALL, slot: size}
            yield {**LARGE, slot: size}
        for part in ("length", "height", "thickness"):
            yield {**LARGE, "block": {part: size}}
        yield {**WALL, "block": {"length": size, "height": size, "thickness": size}}
        yield {**LARGE, "board": {"width": size}}
        yield {**LARGE, "board": {"width": size, "height": size}}
        yield {**LARGE, "board": {"length": size}}
        yield {**WALL, "roll": {"width": size, "length": size}}
        yield {**WALL, "joint_at": [size]}
        yield {**WALL, "openings": [{**WINDOW, "width": size, "height": size, "from_left": q(1)}]}
    for count in COUNTS:
        yield {**WALL, "openings": [{**WINDOW, "count": count}]}
        for slot in ("walls", "courses", "block_count", "pack_size", "joint_count"):
            yield {**WALL, slot: count}
        yield {**WALL, "bags": {"count": count}, "bag_size": q(count, "kg")}
        yield {**WALL, "bucket_size": q(count, "l"), "buckets": {"count": count}}
        yield {**WALL, "waste": q(count, "%"), "mortar_volume": q(count, "m³")}
    yield {**LARGE, "joint_at": [q(n * 0.9) for n in range(900)]}
    yield {**LARGE, "openings": [{**WINDOW, "from_left": q(3.0 * n), "sill": q(0.9)} for n in range(20)]}


@pytest.mark.parametrize("region", ["GB", "US"])
@pytest.mark.parametrize("topic", TOPICS)
def test_nothing_takes_long_or_grows_out_of_bounds(topic: str, region: str) -> None:
    rules = book(region)
    answered = 0
    for reading in readings():
        try:
            asked = Question.model_validate({"topic": topic, "reading": reading, "confirmed": tuple(reading)})
        except ValidationError:  # the reader never makes such a one
            continue
        began = time.process_time()
        found = answer(asked, rules)
        took = time.process_time() - began
        told = json.dumps(to_jsonable_python(found), allow_nan=False)
        assert took < SECONDS, (reading, took)
        assert len(told) < LETTERS, (reading, len(told))
        assert all(map(math.isfinite, numbers(json.loads(told)))), reading
        answered += any(isinstance(finding, Answer) for finding in found)
    assert answered > 20 or topic in ("bearing", "boards", "crack", "thermal", "weather")


# The record that bars it, what is just outside of it, and what is inside.
BARRED: dict[str, tuple[Plain, Plain]] = {
    "believable.block.length.possible": (
        {"block": {"length": q(20, "mm")}}, {"block": {"length": q(215, "mm")}}),
    "believable.block.height.possible": ({"block": {"height": q(5)}}, {"block": {"height": q(65, "mm")}}),
    "believable.block.thickness.possible": (
        {"block": {"thickness": q(0)}}, {"block": {"thickness": q(100, "mm")}}),
    "believable.board.length.possible": (
        {"board": {"length": q(3.35, "mm")}}, {"board": {"length": q(3.35)}}),
    "believable.board.width.possible": (
        {"board": {"width": q(3.65, "mm")}}, {"board": {"width": q(900, "mm")}}),
    "believable.board.height.possible": ({"board": {"height": q(9)}}, {"board": {"height": q(8, "ft")}}),
    "believable.roll.width.possible": ({"roll": {"width": q(0)}}, {"roll": {"width": q(1)}}),
    "believable.roll.length.possible": ({"roll": {"length": q(50, "mm")}}, {"roll": {"length": q(50)}}),
    "believable.openings.count.possible": (
        {"openings": [{**WINDOW, "count": 1001}]}, {"openings": [{**WINDOW, "count": 4}]}),
    "believable.openings.width.possible": (
        {"openings": [{**WINDOW, "width": q(-1.2)}]}, {"openings": [{**WINDOW, "width": q(0.6)}]}),
    "believable.openings.height.possible": (
        {"openings": [{**WINDOW, "height": q(0)}]}, {"openings": [{**WINDOW, "height": q(2.1)}]}),
    "believable.walls.possible": ({"walls": 0}, {"walls": 2}),
    "believable.courses.possible": ({"courses": 1001}, {"courses": 10}),
    "believable.pack_size.possible": ({"pack_size": 0}, {"pack_size": 72}),
    "believable.joint_thickness.possible": ({"joint_thickness": q(0)}, {"joint_thickness": q(3, "mm")}),
    "believable.coat_thickness.possible": ({"coat_thickness": q(0.4)}, {"coat_thickness": q(12, "mm")}),
    "believable.spacing.possible": ({"spacing": q(0.001)}, {"spacing": q(900, "mm")}),
    "believable.spacing_up.possible": ({"spacing_up": q(0.001)}, {"spacing_up": q(450, "mm")}),
    "believable.lap.possible": ({"lap": q(2.7)}, {"lap": q(225, "mm")}),
    "believable.bag_size.possible": ({"bag_size": q(0, "kg")}, {"bag_size": q(25, "kg")}),
    "believable.bucket_size.possible": ({"bucket_size": q(0, "l")}, {"bucket_size": q(14, "l")}),
}  # fmt: skip


@pytest.mark.parametrize("rule", BARRED)
def test_what_can_be_no_such_thing_is_declined_by_name(rule: str) -> None:
    outside, inside = BARRED[rule]
    (record,) = (known for known in book("GB").every() if known.id == rule)
    for said, barred in ((outside, True), (inside, False)):
        asked = {"topic": "wall", "reading": {**WALL, **said}, "confirmed": ("length", "height")}
        found = answer(Question.model_validate(asked), book("GB"))
        assert any(isinstance(one, Decline) and record.statement in one.why for one in found) is barred


def test_a_wall_of_joints_is_declined() -> None:
    """believable.joints.possible: at 1.5 times a height of 30 mm there would be 20,000 in 900 m."""
    reading = {"length": q(900), "height": q(0.03)}
    asked = {"topic": "joints", "reading": reading, "confirmed": ("length", "height")}
    (found,) = answer(Question.model_validate(asked), book("US"))
    assert isinstance(found, Decline)
    assert "over 500 joints" in found.why


def test_a_height_that_lost_its_unit_is_offered_in_metres() -> None:
    asked = {"topic": "joints", "reading": {"length": q(40), "height": q(2.25, "mm")}}
    (found,) = answer(Question.model_validate(asked), book("GB"))
    assert isinstance(found, Decline)  # 2.25 mm is no wall at all
    asked = {"topic": "joints", "reading": {"length": q(40), "height": q(24, "mm")}}
    (found,) = answer(Question.model_validate(asked), book("GB"))
    assert isinstance(found, Need)
    assert [option.label for option in found.options] == ["24 mm", "24 m"]
