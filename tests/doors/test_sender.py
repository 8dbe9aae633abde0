"""Nothing is sent twice without a person, nothing is lost, and the client's stop is the last word."""

import random
import threading
from collections import Counter

import pytest
from cast import NOW, add_client, add_designer, add_outgoing, outgoing
from doors_cast import Clock, Provider, make_runtime
from sqlalchemy import func, select

from assistant.doors.sender import Sender
from assistant.doors.transports import LookUp, Refused, TryLater, Unsure
from assistant.store import Store
from assistant.store.models import Client, Message, Outgoing, Task


class Killed(BaseException):
    """Stands for kill -9 at that line: nothing after it runs."""


def make_sender(store: Store, clock: Clock, provider: Provider) -> Sender:
    return Sender(make_runtime(store, clock), {"sms": provider}, chance=lambda: 0.0)


def kinds_of_tasks(store: Store) -> list[str]:
    with store.read() as session:
        return list(session.scalars(select(Task.kind)))


def test_a_message_is_sent_and_then_nothing_is_left_to_do(store: Store) -> None:
    row, provider = add_outgoing(store, add_client(store)), Provider()
    sender = make_sender(store, Clock(), provider)
    assert [sender.run_once(), sender.run_once()] == [1, 0]
    assert (outgoing(store, row).state, provider.ids) == ("sent", [row])


@pytest.mark.parametrize("look_up", [LookUp.LATE, LookUp.EXACT])
def test_a_crash_after_the_accept_is_looked_up_and_not_repeated(store: Store, look_up: LookUp) -> None:
    row, clock, provider = add_outgoing(store, add_client(store)), Clock(), Provider(look_up, [Killed()])
    sender = make_sender(store, clock, provider)
    with pytest.raises(Killed):
        sender.run_once()
    assert outgoing(store, row).state == "claimed"
    clock.turn(seconds=61)
    sender.run_once()
    assert (outgoing(store, row).state, outgoing(store, row).provider_id) == ("sent", "SM1")
    assert provider.ids == [row]


def test_a_crash_where_nobody_can_be_asked_waits_for_a_person(store: Store) -> None:
    row, clock, provider = add_outgoing(store, add_client(store)), Clock(), Provider(LookUp.NONE, [Killed()])
    sender = make_sender(store, clock, provider)
    with pytest.raises(Killed):
        sender.run_once()
    for _ in range(5):
        clock.turn(hours=1)
        sender.run_once()
    assert (outgoing(store, row).state, provider.ids) == ("unsure", [row])
    assert kinds_of_tasks(store) == ["send_unsure"]


def test_an_unclear_send_that_never_arrived_is_repeated_only_after_the_list_had_time(store: Store) -> None:
    provider = Provider(troubles=[Unsure("cut")], lost=True)
    row, clock = add_outgoing(store, add_client(store)), Clock()
    sender = make_sender(store, clock, provider)
    sender.run_once()
    clock.turn(minutes=4)
    sender.run_once()
    assert outgoing(store, row).state == "unsure"
    clock.turn(minutes=1)
    sender.run_once()
    sender.run_once()
    assert (outgoing(store, row).state, provider.ids) == ("sent", [row])


def test_an_unclear_send_of_a_price_that_is_not_found_waits_for_a_person(store: Store) -> None:
    ada = add_designer(store)
    row = add_outgoing(store, add_client(store), needs_yes=True, approved_by=ada, text="$475 to $575")
    clock, provider = Clock(), Provider(troubles=[Unsure("cut")], lost=True)
    sender = make_sender(store, clock, provider)
    for _ in range(5):
        sender.run_once()
        clock.turn(minutes=5)
    assert (outgoing(store, row).state, provider.ids) == ("unsure", [])
    assert kinds_of_tasks(store) == ["send_unsure"]


def test_the_same_words_said_twice_on_purpose_are_not_taken_for_one(store: Store) -> None:
    dana, clock = add_client(store), Clock()
    add_outgoing(store, dana, text="Thank you!")
    second = add_outgoing(store, dana, text="Thank you!")
    provider = Provider(troubles=[None, Unsure("cut")])
    sender = make_sender(store, clock, provider)
    sender.run_once()
    clock.turn(minutes=1)
    sender.run_once()
    assert outgoing(store, second).provider_id == "SM2"


def test_a_fault_nobody_foresaw_counts_as_unclear(store: Store) -> None:
    row, clock, provider = add_outgoing(store, add_client(store)), Clock(), Provider(troubles=[ZeroDivisionError()])
    sender = make_sender(store, clock, provider)
    sender.run_once()
    assert outgoing(store, row).state == "unsure"
    clock.turn(minutes=1)
    sender.run_once()
    assert provider.ids == [row]


def test_a_refusal_is_tried_once_and_told(store: Store) -> None:
    row, clock = add_outgoing(store, add_client(store)), Clock()
    provider = Provider(troubles=[Refused("no such number")], lost=True)
    sender = make_sender(store, clock, provider)
    sender.run_once()
    clock.turn(days=1)
    assert sender.run_once() == 0
    assert outgoing(store, row).state == "failed"
    assert kinds_of_tasks(store) == ["send_failed"]


def test_a_confirmation_that_the_carrier_sent_itself_is_no_failure(store: Store) -> None:
    """Long codes confirm STOP on their own and then block ours (Twilio error 21610)."""
    dana = add_client(store, stopped_at=NOW)
    row = add_outgoing(store, dana, purpose="opt_out", text="You will get no more messages from us.")
    provider = Provider(troubles=[Refused("code 21610", opted_out=True)], lost=True)
    make_sender(store, Clock(), provider).run_once()
    assert outgoing(store, row).state == "stopped"
    assert kinds_of_tasks(store) == []


def test_a_channel_without_a_way_out_is_told_with_its_remedy(store: Store) -> None:
    row = add_outgoing(store, add_client(store), channel="email")
    make_sender(store, Clock(), Provider()).run_once()
    assert "set one up, or allow the tray" in (outgoing(store, row).error or "")


def test_waits_grow_and_a_wait_the_provider_asked_for_is_kept(store: Store) -> None:
    row, clock = add_outgoing(store, add_client(store)), Clock()
    provider = Provider(troubles=[TryLater("busy"), TryLater("busy"), TryLater("busy", after=600)], lost=True)
    sender, waits = make_sender(store, clock, provider), []
    for _ in range(3):
        sender.run_once()
        waits.append((outgoing(store, row).due_at - clock.now).total_seconds())
        clock.now = outgoing(store, row).due_at
    assert waits == [15, 30, 600]
    sender.run_once()
    assert outgoing(store, row).state == "sent"


def test_after_a_day_without_a_way_a_person_decides(store: Store) -> None:
    row, clock = add_outgoing(store, add_client(store)), Clock()
    provider = Provider(troubles=[TryLater("down")] * 500, lost=True)
    sender = make_sender(store, clock, provider)
    for _ in range(100):
        sender.run_once()
        clock.turn(minutes=30)
    assert outgoing(store, row).state == "failed"
    assert len(provider.troubles) > 440, "a provider that is down is not flooded"


def test_a_stop_between_the_yes_and_the_sending_wins(store: Store) -> None:
    dana = add_client(store)
    row = add_outgoing(store, dana, needs_yes=True, approved_by=add_designer(store), text="$475")
    provider = Provider()
    with store.write() as session:
        session.get_one(Client, dana).stopped_at = NOW
    make_sender(store, Clock(), provider).run_once()
    assert (outgoing(store, row).state, provider.ids) == ("stopped", [])


def test_a_stop_while_a_message_is_looked_up_forbids_the_repeat(store: Store) -> None:
    dana, clock, provider = add_client(store), Clock(), Provider(LookUp.EXACT, [Unsure("cut")], lost=True)
    row, sender = add_outgoing(store, dana), make_sender(store, clock, provider)
    sender.run_once()
    with store.write() as session:
        session.get_one(Client, dana).stopped_at = NOW
    clock.turn(minutes=10)
    sender.run_once()
    assert provider.ids == []
    sender.run_once()
    assert (outgoing(store, row).state, provider.ids) == ("stopped", [])


def test_a_sender_that_comes_back_late_writes_nothing(store: Store) -> None:
    row, clock, provider = add_outgoing(store, add_client(store)), Clock(), Provider(LookUp.EXACT)
    quick = make_sender(store, clock, provider)

    class Slow(Provider):
        def send(self, parcel):
            sid = provider.send(parcel)
            clock.turn(seconds=61)
            quick.run_once()
            return f"late-{sid}"

    assert make_sender(store, clock, Slow()).run_once(1) == 1
    assert (outgoing(store, row).provider_id, provider.ids) == ("SM1", [row])
    with store.read() as session:
        assert session.scalar(select(func.count(Message.id))) == 1


def test_two_senders_with_a_moody_provider_send_each_message_once(store: Store) -> None:
    """One in four calls fails, before or after the accept; in the end each message left once or waits for a person."""
    chance, clock = random.Random(7), Clock()
    rows = [add_outgoing(store, add_client(store), text=f"hello {n}", recipient=f"+1202555{n:04}") for n in range(40)]
    lock, accepted = threading.Lock(), []

    class Moody:
        look_up = LookUp.LATE

        def send(self, parcel):
            with lock:
                mood = chance.random()
                if mood < 0.1:
                    raise TryLater("busy")
                if mood < 0.17:
                    raise Unsure("cut before")
                accepted.append((f"SM{len(accepted)}", parcel))
                if mood < 0.25:
                    raise Unsure("cut after")
                return accepted[-1][0]

        def find(self, parcel):
            return [sid for sid, one in accepted if one.text == parcel.text]

    moody = Moody()
    for _ in range(12):
        threads = [threading.Thread(target=make_sender(store, clock, moody).run_once) for _ in range(2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        clock.turn(minutes=5)
    with store.read() as session:
        assert Counter(session.scalars(select(Outgoing.state))) == {"sent": len(rows)}
    assert sorted(parcel.id for _, parcel in accepted) == rows


def test_the_sender_goes_on_after_a_fault_and_ends_when_told(store: Store) -> None:
    row, provider, stop = add_outgoing(store, add_client(store)), Provider(), threading.Event()
    sender = make_sender(store, Clock(), provider)
    faults = [ZeroDivisionError()]
    claim_once = sender.run_once

    def run_once(limit: int, told: threading.Event) -> int:
        if faults:
            raise faults.pop()
        done = claim_once(limit, told)
        if done == 0:
            stop.set()
        return done

    sender.run_once = run_once
    stop.wait = lambda _seconds=None: stop.is_set()
    sender.run(stop)
    assert (outgoing(store, row).state, provider.ids) == ("sent", [row])
