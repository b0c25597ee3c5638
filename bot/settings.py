"""What the environment says, read once at start and then fixed."""

import os
from pathlib import Path
from typing import Annotated
from urllib.parse import urlsplit

from pydantic import Field, SecretStr, ValidationError, field_validator
from pydantic_settings import BaseSettings, SettingsConfigDict

PREFIX = "PERPEND_"


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
    database: Annotated[str, Field(description="database URL", default_factory=_home_database)]

    webhook_secret: Annotated[
        SecretStr | None, Field(description="what the platform shows at the web hook")
    ] = None
    webhook_url: Annotated[str | None, Field(description="the web hook's public address")] = None
    listen: Annotated[str, Field(description="where the web hook is served: host:port")] = "127.0.0.1:8080"
    forget_days: Annotated[
        int,
        Field(ge=0, le=3650, description="a silent conversation is forgotten after so many days; 0: never"),
    ] = 0

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

    @field_validator("listen")
    @classmethod
    def _host_and_port(cls, value: str) -> str:
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


def load() -> Settings:
    """Read the environment; SettingsFault names every fault at once, never a value."""
    known = {PREFIX + name.upper() for name in Settings.model_fields}
    faults = [
        f"{name} is not a setting; known are {', '.join(sorted(known))}"
        for name in sorted(os.environ)
        if name.startswith(PREFIX) and name not in known
    ]
    try:
        settings = Settings()
    except ValidationError as error:
        for fault in error.errors(include_input=False, include_url=False):
            name = PREFIX + str(fault["loc"][0]).upper()
            field = Settings.model_fields.get(str(fault["loc"][0]))
            if fault["type"] == "missing":
                faults.append(f"{name} is not set: {field.description if field else ''}")
            else:
                faults.append(f"{name} {fault['msg'].removeprefix('Value error, ')}")
        raise SettingsFault(faults) from None
    if faults:
        raise SettingsFault(faults)
    return settings
