"""What is written in any of the ways of the site is read back as the same value."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.speaking.echo import echo
from bot.talk import State, turn
from tests.reading.lots import lots
from tests.scorecard import faults, same

Plain = dict[str, Any]
MANY = lots(250)
ONES = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
SPELT = dict(enumerate(ONES.split(), start=1)) | {
    17: "seventeen",
    18: "eighteen",
    19: "nineteen",
    20: "twenty",
    30: "thirty",
}


def metric(mm: int) -> list[str]:
    """A length on a grid of 50 mm in the ways that it is written."""
    metres = f"{mm / 1000:g}"
    ways = [
        f"{metres} m",
        f"{metres}m",
        f"{metres} metres",
        f"{metres}mtrs",
        f"{mm} mm",
        f"{mm}mm",
        f"{mm / 10:g} cm",
    ]
    if "." in metres:
        ways.append(f"{metres.replace('.', ',')} m")
        whole, _, part = metres.partition(".")
        if whole != "0":
            ways.append(f"{whole}m{part:0<2}")
    if mm % 1000 == 0 and mm // 1000 in SPELT:
        ways += [f"{SPELT[mm // 1000]} metres", f"{SPELT[mm // 1000]} metre"]
    if mm % 1000 == 500 and mm // 1000 in SPELT:
        word = SPELT[mm // 1000]
        ways += [
            f"{word} and a half metres",
            f"{word} point five m",
            f"{mm // 1000}½ m",
            f"{mm // 1000} 1/2 m",
        ]
    if mm % 1000 == 250:
        ways += [f"{mm // 1000}¼m", f"{mm // 1000} 1/4 metres"]
    return ways


def imperial(feet: int, inches: int) -> list[str]:
    """Feet and inches in the ways that they are written."""
    if not inches:
        ways = [f"{feet} ft", f"{feet}ft", f"{feet}'", f"{feet} feet", f"{feet} foot"]
        return ways + ([f"{SPELT[feet]} foot", f"{SPELT[feet]} feet"] if feet in SPELT else [])
    ways = [
        f"{feet} ft {inches} in",
        f"{feet}ft {inches}in",
        f"{feet}'{inches}\"",
        f"{feet}' {inches}\"",
    ]
    ways += [
        f"{feet}'-{inches}\"",
        f"{feet} feet {inches} inches",
        f"{feet} foot {inches}",
        f"{feet}′ {inches}″",
    ]
    if inches not in {2, 3}:  # 12ft2 may be an area
        ways.append(f"{feet}ft{inches}")
    if inches == 6:
        ways += [f"{feet}.5 ft", f"{feet}½ ft", f"{feet} 1/2 ft", f"{feet} and a half feet"]
    return ways


LENGTHS = st.integers(14, 1190).map(lambda n: n * 50)  # 0.7 m to 59.5 m
HEIGHTS = st.integers(12, 118).map(lambda n: n * 50)  # 0.6 m to 5.9 m
FEET = st.tuples(st.integers(4, 190), st.integers(0, 11))
FEET_UP = st.tuples(st.integers(3, 18), st.integers(0, 11))
LENGTH_FRAMES = [
    "{} wall, how many joints",
    "how many joints in a {} wall",
    "joints for a wall {} long",
    "wall length {}, where do the movement joints go",
    "MJs? wall is {} overall",
    "length: {}\nrequired: movement joints",
    "ive got {} of aircrete wall mate, how many movement joints does it want",
]


def answered(text: str) -> Plain:
    """The reading that the only answer stands on."""
    record = turn(State(), text)[1].record
    assert record["outcome"] == "answered", (text, [n["ask"] for n in record["needs"]], record["declined"])
    reading: Plain = record["answers"][0]["reading"]
    return reading


def mm(value: float) -> Plain:
    return {"value": value, "unit": "mm"}


@MANY
@given(LENGTHS, st.data())
def test_metric_length(size: int, data: st.DataObject) -> None:
    text = data.draw(st.sampled_from(LENGTH_FRAMES)).format(data.draw(st.sampled_from(metric(size))))
    assert same(answered(text).get("length"), mm(size)), text


@MANY
@given(FEET, st.data())
def test_length_in_feet_and_inches(size: tuple[int, int], data: st.DataObject) -> None:
    text = data.draw(st.sampled_from(LENGTH_FRAMES)).format(data.draw(st.sampled_from(imperial(*size))))
    assert same(answered(text).get("length"), mm(304.8 * size[0] + 25.4 * size[1])), (
        text
    )  # an inch is 25.4 mm


HEIGHT_FRAMES = [
    "wall {0} long and {1} high, how many blocks",
    "{0} x {1} wall, how many blocks",
    "{0} by {1} high, blocks needed?",
    "how many blocks, length {0}, height {1}",
    "{1} high {0} long aircrete, number of blocks",
    "blocks for a wall {0} long {1} tall",
]


@MANY
@given(LENGTHS.filter(lambda n: n >= 1500), HEIGHTS, st.data())
def test_metric_length_and_height(length: int, height: int, data: st.DataObject) -> None:
    pairs = [(a, b) for a in metric(length) for b in metric(height)]
    way = data.draw(st.sampled_from(pairs))
    text = data.draw(st.sampled_from(HEIGHT_FRAMES)).format(*way)
    reading = answered(text)
    assert same(reading.get("length"), mm(length)), text
    assert same(reading.get("height"), mm(height)), text


@MANY
@given(FEET.filter(lambda n: n[0] >= 5), FEET_UP, st.data())
def test_length_and_height_in_feet(
    length: tuple[int, int], height: tuple[int, int], data: st.DataObject
) -> None:
    way = data.draw(st.sampled_from(imperial(*length))), data.draw(st.sampled_from(imperial(*height)))
    text = data.draw(st.sampled_from(HEIGHT_FRAMES)).format(*way)
    reading = answered(text)
    assert same(reading.get("length"), mm(304.8 * length[0] + 25.4 * length[1])), text
    assert same(reading.get("height"), mm(304.8 * height[0] + 25.4 * height[1])), text


THICKNESS_FRAMES = [
    "{} thick aircrete wall 9.6 m long, joints?",
    "9.6m wall, thickness {}, how many joints",
    "{} aircrete blocks, wall 9.6 m, how many joints",
    "wall 9.6 m long, {} thick, movement joints?",
    "440 x 215 x {} blocks, wall of 9.6 m, how many joints",
]


@MANY
@given(st.sampled_from([75, 90, 100, 125, 140, 150, 190, 200, 215, 250, 300]), st.data())
def test_thickness(size: int, data: st.DataObject) -> None:
    way = data.draw(st.sampled_from([f"{size}mm", f"{size} mm", f"{size}", f"{size} millimetres"]))
    text = data.draw(st.sampled_from(THICKNESS_FRAMES)).format(way)
    reading = answered(text)
    assert same(reading.get("length"), mm(9600)), text
    got = reading.get("thickness") or reading.get("block", {}).get("thickness")
    assert got is not None, text
    assert same(got, mm(size)), text


STRENGTH_FRAMES = [
    "{} aircrete, what mortar",
    "which mortar for {} blocks",
    "mortar mix for an internal wall in {} aircrete",
    "external wall, block strength {}, mortar class?",
]


@MANY
@given(st.sampled_from([2.9, 3.6, 7.3, 8.7, 10.4, 17.5, 22.5]), st.data())
def test_strength(strength: float, data: st.DataObject) -> None:
    ways = ["{}N", "{} N", "{} N/mm2", "{}N/mm²", "{} newton", "{}n/mm2", "{} newtons"]
    text = data.draw(st.sampled_from(STRENGTH_FRAMES)).format(
        data.draw(st.sampled_from(ways)).format(f"{strength:g}")
    )
    block = answered(text).get("block", {})
    assert same(block.get("strength"), {"value": strength, "unit": "N/mm²"}), text


def mixes(cement: float, lime: float, sand: float) -> list[str]:
    """A mix as it is said: sand first where two numbers start with the larger, cement first after a one."""
    part = {0.25: "¼", 0.5: "½", 4.5: "4½", 5.5: "5½"}
    c, li, s = (part.get(n, f"{n:g}") for n in (cement, lime, sand))
    if not lime:
        ways = [
            f"{s}:1",
            f"1:{s}",
            f"{s} to 1",
            f"{s} sand 1 cement",
            f"1 cement to {s} sand",
            f"{s}/1 sand cement",
        ]
        return ways + (
            [f"{SPELT[int(sand)]} and one", f"{SPELT[int(sand)]} to one"] if sand == int(sand) else []
        )
    return [
        f"{c}:{li}:{s}",
        f"{c} : {li} : {s}",
        f"{s} sand {li} lime {c} cement",
        f"{c} cement {li} lime {s} sand",
    ]


MIX_FRAMES = [
    "is {} ok for aircrete",
    "mortar {} for a parapet, right?",
    "lads are on {} mortar, external aircrete, too strong?",
    "laying aircrete with {}, is that the right mix",
]
TWO_PARTS = [(1, 0, 3), (1, 0, 4), (1, 0, 5), (1, 0, 6), (1, 0, 8)]
THREE_PARTS = [(1, 0.25, 3), (1, 0.5, 4), (1, 0.5, 4.5), (1, 1, 5), (1, 1, 6), (1, 2, 8), (1, 2, 9)]


@MANY
@given(st.sampled_from([*TWO_PARTS, *THREE_PARTS]), st.data())
def test_mix(parts: tuple[float, float, float], data: st.DataObject) -> None:
    text = data.draw(st.sampled_from(MIX_FRAMES)).format(data.draw(st.sampled_from(mixes(*parts))))
    assert same(answered(text).get("mix"), dict(zip(("cement", "lime", "sand"), parts, strict=True))), text


END_WORDS = {
    ("return", "return"): [
        "corners both ends",
        "returns both ends",
        "a return each end",
        "corner at each end",
    ],
    ("free", "free"): ["free both ends", "both ends free", "no returns either end"],
    ("return", "free"): [
        "return left, free right",
        "corner on the left, free end on the right",
        "left return right free",
    ],
    ("free", "return"): [
        "free left, return right",
        "free end on the left and a corner on the right",
        "left free right return",
    ],
}


@pytest.mark.parametrize("ends", END_WORDS, ids=" ".join)
def test_ends(ends: tuple[str, str]) -> None:
    for words in END_WORDS[ends]:
        for frame in (
            "10.5 m wall, {}, how many joints",
            "{}, 10.5 m long: joints?",
            "joints for 10.5m wall with {}",
        ):
            text = frame.format(words)
            reading = answered(text)
            assert reading.get("ends") == list(ends), text
            assert same(reading.get("length"), mm(10_500)), text


OPENING_FRAMES = [
    "12 m wall 2.7 m high, {}, how many blocks",
    "12 x 2.7 wall with {} in it, blocks?",
    "how many blocks for 12m x 2.7m less {}",
]
COUNTS = {
    1: ["a {} ", "one {} ", "1no {} ", "1 {} "],
    2: ["two {}s ", "2no {}s ", "2 {}s ", "2 no. {}s "],
    3: ["three {}s ", "3nr {}s "],
}


@MANY
@given(
    st.sampled_from(["window", "door"]),
    st.sampled_from([1, 2, 3]),
    st.integers(12, 36).map(lambda n: 50 * n),
    st.integers(12, 42).map(lambda n: 50 * n),
    st.data(),
)
def test_openings(kind: str, count: int, wide: int, high: int, data: st.DataObject) -> None:
    sizes = [
        f"{wide}x{high}",
        f"{wide} x {high}mm",
        f"{wide}mm x {high}mm",
        f"{wide / 1000:g}m x {high / 1000:g}m",
    ]
    sizes += [
        f"{wide} wide {high} high",
        f"{wide / 1000:g} m wide and {high / 1000:g} m high",
        f"{wide} by {high}",
    ]
    words = data.draw(st.sampled_from(COUNTS[count])).format(kind) + data.draw(st.sampled_from(sizes))
    text = data.draw(st.sampled_from(OPENING_FRAMES)).format(words)
    reading = answered(text)
    want = [{"kind": kind, "count": count, "width": mm(wide), "height": mm(high)}]
    want_reading = {"length": mm(12_000), "height": mm(2700), "openings": want}
    assert faults(reading, want_reading) == [], text


@st.composite
def readings(draw: st.DrawFn) -> Plain:
    """What may be said of one wall, in the order in which it is echoed."""
    reading: Plain = {"length": {"value": draw(LENGTHS) / 1000, "unit": "m"}}
    if draw(st.booleans()):
        reading["height"] = {"value": draw(HEIGHTS) / 1000, "unit": "m"}
    if draw(st.booleans()):
        block: Plain = {"material": draw(st.sampled_from(["aac", "aggregate", "clay_brick"]))}
        if draw(st.booleans()):
            block["strength"] = {"value": draw(st.sampled_from([2.9, 3.6, 7.3, 10.4])), "unit": "N/mm²"}
        if draw(st.booleans()):
            block["thickness"] = mm(draw(st.sampled_from([75, 100, 140, 215])))
        reading["block"] = block
    if draw(st.booleans()):
        end = st.sampled_from(["return", "free"])
        reading["ends"] = [draw(end), draw(end)]
    if draw(st.booleans()):
        reading["place"] = draw(
            st.sampled_from(["internal", "external", "below_dpc", "parapet", "freestanding"])
        )
    if draw(st.booleans()):
        reading["openings"] = [
            {
                "kind": draw(st.sampled_from(["window", "door"])),
                "count": draw(st.integers(1, 3)),
                "width": mm(50 * draw(st.integers(12, 36))),
                "height": mm(50 * draw(st.integers(12, 42))),
            }
        ]
    return reading


@MANY
@given(readings(), st.sampled_from(["How many movement joints? {}", "{}: how many joints?"]))
def test_what_is_echoed_is_read_back(reading: Plain, frame: str) -> None:
    text = frame.format(echo(reading))
    record = turn(State(), text)[1].record
    assert faults(record["in_force"], reading) == [], (text, record["needs"])
