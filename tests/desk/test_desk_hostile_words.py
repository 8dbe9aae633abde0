"""Whatever a client writes is words: it adds no element, no attribute and no link to any page."""

from collections import Counter
from typing import Any

import pytest
from bs4 import BeautifulSoup
from desk_cast import Person, add_booking, add_inquiry, add_send, add_task, draft_of
from flask import Flask

from assistant.store import Store

# Ways in that OWASP's XSS cheat sheet lists, written anew.
HOSTILE = [
    "<script>alert(1)</script>",
    '"><script>alert(1)</script>',
    "'><img src=x onerror=alert(1)>",
    "</textarea><script>alert(1)</script>",
    "</title><svg onload=alert(1)>",
    '" onfocus=alert(1) autofocus x="',
    "' onmouseover='alert(1)",
    "javascript:alert(1)",
    '<a href="javascript:alert(1)">x</a>',
    "<b>bold</b>",
    "&lt;script&gt;alert(1)&lt;/script&gt;",
    "{{7*7}}",
    "{% raw %}{{ config }}",
    "{{ self.__init__.__globals__ }}",
    "<!--",
    "-->",
    "]]>",
    "<iframe src=//example.com>",
    "<style>*{display:none}</style>",
    "<meta http-equiv=refresh>",
    "</option></select><script>",
    "<base href=//example.com>",
    "${7*7}",
    "%0d%0aX: 1",
    "\u2028<x>",
    "<\x00script>",
    "<form action=//example.com><button>",
    '\\"><u>',
    "`<i>`",
    "<math><a xlink:href=javascript:1>",
]


def shape(page: str) -> Counter[Any]:
    """The elements of a page with the names of their attributes, and where its links and forms lead."""
    soup = BeautifulSoup(page, "html.parser")
    elements = Counter((tag.name, tuple(sorted(tag.attrs))) for tag in soup.find_all(True))
    for tag in soup.find_all(True):
        elements[("to", tag.get("href") or tag.get("action") or tag.get("src"))] += 1
    return elements


def write_everywhere(store: Store, word: str) -> dict[str, int]:
    """A studio whose client, mails, facts, figures and tasks all hold ``word``."""
    stated = {"status": "stated", "value": word, "from": [[0, 0, len(word)]]}
    facts = {
        "event_date": {"status": "unclear", "options": [word, "2027-05-15"]},
        "event_time": stated,
        "occasion": stated,
        "setting": stated,
        "place": stated,
        "colours": [word],
        "name": word,
        "pieces": [{"kind": word, "length_ft": [8, 8]}],
        word[:40]: stated,
    }
    quote = {
        "low": 1,
        "likely": 2,
        "high": 3,
        "floor": 1,
        "lines": [{"label": word, "low": 1, "likely": 2, "high": 3, "rules": [word]}],
        "cautions": [word],
        "assumed": [{"fact": word, "value": word, "why": word}],
        "narrowing": [{"fact": word, "width_now": 2, "width_if_known": 1}],
        "for_designer": [word],
        "hours": {word: 1.0},
        "balloons": {word: {word: 3}},
        "packs": [{"size": word, "colour": word, "bags": []}],
        "price_book": word,
        "take_home_per_hour": {"low": 1, "likely": 2, "high": 3},
    }
    verdict = {"verdict": "full", "why": word, "alternates": [word]}
    inquiry = add_inquiry(
        store,
        [word, f"x {word} y"],
        facts=facts,
        name=word[:200],
        draft=word,
        subject=word,
        channel="email",
        phone=word[:200],
        verdict=verdict,
        reasons=[word],
        closed_reason=word,
    )
    from assistant.store.models import Draft, Inquiry

    with store.write() as session:
        session.get_one(Inquiry, inquiry).quote = quote
        session.get_one(Draft, draft_of(store, inquiry).id).purpose = word[:20]
    add_send(store, inquiry, word, state="failed", error=word, subject=word, recipient=word[:200])
    add_task(store, inquiry, word)
    add_booking(store, title=word, zip=word[:10])
    return {"inquiry": inquiry}


PAGES = ("/desk", "/desk/inquiry/{inquiry}", "/desk/dates?month=2027-03", "/desk/tray")


@pytest.mark.parametrize("word", HOSTILE)
def test_a_clients_words_add_nothing_to_any_page(store: Store, marit: Person, app: Flask, word: str) -> None:
    word = word.replace("\x00", "")  # no door lets a NUL in
    plain = "".join(character if character.isalnum() else "-" for character in word) or "w"
    ids = write_everywhere(store, plain)
    before = {page: shape(marit.get(page.format(**ids)).text) for page in PAGES}
    _wipe(store)
    hostile = write_everywhere(store, word)
    for page in PAGES:
        answer = marit.get(page.format(**hostile))
        assert answer.status_code == 200
        assert _without_ids(shape(answer.text)) == _without_ids(before[page])


def _wipe(store: Store) -> None:
    from sqlalchemy import delete

    from assistant.store.models import Address, Booking, Client, Draft, Inquiry, Message, Outgoing, Task

    with store.write() as session:
        for table in (Outgoing, Task, Draft, Message, Booking, Inquiry, Address, Client):
            session.execute(delete(table))


def _without_ids(shapes: Counter[Any]) -> Counter[Any]:
    """Links within the page name the made-up fact, and numbers differ from one row to the next."""
    found: Counter[Any] = Counter()
    for key, count in shapes.items():
        name, rest = key
        if name == "to":
            rest = None if rest is None else rest[:6] if not rest.startswith("#") else "#"
        found[(name, rest)] += count
    return found


def test_typed_words_come_back_as_words(marit: Person, store: Store) -> None:
    inquiry = add_inquiry(store, ["hi"], draft="x")
    for path, name in (
        (f"/desk/inquiry/{inquiry}/close", "other_reason"),
        ("/desk/paste", "name"),
        ("/desk/dates/add", "title"),
        (f"/desk/inquiry/{inquiry}/write", "own_subject"),
    ):
        page = marit.post(path, {name: '"><script>alert(1)</script>' + "x" * 300}).text
        assert "<script>alert" not in page
