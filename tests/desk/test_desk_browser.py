"""Whole ways through the desk in real Chromium: with a thumb, with two people, without scripts, for everybody."""

import os
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from desk_cast import (
    MAIL,
    PASSWORD,
    Clock,
    add_booking,
    add_inquiry,
    add_send,
    add_task,
    draft_of,
    outgoing,
)
from flask import Flask
from sqlalchemy import select

from assistant.desk import make_setup_link, setup_path
from assistant.store import Store
from assistant.store.models import Draft, Inquiry, Outgoing

pytestmark = pytest.mark.browser

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"]
PHONE, DESKTOP = {"width": 390, "height": 844}, {"width": 1280, "height": 900}
DRAFT = "Hi Dana!\n\nA 10 ft garland comes to $450 to $600.\nShall we plan it?"


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """A running browser; without one the tests are skipped, but not where CI is set."""
    if not Path(CHROMIUM).exists():
        if os.environ.get("CI"):
            pytest.fail(f"no Chromium at {CHROMIUM}: install it or set CHROMIUM")
        pytest.skip(f"no Chromium at {CHROMIUM}: install it or set CHROMIUM")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def address(app: Flask) -> Iterator[str]:
    """The desk behind a real web server."""
    import waitress

    server = waitress.create_server(app, host="127.0.0.1", port=0, threads=4)
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.effective_port}"
    server.close()
    server.task_dispatcher.shutdown()
    thread.join(5)


@pytest.fixture
def open_page(chromium: Any, address: str) -> Iterator[Any]:
    """Opens a new browser window; whatever the content policy blocked or a script broke fails the test."""
    contexts, faults = [], []

    def open_it(**settings: Any) -> Any:
        context = chromium.new_context(base_url=address, **{"viewport": PHONE, **settings})
        context.set_default_timeout(10_000)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda fault: faults.append(str(fault)))
        page.on("console", lambda line: faults.append(line.text) if "Content Security" in line.text else None)
        page.on("request", lambda sent: faults.append(sent.url) if not sent.url.startswith(address) else None)
        return page

    yield open_it
    for context in contexts:
        context.close()
    assert faults == []


def log_in(page: Any, email: str = MAIL) -> Any:
    page.goto("/desk")
    page.get_by_label("Mail address").fill(email)
    page.get_by_label("Password").fill(PASSWORD)
    page.locator("main").get_by_role("button", name="Log in").click()
    page.wait_for_url("**/desk")
    return page


@pytest.fixture
def dana(store: Store) -> int:
    """An inquiry with a priced draft."""
    text = "10-12 ft garland on may 15, blush and gold, at the park. $400 max. Dana"
    facts = {
        "event_date": {"status": "inferred", "value": "2027-05-15", "from": [[2, 20, 26]]},
        "pieces": [{"kind": "garland", "length_ft": [10, 12], "from": [[2, 0, 16]]}],
        "colours": ["blush", "gold"],
        "setting": {"status": "inferred", "value": "outdoor", "from": [[2, 46, 57]]},
        "place": {"status": "stated", "value": "the park", "from": [[2, 49, 57]]},
        "budget": [None, 400],
    }
    verdict = {"verdict": "tight", "why": "2 hours stay free", "alternates": ["2027-05-16"]}
    return add_inquiry(
        store,
        ["Hello", "Do you do garlands?", text],
        facts=facts,
        name="Dana",
        draft=DRAFT,
        priced=True,
        verdict=verdict,
        reasons=["It bears a price"],
    )


def sent(store: Store) -> list[str]:
    with store.read() as session:
        return list(session.scalars(select(Outgoing.text).order_by(Outgoing.id)))


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_from_login_over_a_corrected_fact_to_a_sent_reply(
    open_page: Any, store: Store, dana: int, scripts: bool
) -> None:
    page = log_in(open_page(java_script_enabled=scripts))
    assert page.get_by_role("heading", level=1).inner_text() == "1 thing needs you"
    page.get_by_role("link", name="Dana").first.click()
    page.get_by_label("Place").fill("Linden Hall, Ithaca 14850")
    page.get_by_role("button", name="Save and price again").click()
    assert "Saved and priced again" in page.get_by_role("status").inner_text()
    with store.read() as session:
        assert session.get_one(Inquiry, dana).facts["place"]["value"] == "Linden Hall, Ithaca 14850"
    page.get_by_role("button", name="Send this").click()
    assert "Your reply is on its way" in page.get_by_role("status").inner_text()
    assert sent(store) == [DRAFT]
    page.get_by_role("link", name="Needs me").click()
    assert page.get_by_role("heading", level=1).inner_text() == "Nothing needs you"


def test_after_the_login_two_taps_send_a_reply(open_page: Any, store: Store, dana: int) -> None:
    page = log_in(open_page(has_touch=True))
    page.get_by_role("link", name="Dana").first.tap()
    send = page.get_by_role("button", name="Send this")
    box = send.bounding_box()
    assert box["y"] > PHONE["height"] * 0.6, "the button lies where the thumb is"
    assert box["y"] + box["height"] <= PHONE["height"], "the button is on the screen without scrolling"
    send.tap()
    page.get_by_text("Your reply is on its way").wait_for()
    assert sent(store) == [DRAFT]


def test_her_edited_text_is_sent_with_its_line_breaks(open_page: Any, store: Store, dana: int) -> None:
    page = log_in(open_page())
    page.goto(f"/desk/inquiry/{dana}")
    page.get_by_label("Text of the message").fill("Hi Dana,\n\n$440 it is.\n")
    page.get_by_text("22 characters, 1 part").wait_for()
    page.get_by_role("button", name="Send this").click()
    page.get_by_text("Your reply is on its way").wait_for()
    assert sent(store) == ["Hi Dana,\n\n$440 it is.\n"]


def test_parts_are_counted_while_she_types(open_page: Any, dana: int) -> None:
    # 3GPP TS 23.038: 160 septets alone and 153 joined, 70 and 67 UTF-16 units; the euro sign takes two septets
    page = log_in(open_page())
    page.goto(f"/desk/inquiry/{dana}")
    for text, count in [
        ("a" * 160, "1 part"),
        ("a" * 161, "2 parts"),
        ("a" * 307, "3 parts"),
        ("🎈" * 35, "1 part"),
        ("🎈" * 36, "2 parts"),
        ("€" * 80, "1 part"),
        ("€" * 81, "2 parts"),
        ("é" * 160, "1 part"),
        ("ê" * 71, "2 parts"),
    ]:
        page.get_by_label("Text of the message").fill(text)
        page.get_by_text(f"{len(text)} characters, {count}", exact=True).wait_for()


def test_of_two_designers_one_sends_and_the_other_sees_it(open_page: Any, store: Store, dana: int) -> None:
    marit, ines = log_in(open_page()), log_in(open_page(), "ines@example.com")
    for page in (marit, ines):
        page.goto(f"/desk/inquiry/{dana}")
    ines.get_by_label("Text of the message").fill("The version of Ines, $480")
    marit.get_by_role("button", name="Send this").click()
    marit.get_by_text("Your reply is on its way").wait_for()
    ines.get_by_role("button", name="Send this").click()
    assert ines.get_by_role("heading", level=1).inner_text() == "Marit was first"
    assert DRAFT.split("\n")[2] in ines.get_by_role("main").inner_text()
    assert ines.get_by_label("Your own words, to copy").input_value() == "The version of Ines, $480"
    assert sent(store) == [DRAFT]


def test_the_clients_words_lead_to_the_fact_and_back(open_page: Any, dana: int) -> None:
    page = log_in(open_page())
    page.goto(f"/desk/inquiry/{dana}")
    page.locator("mark a", has_text="may 15").click()
    assert page.url.endswith("#f-event_date")
    page.locator("#f-event_date a").click()
    assert page.url.endswith("#w-event_date-1")
    assert page.locator("mark#w-event_date-1").inner_text() == "may 15"


def test_pasting_and_the_calendar_work_without_scripts(open_page: Any, store: Store) -> None:
    page = log_in(open_page(java_script_enabled=False))
    page.get_by_role("link", name="Dates").click()
    page.get_by_label("In a few words").fill("Gala columns")
    page.get_by_label("Day", exact=True).fill("2027-03-20")
    page.get_by_role("button", name="Put it in the calendar").click()
    assert "It is in the calendar" in page.get_by_role("status").inner_text()
    page.locator("summary", has_text="Take out").click()
    page.get_by_role("button", name="Yes, take it out").click()
    assert "It is out of the calendar" in page.get_by_role("status").inner_text()


@pytest.fixture
def places(store: Store, app: Flask, clock: Clock, dana: int) -> dict[str, str]:
    """The address of every kind of page, in a studio with something on each."""
    with store.write() as session:
        session.add(
            outgoing(session.get_one(Inquiry, dana), text="Which day?", state="sent", approved_by=None, needs_yes=False)
        )
    add_task(store, dana, "Price the ceiling yourself")
    long = "Wilhelmina Featherstonehaugh-Abernathy-Vandersteen"
    mail = add_inquiry(
        store,
        ["x" * 300 + " wants columns"],
        channel="email",
        phone="wilhelmina@reading-room.example.org",
        name=long,
        subject="Columns for our opening",
        draft="Dear Wilhelmina",
        priced=True,
        facts={
            "pieces": [{"kind": "column", "count": 2}],
            "event_date": {"status": "unclear", "options": ["2027-06-05", "2027-06-12"]},
        },
    )
    with store.write() as session:
        session.get_one(Draft, draft_of(store, mail).id).state = "kept"
    quiet = add_inquiry(store, ["hi"], state="asking")
    add_send(store, quiet, "Which day?", state="failed", error="30006")
    add_booking(store)
    add_booking(store, kind="block", title="A very long title of time off that goes on and on" * 3, crew_minutes=None)
    return {
        "login": "/desk/login",
        "setup": setup_path(make_setup_link(store, 1, clock())),
        "setup gone": setup_path("nonsense"),
        "needs me": "/desk",
        "inquiry": f"/desk/inquiry/{dana}",
        "mail": f"/desk/inquiry/{mail}",
        "no draft": f"/desk/inquiry/{quiet}",
        "paste": "/desk/paste",
        "dates": "/desk/dates",
        "tray": "/desk/tray",
        "missing": "/desk/inquiry/999999",
    }


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [PHONE, DESKTOP], ids=["phone", "desktop"])
def test_every_page_is_fit_for_everybody(
    open_page: Any, places: dict[str, str], scheme: str, size: dict[str, int]
) -> None:
    # axe-core, rules for WCAG 2.0 to 2.2, levels A and AA, and its best practices
    from axe_playwright_python.sync_playwright import Axe

    page = log_in(open_page(color_scheme=scheme, viewport=size))
    found: dict[str, Any] = {}
    for name, path in places.items():
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true })")
        rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
        answer = Axe().run(page, options={"runOnly": rules, "resultTypes": ["violations"]})
        for violation in answer.response["violations"]:
            found[f"{name}: {violation['id']}"] = [node["html"][:120] for node in violation["nodes"][:3]]
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            found[f"{name}: wide"] = page.evaluate("document.documentElement.scrollWidth")
    page.goto(places["inquiry"])
    page.get_by_label("Place").fill("x" * 250)
    page.get_by_role("button", name="Save and price again").click()
    page.get_by_text("200 at most").wait_for()
    answer = Axe().run(page, options={"runOnly": rules, "resultTypes": ["violations"]})
    found |= {f"refused facts: {violation['id']}": violation["help"] for violation in answer.response["violations"]}
    assert found == {}


def test_every_page_fits_a_narrow_screen_and_double_size_letters(open_page: Any, places: dict[str, str]) -> None:
    # WCAG 2.2, 1.4.10: no sideways scrolling at 320 CSS pixels, which is 1280 at 400 %
    page = log_in(open_page(viewport={"width": 320, "height": 700}))
    for name, path in places.items():
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true })")
        assert page.evaluate("document.documentElement.scrollWidth") <= 320, name


def test_every_target_for_the_thumb_is_large_enough(open_page: Any, places: dict[str, str]) -> None:
    # 44 CSS pixels (WCAG 2.2, 2.5.5) for buttons, fields and closed parts; links inside words are exempt
    page = log_in(open_page())
    small: dict[str, Any] = {}
    for name, path in places.items():
        page.goto(path)
        page.evaluate("document.querySelectorAll('details').forEach(part => { part.open = true })")
        small[name] = page.evaluate(
            """() => [...document.querySelectorAll('button, summary, input, select, textarea, nav a, .button, .list a')]
            .filter(tag => tag.type !== 'hidden' && tag.type !== 'radio' && tag.tabIndex >= 0)
            .map(tag => [tag.outerHTML.slice(0, 80), tag.getBoundingClientRect()])
            .filter(([, box]) => box.width && (box.height < 44 || box.width < 44)).map(([html]) => html)"""
        )
    assert {name: found for name, found in small.items() if found} == {}


def test_the_keyboard_reaches_everything_and_shows_where_it_is(open_page: Any, dana: int) -> None:
    page = log_in(open_page(viewport=DESKTOP))
    page.goto(f"/desk/inquiry/{dana}")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.textContent") == "Skip to the content"
    page.keyboard.press("Enter")
    seen: list[str] = []
    for _ in range(80):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement === document.body"):
            break
        seen.append(page.evaluate("document.activeElement.name || document.activeElement.textContent.trim()"))
        assert page.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none", seen[-1]
    assert {"text", "act", "event_date", "place", "Save and price again"} <= set(seen)
