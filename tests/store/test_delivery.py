"""A carrier's report moves a message forward only; one that did not arrive becomes the designer's task once."""

import itertools

import pytest
from cast import NOW, add_client, add_outgoing, outgoing
from sqlalchemy import func, select

from assistant.store import Store, outbox
from assistant.store.delivery import outgoing_of_report, report
from assistant.store.models import Outgoing, Task


def tell(store: Store, outgoing_id: int, status: str) -> bool:
    with store.write() as session:
        return report(session, session.get_one(Outgoing, outgoing_id), "SM1", status, "30003", NOW)


@pytest.mark.parametrize("order", list(itertools.permutations(["queued", "sent", "delivered"])))
def test_reports_in_any_order_end_in_delivered(store: Store, order: tuple[str, ...]) -> None:
    row = add_outgoing(store, add_client(store))
    for status in order:
        tell(store, row, status)
    assert outgoing(store, row).delivery == "delivered"


def test_a_text_that_did_not_arrive_is_told_once(store: Store) -> None:
    row = add_outgoing(store, add_client(store))
    assert [tell(store, row, status) for status in ("undelivered", "undelivered", "sent", "nonsense")] == [
        True,
        False,
        False,
        False,
    ]
    with store.read() as session:
        assert session.scalar(select(func.count(Task.id)).where(Task.kind == "not_delivered")) == 1


def test_a_report_on_an_unsure_message_spares_the_look_up(store: Store) -> None:
    row = add_outgoing(store, add_client(store))
    with store.write() as session:
        parcel = outbox.claim(session, NOW)
        assert parcel
        outbox.held(session, parcel, "the line was cut", NOW)
    tell(store, row, "sent")
    with store.write() as session:
        again = outbox.claim(session, NOW)
    assert again
    assert (again.look_up, again.provider_id) == (True, "SM1")


def test_a_report_about_another_message_is_not_taken_for_ours(store: Store) -> None:
    row = add_outgoing(store, add_client(store), provider_id="SM1")
    with store.read() as session:
        assert outgoing_of_report(session, row, "SM2") is None
        assert outgoing_of_report(session, 99, "SM1") is None
        found = outgoing_of_report(session, None, "SM1")
        assert found
        assert found.id == row
