"""The words that people type and the phrases that are said: none idle, none at odds, none missing."""

from __future__ import annotations

import ast
import re
import tomllib
from collections import Counter, defaultdict
from pathlib import Path
from typing import Any, get_args

import pytest

import bot.reading
import bot.speaking.say
import bot.talking.whose_rules
import knowledge.calculators
from bot.reading.letters import solid
from bot.reading.read import read
from bot.reading.words import LANGUAGES, words
from bot.speaking.say import phrases
from bot.talk import State, turn
from knowledge.answers import Standing
from knowledge.questions import TOPICS, End, Finish, Leaf, Material, Place
from knowledge.rulebook import book
from knowledge.units import kind
from tests.scorecard import messages

READING = Path(bot.reading.__file__).parent
TABLE: dict[str, Any] = tomllib.loads((LANGUAGES / "en" / "words.toml").read_text(encoding="utf-8"))
SPOKEN: dict[str, Any] = tomllib.loads((LANGUAGES / "en" / "phrases.toml").read_text(encoding="utf-8"))


def leaves(table: dict[str, Any], head: tuple[str, ...] = ()) -> list[tuple[tuple[str, ...], list[str]]]:
    """Every list of phrases with the names of the tables that it stands in."""
    found: list[tuple[tuple[str, ...], list[str]]] = []
    for key, value in table.items():
        found += leaves(value, (*head, key)) if isinstance(value, dict) else [((*head, key), value)]
    return found


LEAVES = leaves(TABLE)
CODE = "\n".join(p.read_text(encoding="utf-8") for p in READING.parent.rglob("*.py"))


def said(phrase: str) -> tuple[str, ...]:
    """A phrase as it is looked up."""
    return tuple(token.text for token in solid(phrase))


@pytest.mark.parametrize(("where", "found"), LEAVES, ids=[".".join(where) for where, _ in LEAVES])
def test_a_table_has_phrases_each_once_and_none_empty(where: tuple[str, ...], found: list[str]) -> None:
    assert found, where
    assert all(said(phrase) for phrase in found), where
    assert [p for p, n in Counter(found).items() if n > 1] == [], where


def test_every_phrase_is_found_and_carries_its_meaning() -> None:
    table = words("en")
    for where, found in LEAVES:
        if where[0] == "unit":
            continue
        for phrase in found:
            tokens = solid(phrase)
            hits = table.wish(tokens, 0) if where[0] == "wants" else [table.phrase(tokens, 0)]
            whole = [tags for hit in hits if hit is not None for end, tags in [hit] if end == len(tokens)]
            assert any(where in tags for tags in whole), (where, phrase, hits)


# A name of a table that nothing in the reader asks for carries nothing, whatever it lists.
HEADS = sorted({where[0] for where, _ in LEAVES} - {"unit"})


@pytest.mark.parametrize("head", HEADS)
def test_every_table_is_asked_for(head: str) -> None:
    assert re.search(rf"""["']{head}["']""", CODE), f"nothing in the reader looks for {head!r}"


@pytest.mark.parametrize("slot", sorted(TABLE["slot"]))
def test_no_phrase_stands_for_two_values_of_one_slot(slot: str) -> None:
    values = defaultdict(set)
    for value, found in TABLE["slot"][slot].items():
        for phrase in found:
            values[said(phrase)].add(value)
    assert {" ".join(phrase): v for phrase, v in values.items() if len(v) > 1} == {}


@pytest.mark.parametrize("head", ["hedge", "unit"])
def test_no_word_is_two_bounds_or_two_units(head: str) -> None:
    values = defaultdict(set)
    for value, found in TABLE[head].items():
        if value == "glued":
            continue
        for phrase in found:
            values[said(phrase)].add(value)
    assert {" ".join(phrase): v for phrase, v in values.items() if len(v) > 1} == {}


def test_left_is_not_right() -> None:
    for one, other in (("left", "right"), ("both", "one")):
        shared = {said(p) for p in TABLE["side"][one]} & {said(p) for p in TABLE["side"][other]}
        assert not shared
    assert not {said(p) for p in TABLE["dim"]["from_left"]} & {said(p) for p in TABLE["dim"]["from_right"]}


@pytest.mark.parametrize(
    ("slot", "values"),
    [("material", Material), ("place", Place), ("leaf", Leaf), ("finish", Finish), ("ends", End)],
)
def test_values_of_a_slot_are_those_of_the_contract(slot: str, values: Any) -> None:
    assert set(TABLE["slot"][slot]) <= set(get_args(values))


def test_topics_and_wishes_are_those_of_the_contract() -> None:
    assert set(TABLE["topic"]) == set(TOPICS)
    assert set(TABLE["wants"]) <= set(TOPICS)


@pytest.mark.parametrize("unit", sorted(set(TABLE["unit"]) - {"glued", "%"}))
def test_every_unit_is_known_to_the_trade(unit: str) -> None:
    assert kind(unit), unit


# --- what is said


def keys_used(source: str) -> set[tuple[str, str]]:
    """(table, key) wherever say.py takes words["table"]["key"] by name."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if (
            isinstance(node, ast.Subscript)
            and isinstance(node.slice, ast.Constant)
            and isinstance(node.value, ast.Subscript)
            and isinstance(node.value.slice, ast.Constant)
        ):
            found.add((str(node.value.slice.value), str(node.slice.value)))
    return found


SAY = "\n".join(
    Path(m.__file__).read_text(encoding="utf-8") for m in (bot.speaking.say, bot.talking.whose_rules)
)
USED = {(table, key) for table, key in keys_used(SAY) if table in SPOKEN}


def test_say_names_phrases_at_all() -> None:
    assert {("turn", "read"), ("turn", "assumed"), ("turn", "set_aside")} <= USED


@pytest.mark.parametrize(("table", "key"), sorted(USED))
def test_every_phrase_that_is_said_is_there(table: str, key: str) -> None:
    assert SPOKEN[table].get(key), (table, key)


def test_every_standing_has_its_words() -> None:
    assert set(SPOKEN["standing"]) == set(get_args(Standing))


def test_every_kind_of_small_talk_has_its_answer() -> None:
    assert set(TABLE["chatter"]) - {"mate"} <= set(SPOKEN["chatter"])
    assert {"bye", "stale"} <= set(SPOKEN["chatter"])


def test_every_kind_of_refusal_has_its_answer() -> None:
    assert set(TABLE["off"]) - {"never"} <= set(SPOKEN["declined"])
    assert {"other", "empty", "long"} <= set(SPOKEN["declined"])
    reasons = set(re.findall(r'heard\.why = "off", "(\w+)"', CODE))
    assert reasons <= set(SPOKEN["declined"])


def test_no_phrase_is_idle() -> None:
    elsewhere = set(re.findall(r'\["turn"\]\["(\w+)"\]', CODE))
    assert {key for table, key in USED if table == "turn"} | elsewhere == set(SPOKEN["turn"])
    folder = Path(knowledge.calculators.__file__).parent
    trade = "\n".join(p.read_text(encoding="utf-8") for p in folder.glob("*.py"))
    for name in SPOKEN["result"]:
        assert re.search(rf"""["']{name}["']|\b{name}=""", trade), f"no calculator gives {name!r}"


def test_phrases_hold_one_place_at_most() -> None:
    for where, found in leaves({"result": SPOKEN["result"]}):
        assert str(found).count("{}") <= 1, where
    assert phrases("en") == SPOKEN


def test_a_verdict_of_the_contract_has_its_words() -> None:
    verdicts = {
        "enough",
        "too few",
        "misplaced",
        "suitable",
        "too strong",
        "too weak",
        "go",
        "protect",
        "stop",
    }
    assert verdicts <= set(SPOKEN["result"]["verdict"])


# --- topics

ASKED = {
    "render": [
        "what coats of render on a sheltered gable in aircrete",
        "scratch coat thickness on lightweight block?",
        "render mix for the outside of the garage",
    ],
    "mesh": [
        "glass fibre mesh for 6.4 m by 2.5 m, rolls?",
        "how much mesh do i order for 30 m2",
        "mesh patches at window corners, how many for four windows",
    ],
    "blocks": [
        "how many blocks in 5.6 m x 2.3 m",
        "block count for a gable 7m wide 3m to the apex",
        "courses of block to reach 2.7 m, how many courses",
    ],
    "reinforcement": [
        "bed joint reinforcement under the windows, what lengths",
        "how much ladder reinforcement for 8 m, every other course",
        "reinforcement over openings how far past the reveal",
    ],
    "ties": [
        "how many wall ties for 9 m x 2.4 m cavity wall",
        "tie spacing at a window reveal",
        "what length wall tie for a 100 mm cavity",
    ],
    "boards": [
        "plasterboard for 4.8 x 2.4 on dabs, how many boards",
        "dot and dab, how many bags of adhesive for 12 boards",
        "sheets of plasterboard for a room wall 6 m long 2.4 high",
    ],
    "bearing": [
        "30 kN steel on 7.3N block, 440 x 100 padstone, ok?",
        "what padstone under a beam with 25 kN reaction",
        "will aircrete take a point load of 18 kN",
    ],
    "crack": [
        "stepped crack 4 mm wide under the window, serious?",
        "hairline cracks in the new block wall, what are they",
        "crack in the gable has grown since winter",
    ],
    "weather": [
        "2 degrees and dropping, can we lay",
        "too hot to render at 31C?",
        "frost tonight, is it ok to lay blocks",
    ],
    "safety": [
        "cement splash in the eye what to do",
        "what ppe for cutting blocks",
        "how heavy a block before it wants two men to lift",
    ],
    "thermal": [
        "u-value of 100 block, 100 insulation, 100 aircrete",
        "what U value does a 300 mm aircrete wall give",
        "thermal resistance of 215 aircrete",
    ],
    "wall": [
        "everything for a 9 m by 2.4 m aircrete garden store wall",
        "full list of materials for 7.5 x 2.6 aircrete",
        "do me the lot for an 11 m wall 2.4 high",
    ],
}


@pytest.mark.parametrize("topic", sorted(set(TOPICS) - {"joints", "mortar"}))
def test_every_topic_is_recognised(topic: str) -> None:
    assert len(ASKED[topic]) >= 3
    for text in ASKED[topic]:
        heard = read(text, book("GB").region)
        assert [name for name, _ in heard.topics][:1] == [topic], (text, heard.topics)
        record = turn(State(), text)[1].record
        named = {entry["topic"] for key in ("answers", "needs", "declined") for entry in record[key]}
        assert topic in named, (text, record["outcome"])


@pytest.mark.parametrize("topic", ["joints", "mortar"])
def test_the_corpus_speaks_of_the_topic(topic: str) -> None:
    assert sum(topic in m["topics"] for m in messages()) >= 3
