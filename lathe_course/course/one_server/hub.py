"""How JupyterHub is set for a class."""

from __future__ import annotations

import json
import os
import secrets
import socket
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

CLASS = "LATHE_COURSE_CLASS"  # in the environment of JupyterHub: who takes part and where
MENTORS_PAGE = "/services/mentor/"
ALONE = "--alone"  # said to the process that makes the mentor's page: of one learner
_PATIENCE = 300  # seconds until a learner's server answers; twenty that start at once on an old laptop take long


@dataclass(frozen=True)
class TheClass:
    """Who takes part, and where they find it."""

    learners: tuple[str, ...]
    mentor: str
    address: str
    port: int
    certificate: str = ""
    key: str = ""

    @property
    def url(self) -> str:
        """What is typed into a browser; ends in a slash."""
        host = f"[{self.address}]" if ":" in self.address else self.address
        return f"http{'s' if self.certificate else ''}://{host}:{self.port}/"

    def text(self) -> str:
        return json.dumps(asdict(self))

    @classmethod
    def of(cls, text: str) -> TheClass:
        told = json.loads(text)
        return cls(**told | {"learners": tuple(told["learners"])})


def configure(c: Any, learners: Sequence[str], mentor: str) -> None:
    """What holds on any machine: who may sign in, that nobody rules over others, and how a learner's place is started."""
    c.Authenticator.allowed_users = {*learners, mentor}
    c.Authenticator.allow_existing_users = False
    c.Authenticator.admin_users = set()
    c.JupyterHub.load_roles = [{"name": "mentor", "users": [mentor], "scopes": ["access:services!service=mentor"]}]
    c.Spawner.cmd = modules("place")
    c.Spawner.env_keep = ["PATH", "LANG", "LC_ALL"]
    c.Spawner.start_timeout = c.Spawner.http_timeout = _PATIENCE


def configure_one_machine(c: Any, told: TheClass, runtime: Path) -> None:
    """All on one machine: accounts of that machine, and a mentor's page that reads each folder as its learner.

    What JupyterHub remembers lies in ``runtime``, for this run alone: whoever is dropped from a class is out at the next.
    """
    configure(c, told.learners, told.mentor)
    hub, proxy, page = _free_ports(3)
    c.JupyterHub.bind_url = told.url
    c.JupyterHub.ssl_cert, c.JupyterHub.ssl_key = told.certificate, told.key
    c.JupyterHub.hub_bind_url = f"http://127.0.0.1:{hub}"
    c.JupyterHub.db_url = f"sqlite:///{runtime / 'hub.sqlite'}"
    c.JupyterHub.cookie_secret_file = str(runtime / "cookie_secret")
    c.JupyterHub.authenticator_class = "pam"
    c.JupyterHub.spawner_class = "jupyterhub.spawner.LocalProcessSpawner"
    c.JupyterHub.proxy_class = "traefik_file"
    c.TraefikProxy.check_route_timeout = 120  # s; a busy machine may need more than the usual half minute for the first start
    c.TraefikProxy.traefik_api_url = f"http://127.0.0.1:{proxy}"
    c.TraefikProxy.traefik_api_username, c.TraefikProxy.traefik_api_password = "hub", secrets.token_urlsafe(32)
    c.TraefikProxy.static_config_file = str(runtime / "traefik.toml")
    c.TraefikFileProviderProxy.dynamic_config_file = str(runtime / "routes.toml")
    # it would ask its makers for news
    c.TraefikProxy.extra_static_config = {"global": {"checkNewVersion": False, "sendAnonymousUsage": False}}
    c.JupyterHub.services = [
        {
            "name": "mentor",
            "url": f"http://127.0.0.1:{page}",
            "command": modules("mentor"),
            "environment": {CLASS: told.text(), "PATH": os.defpath},
            "oauth_no_confirm": True,
            "display": True,
        }
    ]


def modules(name: str) -> list[str]:
    """The command that runs a module of this room, with nothing imported from where one stands or from an account's own packages."""
    return [sys.executable, "-P", "-s", "-m", f"{__package__}.{name}"]


def _free_ports(number: int) -> list[int]:
    """Ports of this machine alone that nobody holds just now."""
    held = [socket.create_server(("127.0.0.1", 0)) for _ in range(number)]
    try:
        return [one.getsockname()[1] for one in held]
    finally:
        for one in held:
            one.close()
