"""The layout against brute force on small grids, and what must hold of any layout."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.layout import EPS, Run, at_module, blocked, even, fewest, fits, lay_out, merge, panels

CAPS = st.sampled_from(["half", "full"])


@st.composite
def runs(draw: st.DrawFn, zones: int = 3) -> Run:
    """Walls in whole units: with whole numbers everywhere a whole-numbered layout exists if any does."""
    spacing = 2 * draw(st.integers(1, 4))
    length = draw(st.integers(1, 14))
    sides = [spacing if draw(CAPS) == "full" else spacing // 2 for _ in range(2)]
    closed = []
    for _ in range(draw(st.integers(0, zones))):
        low = draw(st.integers(-1, length))
        closed.append((float(low), float(low + draw(st.integers(1, 5)))))
    return Run(float(length), float(spacing), float(sides[0]), float(sides[1]), tuple(closed))


def allowed(run: Run, places: tuple[float, ...]) -> bool:
    """The rules of a layout once more, written from the decision and not from the module."""
    if not places:
        return run.length < run.spacing
    if any(low < place < high for place in places for low, high in run.closed):
        return False
    practice = len(places) == 1 and run.length <= run.spacing
    ends_hold = practice or (places[0] <= run.left and run.length - places[-1] <= run.right)
    return ends_hold and all(b - a <= run.spacing for a, b in pairwise(places))


def brute(run: Run) -> list[tuple[float, ...]]:
    """All layouts with fewest joints on the whole units of the grid."""
    grid = [float(place) for place in range(1, int(run.length))]
    for count in range(len(grid) + 1):
        found = [places for places in combinations(grid, count) if allowed(run, places)]
        if found:
            return found
    return []


@settings(max_examples=400, deadline=None)
@given(runs())
def test_fewest_as_by_brute_force(run: Run) -> None:
    got, every = lay_out(run), brute(run)
    if run.length == 1 and run.spacing > 1:
        assert got == []
        return
    if got is None:
        assert not every
        return
    if not every:  # only a wall of one or two units has no whole unit inside it to stand on
        assert run.length <= 2
        return
    assert len(got) == len(every[0])
    assert allowed(Run(run.length, run.spacing + EPS, run.left + EPS, run.right + EPS), tuple(got))
    assert all(blocked(run.closed, place) is None for place in got)


@settings(max_examples=300, deadline=None)
@given(runs())
def test_moved_no_more_than_the_best_of_the_grid(run: Run) -> None:
    got, every = lay_out(run), brute(run)
    if not got or not every:
        return
    aims = even(run, len(got))
    move = sum(abs(a - b) for a, b in zip(got, aims, strict=True))
    best = min(sum(abs(a - b) for a, b in zip(places, aims, strict=True)) for places in every)
    assert move <= best + 1e-6


@settings(max_examples=400, deadline=None)
@given(runs(), st.data())
def test_an_opening_less_never_needs_a_joint_more(run: Run, data: st.DataObject) -> None:
    if not run.closed:
        return
    gone = data.draw(st.integers(0, len(run.closed) - 1))
    fewer = Run(run.length, run.spacing, run.left, run.right, run.closed[:gone] + run.closed[gone + 1 :])
    with_it, without = lay_out(run), lay_out(fewer)
    if with_it is not None:
        assert without is not None
        assert len(without) <= len(with_it)


@settings(max_examples=300, deadline=None)
@given(
    st.floats(0.5, 60), st.floats(2, 15), CAPS, CAPS,
    st.lists(st.tuples(st.floats(0, 60), st.floats(0.3, 4)), max_size=4),
)  # fmt: skip
def test_a_layout_keeps_every_limit(
    length: float, spacing: float, left: str, right: str, holes: list[tuple[float, float]]
) -> None:
    sides = [spacing if side == "full" else spacing / 2 for side in (left, right)]
    run = Run(length, spacing, sides[0], sides[1], tuple((low, low + wide) for low, wide in holes))
    got = lay_out(run)
    if not got:
        return
    if length <= spacing + EPS:
        run = Run(length, spacing, length, length, run.closed)
    assert fits(run, got)
    assert sum(panels(length, got)) == pytest.approx(length)


@settings(max_examples=200, deadline=None)
@given(st.floats(1, 60), st.floats(2, 15), CAPS, CAPS)
def test_plain_panels_are_drawn_in_alike(length: float, spacing: float, left: str, right: str) -> None:
    """Decision: S_eff is L/n, L/(n + 0.5), L/(n + 1) with two, one, no returns; half of it at a return."""
    sides = [spacing if side == "full" else spacing / 2 for side in (left, right)]
    run = Run(length, spacing, sides[0], sides[1])
    got = lay_out(run)
    assert got is not None
    if not got:
        assert length < spacing
        return
    even_panel = length / (len(got) + {0: 1.0, 1: 0.5, 2: 0.0}[(left, right).count("half")])
    wanted = [even_panel if side == "full" else even_panel / 2 for side in (left, right)]
    found = panels(length, got)
    assert found[0] == pytest.approx(wanted[0])
    assert found[-1] == pytest.approx(wanted[1])
    assert all(panel == pytest.approx(even_panel) for panel in found[1:-1])


@pytest.mark.parametrize(
    ("length", "left", "right", "count"),
    [
        (5.99, 3, 3, 0), (6, 3, 3, 1), (6.01, 3, 3, 2), (12, 3, 3, 2), (12.01, 3, 3, 3), (36, 3, 3, 6),
        (6, 3, 6, 1), (9, 3, 6, 1), (9.01, 3, 6, 2), (6, 6, 6, 1), (12, 6, 6, 1), (12.01, 6, 6, 2),
    ],
)  # fmt: skip
def test_counts_at_their_edges(length: float, left: float, right: float, count: int) -> None:
    """ceil(L/S), ceil(L/S − ½), ceil(L/S) − 1, and at least one from L = S (common practice)."""
    assert fewest(Run(length, 6, left, right)) == count


def test_the_joint_by_practice_alone_is_free_of_the_half_rule() -> None:
    """A door in the middle of 6 m: one joint still, beside it."""
    assert lay_out(Run(6, 6, 3, 3, ((2.3, 3.7),))) == pytest.approx([2.3])


def test_no_layout_where_an_opening_fills_a_panel() -> None:
    assert lay_out(Run(9, 6, 3, 3, ((1.4, 7.6),))) is None
    assert lay_out(Run(9, 6, 3, 3, ((-0.2, 3.5),))) is None


def test_more_joints_only_where_no_place_is_left() -> None:
    """12 m: 3 and 9 are the only two places for two joints; a window over the 3 m mark makes it three."""
    got = lay_out(Run(12, 6, 3, 3, ((2.5, 3.5),)))
    assert got is not None
    assert len(got) == 3
    assert fits(Run(12, 6, 3, 3, ((2.5, 3.5),)), got)


def test_perpends_only_where_no_limit_breaks() -> None:
    """10 m: 2.5 and 7.5 go to 2.475 and 7.425 of the 225 mm module; 12 m has no slack for it."""
    assert at_module(Run(10, 6, 3, 3), [2.5, 7.5], 0.225) == pytest.approx([2.475, 7.425])
    assert at_module(Run(12, 6, 3, 3), [3, 9], 0.225) is None


def test_zones_that_only_touch_leave_a_line_between_them() -> None:
    assert merge([(1, 2), (2, 3)]) == ((1, 2), (2, 3))
    assert merge([(1, 2.5), (2, 3)]) == ((1, 3),)
