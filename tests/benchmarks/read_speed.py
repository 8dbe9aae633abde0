"""How fast messages are read: `python tests/benchmarks/read_speed.py` prints milliseconds, here and now.

The corpus' messages are read whole (every fact) and, in the same run, searched for dates alone by dateparser.search,
a general library (needed by this script only: pip install dateparser), told the same two languages. Then texts of
10,000 characters that try to make reading slow. Times are of the processor, after one round to warm up.
"""

import json
import statistics
import time
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any

from assistant.loading.reading import load_reader
from assistant.reading import Reader
from assistant.rulebook import Rulebook

CORPUS = Path(__file__).parent.parent / "corpus" / "conversations.jsonl"
HOSTILE_LENGTH = 10_000
HOSTILE = (
    "the 5th of the ", "a ", "june 5 or ", "1/", "5-", "1x1", "12-", "a week from ", "twenty ", "1 ", "\n1", "stop ",
    "no ", "at 5 ", "not the 5th ", "$5 ", "saturday or sunday or ", "10 ft garland ", "garlend ", "(", "first second ",
)  # fmt: skip


def main() -> None:
    """Print the figures."""
    start = time.process_time()
    reader = load_reader(Rulebook())
    print(f"loading the reader            {milliseconds(start):8.1f} ms")
    messages = [(text, case) for case in cases() for text in case["messages"]]
    tell(f"reading every fact of {len(messages)} messages", taken(messages, lambda m: read(reader, *m)))
    compare(messages)
    for piece in HOSTILE:
        text = (piece * HOSTILE_LENGTH)[:HOSTILE_LENGTH]
        start = time.process_time()
        reader.read(text, today=date(2027, 3, 10), channel="email")
        print(f"10,000 characters of {piece!r:<28} {milliseconds(start):6.0f} ms")


def cases() -> list[dict[str, Any]]:
    """Return the corpus' conversations."""
    return [json.loads(line) for line in CORPUS.read_text(encoding="utf-8").splitlines()]


def compare(messages: list[tuple[str, dict[str, Any]]]) -> None:
    """Print what dateparser.search needs for the same messages."""
    try:
        from dateparser.search import search_dates
    except ImportError:
        print("dateparser is not installed (pip install dateparser): no comparison")
        return

    def search(text: str, case: dict[str, Any]) -> None:
        now = datetime.fromisoformat(case["today"])
        settings = {"RELATIVE_BASE": now, "PREFER_DATES_FROM": "future"}
        search_dates(text, languages=["en", "es"], settings=settings)

    tell("dateparser.search", taken(messages, lambda m: search(*m)))


def read(reader: Reader, text: str, case: dict[str, Any]) -> None:
    """Read one message of a case."""
    reader.read(text, today=date.fromisoformat(case["today"]), channel=case["channel"], locale=case["locale"])


def taken(messages: list[Any], work: Callable[[Any], None]) -> list[float]:
    """Return the milliseconds of each message, after a round to warm up."""
    for message in messages:
        work(message)
    times = []
    for message in messages:
        start = time.process_time()
        work(message)
        times.append(milliseconds(start))
    return times


def tell(what: str, times: list[float]) -> None:
    """Print the median and the mean of some times."""
    print(f"{what:<38} median {statistics.median(times):6.2f} ms, mean {statistics.mean(times):6.2f} ms a message")


def milliseconds(start: float) -> float:
    """Return the processor's milliseconds since ``start``."""
    return 1000 * (time.process_time() - start)


if __name__ == "__main__":
    main()
