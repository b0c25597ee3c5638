"""Units to answer in; sizes by the international yard and pound agreement of 1959: 1 in = 25.4 mm."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.fronts.terminal import shown
from bot.speaking.again import whole
from bot.speaking.numerals import quantity
from bot.speaking.rounding import sized, way
from bot.talk import Reply, State, turn
from knowledge import tape
from knowledge.questions import TOPICS, Units
from tests.scorecard import messages

MARKS = {"⅛": (1, 8), "¼": (1, 4), "⅜": (3, 8), "½": (1, 2), "⅝": (5, 8), "¾": (3, 4), "⅞": (7, 8)}
METRIC_SIZE = re.compile(r"\d\s?(mm|cm|m|m²|m³)\b(?!·)")
FEET_SIZE = re.compile(r"(\d|[⅛¼⅜½⅝¾⅞])\s?(ft|in|sq ft|cu ft|′|″)\b")
ASKED = {
    "joints": "joints for a 10 m wall 2.4 high",
    "mortar": "mortar for 300 blocks",
    "render": "render coats for 40 m2 outside",
    "mesh": "mesh for 8.5 x 2.6",
    "blocks": "blocks for 12.4 x 2.4",
    "reinforcement": "bed joint reinforcement over a 1200 window",
    "ties": "ties for 10 x 2.4 cavity 100",
    "boards": "boards for 4 x 2.4",
    "bearing": "padstone for a 20 kN point load on a 140 aircrete wall",
    "crack": "crack 2 mm wide stepped",
    "weather": "can I lay at 4 degrees",
    "safety": "is a 20 kg block too heavy",
    "thermal": "u value of 100 mm aircrete",
    "wall": "everything for a rendered 10 m x 2.4 wall",
}


def asked(text: str, units: Units | None, region: str = "GB") -> Reply:
    """The reply in these units."""
    return turn(State(region=region, units=units), text)[1]


def inches(said: str) -> Fraction:
    """A size on the tape, read back on its own account: '8 ft 2½ in'."""
    found = re.fullmatch(r"(?:(\d+) ft ?)?(?:(\d+)?(?: ?(\d+)/(\d+)|([⅛¼⅜½⅝¾⅞]))? in)?", said)
    assert found is not None, said
    foot, whole, over, under, mark = found.groups()
    part = Fraction(*MARKS[mark]) if mark else Fraction(int(over), int(under)) if over else Fraction(0)
    return 12 * int(foot or 0) + int(whole or 0) + part


@pytest.mark.parametrize(
    ("metres", "said"),
    [(2.5, "8 ft 2½ in"), (7.5, "24 ft 7¼ in"), (3.048, "10 ft"), (0.1524, "6 in"), (0.1, "4 in")],
)
def test_metres_on_the_tape(metres: float, said: str) -> None:
    assert tape.feet(metres / 0.3048) == said


@pytest.mark.parametrize(
    ("millimetres", "said"), [(10, "⅜ in"), (6, "¼ in"), (13, "½ in"), (16, "⅝ in"), (100, "3 15/16 in")]
)
def test_small_sizes_in_sixteenths(millimetres: float, said: str) -> None:
    """⅜ in is the joint that bricklayers call 10 mm."""
    assert sized({"value": millimetres / 25.4, "unit": "in"}) == said


def test_a_movement_of_a_millimetre_is_not_rounded_to_a_sixteenth() -> None:
    assert sized({"value": 1 / 25.4, "unit": "in"}) == "0.039 in"


@given(st.floats(0.05, 60.0), st.sampled_from(["down", "up"]))
def test_a_limit_is_never_rounded_past_itself(metres: float, which: tape.Way) -> None:
    said = inches(tape.feet(metres / 0.3048, which))
    true = Fraction(metres) / Fraction("0.0254")
    hair = Fraction(1, 10_000)
    assert true - Fraction(1, 4) - hair <= said <= true + hair if which == "down" else said >= true - hair


def test_six_metres_at_most_is_no_quarter_inch_more() -> None:
    """6 m is 19 ft 8.22 in: 19 ft 8¼ in would be over it."""
    assert sized({"value": 6 / 0.3048, "unit": "ft"}, way("max_spacing")) == "19 ft 8 in"
    assert sized({"value": 6 / 0.3048, "unit": "ft"}, way("filler_length")) == "19 ft 8¼ in"


@pytest.mark.parametrize("said", [(12.3, "12.3 ft"), (12.5, "12 ft 6 in"), (40, "40 ft"), (8.1, "8.1 ft")])
def test_what_was_read_is_never_rounded(said: tuple[float, str]) -> None:
    """12.3 ft is 12 ft 3.6 in, which is no mark of a tape: it is said as it was typed."""
    assert quantity({"value": said[0], "unit": "ft"}) == said[1]


def test_every_topic_is_asked_here() -> None:
    assert set(ASKED) == set(TOPICS)


@pytest.mark.parametrize("topic", ASKED)
@pytest.mark.parametrize("units", ["feet", "metric"])
def test_a_number_of_every_topic_comes_in_the_units_chosen(topic: str, units: Units) -> None:
    """And what was read stays in the words' own units."""
    reply = asked(ASKED[topic], units)
    other = METRIC_SIZE if units == "feet" else FEET_SIZE
    for line in reply.lines:
        if line.kind == "number":
            assert not other.search(line.text), line.text
    plain = asked(ASKED[topic], None)
    assert [a["reading"] for a in reply.record["answers"]] == [a["reading"] for a in plain.record["answers"]]
    assert [x.text for x in reply.lines if x.kind == "read"] == [
        x.text for x in plain.lines if x.kind == "read"
    ]


@pytest.mark.parametrize("topic", ASKED)
def test_names_and_types_of_the_results_stay(topic: str) -> None:
    plain, turned = (asked(ASKED[topic], units).record["answers"] for units in (None, "feet"))
    for a, b in zip(plain, turned, strict=True):
        assert {n: type(v) for n, v in a["results"].items()} == {n: type(v) for n, v in b["results"].items()}
        counts = {n: v for n, v in a["results"].items() if isinstance(v, int | bool)}
        assert counts == {n: b["results"][n] for n in counts}


def test_it_is_said_where_the_units_are_not_those_of_the_question() -> None:
    assert "answers in feet and inches" in shown(asked("joints for 10 m", "feet"))
    assert "answers in metric" in shown(asked("joints for 33 ft", "metric"))
    assert "answers in" not in shown(asked("joints for 33 ft", "feet"))
    assert "answers in" not in shown(asked("u value of 100 mm aircrete", "feet"))


def test_american_masses_and_strengths_turn_metric() -> None:
    """A pound is 0.45359237 kg by the same agreement."""
    home, away = (asked("mortar for 300 blocks", units, "US").record["answers"][0]["results"]
                  for units in (None, "metric"))  # fmt: skip
    assert home["sand_mass"]["unit"] == "lb"
    assert away["sand_mass"]["unit"] == "kg"
    assert away["sand_mass"]["value"] == pytest.approx(home["sand_mass"]["value"] * 0.45359237, rel=1e-4)


def test_so_many_to_an_area_name_their_area() -> None:
    """2.47 to the square metre are 0.23 to the square foot (10.764 of them to a metre)."""
    assert "2.47 to the square metre" in shown(asked(ASKED["ties"], None))
    assert "0.23 to the square foot" in shown(asked(ASKED["ties"], "feet"))


@pytest.mark.parametrize("units", ["feet", "metric"])
def test_a_size_said_from_to_is_answered_too(units: Units) -> None:
    """'4 to 5 metre panels' needs no joint at either end: 6 m is the spacing in every British source here."""
    reply = asked("4 to 5 metre panels of aircrete, MJ needed at all?", units)
    assert reply.outcome == "answered"
    assert whole(reply.record) is not None


def test_every_message_of_the_corpus_is_answered_as_ever_in_other_units() -> None:
    """What was read, what is asked back and what is declined do not hang on the units of the answer."""
    for row in messages():
        plain = asked(row["text"], None, row["region"]).record
        for units in ("feet", "metric"):
            record = asked(row["text"], units, row["region"]).record
            for name in ("outcome", "needs", "declined", "set_aside", "in_force"):
                assert record[name] == plain[name], (row["text"], units, name)
