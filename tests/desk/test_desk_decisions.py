"""Her yes and her no: what is sent is what she saw, once, and nothing she typed is lost."""

import html

import pytest
from bs4 import BeautifulSoup
from desk_cast import HEADERS, NOW, FakeFlow, Person, add_inquiry, add_send, at_once, draft_of, token_in
from sqlalchemy import select

from assistant.flow.errors import NothingToSend
from assistant.store import Store
from assistant.store.models import Client, Draft, Inquiry, Outgoing

pytestmark = pytest.mark.parametrize(
    "database_url", ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)], indirect=True
)

DRAFT = "Hi Dana!\n\nA 10 ft garland comes to $450.\nShall we?"


@pytest.fixture
def inquiry(store: Store) -> int:
    return add_inquiry(store, ["a garland please"], draft=DRAFT, name="Dana", reasons=["It bears a price"])


def shown_text(page: str) -> str:
    """What a browser shows in the reply's box: the first line break after the tag is not part of it (HTML)."""
    area = BeautifulSoup(page, "html.parser").find("textarea", {"name": "text"})
    return area.get_text().removeprefix("\n")  # type: ignore[union-attr]


def form(store: Store, inquiry: int, **more: str) -> dict[str, object]:
    draft = draft_of(store, inquiry)
    return {"draft_id": draft.id, "fingerprint": draft.fingerprint, "text": draft.text, **more}


def sent(store: Store) -> list[Outgoing]:
    with store.read() as session:
        return list(session.scalars(select(Outgoing).order_by(Outgoing.id)))


@pytest.mark.parametrize(
    "text",
    [
        DRAFT,
        "\nbegins with an empty line",
        "ends with one\n",
        "  spaces  ",
        "<b>&amp;\"'",
        "emoji 🎈 and é",
        "tab\there",
        "\u00a0non-breaking",
        "x" * 1500,
    ],
)
def test_the_text_sent_is_the_text_shown_to_the_last_character(
    marit: Person, store: Store, flow: FakeFlow, text: str
) -> None:
    inquiry = add_inquiry(store, ["hi"], draft=text)
    page = marit.get(f"/desk/inquiry/{inquiry}").text
    assert shown_text(page) == text
    as_browsers_send = shown_text(page).replace("\n", "\r\n")
    answer = marit.post(f"/desk/inquiry/{inquiry}/reply", form(store, inquiry, text=as_browsers_send, act="send"))
    assert answer.location == f"/desk/inquiry/{inquiry}?said=sent"
    assert flow.asked == [("approve", draft_of(store, inquiry).id, text, None)]
    assert [row.text for row in sent(store)] == [text]


def test_her_own_version_is_what_goes_out(marit: Person, store: Store, flow: FakeFlow, inquiry: int) -> None:
    marit.post(f"/desk/inquiry/{inquiry}/reply", form(store, inquiry, text="Hi Dana,\r\n$440 it is.", act="send"))
    assert [row.text for row in sent(store)] == ["Hi Dana,\n$440 it is."]


def test_a_mail_goes_with_its_subject_and_a_text_without(marit: Person, store: Store, flow: FakeFlow) -> None:
    mail = add_inquiry(store, ["hi"], channel="email", phone="d@example.com", draft="Dear D", subject="Your arch")
    marit.post(f"/desk/inquiry/{mail}/reply", form(store, mail, subject="Your\r\nBcc: x@example.com arch"))
    assert flow.asked[-1][3] == "Your  Bcc: x@example.com arch"
    text = add_inquiry(store, ["hi"], draft="Hi")
    marit.post(f"/desk/inquiry/{text}/reply", form(store, text, subject="planted"))
    assert flow.asked[-1][3] is None


def test_the_second_yes_learns_who_was_first_and_what_was_sent(
    marit: Person, ines: Person, store: Store, inquiry: int
) -> None:
    data = form(store, inquiry)
    marit.post(f"/desk/inquiry/{inquiry}/reply", data)
    answer = ines.post(f"/desk/inquiry/{inquiry}/reply", {**data, "text": "My version, $400"})
    assert answer.status_code == 409
    assert "Marit was first" in answer.text
    assert html.escape(DRAFT.split("\n")[2], quote=True) in answer.text
    assert "My version, $400" in answer.text
    assert len(sent(store)) == 1


def test_two_designers_at_the_same_moment_send_once(marit: Person, ines: Person, store: Store, inquiry: int) -> None:
    path, data = f"/desk/inquiry/{inquiry}/reply", form(store, inquiry)
    tokens = [token_in(person.get("/desk").text) for person in (marit, ines)]
    answers = at_once(
        *(
            lambda person=person, token=token: person.web.post(
                path, data={**data, "form_token": token}, headers=HEADERS
            )
            for person, token in zip((marit, ines), tokens, strict=True)
        )
    )
    assert sorted(answer.status_code for answer in answers) == [303, 409]
    assert len(sent(store)) == 1


def test_a_draft_that_changed_meanwhile_is_shown_beside_her_words(marit: Person, store: Store, inquiry: int) -> None:
    data = form(store, inquiry, text="My own words")
    with store.write() as session:
        draft = session.get_one(Draft, draft_of(store, inquiry).id)
        draft.text, draft.fingerprint = "A newer draft, $500", "another"
    answer = marit.post(f"/desk/inquiry/{inquiry}/reply", data)
    assert answer.status_code == 409
    assert shown_text(answer.text) == "My own words"
    assert "A newer draft, $500" in answer.text
    assert sent(store) == []


def test_an_empty_reply_is_not_sent(marit: Person, store: Store, inquiry: int) -> None:
    answer = marit.post(f"/desk/inquiry/{inquiry}/reply", form(store, inquiry, text=" \r\n "))
    assert answer.status_code == 400
    assert "the reply is empty" in answer.text
    assert sent(store) == []


def test_kept_for_later_goes_to_the_end_of_the_list_and_sends_nothing(
    marit: Person, store: Store, inquiry: int
) -> None:
    answer = marit.post(f"/desk/inquiry/{inquiry}/reply", form(store, inquiry, act="keep"))
    assert answer.location == "/desk?said=kept"
    assert draft_of(store, inquiry).state == "kept"
    page = marit.get(f"/desk/inquiry/{inquiry}").text
    assert 'value="keep"' not in page
    assert 'value="send"' in page
    assert sent(store) == []


def test_keeping_does_not_lose_what_she_changed(marit: Person, store: Store, inquiry: int) -> None:
    answer = marit.post(f"/desk/inquiry/{inquiry}/reply", form(store, inquiry, text="half a thought", act="keep"))
    assert answer.status_code == 409
    assert shown_text(answer.text) == "half a thought"
    assert draft_of(store, inquiry).state == "waiting"


def test_answering_herself_drops_the_draft(marit: Person, store: Store, inquiry: int) -> None:
    assert marit.post(f"/desk/inquiry/{inquiry}/mine").location.endswith("?said=mine")
    assert draft_of(store, inquiry).state == "dropped"
    assert "Your words to Dana" in marit.get(f"/desk/inquiry/{inquiry}").text


def test_her_own_words_are_sent_as_written(marit: Person, store: Store, flow: FakeFlow, inquiry: int) -> None:
    marit.post(f"/desk/inquiry/{inquiry}/write", {"own_text": "I'll ring you\r\nat 5."})
    assert flow.asked == [("write", inquiry, "I'll ring you\nat 5.", None)]


@pytest.mark.parametrize(("text", "said"), [("  ", "write the text first"), ("x" * 20_001, "20000 at most")])
def test_nothing_and_too_much_are_said_beside_her_own_words(
    marit: Person, flow: FakeFlow, inquiry: int, text: str, said: str
) -> None:
    answer = marit.post(f"/desk/inquiry/{inquiry}/write", {"own_text": text})
    assert answer.status_code == 400
    assert said in answer.text
    assert flow.asked == []


def test_what_the_flow_refuses_is_said_and_her_words_stay(marit: Person, flow: FakeFlow, inquiry: int) -> None:
    flow.trouble = NothingToSend("this client asked for no more messages")
    answer = marit.post(f"/desk/inquiry/{inquiry}/write", {"own_text": "Hello again"})
    assert answer.status_code == 400
    assert "asked for no more messages" in answer.text
    assert "Hello again" in answer.text


@pytest.mark.parametrize(
    ("given", "kept"),
    [
        ({"reason": "budget"}, "The budget does not fit"),
        ({"other_reason": " moved  away "}, "moved away"),
        ({"reason": "budget", "other_reason": "moved away"}, "moved away"),
    ],
)
def test_an_inquiry_is_closed_with_a_reason(
    marit: Person, flow: FakeFlow, inquiry: int, given: dict[str, str], kept: str
) -> None:
    marit.post(f"/desk/inquiry/{inquiry}/close", given)
    assert flow.asked == [("close", inquiry, kept)]
    assert kept in marit.get(f"/desk/inquiry/{inquiry}").text


@pytest.mark.parametrize("given", [{}, {"reason": "made up"}, {"other_reason": "x" * 201}])
def test_no_inquiry_is_closed_without_a_reason(
    marit: Person, flow: FakeFlow, inquiry: int, given: dict[str, str]
) -> None:
    answer = marit.post(f"/desk/inquiry/{inquiry}/close", given)
    assert answer.status_code == 400
    assert "Choose a reason" in answer.text
    assert flow.asked == []


@pytest.mark.parametrize(
    ("state", "word"),
    [
        ("waiting", "On its way"),
        ("sent", "Sent"),
        ("failed", "Not sent"),
        ("unsure", "Not known whether it arrived"),
        ("stopped", "Held back"),
    ],
)
def test_what_left_is_shown_with_how_it_stands(marit: Person, store: Store, state: str, word: str) -> None:
    inquiry = add_inquiry(store, ["hi"], state="quoted")
    add_send(store, inquiry, "Your price is $450", state=state, error="30006" if state == "failed" else None)
    soup = BeautifulSoup(marit.get(f"/desk/inquiry/{inquiry}").text, "html.parser")
    assert "Your price is $450" in soup.select_one(".bubble.mine").get_text()  # type: ignore[union-attr]
    assert word in soup.select_one(".turn-state").get_text()  # type: ignore[union-attr]


def test_a_client_who_asked_for_silence_is_marked(marit: Person, store: Store, inquiry: int) -> None:
    with store.write() as session:
        client = session.get_one(Client, session.get_one(Inquiry, inquiry).client_id)
        client.stopped_at = NOW
    assert "asked for no more messages" in marit.get(f"/desk/inquiry/{inquiry}").text


def test_the_tray_shows_what_left(marit: Person, store: Store, inquiry: int) -> None:
    marit.post(f"/desk/inquiry/{inquiry}/reply", form(store, inquiry))
    page = marit.get("/desk/tray").text
    assert "A 10 ft garland comes to $450." in page
    assert "Dana" in page


def test_the_length_of_the_reply_is_told_in_parts_as_they_are_sent(marit: Person, store: Store) -> None:
    # 3GPP TS 23.038: 160 septets in one part, 153 in each of several; 70 and 67 characters outside that alphabet
    for text, told in (("a" * 160, "160 characters, 1 part"), ("a" * 161, "161 characters, 2 parts"),
                       ("ê" * 71, "71 characters, 2 parts")):  # fmt: skip
        inquiry = add_inquiry(store, ["hi"], draft=text)
        line = BeautifulSoup(marit.get(f"/desk/inquiry/{inquiry}").text, "html.parser").find(id="count")
        assert line.get_text() == told  # type: ignore[union-attr]
