"""The client against a local stand-in that speaks the needed part of the public message REST API.

Meaning of the statuses and codes: https://www.twilio.com/docs/api/errors (20429, 20500, 21211, 21610).
"""

from collections.abc import Iterator
from datetime import timedelta
from email.utils import format_datetime
from typing import Any

import pytest
from cast import NOW, add_client, add_outgoing, outgoing
from doors_cast import Clock, make_runtime
from provider_stand_in import StandIn

from assistant.doors.sender import Sender
from assistant.doors.transports import Refused, TryLater, Unsure
from assistant.doors.transports.twilio import Twilio
from assistant.store import Store, outbox
from assistant.store.parcels import Parcel

SID, TOKEN = "AC" + "0" * 32, "12345"


@pytest.fixture
def twilio(stand_in: StandIn) -> Iterator[Twilio]:
    way = Twilio(SID, TOKEN, api_base=stand_in.base, status_url="https://studio.example.com/doors/sms/status")
    yield way
    way.close()


@pytest.fixture
def parcel(sqlite_store: Store) -> Parcel:
    return claimed(sqlite_store)


def claimed(store: Store, **values: Any) -> Parcel:
    add_outgoing(store, add_client(store), **values)
    with store.write() as session:
        found = outbox.claim(session, NOW)
    assert found
    return found


def test_a_text_goes_out_with_our_id_in_the_report_address(twilio: Twilio, stand_in: StandIn, parcel: Parcel) -> None:
    assert twilio.send(parcel) == "SM" + "0" * 32
    method, path, form = stand_in.seen[0]
    assert (method, path) == ("POST", f"/2010-04-01/Accounts/{SID}/Messages.json")
    assert form == {
        "To": "+12025550101",
        "From": "+12025550199",
        "Body": "Which day is the party?",
        "StatusCallback": f"https://studio.example.com/doors/sms/status?outgoing={parcel.id}",
    }


@pytest.mark.parametrize(
    ("answer", "problem"),
    [
        ((429, 20429, {}), TryLater),
        ((401, 20003, {}), TryLater),
        ((400, 21211, {}), Refused),
        ((400, 21610, {}), Refused),
        ((500, 20500, {}), Unsure),
        ((503, 20503, {}), Unsure),
        ("cut", Unsure),
    ],
)
def test_each_failure_is_told_apart(
    twilio: Twilio, stand_in: StandIn, parcel: Parcel, answer: Any, problem: type[Exception]
) -> None:
    stand_in.answers = [answer]
    with pytest.raises(problem):
        twilio.send(parcel)


def test_a_wait_that_was_asked_for_is_passed_on(twilio: Twilio, stand_in: StandIn, parcel: Parcel) -> None:
    stand_in.answers = [(429, 20429, {"Retry-After": "7"})]
    with pytest.raises(TryLater) as caught:
        twilio.send(parcel)
    assert caught.value.after == 7


def test_a_client_who_opted_out_at_the_carrier_is_known(twilio: Twilio, stand_in: StandIn, parcel: Parcel) -> None:
    stand_in.answers = [(400, 21610, {})]
    with pytest.raises(Refused) as caught:
        twilio.send(parcel)
    assert caught.value.opted_out


def test_a_provider_that_is_not_there_took_nothing(parcel: Parcel) -> None:
    way = Twilio(SID, TOKEN, api_base="http://127.0.0.1:1")
    with pytest.raises(TryLater, match="could not be reached"):
        way.send(parcel)
    with pytest.raises(TryLater):
        way.find(parcel)
    way.close()


def test_only_the_same_text_since_the_last_try_is_found(twilio: Twilio, stand_in: StandIn, parcel: Parcel) -> None:
    twilio.send(parcel)
    assert twilio.find(parcel) == ["SM" + "0" * 32]
    stand_in.accepted[0]["date_created"] = format_datetime(NOW - timedelta(minutes=3))
    assert twilio.find(parcel) == []
    stand_in.accepted[0] |= {"date_created": format_datetime(NOW), "body": "Other words"}
    assert twilio.find(parcel) == []


def test_an_answer_that_got_lost_is_looked_up_and_not_repeated(
    twilio: Twilio, stand_in: StandIn, sqlite_store: Store
) -> None:
    row, clock = add_outgoing(sqlite_store, add_client(sqlite_store)), Clock()
    sender = Sender(make_runtime(sqlite_store, clock), {"sms": twilio})
    stand_in.answers = ["cut"]
    sender.run_once()
    assert outgoing(sqlite_store, row).state == "unsure"
    clock.turn(minutes=1)
    sender.run_once()
    assert outgoing(sqlite_store, row).state == "sent"
    assert len(stand_in.accepted) == 1
