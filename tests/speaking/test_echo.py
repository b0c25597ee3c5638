"""What is said back of a reading: in one order, one thing in the singular, each sentence with its wall."""

from bot.speaking.echo import echo, slot_text
from bot.talk import State, turn


def metres(value: float) -> dict[str, object]:
    """A length."""
    return {"value": value, "unit": "m"}


def test_the_order_is_that_of_the_slots() -> None:
    said = {"thickness": {"value": 140, "unit": "mm"}, "height": metres(2.6), "length": metres(7.2)}
    assert echo(said) == "length 7.2 m, height 2.6 m, thickness 140 mm"
    assert slot_text("roll", {"length": metres(25), "width": metres(1)}) == "roll 1 × 25 m"


def test_one_is_said_as_one() -> None:
    assert echo({"joint_count": 1}) == "1 joint"
    assert echo({"courses": 1}) == "1 course"
    assert echo({"joint_count": 2, "pack_size": 72}) == "2 joints, 72 to a pack"


def test_a_sentence_that_is_not_of_every_wall_names_its_wall() -> None:
    """One wall of whole courses by 225 mm, one that is none (2.25 m is ten, 2.4 m is none)."""
    reply = turn(State(), "blocks for two walls, A 10 x 2.25 and B 6 m x 2.4")[1]
    notes = [line.text for line in reply.lines if line.kind == "note"]
    assert next(text for text in notes if "2.4 m is no whole number" in text).startswith("Wall B: ")
    alike = turn(State(), "blocks for two walls, A 10 x 2.4 and B 6 m x 2.4")[1]
    notes = [line.text for line in alike.lines if line.kind == "note"]
    assert next(text for text in notes if "2.4 m is no whole number" in text).startswith("2.4 m is no")


def test_a_number_set_aside_is_not_explained_by_itself() -> None:
    texts = [line.text for line in turn(State(), "30 long 8 high joints")[1].lines]
    assert [text for text in texts if text == "Not used: '30'."]
    assert not [text for text in texts if "(not used)" in text]
