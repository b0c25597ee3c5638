"""What the environment says, read once at start and then fixed."""

import os
from pathlib import Path
from typing import Annotated, Any, Literal
from urllib.parse import urlsplit

from pydantic import Field, SecretStr, ValidationError, field_validator
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict

PREFIX = "PERPEND_"
FOLDER = "PERPEND_SECRETS"
"""Names a folder whose files hold settings: perpend_token, perpend_database and so on."""


class SettingsFault(ValueError):
    """One or more settings are wrong; `faults` names every one of them."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("; ".join(faults))
        self.faults = faults


def _home_database() -> str:
    base = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return f"sqlite:///{Path(base) / 'perpend' / 'perpend.db'}"


class Settings(BaseSettings):
    """The bot's settings; every name is prefixed with PERPEND_ in the environment."""

    model_config = SettingsConfigDict(env_prefix=PREFIX, frozen=True, extra="forbid", env_ignore_empty=True)

    token: Annotated[SecretStr, Field(description="the bot's token, as the platform gave it")]
    api_url: Annotated[str, Field(description="base address of the Bot API")] = "https://api.telegram.org"
    database: Annotated[str, Field(description="database URL", default_factory=_home_database, repr=False)]

    webhook_secret: Annotated[
        SecretStr | None, Field(description="what the platform shows at the web hook")
    ] = None
    webhook_url: Annotated[str | None, Field(description="the web hook's public address")] = None
    listen: Annotated[str, Field(description="where the web hook is served: host:port")] = "127.0.0.1:8080"
    forget_days: Annotated[
        int,
        Field(ge=0, le=3650, description="what is older, or of chats silent longer, is forgotten; 0: never"),
    ] = 0
    chats: Annotated[
        frozenset[int], NoDecode, Field(description="only these chats are answered; none: all are")
    ] = frozenset()
    foremen: Annotated[
        frozenset[int], NoDecode, Field(description="people who may look after the queue from their chat")
    ] = frozenset()
    person_burst: Annotated[
        int, Field(ge=1, le=10_000, description="messages that one person may send at once")
    ] = 60
    person_a_minute: Annotated[
        int, Field(ge=0, le=10_000, description="and so many a minute after that; 0: as many as he likes")
    ] = 30
    sends_a_second: Annotated[
        int, Field(ge=0, le=1000, description="calls to the platform by all workers; 0: until it objects")
    ] = 0
    watch: Annotated[
        str | None, Field(description="where /live, /ready and /metrics are served: host:port")
    ] = None
    logs: Annotated[Literal["lines", "json"], Field(description="how a log line is written")] = "lines"
    stop_seconds: Annotated[
        int, Field(ge=0, le=300, description="how long what is in hand may take after SIGTERM")
    ] = 10

    @field_validator("chats", "foremen", mode="before")
    @classmethod
    def _numbers(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        try:
            numbers = frozenset(int(part) for part in value.replace(",", " ").split())
        except ValueError:
            raise ValueError("must be numbers with commas between") from None
        if any(not -(2**63) <= number < 2**63 or number == 0 for number in numbers):
            raise ValueError("holds a number that no chat can have")
        return numbers

    @field_validator("token")
    @classmethod
    def _token_shape(cls, value: SecretStr) -> SecretStr:
        number, colon, secret = value.get_secret_value().partition(":")
        if not (number.isascii() and number.isdigit() and colon):
            raise ValueError("must be digits, a colon, and the secret part")
        if not secret or not all(c.isascii() and (c.isalnum() or c in "-_") for c in secret):
            raise ValueError("the part after the colon may hold letters, digits, - and _ only")
        return value

    @field_validator("api_url")
    @classmethod
    def _web_address(cls, value: str) -> str:
        parts = urlsplit(value)
        if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment:
            raise ValueError("must be an address that begins with https:// or http://")
        return value.rstrip("/")

    @field_validator("webhook_secret")
    @classmethod
    def _secret_shape(cls, value: SecretStr | None) -> SecretStr | None:
        secret = value.get_secret_value() if value else "-" * 16
        if not 16 <= len(secret) <= 256 or not all(
            c.isascii() and (c.isalnum() or c in "-_") for c in secret
        ):
            raise ValueError("must be 16 to 256 letters, digits, - and _")
        return value

    @field_validator("webhook_url")
    @classmethod
    def _public_address(cls, value: str | None) -> str | None:
        if value is not None and (urlsplit(value).scheme != "https" or not urlsplit(value).hostname):
            raise ValueError("must be an address that begins with https://")
        return value

    @field_validator("listen", "watch")
    @classmethod
    def _host_and_port(cls, value: str | None) -> str | None:
        if value is None:
            return None
        host, colon, port = value.rpartition(":")
        if not host or not colon or not (port.isascii() and port.isdigit()) or int(port) > 65535:
            raise ValueError("must be host:port")
        return value

    @field_validator("database")
    @classmethod
    def _database_url(cls, value: str) -> str:
        scheme = value.partition("://")[0]
        if scheme.partition("+")[0] not in ("sqlite", "postgresql") or "://" not in value:
            raise ValueError("must be a URL that begins with sqlite:/// or postgresql://")
        if scheme.startswith("sqlite") and value.partition(":///")[2] in ("", ":memory:"):
            raise ValueError("must name a file: sqlite:///folder/file.db")
        return value


def load(*needed: str) -> Settings:
    """Read the environment, with what is `needed` beyond the token; SettingsFault names every fault."""
    known = {PREFIX + name.upper() for name in Settings.model_fields} | {FOLDER}
    faults = [
        f"{name} is not a setting; known are {', '.join(sorted(known))}"
        for name in sorted(os.environ)
        if name.startswith(PREFIX) and name not in known
    ]
    folder = os.environ.get(FOLDER) or None
    if folder and not Path(folder).is_dir():
        faults.append(f"{FOLDER} must name a folder")
        folder = None
    settings = None
    try:
        settings = Settings(_secrets_dir=folder)
    except ValidationError as error:
        for fault in error.errors(include_input=False, include_url=False):
            name = PREFIX + str(fault["loc"][0]).upper()
            if fault["type"] == "missing":
                faults.append(_missing(str(fault["loc"][0])))
            else:
                faults.append(f"{name} {_plain(fault['msg'])}")
    faults += [_missing(name) for name in needed if not _is_given(name, folder)]
    if faults or settings is None:
        raise SettingsFault(faults)
    return settings


def _is_given(name: str, folder: str | None) -> bool:
    """Whether the environment or a file says something of it, right or wrong."""
    full = PREFIX + name.upper()
    return bool(os.environ.get(full)) or (folder is not None and (Path(folder) / full.lower()).is_file())


def _missing(name: str) -> str:
    return f"{PREFIX}{name.upper()} is not set: {Settings.model_fields[name].description}"


def _plain(fault: str) -> str:
    """A fault as a continuation of the setting's name; never the value."""
    fault = fault.removeprefix("Value error, ").removeprefix("Input ")
    return fault[:1].lower() + fault[1:]
