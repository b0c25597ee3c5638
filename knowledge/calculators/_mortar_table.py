"""The table of classes by itself: the mix of a class, the class of a mix."""

from __future__ import annotations

from knowledge.calculators._mortar_mix import ORDER
from knowledge.ledger import Ledger
from knowledge.mixes import class_of, one_mix
from knowledge.questions import Mix, Question


def about_the_table(question: Question) -> bool:
    """Asked for the mix of a class or the class of a mix, with no unit or place said."""
    reading, wants = question.reading, set(question.wants)
    if reading.block or reading.place or reading.leaf or reading.severe or "verdict" in wants:
        return False
    only_class = reading.mix is not None and wants == {"mortar_class"}
    return only_class or (reading.mortar_class is not None and reading.mix is None and wants <= {"mix"})


def from_the_table(ledger: Ledger, said: Mix | None, said_class: str | None) -> None:
    book, use = ledger.book, "plain" if ledger.reading.plasticiser else "lime"
    name = said_class if said is None else class_of(said, book, ORDER)
    if said is not None:
        ledger.result("mix", said)
        use = "lime" if said.lime else "plain"
    record = book.seek("mortar.mix", kind=name, use=use) if name else None
    if record is None or record.mix is None or name is None:
        ledger.note("That is not in the table of classes used here: it lies between two of them or outside.")
        if name:
            ledger.result("mortar_class", name)
        ledger.results.setdefault("in_table", False)
        ledger.cite(book.find("mortar.mix", kind="M4", use=use))
        return
    ledger.cite(record)
    if said is None:
        ledger.result("mix", one_mix(record.mix))
    ledger.result("mortar_class", name)
    designation = book.seek("mortar.designation", kind=name)
    if designation is not None:
        ledger.cite(designation)
        ledger.result("designation", designation.choice)
