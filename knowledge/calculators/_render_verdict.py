"""Whether a named mix or class suits the wall, by the table of backgrounds and coats."""

from __future__ import annotations

from knowledge import coats as table
from knowledge.calculators._render_coats import Job
from knowledge.ledger import Ledger
from knowledge.mixes import class_said, column, spell
from knowledge.questions import Mix


def judge(ledger: Ledger, job: Job) -> None:
    """`verdict` for the mix or class in the reading; nothing where none was named."""
    reading = ledger.reading
    if reading.mix is not None:
        _mix(ledger, job, reading.mix)
    elif reading.mortar_class is not None:
        _named(ledger, job, " ".join(reading.mortar_class.upper().split()))


def _mix(ledger: Ledger, job: Job, mix: Mix) -> None:
    under, final = _allowed(ledger, job)
    first, last = (table.judge(ledger.book, mix, coat) for coat in (under, final))
    _say(ledger, (first, last), (under, final), column(mix))
    if mix.lime == 0 and ledger.results["verdict"] == "suitable" and not ledger.reading.plasticiser:
        ledger.note("Without lime it wants a mortar plasticiser.")


def _named(ledger: Ledger, job: Job, written: str) -> None:
    """A factory class CS I to IV, or a mortar class of the table."""
    book = ledger.book
    classes = book.seek("render.strength_class", kind=job.background)
    if written.startswith("CS") and classes is not None:
        ledger.cite(classes)
        ledger.result("verdict", "suitable" if written in (classes.items or ()) else "too strong")
        return
    name = table.named_designation(book, class_said(written, book) or "")
    if name is None:
        ledger.note(f"{written} is no class of the table used here.")
        return
    under, final = _allowed(ledger, job)
    first, last = (table.judge_name(book, name, coat) for coat in (under, final))
    _say(ledger, (first, last), (under, final), "lime")


def _allowed(ledger: Ledger, job: Job) -> tuple[tuple[str, ...], tuple[str, ...]]:
    rule = ledger.rule("render.table", kind=job.background)
    assert rule.table is not None
    return table.allowed(rule.table, job.background, job.severe)


def _say(
    ledger: Ledger, verdicts: tuple[str, str], coats: tuple[tuple[str, ...], tuple[str, ...]], use: str
) -> None:
    """The verdict, and what would suit where it does not."""
    first, last = verdicts
    under, final = coats
    verdict = "suitable" if "suitable" in verdicts else first
    ledger.result("verdict", verdict)

    def end(name: str) -> str:
        return spell(table.lean_mix(ledger.book, name, use))

    if verdict == "too strong":
        ledger.note(f"Too strong for this wall: use {end(under[0])} or leaner.")
    elif verdict == "too weak":
        ledger.note(f"Too weak for this wall: use {end(final[-1])} or richer.")
    elif first != "suitable":
        ledger.note(f"As a final coat only: the undercoat wants {end(under[-1])} or richer.")
    elif last != "suitable":
        ledger.note(f"As an undercoat only: the final coat is {end(final[0])} or leaner.")
