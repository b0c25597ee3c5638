"""The sheet: two pages, every number of the answer on it, every rule with its source, the font inside."""

from __future__ import annotations

import re
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from bot.speaking.drawing import NoDrawing
from bot.speaking.numerals import number, tidy
from bot.speaking.rounding import sized
from bot.speaking.setting import FOOT, MARGIN, WIDTH, Block, Setter, broken
from bot.speaking.sheet import lay, sheet
from bot.speaking.strokes import Text
from bot.speaking.whole import checks, orders, taken
from knowledge.answers import Answer
from knowledge.questions import Question
from tests.speaking.walls import ALL, RENDERED, m, whole

RECORD: dict[str, Any] = {"language": "en"}


def read(question: Question, found: Answer) -> tuple[PdfReader, str]:
    """The PDF and its words, as another program reads them."""
    reader = PdfReader(BytesIO(sheet(RECORD, question, found)))
    return reader, flat(" ".join(page.extract_text() for page in reader.pages))


def flat(text: str) -> str:
    """Words without their line breaks."""
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize("name", ALL)
def test_one_or_two_pages_of_a4(name: str) -> None:
    """ISO 216: A4 is 210 × 297 mm, 595 × 842 points of 1/72 in."""
    reader, _ = read(*whole(ALL[name]))
    assert 1 <= len(reader.pages) <= 2
    for page in reader.pages:
        assert [float(side) for side in page.mediabox[2:]] == pytest.approx(
            [210 / 25.4 * 72, 297 / 25.4 * 72], abs=1
        )


@pytest.mark.parametrize("name", ALL)
def test_orders_are_on_it_with_the_exact_figure(name: str) -> None:
    question, found = whole(ALL[name])
    _, words = read(question, found)
    for row in tidy(found.results["materials"]):
        exact = row["exact"]
        shown = number(exact) if isinstance(exact, (int, float)) else sized(exact, "up")
        unit = row["unit"] if row["order"] != 1 else ""
        assert flat(row["item"] + number(row["order"]) + unit) in words
        assert flat(shown + row["of"]) in words


@pytest.mark.parametrize("name", ALL)
def test_joints_are_on_it(name: str) -> None:
    question, found = whole(ALL[name])
    _, words = read(question, found)
    joints = found.results["joints"]
    for place in joints.get("joint_positions", ()):
        assert flat(sized(tidy(place)).removesuffix(" m")) in words
    count = joints["joint_count"]
    assert (
        flat({0: "no movement joint needed", 1: "1 movement joint"}.get(count, f"{count} movement joints"))
        in words
    )


@pytest.mark.parametrize("name", ALL)
def test_cautions_ticks_and_assumptions_are_on_it(name: str) -> None:
    question, found = whole(ALL[name])
    _, words = read(question, found)
    for caution in found.cautions:
        assert flat(caution) in words
    for note in found.notes:
        assert flat(note) in words
    for entry in found.results["checklist"]:
        assert flat(entry["check"]) in words
    for entry in found.assumed:
        assert flat(entry.because) in words
    for measure in found.results["safety"]["measures"]:
        assert flat(measure) in words


@pytest.mark.parametrize("name", ALL)
def test_every_rule_and_source_is_on_it(name: str) -> None:
    question, found = whole(ALL[name])
    _, words = read(question, found)
    for rule in found.rules:
        assert flat(rule.statement.rstrip(".")) in words
        if rule.standing == "published":
            assert flat(rule.source) in words
            assert flat(rule.clause) in words


def test_memory_is_called_memory() -> None:
    """What was not verified never stands on paper as if it were."""
    question, found = whole(RENDERED)
    _, words = read(question, found)
    unsure = [
        rule for rule in found.rules if rule.standing == "from memory" and rule.source.startswith("believed")
    ]
    assert unsure
    for rule in unsure:
        assert flat(rule.source) in words
        assert rule.source.endswith("not verified")


def test_font_is_inside() -> None:
    reader, _ = read(*whole(RENDERED))
    fonts = [font.get_object() for page in reader.pages for font in page["/Resources"]["/Font"].values()]
    embedded = [
        f for f in fonts if "/FontDescriptor" in f and "/FontFile2" in f["/FontDescriptor"].get_object()
    ]
    names = {str(f["/BaseFont"]) for f in embedded}
    assert any("SourceSansPro" in name for name in names)
    assert {str(f["/BaseFont"]) for f in fonts} - names <= {"/Helvetica"}  # the library's own, unused


def test_same_answer_same_bytes() -> None:
    question, found = whole(RENDERED)
    assert sheet(RECORD, question, found) == sheet(RECORD, question, found)


@pytest.mark.parametrize("name", ALL)
def test_nothing_stands_outside_its_page(name: str) -> None:
    question, found = whole(ALL[name])
    for size in (8.8, 6.2):
        for page in lay(RECORD, question, found, size):
            for text in (stroke for stroke in page.strokes if isinstance(stroke, Text)):
                if text.upright:
                    continue
                back = {"left": 0.0, "middle": text.length / 2, "right": text.length}[text.anchor]
                assert text.at[0] - back >= MARGIN - 2, text.words
                assert text.at[0] - back + text.length <= WIDTH - MARGIN + 2, text.words
                assert text.at[1] <= FOOT + 20


def test_a_topic_alone_makes_a_sheet() -> None:
    question, found = whole({"length": m(10), "height": m(2.4), "openings": []}, topic="joints")
    reader, words = read(question, found)
    assert len(reader.pages) == 1
    assert flat("2 movement joints") in words


def test_no_length_no_sheet() -> None:
    question, found = whole({"area": {"value": 20, "unit": "m²"}}, topic="blocks")
    with pytest.raises(NoDrawing):
        sheet(RECORD, question, found)


def test_lines_are_broken_at_words_and_lose_none() -> None:
    words = "Every word of this sentence stands on one line or another."
    lines = broken(words, 8, 80)
    assert " ".join(lines) == words
    assert len(lines) > 2


def test_columns_are_even_and_lose_nothing() -> None:
    setter = Setter(8)
    blocks = [Block(f"Block {n} has some words in it, more or less.") for n in range(31)]
    setter.columns(blocks)
    said = [stroke.words for stroke in setter.page.strokes if isinstance(stroke, Text)]
    assert [words for words in said if words.startswith("Block ")] == [block.words for block in blocks]
    left = [s for s in setter.page.strokes if isinstance(s, Text) and s.at[0] < WIDTH / 2]
    assert abs(len(left) - len(said) / 2) <= 2


def test_one_of_a_thing_is_said_in_the_singular() -> None:
    rows = [{"item": "Mesh", "order": 1, "unit": "rolls", "exact": 1, "of": "x"},
            {"item": "Sand", "order": 1, "unit": "bulk bags of 800 kg", "exact": 1, "of": "x"},
            {"item": "Cement", "order": 2, "unit": "bags of 25 kg", "exact": 1, "of": "x"}]  # fmt: skip
    assert [row[1] for row in orders({"materials": rows})] == [
        "1 roll",
        "1 bulk bag of 800 kg",
        "2 bags of 25 kg",
    ]


def test_ticks_stand_under_their_trade() -> None:
    _, found = whole(RENDERED)
    listed = dict(checks(tidy(found.results)))
    assert "Movement joints" in listed
    assert sum(map(len, listed.values())) == len(found.results["checklist"])


def test_what_was_taken_is_said_with_its_reason() -> None:
    _, found = whole(RENDERED)
    said = dict(taken(tidy([entry._asdict() for entry in found.assumed])))
    assert said["bag size 25 kg"].startswith("Cement and lime")
