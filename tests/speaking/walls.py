"""Invented walls for drawings and sheets."""

from __future__ import annotations

from typing import Any

from knowledge.answering import answer
from knowledge.answers import Answer
from knowledge.questions import Question, Reading
from knowledge.rulebook import book


def m(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "m"}


def mm(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "mm"}


def ft(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "ft"}


def window(at: float, width: float = 1200, height: float = 1200, sill: float | None = 900) -> dict[str, Any]:
    hole = {"kind": "window", "width": mm(width), "height": mm(height), "from_left": m(at)}
    return hole if sill is None else {**hole, "sill": mm(sill)}


def door(at: float, width: float = 900, height: float = 2100) -> dict[str, Any]:
    return {"kind": "door", "width": mm(width), "height": mm(height), "from_left": m(at)}


AAC = {"material": "aac"}
RENDERED = {
    "length": m(10.2), "height": m(2.6), "leaf": "solid", "finish": "render", "ends": ["return", "free"],
    "block": AAC, "openings": [window(3.1, 1800, 1200, None), door(7.4)],
}  # fmt: skip
FIVE = {
    "length": m(14.5), "height": m(2.7), "finish": "render", "block": AAC, "ends": ["column", "column"],
    "openings": [
        window(0.9, 900), window(2.4, 600, 600, 1500), door(4.9), window(7.6, 1800, 1050, 1050),
        {**door(11.2, 2400), "kind": "opening", "sill": mm(0)},
    ],
}  # fmt: skip
GABLE = {
    "length": m(8.4), "height": m(3.2), "shape": "triangle", "finish": "render", "block": AAC,
    "openings": [window(3.8, 800, 900, 400)],
}  # fmt: skip
FEET = {
    "length": ft(34.5), "height": ft(8.5), "finish": "render", "block": AAC,
    "openings": [
        {"kind": "window", "width": ft(4), "height": ft(4), "from_left": ft(10.25), "sill": ft(3)},
        {"kind": "door", "width": ft(3), "height": ft(7), "from_left": ft(27)},
    ],
}  # fmt: skip
LONG = {
    "length": m(58), "height": m(2.4), "finish": "render", "block": AAC,
    "openings": [door(12), window(30, 1800)],
}  # fmt: skip
CAVITY = {
    "length": m(9), "height": m(2.4), "leaf": "cavity", "cavity": mm(100), "block": AAC,
    "openings": [window(2.2)],
}  # fmt: skip
SHORT = {"length": m(1.8), "height": m(2.7), "finish": "plaster", "block": AAC, "openings": []}
BOARDED = {"length": m(6.4), "height": m(2.4), "finish": "boards", "block": AAC, "openings": [door(5.5)]}
ALL = {
    "rendered": RENDERED, "five": FIVE, "gable": GABLE, "feet": FEET, "long": LONG, "cavity": CAVITY,
    "short": SHORT, "boarded": BOARDED,
}  # fmt: skip


def whole(reading: dict[str, Any], topic: str = "wall", **more: Any) -> tuple[Question, Answer]:
    """The question about a wall and its answer."""
    question = Question(topic=topic, reading=Reading.model_validate({**reading, **more}))
    found = answer(question, book("GB"))[0]
    assert isinstance(found, Answer), found
    return question, found
