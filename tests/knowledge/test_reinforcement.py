"""Bed joint reinforcement: pieces from stock, runs kept off joints and ends, what is asked and said."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Finding, Need
from knowledge.cutting import lapped, packed, parted
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")


def q(value: float, unit: str = "m") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def find(wants: tuple[str, ...] = (), **reading: Any) -> Finding:
    return answer(
        Question.model_validate({"topic": "reinforcement", "reading": reading, "wants": wants}), BOOK
    )[0]


def got(wants: tuple[str, ...] = (), **reading: Any) -> Answer:
    found = find(wants, **reading)
    assert isinstance(found, Answer), found
    return found


@given(st.lists(st.floats(0.1, 2.7), min_size=1, max_size=30))
def test_cuts_never_take_more_than_a_piece_each_nor_less_than_their_sum(cuts: list[float]) -> None:
    count = packed(Counter(cuts), 2.7)
    assert sum(cuts) / 2.7 - 1e-6 <= count <= len(cuts)


@given(st.lists(st.tuples(st.integers(1, 54), st.integers(1, 40)), min_size=1, max_size=6))
def test_cuts_by_the_hundred_are_packed_as_one_by_one(wanted: list[tuple[int, int]]) -> None:
    """First fit, the longest first: each cut from the first piece that has room (sizes in steps of 50 mm)."""
    left: list[int] = []
    for cut in sorted((size for size, count in wanted for _ in range(count)), reverse=True):
        place = next((n for n, room in enumerate(left) if room >= cut), None)
        if place is None:
            left.append(54 - cut)
        else:
            left[place] -= cut
    cuts: Counter[float] = Counter()
    for size, count in wanted:
        cuts[size * 0.05] += count
    assert packed(cuts, 2.7) == len(left)


@given(st.floats(0.3, 40), st.integers(1, 9), st.floats(0, 0.5))
def test_lapped_pieces_reach_the_end_and_one_less_does_not(length: float, count: int, lap: float) -> None:
    pieces = lapped([(length, 1)], 2.7, lap)
    reach = 2.7 + (pieces - 1) * (2.7 - lap)
    assert reach >= length - 1e-6
    assert pieces == 1 or reach - (2.7 - lap) < length + 1e-6
    assert lapped([(length, count)], 2.7, lap) <= count * pieces


def test_off_cuts_are_used_and_a_bad_lap_is_refused() -> None:
    """Two runs of 1.3 m come out of 2.7 m; 13.6 m takes six lapped 225 mm: 2.7 + 5 × 2.475 = 15.075 m."""
    assert lapped([(1.3, 2)], 2.7, 0.225) == 1
    assert lapped([(13.6, 1)], 2.7, 0.225) == 6
    with pytest.raises(ValueError, match="lap"):
        lapped([(5, 1)], 2.7, 2.7)
    with pytest.raises(ValueError, match="longer"):
        packed({3: 1}, 2.7)


@given(st.floats(1, 30), st.lists(st.floats(-5, 35), max_size=5))
def test_parts_make_the_whole(length: float, at: list[float]) -> None:
    parts = parted(0, length, at)
    assert sum(b - a for a, b in parts) == pytest.approx(length)


@settings(deadline=None)
@given(st.floats(0.4, 4), st.integers(1, 6), st.floats(0, 2))
def test_wider_openings_never_take_less(width: float, count: int, more: float) -> None:
    def total(wide: float) -> float:
        return float(got(openings=[{"width": q(wide), "count": count}]).results["total_length"].value)

    assert total(width + more) >= total(width) == pytest.approx(count * 4 * (width + 1.2), abs=1e-4)


def test_several_like_walls_are_totals() -> None:
    one = got(openings=[{"width": q(1.2)}]).results["total_length"].value
    assert got(openings=[{"width": q(1.2)}], walls=3).results["total_length"].value == pytest.approx(3 * one)


def test_nothing_known_is_asked_and_a_width_too() -> None:
    found = find(("total_length",))
    assert isinstance(found, Need)
    assert found.slot == "openings"
    unsized = find(openings=[{"kind": "window", "count": 2}])
    assert isinstance(unsized, Need)
    assert unsized.slot == "openings"
    low = find(("total_length",), length=q(8))
    assert isinstance(low, Need)
    assert low.slot == "height"


def test_widths_that_were_taken_are_said() -> None:
    found = got(length=q(13.6), height=q(2.7), openings=[{"kind": "door"}, {"kind": "window"}])
    assert {"door_width", "window_width", "stock_length"} <= {a.slot for a in found.assumed}
    assert any("send the widths" in note for note in found.notes)


def test_a_sill_on_the_ground_has_no_bed_under_it() -> None:
    low = got(openings=[{"kind": "window", "width": q(1.2), "sill": q(0)}])
    assert [run["where"] for run in low.results["runs"]] == ["over window"]


def test_the_end_of_the_wall_and_a_joint_over_the_opening() -> None:
    near = got(length=q(5), openings=[{"kind": "door", "width": q(1), "from_right": q(0.2)}])
    assert near.results["runs"][0]["length"].value == pytest.approx(0.6 + 1 + 0.2)
    assert any("end of the wall" in note for note in near.notes)
    over = got(length=q(8), joint_at=[q(4)], openings=[{"kind": "door", "width": q(1), "from_left": q(3.5)}])
    assert [run["length"].value for run in over.results["runs"]] == pytest.approx([1.1, 1.1])


def test_a_wall_reinforced_throughout() -> None:
    """Every 450 mm in 2.7 m: beds at 0.45, 0.9 ... 2.25 m, five of them."""
    found = got(length=q(13.6), height=q(2.7))
    assert found.results["total_length"].value == pytest.approx(5 * 13.6)
    assert {"spacing", "material"} <= {a.slot for a in found.assumed}
    shorter = got(length=q(13.6), height=q(2.7), joint_at=[q(3.4), q(10.2)])
    assert [run["length"].value for run in shorter.results["runs"]] == pytest.approx([3.4, 6.8, 3.4])
    closer = got(length=q(10), height=q(2.7), spacing=q(225, "mm"), openings=[{"width": q(1.2)}])
    assert closer.results["total_length"].value == pytest.approx(11 * 10 + 9.6)
    joints = got(length=q(10), height=q(2.7), spacing=q(6), openings=[{"width": q(1.2)}])
    assert joints.results["total_length"].value == pytest.approx(9.6)


def test_no_openings_and_the_long_low_panel() -> None:
    """NHBC 6.11.5: over 3 : 1 wants a joint or reinforcement; 9.0 × 2.5 m is raised, 7.0 × 2.5 m not."""
    long = got(length=q(9), height=q(2.5), openings=[])
    assert long.results["total_length"].value == 0
    assert any("3 times" in note for note in long.notes)
    assert not any("3 times" in note for note in got(length=q(7), height=q(2.5), openings=[]).notes)
    asked = got(length=q(7), height=q(2.5), openings=[], bed_reinforcement=True)
    assert asked.results["total_length"].value == pytest.approx(5 * 7)


def test_feet_come_out_as_feet() -> None:
    found = got(length=q(20, "ft"), openings=[{"kind": "door", "width": q(3, "ft")}])
    assert found.results["total_length"].unit == "ft"
    assert found.results["total_length"].value == pytest.approx(2 * (3 + 2 * 600 / 304.8), abs=1e-4)


def test_cavity_walls_and_thin_joints_have_their_word() -> None:
    found = got(leaf="cavity", joint_thickness=q(2, "mm"), openings=[{"width": q(1.2)}])
    assert any("one leaf" in note for note in found.notes)
    assert {"reinforcement.thin_joint", "reinforcement.thin_joint.rods"} <= {r.id for r in found.rules}


def test_no_reinforcement_is_called_a_lintel() -> None:
    assert any("no lintel" in caution for caution in got().cautions)


def test_every_rule_is_cited_by_some_question() -> None:
    asked = [got(), got(finish="render"), got(openings=[{"kind": "door", "width": q(1)}])]
    asked += [got((name,), finish=f) for name in ("lap", "cover", "spacing", "projection", "material", "beds")
              for f in (None, "render")]  # fmt: skip
    asked += [got(("panel_length",), block={"material": m}, spacing=q(s, "mm"))
              for m in ("aac", "aggregate", "clay_brick", "stone") for s in (200, 450, 600)]  # fmt: skip
    asked += [got(joint_thickness=q(2, "mm")), got(length=q(9), height=q(2), openings=[])]
    cited = {rule.id for found in asked for rule in found.rules}
    warned = {caution for found in asked for caution in found.cautions}
    for rule in BOOK.every():
        if rule.id.startswith("reinforcement."):
            assert rule.id in cited or rule.statement in warned, rule.id
