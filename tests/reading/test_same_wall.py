"""The same wall in other units gives the same answer; a wall with fewer openings never needs more joints."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from bot.talk import State, turn
from knowledge.units import convert
from tests.reading.lots import lots

Plain = dict[str, Any]


def results(text: str) -> Plain:
    """Results of the first answer; none where it was asked or declined."""
    record = turn(State(), text)[1].record
    return record["answers"][0]["results"] if record["answers"] else {"outcome": record["outcome"]}


def level(value: Any) -> Any:
    """Lengths in millimetres, areas and volumes in their metric unit, to the rounding of what is shown."""
    if isinstance(value, dict) and "unit" in value:
        for unit, digits in (("mm", 0), ("m²", 1), ("m³", 2), ("kg", 0), ("l", 0)):
            try:
                return {
                    k: round(convert(v, value["unit"], unit), digits) for k, v in value.items() if k != "unit"
                }
            except ValueError:
                continue
    if isinstance(value, dict):
        return {k: level(v) for k, v in value.items()}
    if isinstance(value, list):
        return [level(v) for v in value]
    return value


def near(one: Any, other: Any) -> bool:
    """Alike but for the last shown digit, which another unit may round the other way."""
    if isinstance(one, dict) and isinstance(other, dict):
        return set(one) == set(other) and all(near(one[k], other[k]) for k in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(near(a, b) for a, b in zip(one, other, strict=True))
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= max(3.0, 0.005 * abs(one))
    return bool(one == other)


QUESTIONS = st.sampled_from(
    ["how many joints", "how many blocks", "render mix and how much", "how much mesh", "how much mortar"]
)


@lots(200)
@given(st.integers(20, 590), st.integers(8, 58), QUESTIONS)
def test_metres_or_millimetres_change_nothing(length: int, height: int, question: str) -> None:
    metres = results(f"wall {length / 10:g} m long, {height / 10:g} m high, {question}")
    for other in (
        f"wall {length * 100} mm long, {height * 100} mm high, {question}",
        f"wall {length * 10} cm long, {height * 10} cm high, {question}",
        f"wall {length * 100}mm long, {height / 10:g}m high, {question}",
    ):
        assert results(other) == metres, other


@lots(200)
@given(st.integers(3, 76), st.integers(2, 7), QUESTIONS)
def test_feet_change_nothing_but_the_unit(length: int, height: int, question: str) -> None:
    # 2.5 ft is 762 mm to the last digit (an inch is 25.4 mm), so both texts speak of the same wall.
    feet = results(f"wall {2.5 * length:g} ft long, {2.5 * height:g} ft high, {question}")
    millimetres = results(f"wall {762 * length} mm long, {762 * height} mm high, {question}")
    for whole in ("joint_count", "block_count", "order_count", "rolls", "outcome"):
        assert feet.get(whole) == millimetres.get(whole), (whole, feet, millimetres)
    for name in ("joint_positions", "panel_lengths", "net_area", "max_spacing", "end_panel_max"):
        assert near(level(feet.get(name)), level(millimetres.get(name))), (name, feet, millimetres)


@st.composite
def walls(draw: st.DrawFn) -> tuple[int, list[str]]:
    """A wall in steps of 100 mm, and openings side by side from its left end, as they are said."""
    length = draw(st.integers(70, 240))
    openings, at = [], 5
    for _ in range(draw(st.integers(1, 4))):
        left = at + draw(st.integers(2, 40))
        wide = draw(st.integers(6, 30))
        at = left + wide
        if at > length - 5:
            break
        openings.append(f"window {wide / 10:g} m x 1.2 m, {left / 10:g} m from the left end")
    return length, openings


def joint_count(length: int, openings: list[str], ends: str) -> int | None:
    """The count of joints; None where there is no layout or something is asked."""
    text = f"wall {length / 10:g} m long, 2.7 m high, {ends}, " + "; ".join([*openings, "how many joints"])
    record = turn(State(), text)[1].record
    if not record["answers"]:
        return None
    answer = record["answers"][0]
    read = answer["reading"].get("openings") or []
    assert sum(opening.get("count", 1) for opening in read) == len(openings), text
    assert all("from_left" in opening for opening in read), text
    count: int | None = answer["results"].get("joint_count")
    return count


def test_an_opening_less_never_means_a_joint_more() -> None:
    compared = 0

    @lots(200)
    @given(walls(), st.sampled_from(["returns both ends", "free both ends", "return left, free right"]))
    def compare(wall: tuple[int, list[str]], ends: str) -> None:
        nonlocal compared
        length, openings = wall
        with_all = joint_count(length, openings, ends)
        if with_all is None:  # no layout: nothing to compare
            return
        for i in range(len(openings)):
            fewer = joint_count(length, openings[:i] + openings[i + 1 :], ends)
            assert fewer is not None, "a layout that fits with an opening fits without it"
            assert fewer <= with_all
            compared += 1

    compare()
    assert compared >= 100, "most walls must have a layout, or nothing was compared"
