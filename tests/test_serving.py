"""The web server answers what it has begun before it ends, and leaves forwarded headers to the app."""

import http.client
import socket
import threading
from collections.abc import Iterable
from typing import Any

import pytest

from assistant.serving import WebServer


def serve(app: Any) -> tuple[WebServer, threading.Event, threading.Thread]:
    server, stop = WebServer(app, "127.0.0.1", 0), threading.Event()
    thread = threading.Thread(target=server.run, args=(stop,))
    thread.start()
    return server, stop, thread


def get(server: WebServer, **headers: str) -> tuple[int, bytes]:
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=10)
    try:
        connection.request("GET", "/", headers=headers)
        answer = connection.getresponse()
        return answer.status, answer.read()
    finally:
        connection.close()


def test_an_answer_that_is_under_way_is_finished_and_no_new_call_is_taken() -> None:
    begun, go_on = threading.Event(), threading.Event()

    def slow(_environ: Any, start: Any) -> Iterable[bytes]:
        begun.set()
        go_on.wait(10)
        start("200 OK", [("Content-Type", "text/plain"), ("Content-Length", "5")])
        return [b"whole"]

    server, stop, thread = serve(slow)
    answers: list[tuple[int, bytes]] = []
    caller = threading.Thread(target=lambda: answers.append(get(server)))
    caller.start()
    begun.wait(10)
    stop.set()
    while True:
        try:
            socket.create_connection(("127.0.0.1", server.port), timeout=1).close()
        except OSError:
            break
    go_on.set()
    caller.join()
    thread.join()
    assert answers == [(200, b"whole")]


def test_forwarded_headers_reach_the_app_that_decides_about_them() -> None:
    def echo(environ: Any, start: Any) -> Iterable[bytes]:
        start("200 OK", [("Content-Type", "text/plain")])
        return [environ.get("HTTP_X_FORWARDED_PROTO", "none").encode()]

    server, stop, thread = serve(echo)
    assert get(server, **{"X-Forwarded-Proto": "https"}) == (200, b"https")
    stop.set()
    thread.join()


def test_a_port_that_is_taken_is_an_error_at_once() -> None:
    server, stop, thread = serve(lambda _environ, _start: [])
    with pytest.raises(OSError, match="in use"):
        WebServer(lambda _environ, _start: [], "127.0.0.1", server.port)
    stop.set()
    thread.join()
