"""The table of classes by itself: the mix of a class, the class of a mix."""

from __future__ import annotations

from knowledge.ledger import Ledger
from knowledge.mixes import class_of, classes, column, one_mix, sand_to_cement
from knowledge.questions import Mix, Question


def about_the_table(question: Question) -> bool:
    """Asked for the mix of a class or the class of a mix, with no unit or place said."""
    reading, wants = question.reading, set(question.wants)
    measured = reading.area or reading.length or reading.block_count or reading.mortar_volume
    if measured or reading.bags or reading.buckets:
        return False
    if reading.block or reading.place or reading.leaf or reading.severe or "verdict" in wants:
        return False
    only_class = reading.mix is not None and wants == {"mortar_class"}
    return only_class or (reading.mortar_class is not None and reading.mix is None and wants <= {"mix"})


def from_the_table(ledger: Ledger, said: Mix | None, said_class: str | None) -> None:
    book, use = ledger.book, "plain" if ledger.reading.plasticiser else "lime"
    name = said_class if said is None else class_of(said, book)
    if said is not None:
        ledger.result("mix", said)
        use = "lime" if said.lime else "plain"
    record = book.seek("mortar.mix", kind=name, use=use) if name else None
    if record is None or record.mix is None or name is None:
        _outside(ledger, said, name)
        return
    ledger.cite(record)
    if said is None:
        named = book.seek("mortar.propose", kind=name, use=use)
        if named is not None:
            ledger.cite(named)
        ledger.result(
            "mix", one_mix(named.mix if named is not None and named.mix is not None else record.mix)
        )
    ledger.result("mortar_class", name)
    designation = book.seek("mortar.designation", kind=name)
    if designation is not None:
        ledger.cite(designation)
        ledger.result("designation", designation.choice)


def _outside(ledger: Ledger, said: Mix | None, name: str | None) -> None:
    """A class or mix that the table does not hold: say so, and between which classes a mix lies."""
    ledger.note("That is not in the table of classes used here.")
    ledger.result("in_table", False)
    if name is not None:
        ledger.result("mortar_class", name)
    by_lime = ledger.book.seek("mortar.lime_counts")
    if by_lime is not None:
        ledger.cite(by_lime)
        ledger.note(by_lime.statement)
        ledger.note(ledger.rule("mortar.sand_to_binder").statement)
        return
    use = column(said) if said is not None else "lime"
    near: list[str] = []
    for each in classes(ledger.book):
        record = ledger.book.seek("mortar.mix", kind=each, use=use)
        if record is None:
            continue
        ledger.cite(record)
        band = record.mix
        if band is not None and said is not None and band.sand[1] < sand_to_cement(said):
            near = [each]
        elif band is not None and said is not None and band.sand[0] > sand_to_cement(said):
            near.append(each)
            break
    if near:
        ledger.result("near_classes", near)
        ledger.note("It lies by " + " and ".join(near) + ".")
