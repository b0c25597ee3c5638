"""The rule book of one region: records from TOML, looked up by figure and facts.

RuleFault
├── BadRules      rule files that do not load; every fault at once, with file, rule and field
└── NoRule        no such region, or two records that tie
    └── NoFigure  no record for a figure under these facts: for the asker, who is told
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import rtoml
from pydantic import ValidationError

from knowledge.answers import Cited
from knowledge.records import Rule, Source
from knowledge.region import Borrowed, Region

RULES = Path(__file__).with_name("rules")
WORLD = "world"
_KEPT = 1024  # look-ups remembered: the usual ones come first, and memory stays flat


class RuleFault(Exception):
    """Something is wrong with the rule book: for us, not for the asker."""


class BadRules(RuleFault):
    """Rule files that do not load. `faults` has a line for each."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("rule files do not load:\n" + "\n".join(faults))
        self.faults = faults


class NoRule(RuleFault):
    """No record answers, or two answer alike."""


class NoFigure(NoRule):
    """This region has no record of a figure for these facts."""

    def __init__(self, region: str, figure: str, facts: dict[str, Any]) -> None:
        super().__init__(f"{region}: no record of {figure!r} for {facts}")
        self.figure = figure
        self.facts = facts


def _faults(error: ValidationError, where: str) -> list[str]:
    lines = []
    for fault in error.errors():
        field = ".".join(str(part) for part in fault["loc"]) or "record"
        lines.append(f"{where}: {field}: {fault['msg']}")
    return lines


def _read(path: Path, faults: list[str]) -> dict[str, Any]:
    try:
        return rtoml.loads(path.read_text(encoding="utf-8"))
    except (rtoml.TomlParsingError, UnicodeDecodeError) as error:
        faults.append(f"{path.parent.name}/{path.name}: file: {error}")
        return {}


def read_rules(path: Path, faults: list[str]) -> list[Rule]:
    """The records of one file; what is wrong goes to `faults` as 'file: rule: field: what'."""
    rules: list[Rule] = []
    content = _read(path, faults)
    for key in content.keys() - {"rule"}:
        faults.append(f"{path.parent.name}/{path.name}: file: unknown table {key!r}; allowed: rule")
    for place, record in enumerate(content.get("rule", ())):
        where = f"{path.parent.name}/{path.name}: {record.get('id', f'rule {place + 1}')}"
        try:
            rules.append(Rule.model_validate(record))
        except ValidationError as error:
            faults.extend(_faults(error, where))
    return rules


class RuleBook:
    """Rules of a region, shadowing the world's record of the same id. Files are read when first needed."""

    def __init__(self, code: str = "GB", root: Path | None = None) -> None:
        self.root = root = root or RULES
        self.code = code.upper()
        folder = root / self.code.lower()
        if not folder.is_dir() or self.code.lower() == WORLD:
            known = ", ".join(
                sorted(p.name.upper() for p in root.iterdir() if p.is_dir() and p.name != WORLD)
            )
            raise NoRule(f"no rule set for region {code!r}; known: {known}")
        self._folders = (root / WORLD, folder)
        self._borrowed: set[str] = set()  # ids of records that another region lends
        self._files: dict[str, dict[str, list[Rule]]] = {}
        self._where: dict[str, str] = {}  # file and id of each record, for its faults
        self._sources: dict[str, Source] | None = None
        self._region: Region | None = None
        self._found: dict[str | tuple[Any, ...], Rule | None] = {}
        self._cited: dict[str, Cited] = {}

    @property
    def region(self) -> Region:
        """The region's habits."""
        if self._region is None:
            faults: list[str] = []
            path = self._folders[1] / "habits.toml"
            content = _read(path, faults)
            common = self._folders[0] / "senses.toml"
            senses = _read(common, faults) if common.is_file() else {}
            content["sense"] = {**senses, **content.get("sense", {})}
            try:
                self._region = Region.model_validate(content)
            except ValidationError as error:
                faults.extend(_faults(error, f"{path.parent.name}/{path.name}: habits"))
            if faults or self._region is None:
                raise BadRules(faults)
        return self._region

    @property
    def sources(self) -> dict[str, Source]:
        """Every document, by its short name."""
        if self._sources is None:
            faults: list[str] = []
            found = {}
            for name, record in _read(self.root / "sources.toml", faults).items():
                try:
                    found[name] = Source.model_validate(record)
                except ValidationError as error:
                    faults.extend(_faults(error, f"sources.toml: {name}"))
            if faults:
                raise BadRules(faults)
            self._sources = found
        return self._sources

    def _topic(self, name: str) -> dict[str, list[Rule]]:
        """Records of the files called `name`, by figure."""
        grouped, faults = self._load(name)
        if faults:
            raise BadRules(faults)
        return grouped

    def _load(self, name: str) -> tuple[dict[str, list[Rule]], list[str]]:
        """What is sound in the files called `name`, by figure, and their faults."""
        if name in self._files:
            return self._files[name], []
        faults: list[str] = []
        by_id: dict[str, Rule] = {}
        own: dict[str, list[Rule]] = {}
        lender = self._lender(name)
        for folder in (self._folders[0], *lender, self._folders[1]):
            path = folder / f"{name}.toml"
            if not path.is_file():
                continue
            seen: set[str] = set()
            for rule in read_rules(path, faults):
                where = f"{folder.name}/{path.name}: {rule.id}"
                if rule.id in seen:
                    faults.append(f"{where}: id: stands twice in this file")
                if not rule.figure.startswith(f"{name}.") or not rule.id.startswith(f"{name}."):
                    faults.append(f"{where}: figure: id and figure begin with '{name}.' in this file")
                seen.add(rule.id)
                self._where[rule.id] = where
                by_id[rule.id] = rule
                (self._borrowed.add if folder in lender else self._borrowed.discard)(rule.id)
                if folder == self._folders[1]:
                    own.setdefault(rule.figure, []).append(rule)
        for rule in [r for r in by_id.values() if r.id in self._borrowed]:
            if any(mine.stands_for(rule) for mine in own.get(rule.figure, ())):
                del by_id[rule.id]  # what the region has a record for is its own alone
        grouped: dict[str, list[Rule]] = {}
        for rule in by_id.values():
            grouped.setdefault(rule.figure, []).append(rule)
        if not faults:
            self._files[name] = grouped
        return grouped, faults

    def _lender(self, name: str) -> tuple[Path, ...]:
        """The folder that lends the file called `name`, where the region says so."""
        lent = self._lent()
        return (self.root / lent.region.lower(),) if lent is not None and name in lent.topics else ()

    def _lent(self) -> Borrowed | None:
        return self.region.borrows if (self._folders[1] / "habits.toml").is_file() else None

    def borrowed(self) -> set[str]:
        """Ids of the records that another region lends, of the files read so far."""
        return self._borrowed

    def names(self) -> list[str]:
        """Names of all rule files of this region, without ending."""
        lent = self._lent()
        found = {p.stem for folder in self._folders for p in folder.glob("*.toml")}
        found |= set(lent.topics) if lent is not None else set()
        return sorted(found - {"habits", "senses"})

    def every(self) -> list[Rule]:
        """All records in force here. Raises BadRules with the faults of all files together."""
        faults: list[str] = []
        rules: list[Rule] = []
        for name in self.names():
            grouped, wrong = self._load(name)
            rules += [rule for group in grouped.values() for rule in group]
            faults += wrong
        try:
            known = set(self.sources)
        except BadRules as error:
            faults += error.faults
            known = set(_read(self.root / "sources.toml", []))  # a faulty record still has its name
        for rule in rules:
            for field in ("source", "via"):
                name = getattr(rule, field)
                if name and known and name not in known:
                    faults.append(f"{self._where[rule.id]}: {field}: no such source {name!r}")
        if faults:
            raise BadRules(faults)
        return rules

    def records(self, figure: str) -> list[Rule]:
        """Every record of one figure."""
        return self._topic(figure.partition(".")[0]).get(figure, [])

    def seek(self, figure: str, **facts: Any) -> Rule | None:
        """The default record whose conditions hold, the one with most of them; None where none holds."""
        key = (figure, *facts.items()) if facts else figure
        try:
            return self._found[key]
        except KeyError:
            found = self._look(figure, facts)
        if len(self._found) < _KEPT and float not in map(type, facts.values()):  # sizes are without number
            self._found[key] = found
        return found

    def _look(self, figure: str, facts: dict[str, Any]) -> Rule | None:
        held = [rule for rule in self.records(figure) if rule.default and rule.when.holds(facts)]
        if not held:
            return None
        most = max(len(rule.when.conditions()) for rule in held)
        best = [rule for rule in held if len(rule.when.conditions()) == most]
        if len(best) > 1:
            raise NoRule(f"{figure}: {', '.join(rule.id for rule in best)} answer alike for {facts}")
        return best[0]

    def find(self, figure: str, **facts: Any) -> Rule:
        """As seek; raises NoFigure where nothing holds."""
        rule = self._found.get((figure, *facts.items()) if facts else figure) or self.seek(figure, **facts)
        if rule is None:
            raise NoFigure(self.code, figure, facts)
        return rule

    def others(self, figure: str, **facts: Any) -> list[Rule]:
        """The records of other documents that hold as well but are not the default."""
        return [rule for rule in self.records(figure) if not rule.default and rule.when.holds(facts)]

    def family(self, name: str, **facts: Any) -> list[Rule]:
        """The record that holds of every figure under one name ('wall.check'), in file order."""
        figures = [figure for figure in self._topic(name.partition(".")[0]) if figure.startswith(f"{name}.")]
        return [rule for figure in figures if (rule := self.seek(figure, **facts)) is not None]

    def cite(self, rule: Rule) -> Cited:
        """The rule as an answer shows it, its source in words."""
        if rule.id not in self._cited:
            lent = self._lent() if rule.id in self._borrowed else None
            statement = rule.statement if lent is None else f"{rule.statement} ({lent.note})"
            self._cited[rule.id] = Cited(
                id=rule.id, statement=statement, source=self.worded(rule),
                clause=rule.clause, standing=rule.standing,
            )  # fmt: skip
        return self._cited[rule.id]

    def worded(self, rule: Rule) -> str:
        """The source in words: 'document, as quoted in publication', or that it was not verified."""
        if rule.standing == "common practice":
            return "common practice"

        def title(name: str) -> str:
            source = self.sources[name]
            return source.title + (f", {source.edition}" if source.edition else "")

        if rule.source is None:
            return "from memory, not verified"
        text = title(rule.source)
        if rule.via:
            text += f", as quoted in {title(rule.via)}"
        return f"believed to be {text}; not verified" if rule.standing == "from memory" else text


@cache
def regions() -> tuple[str, ...]:
    """The codes of all regions that have a rule book."""
    return tuple(sorted(path.parent.name.upper() for path in RULES.glob("*/habits.toml")))


@cache
def book(code: str = "GB") -> RuleBook:
    """The rule book of a region, kept for the life of the process."""
    return RuleBook(code)
