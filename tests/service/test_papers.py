"""The files of deploy/ name settings, figures, files and commands that there are, and all of them."""

import re
import shlex
from pathlib import Path
from typing import Any

import pytest

from bot.cli import parser
from bot.fronts import telegram_yard
from bot.fronts.web_counts import Counts
from bot.settings import FOLDER, PREFIX, Settings
from bot.store.tables import inbox, outbox
from tests.service.postgres import BINARIES

ROOT = Path(__file__).parents[2]
DEPLOY = ROOT / "deploy"
SETTINGS = {PREFIX + name.upper() for name in Settings.model_fields} | {FOLDER}
OUTSIDE = {"PERPEND_HOME", "PERPEND_HOST"}
"""Read by the shell and the proxy, never by the bot."""
SECRET = ("TOKEN", "SECRET", "DATABASE")


def said(name: str) -> str:
    """What stands in a file of deploy/."""
    return (DEPLOY / name).read_text("utf-8")


def test_the_sample_names_every_setting_and_fills_in_no_secret() -> None:
    found = dict(re.findall(r"^#?(PERPEND_[A-Z_]+)=(.*)$", said("environment.sample"), re.MULTILINE))
    assert set(found) == SETTINGS
    assert found["PERPEND_TOKEN"] == found["PERPEND_WEBHOOK_SECRET"] == ""
    for name, field in Settings.model_fields.items():
        value = found[PREFIX + name.upper()]
        if value and isinstance(field.default, int | str) and name != "forget_days":
            assert value == str(field.default), name


def test_the_runbook_explains_every_setting() -> None:
    named = set(re.findall(r"`(PERPEND_[A-Z_]+)`", said("RUNBOOK.md")))
    assert named == SETTINGS


@pytest.mark.parametrize("name", [path.name for path in DEPLOY.iterdir() if path.is_file()])
def test_no_file_names_a_setting_that_is_none(name: str) -> None:
    assert set(re.findall(r"PERPEND_[A-Z_]*[A-Z]", said(name))) <= SETTINGS | OUTSIDE


def test_the_runbook_names_every_figure_and_no_other() -> None:
    made = {
        family.name + ("_total" if family.type == "counter" else "")
        for family in Counts()._all.collect()
        if family.name.startswith("perpend_")
    }
    named = set(re.findall(r"`(perpend_[a-z_]+)", said("RUNBOOK.md")))
    files = {"perpend_token", "perpend_webhook_secret", "perpend_database"}
    assert named - files == made


def test_commands_in_the_runbook_are_there() -> None:
    text = said("RUNBOOK.md")
    for command in re.findall(r"`perpend ([^`]+)`", text):
        if command == "restore":
            continue
        parser().parse_args(shlex.split(command))
    told = set(re.findall(r"`/([a-z]+)[ `]", text)) - {"live", "ready", "metrics", "hook", "forget"}
    assert told == set(telegram_yard.COMMANDS)
    for path in re.findall(r"`(?:sh )?(deploy/[\w./-]+)", text):
        assert (ROOT / path).exists(), path
    for tool in ("pg_dump", "pg_restore"):
        assert (BINARIES / tool).exists()
    columns = set(
        re.findall(
            r"(?:SELECT|SET|WHERE|BY|,) ([a-z]+)", " ".join(re.findall(r"`(SELECT.*?|UPDATE.*?)`", text))
        )
    )
    assert columns <= {*inbox.c.keys(), *outbox.c.keys()}


def container() -> list[tuple[str, str]]:
    """The container file's instructions, lines joined."""
    joined = re.sub(r"\\\n\s*", " ", re.sub(r"^#.*\n", "", said("Containerfile"), flags=re.MULTILINE))
    return [(line.split()[0], line.split(maxsplit=1)[1]) for line in joined.splitlines() if line.strip()]


def test_the_container_copies_what_there_is_and_runs_as_nobody() -> None:
    lines = container()
    for _, what in ((word, rest) for word, rest in lines if word == "COPY" and "--from" not in rest):
        *sources, _to = what.split()
        assert all((ROOT / source).exists() for source in sources), what
    users = [rest for word, rest in lines if word == "USER"]
    assert users == ["10001:10001"]
    assert [word for word, _ in lines].index("USER") < [word for word, _ in lines].index("ENTRYPOINT")
    install = next(rest for word, rest in lines if word == "RUN" and "pip install" in rest)
    assert "--require-hashes" in install
    assert re.search(r"sed '/\^# === checks ===/,\$d' requirements\.lock", install)
    environment = next(rest for word, rest in lines if word == "ENV")
    given = dict(part.split("=", 1) for part in environment.split())
    assert not [name for name in given if name.endswith(SECRET)]
    entry = eval(next(rest for word, rest in lines if word == "ENTRYPOINT"))  # noqa: S307
    assert entry[-2:] == ["-m", "bot.cli"]
    parser().parse_args(eval(next(rest for word, rest in lines if word == "CMD")))  # noqa: S307
    health = next(rest for word, rest in lines if word == "HEALTHCHECK")
    check = eval(health[health.index("[") :])  # noqa: S307
    assert check[: len(entry)] == entry
    parser().parse_args(check[len(entry) :])
    ignored = (ROOT / ".dockerignore").read_text().splitlines()
    assert {line[1:] for line in ignored if line.startswith("!")} == {"bot", "knowledge", "requirements.lock"}


@pytest.fixture
def compose() -> Any:
    """The compose file, read."""
    yaml = pytest.importorskip("yaml")
    return yaml.safe_load(said("compose.yaml"))


def test_the_compose_file_says_what_it_must(compose: Any) -> None:
    services = compose["services"]
    workers = [service for service in services.values() if service.get("image") == "perpend"]
    assert len(workers) == 2
    for worker in workers:
        assert (DEPLOY / worker["build"]["context"] / worker["build"]["dockerfile"]).resolve().exists()
        assert parser().parse_args(worker["command"]).webhook is True
        assert set(worker["environment"]) <= SETTINGS
        assert not [name for name in worker["environment"] if name in ("PERPEND_TOKEN", "PERPEND_DATABASE")]
        assert worker["read_only"] is True
        assert worker["cap_drop"] == ["ALL"]
        assert set(worker["secrets"]) == {"perpend_token", "perpend_webhook_secret", "perpend_database"}
        assert "ports" not in worker
        test = worker["healthcheck"]["test"]
        parser().parse_args(test[test.index("bot.cli") + 1 :])
        stop = int(worker["stop_grace_period"].rstrip("s"))
        assert stop >= 2 * Settings.model_fields["stop_seconds"].default
    assert "ports" not in services["database"]
    assert services["database"]["networks"] == ["inside"]
    assert compose["networks"]["inside"]["internal"] is True
    for service in services.values():
        assert "healthcheck" in service
        assert set(service.get("secrets", [])) <= set(compose["secrets"])
        assert set(service.get("depends_on", {})) <= set(services)
        assert "no-new-privileges:true" in service["security_opt"]
        for volume in service.get("volumes", []):
            source = volume.split(":")[0]
            assert (DEPLOY / source).exists() if source.startswith(".") else source in compose["volumes"]


def test_the_proxy_passes_the_hook_on_and_nothing_else(compose: Any) -> None:
    text = re.sub(r"#.*", "", said("Caddyfile"))
    assert text.count("{") == text.count("}")
    assert re.findall(r"handle (/\S+)", text) == ["/hook"]
    assert "respond 404" in text
    upstreams = re.search(r"reverse_proxy ((?:\S+:\d+ ?)+)", text)
    assert upstreams
    port = compose["services"]["worker1"]["environment"]["PERPEND_LISTEN"].rpartition(":")[2]
    assert set(upstreams[1].split()) == {f"worker1:{port}", f"worker2:{port}"}
    assert int(re.search(r"max_size (\d+)KB", text)[1]) * 1000 >= 512 * 1024  # type: ignore[index]


def test_the_service_unit_fits_the_settings() -> None:
    text = said("perpend.service")
    assert (
        int(re.search(r"TimeoutStopSec=(\d+)", text)[1]) >= 2 * Settings.model_fields["stop_seconds"].default
    )  # type: ignore[index]
    for path in re.findall(r"/opt/perpend/(\S+)", text):
        assert (ROOT / path).exists()
    for option in (
        "DynamicUser=yes",
        "ProtectSystem=strict",
        "NoNewPrivileges=yes",
        "CapabilityBoundingSet=",
    ):
        assert option in text.splitlines()


def test_the_audits_tools_are_pinned_with_hashes() -> None:
    lock = said("audit.lock")
    pins = re.findall(r"^[a-z][\w.-]*==\S+.*(?:\n {4}--hash=sha256:[0-9a-f]{64}.*)+", lock, re.MULTILINE)
    names = {pin.split("==")[0] for pin in pins}
    assert {"pip-audit", "detect-secrets"} <= names
    assert len(pins) == len(re.findall(r"^[a-z][\w.-]*==", lock, re.MULTILINE))
