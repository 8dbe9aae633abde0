"""``assistant serve``: the desk, the doors and the sender of one studio, until told to stop."""

import argparse
import logging
import os
import signal
import threading
from dataclasses import replace
from pathlib import Path

from assistant.cli import CommandError


def arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--studio", required=True, metavar="DIR", help="the studio's folder")
    parser.add_argument("--host", help="address to listen on (default: the setting, else 127.0.0.1)")
    parser.add_argument("--port", type=int, help="port to listen on (default: the setting, else 8080; 0: any)")


def run(args: argparse.Namespace) -> int:
    """Serve until SIGTERM or Ctrl-C; then take nothing new, finish what is under way, and end."""
    from assistant.checks import check_settings
    from assistant.composition import open_runtime, transports_of
    from assistant.config import load_settings
    from assistant.doors.sender import Sender
    from assistant.serving import WebServer
    from assistant.web import create_app

    _quiet_log()
    os.umask(0o077)  # what clients wrote is the owner's alone
    folder = Path(args.studio)
    if not folder.is_dir():
        raise CommandError(f"there is no folder {folder}: run assistant setup --studio {folder}")
    settings = load_settings(folder, os.environ)
    port = settings.port if args.port is None else args.port
    settings = replace(settings, host=args.host or settings.host, port=port)
    stops = [finding for finding in check_settings(settings, folder) if finding.stops]
    if stops:
        raise CommandError("; ".join(f"{finding.what}: {finding.remedy}" for finding in stops))
    runtime = open_runtime(folder, settings)
    server = WebServer(create_app(runtime), settings.host, settings.port)
    stop = _stop_on_signals()
    sender = threading.Thread(target=Sender(runtime, transports_of(runtime)).run, args=(stop,), name="sender")
    sender.start()
    print(f"{runtime.rooms.studio.name}: the desk is at http://{settings.host}:{server.port}/desk", flush=True)
    try:
        server.run(stop)
    finally:
        stop.set()
        sender.join()
        runtime.store.close()
    return 0


def _quiet_log() -> None:
    """Log what the operator can act on; the libraries' own chatter stays out."""
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    logging.getLogger("assistant").setLevel(logging.INFO)


def _stop_on_signals() -> threading.Event:
    stop = threading.Event()
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, lambda *_: stop.set())
    return stop
