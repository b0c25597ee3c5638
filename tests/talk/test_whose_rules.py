"""A chat that has not chosen its region and speaks like another is asked, once; every answer names its rules.

What speaks for a region is trade usage: CMU and mortar type S (ASTM C90, C270), rft, brass and lakh of Indian
bills, articulation joints (AS 3700), concrete blocks laid on the flat (Ireland).
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from shutil import copy, copytree

import pytest

from bot.cli import main
from bot.fronts.talking import talking
from bot.talk import Reply, State, choose, turn
from knowledge import rulebook
from knowledge.rulebook import book, regions
from knowledge.units import convert
from tests.architecture.tree import REGIONS, ROOT, RULES

OPEN = State(region_open="ask")
CMU = "60 ft cmu wall 8 ft high, joints"


def rule_lines(reply: Reply) -> list[str]:
    """What is said of the rules at the first look."""
    return [line.text for line in reply.lines if line.kind == "rule"]


@pytest.mark.parametrize(
    ("text", "region"),
    [
        (CMU, "US"),
        ("20 ft long 8 ft high stucco over control joints, how many joints", "US"),
        ("compound wall in brick 50 m long, expansion joints", "IN"),
        ("mortar for 200 bricks with m-sand, how many bags", "IN"),
        ("articulation joints for 24 m of brick", "AU"),
        ("hollow block to as 3700 which mortar", "AU"),
    ],
)
def test_speech_of_another_region_is_asked_about(text: str, region: str) -> None:
    state, reply = turn(OPEN, text)
    assert reply.outcome == "needs"
    (need,) = reply.record["needs"]
    assert need["slot"] == "region"
    assert [choice["region"] for choice in need["choices"]] == [region, "GB"]
    assert all("reading" in choice for choice in need["choices"])
    assert book(region).region.name in need["ask"]
    assert reply.record["answers"] == []
    _, chosen = choose(state, 0)
    assert chosen.record == turn(State(region=region), text)[1].record


@pytest.mark.parametrize(
    "text",
    [
        "40 ft wall 8 ft high joints",  # old hands in Britain measure by feet too
        "10 m wall joints",
        "aircrete wall 12 m, dpc, cmu: joints",  # says as much for the region in force
        "got cement in my eye from cmu",  # danger waits for no question
        "thanks, cmu sorted",
        "masonry cement instead of OPC for bricklaying - same ratio?",  # sold in many countries
        # a face of 400 by 200 mm counts the same anywhere
        "390x190x190 hollow blocks to as 3700, 6m x 2m, how many",
    ],
)
def test_nothing_is_asked_where_it_does_not_matter(text: str) -> None:
    assert "region" not in {need["slot"] for need in turn(OPEN, text)[1].record["needs"]}


def test_a_region_that_was_chosen_is_not_asked_for() -> None:
    for region in ("GB", "US"):
        reply = turn(State(region=region), CMU)[1]
        assert reply.outcome == "answered"
        assert reply.record["region"] == region


def test_asked_once_and_the_choice_holds() -> None:
    state, _ = turn(OPEN, CMU)
    state, reply = turn(state, "usa")
    assert (reply.record["region"], reply.outcome) == ("US", "answered")
    state, reply = turn(state, "and type S or type N for it?")
    assert reply.record["region"] == "US"
    assert state.region_by == "chosen"
    assert turn(state, "hollow block to as 3700, which mortar?")[1].record["region"] == "US"


@pytest.mark.parametrize("text", ["just tell me", "dunno mate", "whatever", "🤷"])
def test_a_shrug_brings_what_waited_by_the_rules_in_force(text: str) -> None:
    asked, _ = turn(OPEN, CMU)
    after, reply = turn(asked, text)
    assert reply.outcome == "answered"
    assert reply.record["question"] == text
    assert "rules of Britain" in rule_lines(reply)[0]
    assert after.slots["length"] == {"value": 60, "unit": "ft"}
    assert turn(after, "and blocks?")[1].outcome == "answered"


def test_a_question_let_be_leaves_the_rules_in_force_and_loses_nothing() -> None:
    state, _ = turn(OPEN, CMU)
    state, reply = turn(state, "and with 9 ft high?")
    assert reply.record["region"] == "GB"
    (answer,) = reply.record["answers"]
    assert answer["reading"]["length"] == {"value": 60, "unit": "ft"}
    assert answer["reading"]["height"] == {"value": 9, "unit": "ft"}
    assert turn(state, "cmu type s for it?")[1].record["needs"] == []


def test_words_of_earlier_messages_count() -> None:
    state, first = turn(OPEN, "cmu control joints, how many")
    assert first.record["needs"][0]["slot"] == "length"  # no region comes to another question
    _, reply = turn(state, "40 ft long and 10 ft high")
    assert reply.record["needs"][0]["slot"] == "region"


def test_the_stored_state_keeps_what_waits() -> None:
    state, _ = turn(OPEN, CMU)
    again = State.model_validate_json(state.model_dump_json(exclude={"before"}, exclude_defaults=True))
    assert choose(again, 0)[1].record["region"] == "US"


def test_the_site_takes_the_choice_over() -> None:
    from bot.fronts.desk.site import Site, read_site

    talk = talking()
    site = Site()
    start = talk.open(talk.at(talk.fresh(), site), site)
    asking, _ = talk.turn(start, CMU)
    assert talk.chosen(start, asking, site) == site
    after, _ = talk.choose(asking, 0)
    chosen = talk.chosen(asking, after, site)
    assert (chosen.region, chosen.chosen) == ("US", True)
    assert read_site(json.dumps(chosen.body())) == chosen
    assert talk.open(talk.at(talk.fresh(), chosen), chosen).region_open == ""


def test_the_terminal_asks_and_says_how_to_choose(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", CMU]) == 3
    shown = capsys.readouterr().out
    assert "1. the United States (--region US)" in shown
    assert main(["ask", "--region", "US", CMU]) == 0
    assert "rules of the United States" in " ".join(capsys.readouterr().out.split())


def test_the_machine_is_answered_by_the_contract_and_told_beside_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The contract: GB where no region is given; later keys may be added."""
    assert main(["ask", "--json", CMU]) == 0
    record = json.loads(capsys.readouterr().out)
    assert (record["region"], record["outcome"]) == ("GB", "answered")
    told = record["region_question"]
    assert [choice["region"] for choice in told["choices"]] == ["US", "GB"]
    assert main(["ask", "--json", "--region", "GB", CMU]) == 0
    assert "region_question" not in json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("text", ["mortar in my eye", "blocks for 10 m x 2.4 m", "crack 2 mm in the wall"])
def test_every_answer_names_its_region_once(text: str, region: str) -> None:
    reply = turn(State(region=region), text)[1]
    assert reply.outcome == "answered"
    named = [line for line in rule_lines(reply) if f"rules of {book(region).region.name}]" in line]
    assert len(named) == 1


@pytest.fixture
def made_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A country more beside the others, by its folder alone."""
    copytree(RULES, tmp_path / "rules")
    copytree(ROOT / "tests" / "region_made_up" / "xm", tmp_path / "rules" / "xm")
    copy(RULES / "sources.toml", tmp_path / "rules")
    monkeypatch.setattr(rulebook, "RULES", tmp_path / "rules")
    for kept in (book, regions):
        kept.cache_clear()
    yield
    for kept in (book, regions):
        kept.cache_clear()


@pytest.mark.usefixtures("made_up")
@pytest.mark.parametrize(
    "text", ["glorp wall 20 m long, joints", "a zimm on a zamm, 20 m, joints", "zimm wall 20 yd long, joints"]
)
def test_a_new_region_brings_its_own_words(text: str) -> None:
    """Its joints stand 8 m apart, those of the region in force 6 m."""
    assert "XM" in regions()
    state, reply = turn(OPEN, text)
    assert reply.record["needs"][0]["ask"] == "Answer by the rules of Made-up country, or Britain?"
    _, there = turn(state, "nowhere")
    assert there.record["region"] == "XM"
    spacing = there.record["answers"][0]["results"]["max_spacing"]
    assert convert(spacing["value"], spacing["unit"], "m") == pytest.approx(8)
    assert "rules of Made-up country]" in rule_lines(there)[0]
