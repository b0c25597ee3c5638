"""Cracks: what is dangerous comes first, and no message gives a clean bill of health."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")
PATTERNS = ("vertical", "horizontal", "stepped", "diagonal", "map")
PLACES = (
    "over the window", "at the corner", "under the beam", "where it meets the extension", "at the ceiling",
    "on the movement joint", "basement wall", "garage", "in the render", "in the middle",
)  # fmt: skip
ORDER = ("watch", "soon", "now")


def mm(value: float, **more: Any) -> dict[str, Any]:
    return {"value": value, "unit": "mm", **more}


def find(*wants: str, finish: str | None = None, **crack: Any) -> Finding:
    reading: dict[str, Any] = {"crack": crack} if crack else {}
    if finish:
        reading["finish"] = finish
    return answer(Question.model_validate({"topic": "crack", "reading": reading, "wants": wants}), BOOK)[0]


def told(*wants: str, finish: str | None = None, **crack: Any) -> Answer:
    found = find(*wants, finish=finish, **crack)
    assert isinstance(found, Answer), found
    return found


def bounds(found: Answer) -> tuple[int, int]:
    category = found.results["category"]
    return (category, category) if isinstance(category, int) else (category["min"], category["max"])


@given(st.floats(0.01, 60), st.floats(0, 40))
def test_a_wider_crack_is_never_less_urgent(width: float, more: float) -> None:
    """The table's categories rise with width."""
    less, worse = told(width=mm(width)), told(width=mm(width + more))
    assert bounds(worse)[0] >= bounds(less)[0]
    assert bounds(worse)[1] >= bounds(less)[1]
    assert ORDER.index(worse.results["urgency"]) >= ORDER.index(less.results["urgency"])


@given(
    st.sampled_from((*PATTERNS, None)), st.sampled_from((*PLACES, None)),
    st.one_of(st.none(), st.floats(0.02, 40)), st.sampled_from((None, "over", "under", "about")),
)  # fmt: skip
def test_a_crack_that_grows_is_never_only_watched(
    pattern: str | None, place: str | None, width: float | None, bound: str | None
) -> None:
    """Signs that call for an engineer, whatever the width: a crack that grows."""
    said = {"pattern": pattern, "where": place, "growing": True}
    if width is not None:
        said["width"] = mm(width, **({"bound": bound} if bound else {}))
    found = told(**{key: value for key, value in said.items() if value is not None})
    assert found.results["urgency"] in ("soon", "now")
    assert found.results["refer"] is True
    assert any("grows" in line for line in found.first)


@given(
    st.sampled_from((*PATTERNS, None)), st.sampled_from((*PLACES, None)), st.floats(0.02, 40),
    st.booleans(), st.booleans(),
)  # fmt: skip
def test_never_a_clean_bill_of_health(
    pattern: str | None, where: str | None, width: float, growing: bool, leaning: bool
) -> None:
    said = {k: v for k, v in {"pattern": pattern, "where": where}.items() if v}
    found = told(width=mm(width), growing=growing, leaning=leaning, **said)
    assert any("harmless" in caution for caution in found.cautions)
    assert found.results["likely_causes"]
    assert found.results["checks"]
    assert found.rules
    assert len(found.notes) <= 3
    assert found.results["refer"] is (found.results["urgency"] != "watch")
    if leaning:
        assert found.results["urgency"] == "now"
        assert "clear" in found.first[0]
    if growing:
        assert found.results["refer"]
        assert found.first


@pytest.mark.parametrize(
    "crack",
    [
        {"leaning": True}, {"width": mm(16)}, {"width": mm(2), "leaning": True}, {"growing": True},
        {"width": mm(8), "growing": True}, {"width": mm(3), "where": "the wall is bulging out"},
        {"where": "lintel has dropped"}, {"width": mm(15, bound="over")}, {"width": mm(15)},
    ],
)  # fmt: skip
def test_danger_comes_first(crack: dict[str, Any]) -> None:
    """Table of categories: lean, bulge, loss of bearing and over 15 mm are severe."""
    for wants in ((), ("repair",)):
        found = told(*wants, **crack)
        assert found.results["urgency"] == "now"
        assert found.results["refer"] is True
        assert "engineer" in found.first[0]
        assert "clear" in found.first[0]


def test_a_wall_that_may_fall_is_not_to_be_touched() -> None:
    assert "outside its reach" in told(leaning=True).results["checks"][0]
    repair = told("repair", leaning=True, width=mm(25)).results["repair"]
    assert repair[0].startswith("Filling hides")
    assert "shoring" in repair[1]


def test_nothing_said_asks_for_the_width() -> None:
    found = find()
    assert isinstance(found, Need)
    assert (found.slot, found.others) == ("crack", ("crack_width",))
    assert "leans" in found.ask
    assert found.ask.startswith("How wide")
    for option in found.options:
        again = Question(topic="crack", reading=option.reading)
        assert isinstance(answer(again, BOOK)[0], Answer)
    assert isinstance(find("repair"), Need)


def test_how_to_watch_a_crack_needs_no_crack() -> None:
    """Digest 343: points and calliper, 0.1 mm; glass was not thought good enough."""
    found = told("monitoring")
    assert any("0.1 mm" in line for line in found.results["monitoring"])
    cited = {rule.id for rule in found.rules}
    assert {"crack.monitor.glass", "crack.monitor.interval.close", "crack.record"} <= cited


@pytest.mark.parametrize(("width", "low", "high"), [(1, 1, 2), (5, 2, 3), (15, 3, 4), (25, 4, 5)])
def test_an_edge_names_both_neighbours_and_says_why(width: float, low: int, high: int) -> None:
    found = told(width=mm(width))
    assert found.results["category"] == {"min": low, "max": high}
    assert any("edge" in note for note in found.notes)
    assert "crack.edge" in {rule.id for rule in found.rules}


def test_a_bound_keeps_every_category_it_allows() -> None:
    over, under = told(width=mm(5, bound="over")), told(width=mm(1, bound="under"))
    assert bounds(over) == (3, 5)
    assert bounds(under) == (0, 1)
    assert any("measure it" in note for note in over.notes)


def test_places_and_patterns_lead_to_their_causes() -> None:
    """US forensic newsletter 1992, inspection article, NHBC 6.11.5, NBS M20 646, Concrete Society 664."""

    def first(**crack: Any) -> str:
        return str(told(**crack).results["likely_causes"][0])

    assert first(pattern="vertical", width=mm(1.5)).startswith("Drying shrinkage")
    assert first(pattern="vertical", where="corner").startswith("Heat swelling")
    assert first(pattern="vertical", where="above the door").startswith("Shrinkage where")
    assert first(pattern="stepped").startswith("Ground movement")
    assert first(where="along the movement joint").startswith("A movement joint bridged")
    assert first(where="where it meets the column").startswith("Two materials")
    assert first(pattern="map").startswith("Crazed render")
    assert first(pattern="horizontal", where="under the steel beam").startswith("Movement or sag")
    assert first(where="basement wall").startswith("Push from the soil")
    assert first(where="at the skirting", width=mm(1)).startswith("A new house")
    assert first(where="by the window").startswith("Shrinkage where")
    assert first(pattern="diagonal", where="render", width=mm(0.3)).startswith("Restraint")
    assert first(pattern="diagonal", where="window").startswith("Shrinkage where")


def test_some_places_want_a_person_whatever_the_width() -> None:
    for crack in (
        {"where": "under the beam"}, {"where": "retaining wall"}, {"pattern": "horizontal"},
    ):  # fmt: skip
        found = told(width=mm(0.5), **crack)
        assert found.results["refer"] is True
        assert found.results["urgency"] == "soon"
    assert told(pattern="stepped").results["refer"] is True
    assert told(pattern="horizontal", where="ceiling", width=mm(1)).results["refer"] is False


def test_a_growing_hair_crack_goes_to_an_engineer_soon() -> None:
    found = told(width=mm(0.5), growing=True)
    assert (found.results["urgency"], found.results["refer"]) == ("soon", True)


def test_repairs_follow_the_cause() -> None:
    def repair(**crack: Any) -> str:
        return " ".join(told("repair", **crack).results["repair"])

    assert "saw a movement joint" in repair(pattern="vertical", width=mm(1.5))
    assert "bed joint reinforcement" in repair(pattern="vertical", where="window", width=mm(1.5))
    assert "flexible coating" in repair(pattern="map", where="render", width=mm(0.3))
    assert "isolating paper" in repair(where="junction", width=mm(0.8))
    assert "helical" in repair(pattern="stepped", width=mm(2))
    assert "Nothing to repair" in repair(width=mm(0.05))
    assert told("repair", width=mm(2)).lead[0] == "repair"


def test_hair_cracks_name_the_schemes_apart() -> None:
    cited = {rule.id for rule in told(width=mm(0.2)).rules}
    assert {"crack.hairline", "crack.hairline.nhbrc", "crack.structural"} <= cited


def test_a_new_house_dries_out() -> None:
    """NHBC 9.1.3: up to 2 mm at junctions, and in garage blockwork."""
    assert any("normal drying out" in note for note in told(where="ceiling", width=mm(1.5)).notes)
    assert any("garage" in note for note in told(where="garage", width=mm(1.5)).notes)


def test_no_certificates_and_no_widths_below_nothing() -> None:
    assert isinstance(find("certificate", width=mm(1)), Decline)
    assert isinstance(find(width=mm(0)), Decline)


def test_without_a_width_it_asks_for_one_in_passing() -> None:
    found = told(pattern="vertical")
    assert "category" not in found.results
    assert "width in mm" in found.notes[0]


def test_a_width_that_may_be_a_length_is_said_back_but_not_waited_for() -> None:
    found = told(width={"value": 2, "unit": "m"})
    assert found.results["urgency"] == "now"
    assert "If that is its length" in found.notes[0]
    assert len(found.notes) <= 3


def test_every_rule_on_cracks_can_be_met() -> None:
    """A rule that no answer shows is dead."""
    met: set[str] = set()
    for wants in ((), ("repair",), ("monitoring",)):
        for pattern in (*PATTERNS, None):
            for where in (*PLACES, None, "plaster", "leaning out"):
                for width in (0.05, 0.2, 1.0, 2.0, 3.5, 8.0, 20.0, 30.0, 500.0, None):
                    for more in ({}, {"growing": True}, {"count": 3}):
                        said: dict[str, Any] = {
                            "pattern": pattern,
                            "where": where,
                            "width": width and mm(width),
                            **more,
                        }
                        found = told(
                            *wants, **{k: v for k, v in said.items() if v is not None} or {"count": 1}
                        )
                        met |= {rule.id for rule in found.rules}
    shown = {"crack.caution.message", "crack.caution.grows", "crack.caution.fill"}
    every = {rule.id for rule in BOOK.every() if rule.id.startswith("crack.")}
    assert every - met - shown == set()
