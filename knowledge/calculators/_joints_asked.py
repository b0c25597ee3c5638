"""Questions about the rule that want no wall: by an opening, right through, at a step, shape, party wall."""

from __future__ import annotations

from collections.abc import Callable

from knowledge.calculators._joints_limits import by_height
from knowledge.ledger import Ledger


def _party_wall(ledger: Ledger) -> None:
    rule = ledger.rule("joints.party_wall")
    ledger.result("party_wall", rule.choice)
    ledger.note(rule.statement)
    agree = "the designer must agree to any, building control too where the wall stops fire."
    if ledger.reading.length is None:
        ledger.note(agree[0].upper() + agree[1:].replace("any,", "any joint,"))
    else:
        ledger.note(f"Places and numbers here are those of an ordinary wall: {agree}")


def _beside_opening(ledger: Ledger) -> None:
    finish = ledger.reading.finish
    rule = ledger.rule("joints.beside_opening", finish=finish)
    ledger.result("beside_opening", rule.choice)
    ledger.note(rule.statement)
    if finish == "render":
        bearing = ledger.rule("joints.projection")
        ledger.note(bearing.statement)
    else:
        ledger.note(ledger.rule("joints.bearing").statement)
    ledger.note(ledger.rule("joints.no_joint_at_opening").statement)


def _through(ledger: Ledger) -> None:
    finish = ledger.reading.finish
    leaf = ledger.rule("joints.through")
    ledger.result("through", leaf.choice)
    if finish == "boards":
        boards = ledger.rule("joints.boards")
        ledger.result("through", boards.choice)
        ledger.note(boards.statement)
    elif finish == "render":
        ledger.note(ledger.rule("joints.through_render").statement)
    ledger.note(leaf.statement)
    ledger.note(ledger.rule("joints.full_height").statement)


def _height_step(ledger: Ledger) -> None:
    rule = ledger.rule("joints.height_step")
    ledger.result("height_step", rule.choice)
    ledger.note(rule.statement)


def _ratio(ledger: Ledger) -> None:
    share = by_height(ledger)
    if share is not None:
        ledger.cite(share)
        ledger.result("ratio", share.number())
        ledger.note(share.statement)
        return
    most, care = ledger.rule("joints.ratio"), ledger.rule("joints.ratio_care")
    ledger.result("ratio", most.number())
    ledger.note(most.statement)
    ledger.note(care.statement)
    for other in ledger.book.others("joints.ratio"):
        ledger.cite(other)


ASKED: dict[str, Callable[[Ledger], None]] = {
    "party_wall": _party_wall,
    "beside_opening": _beside_opening,
    "through": _through,
    "height_step": _height_step,
    "ratio": _ratio,
}


def tell(ledger: Ledger) -> None:
    """Put what was asked about the rule into the ledger, the gravest first."""
    for name, say in ASKED.items():
        if name in ledger.question.wants:
            say(ledger)
