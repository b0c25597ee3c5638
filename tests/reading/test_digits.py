"""No digit is dropped: it is read, said back as unused, or the message is not answered."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.talk import State, turn
from tests.reading.lots import lots
from tests.reading.records import lost_digits
from tests.scorecard import messages

QUESTIONS = st.sampled_from(
    [
        "how many joints",
        "joints?",
        "movement joint positions",
        "how many blocks",
        "mortar mix?",
        "which mortar",
        "render coats",
        "how much mesh",
    ]
)
WALLS = st.sampled_from(
    [
        "{} m wall",
        "{}m long",
        "wall {} x {}",
        "wall {}m x {}m",
        "{} long {} high",
        "{}mm of wall",
        "{} ft wall",
    ]
)
MORE = st.sampled_from(
    [
        "{} thick",
        "door {}x{}",
        "{}no windows {}x{}",
        "{}N aircrete",
        "plot {}",
        "£{}",
        "call {}",
        "at {}",
        "{} lads",
        "M{}",
        "{}:1",
        "{}",
        "dwg {}/{}",
        "{}kg",
        "{}%",
        "bed {}",
        "sill {}",
        "{} from the left",
        "ref {}-{}",
        "by {} o'clock",
        "{} coats",
        "{} courses",
        "{} walls",
    ]
)
NUMBER = st.sampled_from(
    ["2", "3", "7", "10", "12", "2.4", "9.6", "100", "215", "1200", "2100", "2,4", "1.050", "45"]
)


@st.composite
def sentences(draw: st.DrawFn) -> str:
    """A wall, a question, and up to three more facts, in any order."""
    parts = [draw(WALLS), draw(QUESTIONS), *draw(st.lists(MORE, max_size=3))]
    text = draw(st.sampled_from([", ", " ", ". "])).join(draw(st.permutations(parts)))
    while "{}" in text:
        text = text.replace("{}", draw(NUMBER), 1)
    return text


@lots(1200)
@given(sentences())
def test_no_digit_is_lost(text: str) -> None:
    assert lost_digits(turn(State(), text)[1].record) == ""


# A second number for a slot that is taken, a number that found no slot, a count, and other alphabets' digits.
CROWDED = [
    "2 m wall, how many joints, 100 thick, call 100",
    "2 3 lads 7 ft wall how many joints",
    "joints?, 1200 coats, 9.6 m wall",
    "7 coats. 10 ft wall. render coats",
    "bed 12, render coats, 45 m wall",
    "sill 3. plot 21. movement joint positions. 7 ft wall",
    "joints? sill 2,4 3 m wall",
    "2.4 walls. 12 m wall. which mortar",
    "1.050 from the left 2100mm of wall which mortar",
    "render coats. door 7x2100. 2100mm of wall. plot 7",
    "9.6 x 2.4, how much mesh, 7% waste",
    "mesh for 40 m2, i have 2 rolls",
    "２ wall joints",
    "١٢ m wall, 10 m long, joints",
]


@pytest.mark.parametrize("text", CROWDED)
@pytest.mark.parametrize("before", ["", "12.4 x 2.4 aircrete, two windows 1200x1050, how many blocks"])
def test_no_digit_is_lost_in_a_crowd(text: str, before: str) -> None:
    state = turn(State(), before)[0] if before else State()
    assert lost_digits(turn(state, text)[1].record) == ""


def test_no_digit_of_the_corpus_is_lost() -> None:
    lost = {}
    for message in messages():
        digits = lost_digits(turn(State(), message["text"])[1].record)
        if digits:
            lost[message["text"]] = digits
    assert lost == {}


SET_ASIDE = [m for m in messages() if m.get("set_aside")]


@pytest.mark.parametrize("message", SET_ASIDE, ids=[m["text"][:40] for m in SET_ASIDE])
def test_a_number_that_is_no_dimension_is_said_back(message: dict[str, Any]) -> None:
    text = str(message["text"])
    record = turn(State(), text)[1].record
    said = " ".join([a["text"] for a in record["set_aside"]] + [n["ask"] for n in record["needs"]])
    for thing in message["set_aside"]:
        for piece in re.findall(r"[0-9]+", thing) or thing.split()[:1]:
            assert re.search(rf"(?<![0-9]){piece}(?![0-9])", said), (thing, said)
