"""The web server of one process: waitress, stopped without cutting an answer short."""

import socket
import time
from threading import Event
from typing import Any
from wsgiref.types import WSGIApplication

from waitress import wasyncore
from waitress.server import create_server

LARGEST_BODY = 12 * 1024 * 1024
THREADS = 8
PATIENCE_SECONDS = 10.0


class WebServer:
    """Listens from the start; ``port`` is the one really taken."""

    def __init__(self, app: WSGIApplication, host: str, port: int) -> None:
        """Bind the address; raises OSError when it is taken."""
        family = socket.AF_INET6 if ":" in host else socket.AF_INET
        listener = socket.create_server((host, port), family=family)
        self._sockets: dict[int, Any] = {}
        self._server: Any = create_server(
            app,
            map=self._sockets,
            sockets=[listener],
            threads=THREADS,
            max_request_body_size=LARGEST_BODY,
            clear_untrusted_proxy_headers=False,  # the app decides what to believe, see trusted_proxies
            ident="",
        )

    @property
    def port(self) -> int:
        """The port that is listened on."""
        return int(self._server.effective_port)

    def run(self, stop: Event, *, patience: float = PATIENCE_SECONDS) -> None:
        """Answer until told to stop, then take no new call and finish those that are under way."""
        while not stop.is_set():
            wasyncore.loop(timeout=0.2, map=self._sockets, count=1)
        self._server.del_channel()
        self._server.socket.close()
        until = time.monotonic() + patience
        while self._busy() and time.monotonic() < until:
            wasyncore.loop(timeout=0.05, map=self._sockets, count=1)
        self._server.task_dispatcher.shutdown(timeout=1)
        wasyncore.close_all(self._sockets)

    def _busy(self) -> bool:
        channels = list(self._server.active_channels.values())
        return any(one.requests or one.request is not None or one.total_outbufs_len for one in channels)
