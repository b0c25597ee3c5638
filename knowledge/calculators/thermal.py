"""R and U value of a wall of known layers after EN ISO 6946. Figures only, never whether they comply."""

from __future__ import annotations

from knowledge import heat
from knowledge.answers import Finding, quantity
from knowledge.calculators._thermal_layers import resistances, told
from knowledge.ledger import Ledger
from knowledge.questions import Question
from knowledge.rulebook import RuleBook

_R, _U = "m²·K/W", "W/m²·K"


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """The sum over the layers, or what is missing for it."""
    ledger = Ledger(question, book)
    if question.wants == ("surface_resistance",):
        _surfaces(ledger)
        ledger.caution("thermal.caution.not_covered")
        return [ledger.answer("surface_resistance")]
    layers = told(ledger)
    if not isinstance(layers, list):
        return [layers]
    parts = resistances(ledger, layers)
    if not isinstance(parts, list):
        return [parts]
    inside = ledger.rule("thermal.surface_inside").number()
    indoors = question.reading.place == "internal"
    if indoors:
        ledger.rule("thermal.partition")
    outside = inside if indoors else ledger.rule("thermal.surface_outside").number()
    sums = heat.combined(parts, inside, outside)
    bridged = any(len(part) > 1 for part in parts)
    most = ledger.book.find("thermal.ratio_most")
    if bridged and sums.upper / sums.lower > most.number():
        ledger.cite(most)
        return [ledger.decline(f"{most.statement} This wall is: it wants a detailed calculation.")]
    _say(ledger, sums, bridged, inside + outside)
    return [ledger.answer("u_value", "r_value")]


def _say(ledger: Ledger, sums: heat.Sums, bridged: bool, surfaces: float) -> None:
    ledger.step("both surfaces", "inside + outside", round(surfaces, 4))
    ledger.rule("thermal.layers")
    if bridged:
        ledger.rule("thermal.combined")
        ledger.rule("thermal.metal")
        ledger.result("r_upper", quantity(sums.upper, _R, 4))
        ledger.result("r_lower", quantity(sums.lower, _R, 4))
        ledger.step(
            "R, upper and lower", "paths side by side; layer by layer", f"{sums.upper:.3f}; {sums.lower:.3f}"
        )
        ledger.step("R", f"({sums.upper:.3f} + {sums.lower:.3f}) ÷ 2", quantity(sums.total, _R, 4))
    else:
        ledger.step("R", "all layers and both surfaces", quantity(sums.total, _R, 4))
    ledger.result("r_value", quantity(sums.total, _R, 4))
    ledger.result("u_value", quantity(sums.u, _U, 4))
    ledger.step("U", f"1 ÷ {sums.total:.3f}", quantity(sums.u, _U, 4))
    ledger.note(
        "A figure of the plain wall, not a word on regulations: building control names the value to reach."
    )
    ledger.caution("thermal.caution.not_covered")
    ledger.caution("thermal.caution.damp")


def _surfaces(ledger: Ledger) -> None:
    """Surface resistances, every direction of the heat."""
    rule = ledger.rule("thermal.surface_inside")
    ledger.result("surface_resistance", quantity(rule.number(), _R))
    for other in ledger.book.others("thermal.surface_inside"):
        ledger.cite(other)
    ledger.rule("thermal.surface_outside")
    for other in ledger.book.others("thermal.surface_outside"):
        ledger.cite(other)
