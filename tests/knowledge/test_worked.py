"""Worked examples and check values from outside the project, kept as data in tests/worked/*.toml.

Each row names its origin and grade, and is one of:
  rule = "<id>", expect = { value = 6, unit = "m" }              the record holds this
  topic, reading, [region, wants, wall], expect = { <result> = … }   the calculator answers this
  call = "module:function", args = { … }, expect = …              the arithmetic gives this
`tolerance` is absolute; without it numbers match to 1e-9. `cites` names records that the answer shows or
says; `assumes` what it takes for a slot that was not said.
"""

from __future__ import annotations

import tomllib
from dataclasses import is_dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Need
from knowledge.questions import Model, Question
from knowledge.rulebook import RuleBook, book

FOLDER = Path(__file__).parents[1] / "worked"
FIELDS = {
    "id", "origin", "clause", "grade", "note", "tolerance", "rule", "expect", "topic", "reading",
    "region", "wants", "wall", "outcome", "call", "args", "cites", "assumes",
}  # fmt: skip
GRADES = {
    "read", "second-hand", "trade", "memory-high", "memory-medium", "memory-low", "derived", "practice",
    "geometry",
}  # fmt: skip


def rows() -> list[tuple[str, dict[str, Any]]]:
    """Every row of every file, with the file's name."""
    found = []
    for path in sorted(FOLDER.glob("*.toml")):
        found += [(path.stem, row) for row in tomllib.loads(path.read_text(encoding="utf-8"))["row"]]
    return found


ROWS = rows()


def plain(value: Any) -> Any:
    """Models as the JSON has them."""
    if is_dataclass(value) or isinstance(value, Model):
        return plain({name: part for name, part in vars(value).items() if part is not None})
    if isinstance(value, dict):
        return {key: plain(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(item) for item in value]
    return value


def matches(got: Any, wanted: Any, tolerance: float, where: str = "") -> None:
    """Compare what the row names and nothing else."""
    if isinstance(wanted, dict):
        assert isinstance(got, dict), f"{where}: {got!r}"
        for key, item in wanted.items():
            assert key in got, f"{where}: no {key!r} in {sorted(got)}"
            matches(got[key], item, tolerance, f"{where}.{key}")
    elif isinstance(wanted, list):
        assert len(got) == len(wanted), f"{where}: {got!r}"
        for place, (one, other) in enumerate(zip(got, wanted, strict=True)):
            matches(one, other, tolerance, f"{where}[{place}]")
    elif isinstance(wanted, (bool, str)):
        assert got == wanted, f"{where}: {got!r}"
    else:
        assert got == pytest.approx(wanted, abs=tolerance), where


def shows(answered: Answer, ids: list[str], region: RuleBook) -> None:
    """Every record named is cited, or its sentence is said."""
    cited = {rule.id for rule in answered.rules}
    said = "\n".join((*answered.first, *answered.notes, *answered.cautions))
    statements = {rule.id: rule.statement for rule in region.every()}
    assert [name for name in ids if name not in cited and statements[name] not in said] == []


@pytest.mark.parametrize(
    "row", [row for _, row in ROWS], ids=[f"{name}:{row.get('id')}" for name, row in ROWS]
)
def test_row(row: dict[str, Any]) -> None:
    assert set(row) <= FIELDS, set(row) - FIELDS
    assert row["origin"].strip()
    assert row["grade"] in GRADES
    tolerance = row.get("tolerance", 1e-9)
    region = book(row.get("region", "GB"))
    if "rule" in row:
        found = [rule for rule in region.every() if rule.id == row["rule"]]
        assert found, f"no record {row['rule']!r}"
        matches(plain(found[0]), row["expect"], tolerance, row["rule"])
        return
    if "call" in row:
        module, _, function = row["call"].partition(":")
        got = getattr(import_module(module), function)(**row.get("args", {}))
        matches(plain(got), row["expect"], tolerance, row["call"])
        return
    question = Question.model_validate(
        {key: row[key] for key in ("topic", "reading", "wants", "wall") if key in row}
    )  # fmt: skip
    findings = answer(question, region)
    outcome = row.get("outcome", "answered")
    kinds = {"answered": Answer, "needs": Need, "declined": Decline}
    chosen = [finding for finding in findings if isinstance(finding, kinds[outcome])]
    assert chosen, findings
    if outcome == "needs":
        matches(plain(chosen[0]), row.get("expect", {}), tolerance, "need")
    if isinstance(chosen[0], Answer):
        matches(plain(chosen[0].results), row["expect"], tolerance, row["topic"])
        assert chosen[0].rules
        assert chosen[0].cautions
        shows(chosen[0], row.get("cites", []), region)
        assumed = {one.slot: plain(one.value) for one in chosen[0].assumed}
        matches(assumed, row.get("assumes", {}), tolerance, "assumed")


def test_ids_stand_once() -> None:
    ids = [(name, row["id"]) for name, row in ROWS]
    assert len(ids) == len(set(ids))
