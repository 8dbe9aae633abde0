"""A local stand-in that speaks the needed part of the provider's public message REST API."""

import json
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from email.utils import format_datetime
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qs, urlsplit

from cast import NOW


class StandIn(ThreadingHTTPServer):
    """Accepts texts and lists them; ``answers`` are statuses for the next calls, "cut" hangs up after the accept."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Handler)
        self.answers: list[Any] = []
        self.accepted: list[dict[str, str]] = []
        self.today: Callable[[], str] = lambda: format_datetime(NOW)
        self.seen: list[tuple[str, str, dict[str, str]]] = []

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.server_port}"


class Handler(BaseHTTPRequestHandler):
    server: StandIn

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"])).decode()
        form = {name: values[0] for name, values in parse_qs(body, keep_blank_values=True).items()}
        self.server.seen.append(("POST", self.path, form))
        answer = self.server.answers.pop(0) if self.server.answers else 201
        if isinstance(answer, tuple):
            status, code, headers = answer
            self._reply(status, {"code": code, "message": "no", "status": status}, headers)
            return
        message = {
            "sid": f"SM{len(self.server.accepted):032}",
            "to": form["To"],
            "from": form["From"],
            "body": form["Body"],
            "status": "queued",
            "date_created": self.server.today(),
        }
        self.server.accepted.append(message)
        if answer == "cut":
            self.close_connection = True
            self.connection.close()
            return
        self._reply(201, message)

    def do_GET(self) -> None:
        query = {name: values[0] for name, values in parse_qs(urlsplit(self.path).query).items()}
        self.server.seen.append(("GET", self.path, query))
        listed = [m for m in reversed(self.server.accepted) if m["to"] == query["To"] and m["from"] == query["From"]]
        self._reply(200, {"messages": listed, "next_page_uri": None, "page": 0, "page_size": 50})

    def _reply(self, status: int, body: dict[str, Any], headers: dict[str, str] | None = None) -> None:
        data = json.dumps(body).encode()
        with suppress(OSError):
            self.send_response(status)
            for name, value in {"Content-Type": "application/json", **(headers or {})}.items():
                self.send_header(name, value)
            self.send_header("Content-Length", str(len(data)))
            self.end_headers()
            self.wfile.write(data)

    def log_message(self, *_: object) -> None:
        pass


@contextmanager
def running() -> Iterator[StandIn]:
    server = StandIn()
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    yield server
    server.shutdown()
    thread.join()
    server.server_close()
