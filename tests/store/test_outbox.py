"""A message is claimed by one sender, sent in order, checked at the last moment, and never taken back by a late one."""

import threading
from datetime import timedelta

import pytest
from cast import NOW, add_client, add_designer, add_outgoing, outgoing
from sqlalchemy import func, select, text

from assistant.store import Store, outbox
from assistant.store.models import AuditLine, Client, Message, Outgoing, Task
from assistant.store.parcels import Parcel

LATER = NOW + timedelta(seconds=61)


def take(store: Store, now=NOW) -> Parcel | None:
    with store.write(alone=False) as session:
        return outbox.claim(session, now)


def take_one(store: Store, now=NOW) -> Parcel:
    parcel = take(store, now)
    assert parcel is not None
    return parcel


def test_a_claimed_message_is_not_claimed_again_while_its_lease_runs(store: Store) -> None:
    add_outgoing(store, add_client(store))
    assert take_one(store).claim == 1
    assert take(store) is None


def test_a_message_is_not_sent_before_it_is_due(store: Store) -> None:
    add_outgoing(store, add_client(store), due_at=NOW + timedelta(hours=1))
    assert take(store) is None
    assert take(store, NOW + timedelta(hours=1)) is not None


def test_a_lease_that_ran_out_is_looked_up_and_the_late_sender_is_refused(store: Store) -> None:
    row = add_outgoing(store, add_client(store))
    first = take_one(store)
    second = take_one(store, LATER)
    assert (first.look_up, second.look_up, second.claim, second.tried_at) == (False, True, 2, NOW)
    with pytest.raises(outbox.LeaseLost), store.write() as session:
        outbox.sent(session, first, "SM1", LATER)
    with store.write() as session:
        outbox.sent(session, second, "SM2", LATER)
    assert (outgoing(store, row).state, outgoing(store, row).provider_id) == ("sent", "SM2")


def test_what_was_sent_stands_in_the_conversation_once(store: Store) -> None:
    add_outgoing(store, add_client(store), headers={"In-Reply-To": "<a@b>", "References": "<x@y> <a@b>"})
    with store.write() as session:
        parcel = outbox.claim(session, NOW)
        assert parcel
        outbox.sent(session, parcel, "SM1", NOW)
    with store.read() as session:
        said = session.scalars(select(Message)).one()
    assert (said.direction, said.provider_id, said.text) == ("out", "SM1", "Which day is the party?")
    assert said.thread_ids == ["<a@b>", "<x@y>"]
    assert take(store, LATER) is None


def test_a_client_gets_her_messages_in_order_and_one_at_a_time(store: Store) -> None:
    dana, eli = add_client(store), add_client(store)
    first, second = add_outgoing(store, dana), add_outgoing(store, dana)
    other = add_outgoing(store, eli)
    parcel = take_one(store)
    assert (parcel.id, take_one(store).id) == (first, other)
    assert take(store) is None
    soon = NOW + timedelta(seconds=30)
    with store.write() as session:
        outbox.later(session, parcel, "provider is busy", soon)
    assert take(store) is None, "the second must not overtake the first while it waits"
    again = take_one(store, soon)
    assert again.id == first
    with store.write() as session:
        outbox.sent(session, again, "SM1", NOW)
    assert take_one(store, soon).id == second


def test_a_message_held_for_a_person_lets_later_ones_pass(store: Store) -> None:
    dana = add_client(store)
    add_outgoing(store, dana)
    second = add_outgoing(store, dana)
    parcel = take_one(store)
    with store.write() as session:
        outbox.held(session, parcel, "the line was cut", NOW)
    assert take_one(store).id == second
    with store.read() as session:
        assert session.scalars(select(Task.kind)).all() == ["send_unsure"]


def test_eight_senders_send_each_message_once(store: Store) -> None:
    for _ in range(6):
        client = add_client(store)
        for _ in range(2):
            add_outgoing(store, client)
    taken: list[int] = []

    def work() -> None:
        idle = 0
        while idle < 3:
            with store.write(alone=False) as session:
                parcel = outbox.claim(session, NOW)
            if parcel is None:
                idle += 1
                continue
            taken.append(parcel.id)
            with store.write(alone=False) as session:
                outbox.sent(session, parcel, f"SM{parcel.id}", NOW)

    threads = [threading.Thread(target=work) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(taken) == list(range(1, 13))
    with store.read() as session:
        assert session.scalar(select(func.count(Message.id))) == 12


def test_a_price_without_a_yes_is_never_sent(store: Store) -> None:
    row = add_outgoing(store, add_client(store), needs_yes=True, text="It comes to $475")
    assert take(store) is None
    assert outgoing(store, row).state == "failed"
    assert "nobody approved it" in (outgoing(store, row).error or "")


def test_a_text_changed_after_the_yes_is_never_sent(store: Store) -> None:
    ada = add_designer(store)
    row = add_outgoing(store, add_client(store), needs_yes=True, approved_by=ada, text="It comes to $475")
    with store.write() as session:
        session.get_one(Outgoing, row).text = "It comes to $47"
    assert take(store) is None
    assert outgoing(store, row).state == "failed"


def test_an_approved_price_is_sent(store: Store) -> None:
    row = add_outgoing(store, add_client(store), needs_yes=True, approved_by=add_designer(store), text="$475")
    parcel = take_one(store)
    assert (parcel.id, parcel.automatic) == (row, False)


def test_nothing_but_the_confirmation_leaves_after_an_opt_out(store: Store) -> None:
    dana = add_client(store)
    price = add_outgoing(store, dana, due_at=NOW + timedelta(days=1))
    confirmation = add_outgoing(store, dana, purpose="opt_out", text="You will get no more messages from us.")
    with store.write() as session:
        session.get_one(Client, dana).stopped_at = NOW
        outbox.stop_opted_out(session, NOW)
    assert take_one(store).id == confirmation
    assert outgoing(store, price).state == "stopped"
    with store.read() as session:
        assert session.scalars(select(AuditLine.what)).all() == ["stopped"]


def test_a_message_to_a_client_who_opted_out_is_not_even_claimed(store: Store) -> None:
    dana = add_client(store, stopped_at=NOW)
    add_outgoing(store, dana)
    assert take(store) is None


def test_the_next_message_is_found_by_the_index_of_open_messages(store: Store) -> None:
    """A long history of sent messages must not slow the line down."""
    statement = outbox._DUE.params(now=NOW).compile(store.engine, compile_kwargs={"literal_binds": True})
    with store.read() as session:
        if store.engine.dialect.name == "sqlite":
            plan = session.execute(text(f"EXPLAIN QUERY PLAN {statement}")).scalars("detail").all()
        else:
            session.execute(text("SET LOCAL enable_seqscan = off"))
            unlocked = str(statement).replace(" FOR UPDATE SKIP LOCKED", "")
            plan = session.scalars(text(f"EXPLAIN {unlocked}")).all()
    assert any("ix_outgoing_due" in step for step in plan), plan


def test_a_carrier_that_says_opted_out_opts_the_client_out(store: Store) -> None:
    dana = add_client(store)
    add_outgoing(store, dana)
    parcel = take_one(store)
    with store.write() as session:
        outbox.failed(session, parcel, "she opted out", NOW, opted_out=True)
    with store.read() as session:
        assert session.get_one(Client, dana).stopped_at == NOW


@pytest.mark.parametrize(("arrived", "state", "messages"), [(True, "sent", 1), (False, "waiting", 0)])
def test_a_persons_word_settles_a_held_message(store: Store, arrived: bool, state: str, messages: int) -> None:
    row = add_outgoing(store, add_client(store))
    parcel = take_one(store)
    with store.write() as session:
        outbox.held(session, parcel, "the line was cut", NOW)
    with store.write() as session:
        outbox.settle(session, row, arrived=arrived, now=NOW)
    assert outgoing(store, row).state == state
    with store.read() as session:
        assert session.scalar(select(func.count(Message.id))) == messages
    with pytest.raises(LookupError, match="not held"), store.write() as session:
        outbox.settle(session, row, arrived=True, now=NOW)
