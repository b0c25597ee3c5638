"""Plaster inside: undercoat and finish, or a skim alone; what comes in bags is not reckoned."""

from __future__ import annotations

from knowledge import coats as table
from knowledge.calculators._render_coats import Laid, thick
from knowledge.ledger import Ledger


def plaster(ledger: Ledger, wants: set[str]) -> Laid:
    """Mixes and thicknesses in m; the finish comes in bags."""
    reading, said = ledger.reading, ledger.reading.coat_thickness
    rule = ledger.rule("render.plaster")
    finish = ledger.rule("render.plaster_finish").number()
    if not wants or wants & {"coats", "thickness"}:
        for other in (*ledger.book.others("render.plaster"), ledger.book.find("render.plaster_flatness")):
            ledger.cite(other)
    mix = reading.mix or table.lean_mix(ledger.book, "iii")
    ledger.rule("render.gypsum")
    total = said.to("mm") if said is not None else rule.number()
    if reading.mix is not None and said is not None:
        ledger.result("coats", [{"name": "plaster", "mix": mix, "thickness": thick(ledger, total)}])
        ledger.result("thickness", thick(ledger, total))
        return [(mix, total / 1000)]
    if "skim" in wants or total <= 2 * finish:
        return _skim(ledger, total if said is not None else finish)
    ledger.result("coats", [
        {"name": "undercoat", "mix": mix, "thickness": thick(ledger, total - finish)},
        {"name": "finish plaster from the bag", "thickness": thick(ledger, finish)},
    ])  # fmt: skip
    ledger.result("thickness", thick(ledger, total))
    ledger.note(
        "Thicknesses inside are from memory. Bagged plaster covers what its bag says; cement and sand are "
        "for the undercoat only."
    )
    return [(mix, (total - finish) / 1000), (None, finish / 1000)]


def _skim(ledger: Ledger, finish: float) -> Laid:
    """A finish coat alone."""
    ledger.result("coats", [{"name": "finish plaster from the bag", "thickness": thick(ledger, finish)}])
    ledger.result("thickness", thick(ledger, finish))
    ledger.note("A skim comes in bags: no rule here gives their number; the bag says how much it covers.")
    return [(None, finish / 1000)]
