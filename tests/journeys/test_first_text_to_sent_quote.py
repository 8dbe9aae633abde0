"""From the first text to the quote she approved: what is asked, what waits, what leaves, and only once."""

import re

from house import House
from sqlalchemy import func, select

from assistant.composition import open_runtime
from assistant.store.models import Message, Outgoing

INQUIRY = "/desk/inquiry/1"
REPLY = f"{INQUIRY}/reply"


def test_a_garland_from_the_first_text_to_the_sent_quote(house: House) -> None:
    assert house.text("how much for a garland on may 15? pink n gold").status_code == 200
    assert house.text("12 ft").status_code == 200
    answer = "Linden Hall in Springfield 62704, indoors, 2pm. regular fullness, we keep the balloons. Tess"
    assert house.text(answer).status_code == 200
    before = house.deliver()
    assert before, "the questions leave at once"
    assert not any("$" in text for text in before), "and bear no price"

    desk = house.desk()
    assert "Tess" in desk.page("/desk")
    page = desk.page(INQUIRY)
    assert "<mark" in page
    draft = desk.form(page, REPLY)
    assert re.search(r"\$\d", draft["text"])
    assert "12 ft garland in pink and gold" in draft["text"]

    edited = draft["text"] + " See you then, Marit"
    sent = desk.send(REPLY, page, {**draft, "text": edited.replace("\n", "\r\n"), "act": "send"})
    assert sent.status_code == 303
    after = house.deliver()
    assert len(after) == len(before) + 1
    assert edited in after[-1]

    again = desk.send(REPLY, page, {**draft, "act": "send"})
    assert again.status_code == 409
    assert "Marit" in again.get_data(as_text=True)
    assert len(house.deliver()) == len(after)


def test_a_corrected_fact_on_the_page_makes_a_new_draft(house: House) -> None:
    house.text(
        "Baby shower Sat May 22 1pm, Linden Hall, Springfield 62704, indoors, 10 ft garland sage and gold, "
        "regular fullness, we will take it down. Dana"
    )
    desk = house.desk()
    page = desk.page(INQUIRY)
    old = desk.form(page, REPLY)
    changed = desk.send(f"{INQUIRY}/facts", page, {"piece-0-length": "20"})
    assert changed.status_code == 303, changed.get_data(as_text=True)[:800]
    new = desk.form(desk.page(INQUIRY), REPLY)
    assert "20 ft" in new["text"]
    stale = desk.send(REPLY, page, {**old, "act": "send"})
    assert stale.status_code == 409
    assert house.deliver() == []


def test_everything_survives_a_restart(house: House) -> None:
    house.text("how much for a garland on may 15? pink n gold", sid="SM" + "1" * 32)
    house.runtime.store.close()
    again = open_runtime(house.folder, settings=house.runtime.settings, now=lambda: house.time)
    with again.store.read() as session:
        assert session.scalar(select(func.count()).select_from(Message)) == 1
        assert session.scalar(select(func.count()).select_from(Outgoing)) == 1
    again.store.close()
