"""Render and plaster: key coat, coats and their mixes, thickness, waiting, a verdict on a mix, how much."""

from __future__ import annotations

from knowledge.answers import Decline, Finding, Need
from knowledge.calculators._render_amounts import AMOUNTS, amounts
from knowledge.calculators._render_coats import Job, Laid, lay, waiting
from knowledge.calculators._render_key import NAMED, key_coat, named_coat
from knowledge.calculators._render_plaster import plaster
from knowledge.calculators._render_verdict import judge
from knowledge.ledger import Ledger
from knowledge.questions import Question
from knowledge.rulebook import RuleBook

_ORDER = ("cement_bags", "lime_bags", "sand_mass", "render_volume")
_WORK = ("verdict", "coats", "key_coat", "thickness")


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """One finding: coats and key coat for this wall, a verdict where a mix was named, amounts where sized."""
    ledger = Ledger(question, book)
    wants = set(question.wants)
    job = _job(ledger)
    if isinstance(job, Decline):
        return [job]
    lacking = _lacking(ledger, wants)
    if lacking is not None:
        return [lacking]
    laid, fault = _work(ledger, job, wants)
    if fault is not None:
        return [fault]
    _place(ledger, job)
    for name in ("movement", "cold", "maker"):
        ledger.caution(f"render.caution.{name}")
    ledger.caution("cautions.mortar_skin")
    mixes = [mix for mix, _ in laid if mix is not None]
    if any(mix.lime for mix in mixes):
        ledger.caution("render.caution.lime")
    if any(not mix.lime for mix in mixes):
        ledger.caution("render.caution.detergent")
    if wants & NAMED:
        return [ledger.answer("key_coat", "key_coat_cement_bags", "key_coat_sand_mass", "key_coat_volume")]
    return [ledger.answer(*(_ORDER if wants & AMOUNTS else _WORK if wants else (*_WORK, *_ORDER)))]


def _work(ledger: Ledger, job: Job, wants: set[str]) -> tuple[Laid, Need | Decline | None]:
    """What is put on: a key coat by its name, plaster inside, or render with its key coat."""
    if wants & NAMED:
        return [], named_coat(ledger, job, wants)
    if job.inside:
        laid = plaster(ledger, wants)
    else:
        laid = lay(ledger, job)
        key_coat(ledger, job, wants)
        waiting(ledger, job, wants)
    judge(ledger, job)
    sized = wants & AMOUNTS or _sized(ledger, bool(wants))
    return laid, amounts(ledger, laid) if sized else None


def _sized(ledger: Ledger, asked: bool) -> bool:
    """Whether there is a wall to reckon with; where all was asked, one size alone asks for the other."""
    reading = ledger.reading
    tall = reading.height or reading.courses
    if asked:
        return reading.area is not None or bool(reading.length and tall)
    return any((reading.area, reading.length, tall))


def _job(ledger: Ledger) -> Job | Decline:
    """Background and exposure, as said or assumed."""
    reading = ledger.reading
    block = reading.block
    material = (
        block.material if block and block.material else str(ledger.taken("material", use="render").choice)
    )
    density = block.density.to("kg/m³") if block and block.density else None
    found = ledger.book.seek("render.background", material=material, density=density)
    if found is None and material != "stone":
        found = ledger.rule("render.background", material=material, density=density)
    if found is None or found.choice is None:
        return ledger.decline(
            "Stone wants a render made for that wall, mostly lime, and there is no row for it here: "
            "ask a mason who knows the building."
        )
    ledger.cite(found)
    skim = "skim" in ledger.question.wants and reading.place != "external"
    inside = (
        skim
        or (reading.place in (None, "internal") and reading.finish == "plaster")
        or (reading.place == "internal" and reading.finish != "render")
    )
    if reading.place is None and not inside:
        usual = ledger.taken("place", use="render")
        inside = usual.choice == "internal" and reading.finish != "render"
    wet = ledger.book.seek("render.severe_place", place=reading.place)
    if wet is not None and reading.severe is None:
        ledger.cite(wet)
    elif reading.severe is None and not inside:
        ledger.taken("exposure")
    severe = reading.severe if reading.severe is not None else wet is not None
    return Job(material, found.choice, severe, inside)


def _lacking(ledger: Ledger, wants: set[str]) -> Need | None:
    """A mix to judge that was not named, or that is no mix."""
    reading, mix = ledger.reading, ledger.reading.mix
    if mix is not None and (mix.sand <= 0 or mix.cement + mix.lime <= 0):
        return ledger.need("mix", "How many parts of cement, lime and sand?")
    known = (mix, reading.mortar_class, reading.coat_thickness, reading.block, reading.place, reading.area)
    if wants == {"verdict"} and not any(known) and reading.length is None:
        return ledger.need("mix", "Which mix is it: parts of cement, lime and sand?")
    return None


def _place(ledger: Ledger, job: Job) -> None:
    """What a place forbids."""
    place = ledger.reading.place
    for figure in ("render.excluded", "render.dpc"):
        rule = ledger.book.seek(figure, place=place)
        if rule is not None:
            ledger.cite(rule)
            ledger.note(rule.statement)
    if not job.inside and job.material == "aac":
        one_coat = ledger.book.seek("render.one_coat", kind=job.background)
        if one_coat is not None:
            ledger.cite(one_coat)
