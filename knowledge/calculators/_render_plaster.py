"""Plaster inside: undercoat and finish, or a skim alone; what comes in bags is not reckoned."""

from __future__ import annotations

from knowledge import coats as table
from knowledge import shown
from knowledge.calculators._render_coats import Laid, on_site, thick
from knowledge.ledger import Ledger
from knowledge.mixes import one_mix
from knowledge.questions import Mix


def plaster(ledger: Ledger, wants: set[str]) -> Laid:
    """Mixes and thicknesses in m; the finish comes in bags."""
    reading, said = ledger.reading, ledger.reading.coat_thickness
    rule = ledger.rule("render.plaster", material=_material(ledger))
    flat, top = (ledger.book.seek(f"render.plaster_{name}") for name in ("flatness", "finish"))
    if not wants or wants & {"coats", "thickness"}:
        for other in (*ledger.book.others("render.plaster"), *((flat,) if flat is not None else ())):
            ledger.cite(other)
    mix = reading.mix or _usual(ledger)
    ledger.rule("render.gypsum")
    total = said.to("mm") if said is not None else rule.to("mm")
    if top is None:
        return _cement_plaster(ledger, mix, total)
    ledger.cite(top)
    finish = top.to("mm")
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


def _material(ledger: Ledger) -> str | None:
    block = ledger.reading.block
    return block.material if block is not None else None


def _usual(ledger: Ledger) -> Mix:
    """The mix of the undercoat inside: by its own rule, else the final coat's on a moderate background."""
    rule = ledger.book.seek("render.plaster_mix")
    if rule is not None and rule.mix is not None:
        ledger.cite(rule)
        return one_mix(rule.mix)
    return table.lean_mix(ledger.book, (ledger.book.find("render.usual", kind="moderate").items or ("",))[-1])


def _cement_plaster(ledger: Ledger, mix: Mix, total: float) -> Laid:
    """Cement plaster all through, in as many coats as its thickness asks for."""
    most = ledger.book.seek("render.coat_most")
    coats = 1
    if most is not None:
        ledger.cite(most)
        coats = max(1, shown.whole(total / most.to("mm")))
    each = total / coats
    name = "plaster" if coats == 1 else "coat of plaster"
    ledger.result("coats", [{"name": name, "mix": mix, "thickness": thick(ledger, each)}] * coats)
    ledger.result("thickness", thick(ledger, total))
    on_site(ledger)
    return [(mix, total / 1000)]


def _skim(ledger: Ledger, finish: float) -> Laid:
    """A finish coat alone."""
    ledger.result("coats", [{"name": "finish plaster from the bag", "thickness": thick(ledger, finish)}])
    ledger.result("thickness", thick(ledger, finish))
    ledger.note("A skim comes in bags: no rule here gives their number; the bag says how much it covers.")
    return [(None, finish / 1000)]
