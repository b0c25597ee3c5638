"""The sample environment and the runbook speak of settings and figures that there are."""

import re
from pathlib import Path

from bot.fronts.web_counts import Counts
from bot.memory import Memory
from bot.settings import PREFIX, Settings
from bot.store.rows import Letter

DEPLOY = Path(__file__).parents[2] / "deploy"


def test_the_sample_names_settings_that_there_are_and_fills_in_no_secret() -> None:
    said = dict(
        re.findall(r"^#?(PERPEND_[A-Z_]+)=(.*)$", (DEPLOY / "environment.sample").read_text(), re.MULTILINE)
    )
    assert set(said) <= {PREFIX + name.upper() for name in Settings.model_fields}
    assert said["PERPEND_TOKEN"] == said["PERPEND_WEBHOOK_SECRET"] == ""


def test_the_runbook_names_figures_that_there_are(tmp_path: Path) -> None:
    memory = Memory(f"sqlite:///{tmp_path}/chat.db")
    counts = Counts()
    counts.call(Letter("sendMessage", {}, "5"), "Done")
    counts.request(401)
    text, _ = counts.text(memory)
    memory.close()
    named = set(re.findall(r"`(perpend_[a-z_]+)", (DEPLOY / "RUNBOOK.md").read_text()))
    assert len(named) >= 4
    assert named <= {line.split("{")[0].split()[0] for line in text.decode().splitlines() if line[0] != "#"}
