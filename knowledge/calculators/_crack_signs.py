"""What is known of a crack: its width in mm, its damage categories, where it is, and its dangers."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge.ledger import Ledger
from knowledge.questions import Quantity
from knowledge.records import Rule

# Where a crack is said to be, the gravest first.
_PLACES: dict[str, tuple[str, ...]] = {
    "bearing": ("bearing", "beam", "padstone", "pad stone", "lintel", "steel", "joist", "rsj"),
    "retaining": ("retaining", "basement", "cellar"),
    "joint": ("movement joint", "expansion joint", "control joint", "mj"),
    "opening": ("window", "door", "opening", "reveal", "cill", "sill"),
    "corner": ("corner", "quoin"),
    "junction": ("junction", "meets", "meet ", "abut", "frame", "column", "extension"),
    "ceiling": ("ceiling", "skirting", "coving", "cornice", "floor"),
    "garage": ("garage",),
    "coat": ("plaster", "render", "skim", "coat", "paint"),
}
_LEANS = ("lean", "bulg", "bow", "tilt", "belly", "out of plumb", "overhang")
_DROPS = ("dropped", "dropping", "slipped", "loss of bearing", "lost bearing", "lost its bearing", "sagging")


@dataclass(frozen=True)
class Signs:
    """`low` and `high` are the categories that the width allows; None without a width."""

    width: float | None = None
    low: int | None = None
    high: int | None = None
    pattern: str | None = None
    places: tuple[str, ...] = ()
    growing: bool = False
    leaning: bool = False
    dropped: bool = False

    @property
    def place(self) -> str | None:
        """The gravest of its places."""
        return self.places[0] if self.places else None


def nothing_said(ledger: Ledger) -> bool:
    """Whether neither the crack nor the coat that it is in was told of."""
    crack = ledger.reading.crack
    return (crack is None or not crack.plain()) and ledger.reading.finish not in ("render", "plaster")


def read(ledger: Ledger) -> Signs:
    """The signs of the crack in question; cites the categories."""
    crack = ledger.reading.crack
    finish = ledger.reading.finish
    where = (crack.where or "").lower() if crack else ""
    places = [name for name, words in _PLACES.items() if any(word in where for word in words)]
    if finish in ("render", "plaster") and "coat" not in places:
        places.append("coat")
    if crack is None:
        return Signs(places=tuple(places))
    low, high = _categories(ledger, crack.width, crack.count or 1)
    return Signs(
        width=crack.width.to("mm") if crack.width else None, low=low, high=high, pattern=crack.pattern,
        places=tuple(places), growing=bool(crack.growing),
        leaning=bool(crack.leaning) or any(word in where for word in _LEANS),
        dropped=any(word in where for word in _DROPS),
    )  # fmt: skip


def _categories(ledger: Ledger, said: Quantity | None, count: int) -> tuple[int | None, int | None]:
    """Least and most category of a width: one, two on an edge, more where only a bound was said."""
    if said is None:
        return None, None
    width = round(said.to("mm"), 6)
    bands = sorted(ledger.book.records("crack.category"), key=Rule.number)
    held = [rule for rule in bands if rule.when.width is not None and rule.when.width.holds(width)]
    if said.bound == "over":
        held = [*held[-1:], *(rule for rule in bands if rule.number() > held[-1].number())]
    elif said.bound == "under":
        held = [*(rule for rule in bands if rule.number() < held[0].number()), held[0]]
    elif len(held) > 1:
        ledger.rule("crack.edge")
    several = ledger.book.find("crack.several")
    many = ledger.book.find("crack.several.count")
    grade = ledger.book.find("crack.engineer.moderate").number()
    moderate = next(rule for rule in bands if rule.number() == grade)
    low, high = int(held[0].number()), int(held[-1].number())
    if count >= many.number() and width >= several.number() and low < moderate.number():
        ledger.cite(several)
        ledger.cite(many)
        low, high = int(moderate.number()), max(high, int(moderate.number()))
        held = [moderate, *(rule for rule in held if rule.number() > moderate.number())]
    for rule in (held[0], held[-1]):
        ledger.cite(rule)
    return low, high
