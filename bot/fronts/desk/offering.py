"""A size that was assumed and changes the number is offered once, below the answer, as a setting."""

from typing import Any, NamedTuple

from bot.fronts.desk.buttons import SIZES
from bot.fronts.desk.site import Site
from bot.on_site import at_site, worked_with
from bot.speaking.echo import sides
from bot.speaking.numerals import quantity
from knowledge.answering import answer
from knowledge.answers import Answer
from knowledge.questions import Question, Reading
from knowledge.rulebook import book

Plain = dict[str, Any]


OFFERED = 3
"""Sizes in one row; with the button for another one, four."""


_PARTS = {"block": ("block_length", "block_height"), "board": ("board_width", "board_height")}
"""The sides that are assumed each for itself."""


class Offer(NamedTuple):
    """A size of the site, and what it may be; the first is the one that was assumed."""

    slot: str
    sizes: tuple[Plain, ...]


def told(slot: str) -> str:
    """What the site remembers of an offer that was made."""
    return f"offered {slot}"


def offer(record: Plain, site: Site) -> Offer | None:
    """What to offer under this answer: nothing twice, nothing that the site has set, nothing idle.

    One size is tried, and it is worked once: an answer does not wait for more.
    """
    taken = {entry["slot"] for given in record["answers"] for entry in given["assumed"]}
    for slot in SIZES:
        if slot in site.slots or told(slot) in site.told or taken.isdisjoint((slot, *_PARTS.get(slot, ()))):
            continue
        sizes = sizes_of(record, slot)
        if len(sizes) > 1:
            return Offer(slot, sizes) if _changes(record, slot, sizes[1]) else None
    return None


def sizes_of(record: Plain, slot: str) -> tuple[Plain, ...]:
    """The size that this answer assumed, and the others it is sold in; none where none was assumed."""
    offered = book(record["region"]).region.offered.get(slot, ())
    for given in record["answers"]:
        usual = _assumed(given["assumed"], slot)
        if usual is not None and usual in offered:
            return (usual, *(size for size in offered if size != usual))[:OFFERED]
    return ()


def said(size: Plain) -> str:
    """A size as goods are called: '25 kg', '1 × 50 m', '440 × 215 mm'."""
    return quantity(size) if "unit" in size else sides(list(size.values()))


def _assumed(assumed: list[Plain], slot: str) -> Plain | None:
    found = {entry["slot"]: entry["value"] for entry in assumed if "Set for" not in entry["because"]}
    if slot in found:  # a size may stand in words, where it was put together from several
        return found[slot] if isinstance(found[slot], dict) else None
    parts = {name.rpartition("_")[2]: found.get(name) for name in _PARTS.get(slot, ())}
    return parts if parts and all(parts.values()) else None


def _changes(record: Plain, slot: str, size: Plain) -> bool:
    """Whether what was shown of any answer comes out otherwise with this size."""
    for given in record["answers"]:
        slots = at_site({**record.get("site", {}), slot: size}, given["topic"], worked_with(given))
        reading = Reading.model_validate(slots)
        question = Question(
            topic=given["topic"],
            reading=reading,
            wants=tuple(given["lead"]),
            confirmed=tuple(reading.plain()),
            units=record.get("units"),
        )
        for found in answer(question, book(record["region"])):
            if isinstance(found, Answer) and _counts(found.results) != _counts(given["results"]):
                return True
    return False


def _counts(results: Plain) -> list[Any]:
    """What is bought or counted in whole pieces."""
    return [(name, value) for name, value in sorted(results.items()) if isinstance(value, int)]
