"""``assistant demo``: an invented studio's morning through the real doors, then the desk on loopback."""

import argparse
import secrets
import threading
from pathlib import Path


def arguments(parser: argparse.ArgumentParser) -> None:
    """Add the demo's options."""
    parser.add_argument("--once", action="store_true", help="print the conversations and end")
    parser.add_argument("--studio", default=".studio-demo", metavar="DIR", help="folder of the invented studio")
    parser.add_argument("--port", type=int, default=8080, help="port of the desk on 127.0.0.1 (0: any free one)")


def run(args: argparse.Namespace) -> int:
    """Play the demo; without ``--once`` serve the desk until Ctrl-C."""
    from waitress.server import create_server

    from assistant.composition import open_runtime, transports_of
    from assistant.demo.play import Player, demo_clock, demo_settings, fresh_folder, start_sender, totals
    from assistant.demo.posting import Postman
    from assistant.demo.scenario import load_scenario
    from assistant.desk.passwords import Passwords
    from assistant.doors.sender import Sender
    from assistant.loading.wording import load_studio
    from assistant.paths import shipped
    from assistant.rulebook import Rulebook
    from assistant.web import create_app

    folder = Path(args.studio)
    scenario = load_scenario(shipped("demo"))
    fresh_folder(folder)
    clock = demo_clock(scenario, load_studio(Rulebook(folder / "rules")).tz)
    settings = demo_settings(folder, scenario, args.port)
    runtime = open_runtime(folder, settings=settings, now=clock)
    server = create_server(create_app(runtime), host="127.0.0.1", port=0 if args.once else args.port)
    base = f"http://127.0.0.1:{server.effective_port}"  # type: ignore[union-attr]
    threading.Thread(target=server.run, name="web", daemon=True).start()

    password = secrets.token_urlsafe(15)
    sender = Sender(runtime, transports_of(runtime))
    postman = Postman(
        base,
        auth_token=settings.twilio_auth_token or "",
        mail_secret=settings.mail_hook_secret or "",
        own_number=scenario.studio_number,
        now=clock,
    )
    player = Player(runtime, scenario, clock, sender, postman, lambda text: print(text, flush=True))
    player.furnish(Passwords(()).hash(password))
    print(f"{runtime.rooms.studio.name}: an invented studio on {scenario.starts}, everything here is made up.")
    player.play()
    print(f"\n{totals(runtime)}")
    if args.once:
        server.close()
        runtime.store.close()
        return 0
    print(f"\nThe desk: {base}/desk   mail {scenario.designer_email}   password {password}")
    print(f"Sent messages lie in {folder / 'tray'}. Ctrl-C ends the demo.", flush=True)
    stop = start_sender(sender)
    try:
        threading.Event().wait()
    finally:
        stop.set()
        server.close()
    return 0
