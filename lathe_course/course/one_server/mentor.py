"""The mentor's page: serves it, to the mentor alone.

JupyterHub starts it and says who asks.  It may act as anybody, so it reads no file and works
nothing out: each folder is read by a process of its learner, and the page is made by one of the
mentor, from what those handed over.
"""

from __future__ import annotations

import asyncio
import base64
import json
import os
import secrets
import urllib.parse

from jupyterhub.services.auth import HubOAuthCallbackHandler, HubOAuthenticated
from tornado.httpserver import HTTPServer
from tornado.web import Application, HTTPError, RequestHandler, authenticated

from .accounts import as_account
from .hub import ALONE, CLASS, TheClass, modules

_AT_ONCE = 4  # processes that read, side by side
_LARGEST = 60_000_000  # bytes that one process may hand over
_PATIENCE = 300.0  # seconds for one process


async def _said(words: list[str], name: str, given: bytes = b"", errors: int | None = None) -> bytes | None:
    """What a process of that account writes, None if it fails, takes too long or writes too much. ``errors`` is where it may complain."""
    process = await asyncio.create_subprocess_exec(
        *words,
        stdin=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.PIPE,
        stderr=errors,
        start_new_session=True,
        **as_account(name),
    )
    try:
        async with asyncio.timeout(_PATIENCE):
            process.stdin.write(given)
            process.stdin.write_eof()
            told = b""
            while piece := await process.stdout.read(1 << 20):
                told += piece
                if len(told) > _LARGEST:
                    return None
            return told if await process.wait() == 0 else None
    except (TimeoutError, OSError):
        return None
    finally:
        if process.returncode is None:
            process.kill()
            await process.wait()


async def page(told: TheClass, of: str = "") -> bytes | None:
    """The page of the class as it stands now, or of one learner."""
    learners = (of,) if of else told.learners
    gate = asyncio.Semaphore(_AT_ONCE)

    async def read(learner: str) -> bytes | None:
        async with gate:
            return await _said(modules("handed"), learner, errors=asyncio.subprocess.DEVNULL)

    found = await asyncio.gather(*map(read, learners))
    handed = {name: base64.b64encode(raw or b"").decode("ascii") for name, raw in zip(learners, found)}
    return await _said([*modules("seen"), *([ALONE] if of else [])], told.mentor, json.dumps(handed).encode("ascii"))


class Seen(HubOAuthenticated, RequestHandler):
    """The page, for whoever JupyterHub lets in."""

    @authenticated
    async def get(self) -> None:
        self.set_header("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'")
        self.set_header("Cache-Control", "no-store")
        told, of = self.settings["told"], self.get_query_argument("of", "")
        if of and of not in told.learners:
            raise HTTPError(404)
        made = await page(told, of)
        self.set_status(200 if made else 500)
        self.finish(
            made
            or "The page could not be made. Look again in a moment; 'lathe-course findings FOLDER' tells one learner's design meanwhile."
        )


async def _serve() -> None:
    prefix = os.environ["JUPYTERHUB_SERVICE_PREFIX"]
    where = urllib.parse.urlsplit(os.environ["JUPYTERHUB_SERVICE_URL"])
    handlers = [(prefix, Seen), (f"{prefix}oauth_callback", HubOAuthCallbackHandler)]
    HTTPServer(Application(handlers, cookie_secret=secrets.token_bytes(32), told=TheClass.of(os.environ[CLASS]))).listen(
        where.port, where.hostname
    )
    await asyncio.Event().wait()


if __name__ == "__main__":
    asyncio.run(_serve())
