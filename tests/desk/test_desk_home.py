"""What needs her, and the list below it."""

from datetime import timedelta

import pytest
from bs4 import BeautifulSoup
from desk_cast import NOW, Clock, Person, add_inquiry, add_send, add_task, draft_of
from flask import Flask
from sqlalchemy import event

from assistant.store import Store
from assistant.store.models import Draft, Inquiry

pytestmark = pytest.mark.parametrize(
    "database_url", ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)], indirect=True
)


def needs(person: Person) -> list[str]:
    soup = BeautifulSoup(person.get("/desk").text, "html.parser")
    return [" ".join(item.get_text(" ").split()) for item in soup.select("ol.needs > li")]


def test_an_empty_desk_says_so_kindly(marit: Person) -> None:
    page = marit.get("/desk").text
    assert "Nothing needs you" in page
    assert "Every client has an answer" in page


def test_the_client_who_waits_longest_comes_first(marit: Person, store: Store) -> None:
    add_inquiry(store, ["new"], draft="x", name="Newest", at=NOW - timedelta(minutes=5))
    add_inquiry(store, ["old"], draft="x", name="Oldest", at=NOW - timedelta(days=2))
    add_inquiry(store, ["mid"], draft="x", name="Middle", at=NOW - timedelta(hours=3))
    order = [next(name for name in ("Oldest", "Middle", "Newest") if name in need) for need in needs(marit)]
    assert order == ["Oldest", "Middle", "Newest"]


def test_a_draft_made_anew_keeps_the_place_of_the_clients_words(marit: Person, store: Store) -> None:
    early = add_inquiry(store, ["early"], draft="x", name="Early", at=NOW - timedelta(days=1))
    add_inquiry(store, ["late"], draft="x", name="Late", at=NOW - timedelta(hours=1))
    with store.write() as session:
        session.get_one(Draft, draft_of(store, early).id).created_at = NOW
    assert "Early" in needs(marit)[0]


def test_each_need_says_who_when_how_much_how_old_and_what_follows(marit: Person, store: Store) -> None:
    facts = {
        "event_date": {"status": "stated", "value": "2027-05-15"},
        "pieces": [{"kind": "garland", "length_ft": [10, 12]}],
    }
    add_inquiry(store, ["hi"], facts=facts, draft="Hi Dana", name="Dana", priced=True, at=NOW - timedelta(hours=3))
    (need,) = needs(marit)
    for part in (
        "Dana",
        "May 15, 2027",
        "in 75 days",
        "10-12 ft garland",
        "$",
        "3 hours",
        "Nothing goes out",
        "Hi Dana",
    ):
        assert part in need


def test_tasks_failed_sends_and_kept_drafts_are_there_too(marit: Person, store: Store) -> None:
    one = add_inquiry(store, ["a"], name="Ada", state="asking")
    add_task(store, one, "Price the ceiling yourself")
    add_send(store, one, "Which day?", state="failed", error="no such number")
    two = add_inquiry(store, ["b"], name="Bea", draft="Later, Bea")
    with store.write() as session:
        session.get_one(Draft, draft_of(store, two).id).state = "kept"
    add_send(store, two, "Hm?", state="unsure")
    text = " | ".join(needs(marit))
    for part in ("Price the ceiling yourself", "no such number", "Kept for later", "may not have arrived"):
        assert part in text
    assert "Kept for later" in needs(marit)[-1]


def test_a_failed_send_is_settled_by_a_later_message(marit: Person, store: Store) -> None:
    one = add_inquiry(store, ["a"], state="asking")
    add_send(store, one, "Which day?", state="failed")
    add_send(store, one, "Which day, please?", state="sent")
    assert needs(marit) == []


def test_a_failed_send_of_a_closed_inquiry_needs_nobody(marit: Person, store: Store) -> None:
    add_send(store, add_inquiry(store, ["a"], state="closed"), "Which day?", state="failed")
    assert needs(marit) == []


def test_a_task_without_an_inquiry_can_be_ticked_off(marit: Person, store: Store) -> None:
    task = add_task(store, None, "Look at a mail that nobody could read")
    assert "Look at a mail" in needs(marit)[0]
    assert marit.post(f"/desk/task/{task}/done").location == "/desk?said=task_done"
    assert needs(marit) == []


def test_the_list_pages_through_every_inquiry_latest_first(marit: Person, store: Store) -> None:
    for number in range(45):
        add_inquiry(store, ["x"], name=f"Client {number:02d}", state="asking", at=NOW - timedelta(hours=number))
    seen = []
    for page in (1, 2, 3):
        soup = BeautifulSoup(marit.get(f"/desk?page={page}").text, "html.parser")
        seen += [tag.get_text() for tag in soup.select(".list-who")]
    assert seen == [f"Client {number:02d}" for number in range(45)]
    assert marit.get("/desk?page=4").status_code == 404


def test_a_nameless_client_is_shown_by_the_number_as_written_at_home(marit: Person, store: Store) -> None:
    add_inquiry(store, ["x"], draft="y", phone="+12025550142")
    assert "(202) 555-0142" in needs(marit)[0]


def test_one_page_asks_the_store_a_fixed_number_of_questions(marit: Person, store: Store) -> None:
    def questions(path: str) -> int:
        count = [0]

        def note(*_: object) -> None:
            count[0] += 1

        event.listen(store.engine, "before_cursor_execute", note)
        marit.get(path)
        event.remove(store.engine, "before_cursor_execute", note)
        return count[0]

    first = add_inquiry(store, ["x"], draft="y", name="One")
    add_task(store, first, "t")
    few = (questions("/desk"), questions(f"/desk/inquiry/{first}"), questions("/desk/tray"))
    for _ in range(12):
        more = add_inquiry(store, ["x", "y", "z"], draft="y", name="Many")
        add_task(store, more, "t")
        add_send(store, more, "t", state="failed")
        add_send(store, first, "t", state="sent")
    many = (questions("/desk"), questions(f"/desk/inquiry/{first}"), questions("/desk/tray"))
    assert max(many) <= 14
    assert all(after <= before + 2 for before, after in zip(few, many, strict=True))


@pytest.mark.parametrize("state", ["open", "asking", "drafted", "quoted", "accepted", "booked", "done", "closed"])
def test_every_state_has_a_word_of_its_own(app: Flask, marit: Person, store: Store, state: str) -> None:
    add_inquiry(store, ["x"], state=state)
    word = app.extensions["desk"].words.of("states", state)
    soup = BeautifulSoup(marit.get("/desk").text, "html.parser")
    assert soup.select_one(".list-state").get_text() == f"{word}."  # type: ignore[union-attr]


def test_a_page_shows_the_studios_own_time(marit: Person, store: Store, clock: Clock) -> None:
    inquiry = add_inquiry(store, ["x"])
    page = marit.get(f"/desk/inquiry/{inquiry}").text  # NOW is 15:00 UTC, 10:00 in New York in winter
    assert "today 10:00" in page
    with store.read() as session:
        assert session.get_one(Inquiry, inquiry).created_at == NOW
