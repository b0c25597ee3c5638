"""A reply as HTML: the stand-in's own reader of the platform's markup is the judge."""

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.speaking.html import BUDGET, LIMIT, WORKING, render
from tests.chat.fake_talk import Line
from tests.standin.markup import plain, units

KINDS = ("danger", "number", "read", "assumed", "rule", "caution", "ask", "note", "care")
letters = st.one_of(
    st.text(max_size=60), st.sampled_from(("<b>", "&lt;", "🧱" * 900, "a" * 5000, "wall " * 900))
)
lines = st.lists(st.builds(Line, kind=st.sampled_from(KINDS), text=letters), max_size=8)


@settings(max_examples=300, deadline=None)
@given(lines)
def test_every_message_is_within_the_limits_and_nothing_is_lost(said: list[Line]) -> None:
    messages = render(said)
    shown = [plain(message) for message in messages]
    assert all(0 < units(text) <= LIMIT for text in shown)
    whole = [x.text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace") for x in said]
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
