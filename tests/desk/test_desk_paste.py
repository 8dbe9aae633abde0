"""Pasting in a message goes the way of every other message."""

import pytest
from bs4 import BeautifulSoup
from desk_cast import Person, add_inquiry

from assistant.doors.inbound import Inbound
from assistant.flow import Receipt
from assistant.store import Store


class Listener:
    """A flow that remembers what it received."""

    def __init__(self, inquiry: int) -> None:
        self.inquiry, self.heard = inquiry, []

    def receive(self, inbound: Inbound) -> Receipt:
        known = inbound.provider_id in [message.provider_id for message in self.heard]
        self.heard.append(inbound)
        return Receipt(1, self.inquiry, duplicate=known)


@pytest.fixture
def inquiry(store: Store) -> int:
    return add_inquiry(store, ["hi"])


@pytest.fixture
def flow(inquiry: int) -> Listener:
    return Listener(inquiry)


GIVEN = {"pasted": "Do you do arches?\r\nMay 15", "name": "Dana", "reach": "(202) 555-0101", "came_from": "call"}


def test_it_is_received_like_a_message_from_any_door(marit: Person, flow: Listener, inquiry: int) -> None:
    answer = marit.post("/desk/paste", GIVEN)
    assert answer.location == f"/desk/inquiry/{inquiry}?said=pasted"
    (heard,) = flow.heard
    assert (heard.channel, heard.sender, heard.sender_name) == ("paste", "+12025550101", "Dana")
    assert heard.text == "Do you do arches?\nMay 15"
    assert "phone call" in heard.note.lower()


def test_a_second_tap_on_the_button_is_the_same_message(marit: Person, flow: Listener) -> None:
    ticket = BeautifulSoup(marit.get("/desk/paste").text, "html.parser").select_one("[name=ticket]")["value"]  # type: ignore[index]
    first, second = (marit.post("/desk/paste", {**GIVEN, "ticket": str(ticket)}) for _ in range(2))
    assert first.location.endswith("said=pasted")
    assert second.location.endswith("said=pasted_before")


def test_the_same_words_pasted_on_another_page_are_another_message(marit: Person, flow: Listener) -> None:
    for _ in range(2):
        page = BeautifulSoup(marit.get("/desk/paste").text, "html.parser")
        marit.post("/desk/paste", {**GIVEN, "ticket": str(page.select_one("[name=ticket]")["value"])})  # type: ignore[index]
    assert len({heard.provider_id for heard in flow.heard}) == 2


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"pasted": " "}, "paste or type"),
        ({"pasted": "x" * 20_001}, "20000 at most"),
        ({"name": "x" * 201}, "200 at most"),
        ({"reach": "x" * 255}, "254 at most"),
        ({"name": "", "reach": ""}, "give a name"),
    ],
)
def test_what_is_missing_is_said_and_what_was_typed_stays(
    marit: Person, flow: Listener, given: dict[str, str], said: str
) -> None:
    answer = marit.post("/desk/paste", {**GIVEN, **given})
    assert answer.status_code == 400
    assert said in answer.text
    assert {**GIVEN, **given}["pasted"].replace("\r\n", "\n") in answer.text
    assert flow.heard == []
