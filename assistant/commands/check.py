"""``assistant check``: numbered findings about a studio's folder, each with its remedy."""

import argparse
import os
from collections.abc import Iterator
from pathlib import Path

from assistant.checks import Finding, check_settings
from assistant.config import Settings, SettingsError, load_settings


def arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--studio", required=True, metavar="DIR", help="the studio's folder")


def run(args: argparse.Namespace) -> int:
    """Print the findings; exit status 1 when one of them keeps the studio from being served."""
    folder = Path(args.studio)
    found = find(folder)
    for number, finding in enumerate(found, start=1):
        print(f"{number}. {'STOPS: ' if finding.stops else ''}{finding.what}\n   {finding.remedy}")
    stops = sum(finding.stops for finding in found)
    print(f"{len(found)} findings, {stops} of them stop serving." if found else "No findings.")
    return int(stops > 0)


def find(folder: Path) -> list[Finding]:
    """Return everything found, settings first."""
    try:
        settings = load_settings(folder, os.environ)
    except SettingsError as problem:
        remedy = f"mend it in {folder} or in the environment"
        return [Finding(line, remedy, stops=True) for line in str(problem).split("\n")]
    return [*check_settings(settings, folder), *_rules(folder), *_store(settings, folder)]


def _rules(folder: Path) -> Iterator[Finding]:
    from assistant.flow.rooms import load_rooms
    from assistant.loading.mail import load_mail_rules
    from assistant.rulebook import RuleFilesWrong

    try:
        load_mail_rules(load_rooms(folder).book)
    except RuleFilesWrong as fault:
        for problem in fault.problems:
            yield Finding(str(problem), f"see the files in {folder / 'rules'}", stops=True)


def _store(settings: Settings, folder: Path) -> Iterator[Finding]:
    from sqlalchemy import func, inspect, make_url, select

    from assistant.store import Store, StoreUnavailable
    from assistant.store.models import Designer

    url = make_url(settings.database_url)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        yield Finding(f"there is no store at {url.database}", f"run: assistant setup --studio {folder}")
        return
    store = Store(settings.database_url)
    try:
        with store.read() as session:
            ready = inspect(session.connection()).has_table("designer")
            if not ready or not session.scalar(select(func.count(Designer.id))):
                remedy = f"run: assistant setup --studio {folder}, and open the link it prints"
                yield Finding("no designer can log in yet", remedy)
    except StoreUnavailable as problem:
        yield Finding(str(problem), "see ASSISTANT_DATABASE_URL", stops=True)
    finally:
        store.close()
