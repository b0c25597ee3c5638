"""Mortar: which mix, whether a mix is right, how it is mixed, and how much of it."""

from __future__ import annotations

from knowledge.answers import Answer, Decline, Finding, Need, Option, Range
from knowledge.calculators import _mortar_mix as mixing
from knowledge.calculators._mortar_amounts import AMOUNTS, amounts
from knowledge.calculators._mortar_batch import batch
from knowledge.calculators._mortar_say import additive, place_words, results
from knowledge.calculators._mortar_site import SITE, tell
from knowledge.calculators._mortar_table import about_the_table, from_the_table
from knowledge.calculators._mortar_wall import missing
from knowledge.ledger import Ledger
from knowledge.mixes import one_mix, spell
from knowledge.questions import Mix, Question, Reading
from knowledge.rulebook import RuleBook


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """One finding: the mix and its verdict, the amounts, the gauging, or the rule that was asked for."""
    ledger = Ledger(question, book)
    wants = set(question.wants)
    tell(ledger, question.wants)
    if wants and wants <= set(SITE):
        return [_close(ledger)]
    reading = question.reading
    thin = book.find("mortar.thin_joint")
    if reading.joint_thickness is not None and reading.joint_thickness.to("mm") <= thin.span("mm")[1] + 1e-9:
        return [_thin_joint(ledger)]
    asked = _impossible(ledger) or _ask(ledger, wants)
    if asked is not None:
        return [asked]
    said, said_class = mixing.named(ledger)
    if about_the_table(question):
        from_the_table(ledger, said, said_class)
        return [_close(ledger)]
    choices = [mixing.choose(ledger, side, said, said_class) for side in mixing.sides(ledger)]
    results(ledger, choices, said, said_class)
    laid = [said if said is not None else choice.mix for choice in choices]
    place_words(ledger, choices[0])
    fault = amounts(ledger, [choice.side.material for choice in choices], laid)
    fault = fault or batch(ledger, laid[0], wants)
    return [fault] if fault is not None else [_close(ledger)]


def _impossible(ledger: Ledger) -> Decline | None:
    """A count or a volume of nothing, or less."""
    reading = ledger.reading
    said = (
        ("bags", reading.bags.count if reading.bags else None),
        ("buckets", reading.buckets.count if reading.buckets else None),
        ("blocks", reading.block_count),
        ("volume of mortar", reading.mortar_volume.value if reading.mortar_volume else None),
    )
    for name, value in said:
        if value is not None and value <= 0:
            return ledger.decline(f"{value:g} cannot be right for the {name}; send the number again.")
    return None


def _ask(ledger: Ledger, wants: set[str]) -> Need | None:
    """What only the asker knows: the mix to judge, or the size of the wall for amounts."""
    reading = ledger.reading
    if reading.mix is not None and (reading.mix.sand <= 0 or reading.mix.cement + reading.mix.lime <= 0):
        return ledger.need("mix", "How many parts of cement, lime and sand?", _options(ledger))
    unknown = reading.mortar_class is not None and mixing.named(ledger) == (None, None)
    if reading.mix is None and (unknown or ("verdict" in wants and reading.mortar_class is None)):
        return ledger.need("mix", "Which mix is it: parts of cement, lime and sand?", _options(ledger))
    if wants & set(AMOUNTS) and reading.bags is None and reading.buckets is None:
        return missing(ledger)
    return None


def _options(ledger: Ledger) -> tuple[Option, ...]:
    """The usual mixes on site, to tap."""
    found = [
        one_mix(rule.mix)
        for figure, facts in (
            ("mortar.mix", {"kind": "M4", "use": "lime"}),
            ("mortar.habit", {"material": "aac"}),
            ("mortar.habit", {"material": "clay_brick"}),
        )
        if (rule := ledger.book.seek(figure, **facts)) is not None and rule.mix is not None
    ]
    return tuple(Option(label=spell(mix), reading=Reading(mix=mix)) for mix in dict.fromkeys(found))


def _thin_joint(ledger: Ledger) -> Answer:
    """Factory mortar; a mix has no place in it."""
    thin = ledger.rule("mortar.thin_joint")
    first = ledger.rule("mortar.first_course")
    ledger.result("mortar_type", "thin layer")
    ledger.result("joint_thickness", Range(min=thin.min or 0, max=thin.max or 0, unit=thin.unit))
    ledger.result("first_course_class", (first.items or ("",))[0])
    ledger.note("Thin joints take bagged thin-layer mortar, not a site mix.")
    amounts(ledger, ["aac"], [None])
    return _close(ledger)


def _close(ledger: Ledger) -> Answer:
    ledger.caution("cautions.mortar_skin")
    mix = ledger.results.get("mix")
    if "lime" in ledger.results or (isinstance(mix, Mix) and mix.lime > 0):
        ledger.caution("mortar.caution.lime")
    if "plasticiser" in ledger.results or (isinstance(mix, Mix) and mix.lime == 0 and additive(ledger)):
        ledger.rule("mortar.plasticiser")
        ledger.caution("mortar.caution.detergent")
    if "mortar_class" in ledger.results or "mortar_type" in ledger.results:
        ledger.caution("mortar.caution.unit_maker")
    first = ("batch",) if ledger.reading.bags or ledger.reading.buckets else ()
    return ledger.answer(
        *first, "verdict", "mix", "mortar_class", "mortar_type", "batch", "mortar_volume", "cement_bags",
        "lime_bags", "sand_mass",
    )  # fmt: skip
