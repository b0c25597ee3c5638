"""A reply as HTML: the stand-in's own reader of the platform's markup is the judge."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.fronts.desk.moment import FACT
from bot.fronts.telegram_answer import words
from bot.speaking.html import BUDGET, LIMIT, WORKING, cut, escape, pages, render
from bot.speaking.say import phrases
from tests.chat.fake_talk import Line
from tests.standin.markup import plain, units

KINDS = ("danger", "number", "read", "assumed", "rule", "caution", "ask", "note", "care")
letters = st.one_of(
    st.text(max_size=60), st.sampled_from(("<b>", "&lt;", "🧱" * 900, "a" * 5000, "wall " * 900))
)
lines = st.lists(st.builds(Line, kind=st.sampled_from(KINDS), text=letters), max_size=8)


def sound(text: str) -> str:
    """A text as a message may carry it: no half characters, no NUL."""
    return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace").replace("\0", "\ufffd")


@settings(max_examples=300, deadline=None)
@given(lines)
def test_every_message_is_within_the_limits_and_nothing_is_lost(said: list[Line]) -> None:
    messages = render(said)
    shown = [plain(message) for message in messages]
    assert all(0 < units(text) <= LIMIT for text in shown)
    whole = [sound(x.text) for x in said]
    assert sorted("".join("".join(shown).split())) == sorted("".join("".join(whole).split()))


def test_the_number_stands_first_and_the_question_last_by_its_buttons() -> None:
    said = [Line(kind=kind, text=f"this is {kind}") for kind in sorted((*KINDS, "working", "further"))]
    (message,) = render(said)
    order = [line.removeprefix("this is ") for line in plain(message).split("\n")]
    assert order == [
        *("danger", "number", "read", "assumed", "caution", "rule", "note", "care", "working", "ask"),
    ]
    assert message.startswith("<b>this is danger</b>\n<b>this is number</b>\nthis is read\n")


def test_beyond_the_budget_notes_and_rules_fold_away_but_never_cautions() -> None:
    said = [Line(kind="number", text="3 joints"), Line(kind="caution", text="c" * 900)]
    said += [Line(kind="rule", text="r" * 500), Line(kind="note", text="n" * 500)]
    (message,) = render(said)
    open_part, _, folded = message.partition("<blockquote expandable>")
    assert units(plain(open_part)) <= BUDGET
    assert "c" * 900 in open_part
    assert "n" * 500 in folded


def test_a_long_reply_is_cut_where_a_block_ends() -> None:
    said = [Line(kind="read", text="a" * 3000), Line(kind="caution", text="b" * 3000)]
    assert [plain(message) for message in render(said)] == ["a" * 3000, "b" * 3000]


def test_a_long_working_ends_at_a_whole_line_and_says_that_there_is_more() -> None:
    steps = [f"step {number}: 2 × {number} = {2 * number}" for number in range(60)]
    said = [Line(kind="care", text="c" * 900), Line(kind="working", text="\n".join(steps))]
    (message,) = render(said)
    care, *shown, last = plain(message).split("\n")
    assert care == "c" * 900
    assert shown == steps[: len(shown)]
    assert WORKING - 30 < units("\n".join(shown)) < WORKING
    assert last == "…"
    (short,) = render([Line(kind="working", text="\n".join(steps[:5]))])
    assert plain(short).split("\n") == steps[:5]


@settings(max_examples=200, deadline=None)
@given(st.lists(st.tuples(st.booleans(), letters), max_size=8))
def test_plain_blocks_keep_to_the_limits_too(blocks: list[tuple[bool, str]]) -> None:
    shown = [plain(message) for message in pages(blocks)]
    assert all(0 < units(text) <= LIMIT for text in shown)
    whole = [sound(text) for _, text in blocks]
    assert "".join("".join(shown).split()) == "".join("".join(whole).split())


def test_each_kind_of_line_says_what_it_is_where_nobody_sees_bold() -> None:
    """A screen reader reads the text alone: a caution and a rule are told apart by a word."""
    kinds = ("danger", "number", "caution", "rule", "care")
    (message,) = render([Line(kind=kind, text=f"{kind} <b>") for kind in kinds], phrases("en")["mark"])
    assert plain(message).split("\n") == [
        "First: danger <b>",
        "number <b>",
        "Caution: caution <b>",
        "Rule: rule <b>",
        "More cautions: care <b>",
    ]


@given(st.text(max_size=80), st.integers(2, 40))
def test_what_is_cut_is_whole_characters_within_its_room(text: str, most: int) -> None:
    short = cut(text, most)
    assert units(short) <= most
    assert short.encode("utf-16-le").decode("utf-16-le") == short
    assert short == sound(text) or short[-1] == "…"


TEXTS = {name: text for name, text in words().items() if name != "examples"}
OVER_A_PRESS = ("stale_press", "foreign_press", "wall_gone", "admins_only", "admins_unknown", "trouble")
SCREEN, EMOJI = 34, re.compile("[\u2190-\u21ff\u2600-\u27bf\U0001f000-\U0001faff]")


@pytest.mark.parametrize("name", TEXTS)
@pytest.mark.parametrize("fact", ["<b>&</i>", "🧱" * 3000, "a" * 9000, "{x}\n\n<code>"])
def test_every_text_of_ours_is_sound_with_anything_in_it(name: str, fact: str) -> None:
    """Bot API: at most 4096 units and no unclosed markup; the stand-in's reader raises on what is unsound."""
    places = set(re.findall(r"\{(\w+)\}", TEXTS[name]))
    told = (
        TEXTS[name].format(**{place: escape(cut(fact, FACT)) for place in places}) if places else TEXTS[name]
    )
    assert 0 < units(plain(told)) <= LIMIT
    assert not EMOJI.search(TEXTS[name]), "a sign in place of a word says nothing to who hears it"


@pytest.mark.parametrize("name", OVER_A_PRESS)
def test_what_stands_over_a_press_fits_there(name: str) -> None:
    """Bot API, answerCallbackQuery: 0-200 characters, and no markup."""
    assert units(TEXTS[name]) <= 200
    assert "<" not in TEXTS[name]


@pytest.mark.parametrize(
    "label", [TEXTS[n] for n in TEXTS if n.startswith("button_")] + words()["examples"].split("\n")
)
def test_labels_stand_whole_on_a_narrow_phone(label: str) -> None:
    assert len(label) <= SCREEN
