"""Opens the page on this machine, and ends it."""

from __future__ import annotations

import secrets
import socket
import sys
import threading
import webbrowser
from contextlib import suppress
from pathlib import Path
from typing import Final

from matplan.faults import PackError
from matplan.page.desk import Desk

HOST: Final = "127.0.0.1"
NEW_JOB: Final = Path("framing") / "job.toml"
"""The job of a page that was opened without one."""


def serve(job: Path | None, *, port: int, browser: bool) -> None:
    """Serve the page until it is stopped. Raises `PackError` where the port is in use or the job cannot be read."""
    import uvicorn

    from matplan.page.app import made

    desk = Desk(job or NEW_JOB)
    if job is not None:
        desk.served()
    try:
        listening = socket.create_server((HOST, port))
    except OSError as error:
        raise PackError(f"port {port} cannot be used: {error.strerror or error}; name another with --port") from None
    listening.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)  # small answers do not wait for an ACK
    with listening:
        port = listening.getsockname()[1]
        address = f"http://{HOST}:{port}/"
        app = made(desk, port=port, token=secrets.token_urlsafe(24))
        config = uvicorn.Config(app, log_level="error", lifespan="off", timeout_graceful_shutdown=1)
        server = uvicorn.Server(config)
        sys.stdout.write(f"the planning page is at {address} (Ctrl-C ends it)\n")
        sys.stdout.flush()
        if browser:
            threading.Timer(0.5, webbrowser.open, (address,)).start()
        with suppress(KeyboardInterrupt):
            server.run(sockets=[listening])
