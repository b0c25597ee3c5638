"""Which mix for this unit in this place, and a verdict on one that was named."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge.ledger import Ledger
from knowledge.mixes import (
    class_of,
    class_said,
    classes,
    column,
    judge,
    judge_by_lime,
    judge_class,
    one_mix,
    rank,
)  # fmt: skip
from knowledge.questions import Mix
from knowledge.records import Parts


@dataclass(frozen=True)
class Side:
    """One leaf: its unit and where it stands."""

    material: str
    place: str
    strength: float | None = None
    severe: bool = False


@dataclass(frozen=True)
class Choice:
    """What is laid there: the mix, its class, and what the asker's own mix is worth."""

    side: Side
    mix: Mix
    name: str
    normal: str
    proposed: Mix
    other: Mix
    verdict: str | None = None


def sides(ledger: Ledger) -> list[Side]:
    """The leaf asked about; of a cavity wall the inner and the outer one, the one that was named first."""
    reading = ledger.reading
    said = reading.block.material if reading.block else None
    material = said or str(ledger.taken("material").choice)
    strong = reading.block.strength.to("N/mm²") if reading.block and reading.block.strength else None
    severe = bool(reading.severe)
    protected = reading.leaf == "inner" and reading.place in (None, "external")
    if reading.leaf == "cavity":
        place = reading.place or _usual_place(ledger)
        other = "aac" if material == "clay_brick" else "clay_brick"
        two = ledger.rule("mortar.two_mixes")
        ledger.assume("outer_leaf" if other == "clay_brick" else "inner_leaf", other, two.statement)
        inner_place = "internal" if place == "external" else place
        first = Side(material, place if material == "clay_brick" else inner_place, strong, severe)
        second = Side(other, place if other == "clay_brick" else inner_place, None, severe)
        return [first, second]
    if protected:
        ledger.assume("place", "internal", "An inner leaf is protected from the weather.")
        return [Side(material, "internal", strong, severe)]
    place = reading.place or _usual_place(ledger)
    return [Side(material, place, strong, severe)]


def _usual_place(ledger: Ledger) -> str:
    return str(ledger.taken("place", use="mortar", severe=ledger.reading.severe or None).choice)


def usually(ledger: Ledger) -> str:
    """The column that is laid by habit: "lime", or "plain" where mortar is mostly cement and sand."""
    habit = ledger.book.seek("mortar.usual")
    if habit is None:
        return "lime"
    ledger.cite(habit)
    return str(habit.choice)


def band(ledger: Ledger, name: str, use: str, side: Side, *, cite: bool = True) -> Parts:
    """The table's span of one class in one column, on this unit in this place."""
    facts = {"kind": name, "material": side.material, "place": side.place}
    book, other = ledger.book, "plain" if use == "lime" else "lime"
    found = book.seek("mortar.mix", use=use, **facts) or book.find("mortar.mix", use=other, **facts)
    if cite:
        ledger.cite(found)
    assert found.mix is not None
    return found.mix


def propose(ledger: Ledger, name: str, use: str, side: Side) -> Mix:
    """One mix of a class: what a document names for this unit, else the lean end of the span."""
    parts = band(ledger, name, use, side)
    if ledger.book.seek("mortar.mix", kind=name, use=use, material=side.material, place=side.place) is None:
        use = "plain" if use == "lime" else "lime"  # the region has only the other column
    named = ledger.book.seek("mortar.propose", kind=name, use=use, material=side.material)
    if named is not None and named.mix is not None:
        ledger.cite(named)
        return one_mix(named.mix)
    if parts.sand[0] != parts.sand[1]:
        ledger.rule("mortar.lean_end")
    return one_mix(parts)


def choose(ledger: Ledger, side: Side, mix: Mix | None, named_class: str | None) -> Choice:
    """The mix for one leaf, and the verdict where the asker named a mix or a class."""
    kind = None
    bound = ledger.book.seek("mortar.engineering") if side.material == "clay_brick" else None
    if bound is not None and side.strength is not None and side.strength >= (bound.min or 0):
        ledger.cite(bound)
        kind = "engineering"
    facts = {
        "material": side.material, "place": side.place, "strength": side.strength,
        "severe": side.severe or None, "kind": kind,
    }  # fmt: skip
    suits = ledger.rule("mortar.suits", **facts)
    for other_document in ledger.book.others("mortar.suits", **facts) if kind is None else ():
        ledger.cite(other_document)
        ledger.note(other_document.statement)
    allowed = suits.items or ()
    normal = allowed[0]
    order = classes(ledger.book)
    from_weakest = sorted(allowed, key=lambda name: rank(name, order))
    strongest, weakest = from_weakest[-1], from_weakest[0]
    limed, plain = propose(ledger, normal, "lime", side), propose(ledger, normal, "plain", side)
    without = ledger.reading.plasticiser or (mix is not None and mix.cement > 0 and mix.lime == 0)
    if mix is None and not without:
        without = usually(ledger) == "plain"
    proposed, other = (plain, limed) if without else (limed, plain)
    if mix is not None:
        use = column(mix)
        name = class_of(mix, ledger.book)
        by_lime = ledger.book.seek("mortar.lime_counts")
        ends = [
            (each, band(ledger, each, use, side, cite=False)) for each in (strongest, weakest)
        ]  # fmt: skip
        if by_lime is not None:
            ledger.cite(by_lime)
            ledger.rule("mortar.sand_to_binder")
            verdict = judge_by_lime(mix, name, strongest, weakest, order, ledger.book)
        else:
            verdict = judge(mix, name, ends[0], ends[1], order)
        if verdict == "suitable":
            return Choice(side, mix, name or normal, normal, proposed, other, verdict)
        return Choice(side, proposed, normal, normal, proposed, other, verdict)
    if named_class is not None:
        verdict = judge_class(named_class, strongest, weakest, order)
        if verdict == "suitable" and named_class in order:
            use = "plain" if ledger.reading.plasticiser else usually(ledger)
            laid = propose(ledger, named_class, use, side)
            return Choice(side, laid, named_class, normal, proposed, other, verdict)
        return Choice(side, proposed, normal, normal, proposed, other, verdict)
    return Choice(side, proposed, normal, normal, proposed, other)


def named(ledger: Ledger) -> tuple[Mix | None, str | None]:
    """The mix or the class that the asker named; a type is read as its mix."""
    reading = ledger.reading
    if reading.mix is not None:
        return reading.mix, None
    if reading.mortar_class is None:
        return None, None
    known = class_said(reading.mortar_class, ledger.book)
    if known is not None:
        return None, known
    typed = ledger.book.seek("mortar.type", kind=reading.mortar_class.upper().replace("TYPE", "").strip())
    if typed is None or typed.mix is None:
        return None, None
    ledger.cite(typed)
    return one_mix(typed.mix), None
