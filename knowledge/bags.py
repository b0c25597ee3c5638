"""What a bag holds: a size that was said is the cement's, unless bags of another stuff were counted."""

from __future__ import annotations

from knowledge.ledger import Ledger


def bag(ledger: Ledger, of: str = "cement") -> float:
    """Kilograms in a bag of cement or lime, as said or by habit, said aloud."""
    reading = ledger.reading
    counted = reading.bags.of if reading.bags is not None else "cement"
    if reading.bag_size is None:
        usual = ledger.book.find("assume.bag_size", kind=of)
        slot = f"{of}_bag_size" if usual.when.kind else "bag_size"
        ledger.assume(slot, {"value": usual.number(), "unit": usual.unit}, usual.statement)
        return usual.to("kg")
    if of == counted or (of == "cement" and counted == "adhesive"):
        return reading.bag_size.to("kg")
    usual = ledger.book.find("assume.bag_size", kind=of)
    if abs(reading.bag_size.to(usual.unit) - usual.number()) > 1e-6:
        ledger.assume(f"{of}_bag_size", {"value": usual.number(), "unit": usual.unit}, usual.statement)
    return usual.to("kg")
