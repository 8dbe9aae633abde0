"""Each fact is followed back to the client's own words, also where spans overlap or make no sense."""

from typing import Any

import pytest
from bs4 import BeautifulSoup
from desk_cast import NOW, Person, add_inquiry
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.desk.facts import spans_of, with_sources
from assistant.desk.marks import cut, numbers
from assistant.store import Store
from assistant.store.models import Inquiry, Message


def fact(*spans: list[int]) -> dict[str, Any]:
    return {"status": "stated", "value": "x", "from": list(spans)}


def test_the_words_that_gave_a_fact_are_marked_with_it() -> None:
    (pieces,) = cut(["a garland on may 15"], {"event_date": fact([0, 13, 19])})
    assert [(piece.text, piece.facts) for piece in pieces] == [("a garland on ", ()), ("may 15", ("event_date",))]


def test_overlapping_words_belong_to_both_facts() -> None:
    facts = {"place": fact([0, 0, 10]), "setting": fact([0, 5, 15])}
    (pieces,) = cut(["park tent by the lake"], facts)
    assert [piece.facts for piece in pieces] == [("place",), ("setting", "place"), ("setting",), ()]


def test_each_message_is_marked_by_its_own_number() -> None:
    first, second = cut(["may 15", "or 16"], {"event_date": fact([0, 0, 6], [1, 3, 5])})
    assert first[0].anchors == ("w-event_date-1",)
    assert second[1].anchors == ("w-event_date-2",)


@pytest.mark.parametrize(
    "span", [[5, 0, 3], [0, 50, 60], [0, 3, 3], [0, 4, 2], [-1, 0, 2], ["0", 0, 1], [0, 0], None, [0, None, 3]]
)
def test_a_span_that_points_nowhere_is_left_out(span: Any) -> None:
    (pieces,) = cut(["a garland"], {"place": {"status": "stated", "value": "x", "from": [span]}})
    assert "".join(piece.text for piece in pieces) == "a garland"
    assert all(not piece.facts for piece in pieces)


def test_the_items_of_a_list_each_have_their_words() -> None:
    pieces = [{"kind": "arch", "from": [[0, 0, 4]]}, {"kind": "column", "from": [[0, 9, 16]]}]
    assert spans_of(pieces) == [(0, 0, 4), (0, 9, 16)]
    assert spans_of({"status": "stated", "value": [{"value": "blush", "from": [[0, 1, 2]]}]}) == [(0, 1, 2)]


spans = st.lists(st.tuples(st.integers(0, 3), st.integers(0, 40), st.integers(0, 40)).map(list), max_size=6)


@settings(max_examples=150, deadline=None)
@given(
    texts=st.lists(st.text(max_size=40), min_size=1, max_size=3),
    given_spans=st.dictionaries(st.sampled_from(["event_date", "place", "pieces", "new_fact"]), spans),
)
def test_no_character_is_lost_or_doubled_whatever_the_spans(
    texts: list[str], given_spans: dict[str, list[list[int]]]
) -> None:
    facts = {name: fact(*found) for name, found in given_spans.items()}
    marked = cut(texts, facts)
    assert ["".join(piece.text for piece in pieces) for pieces in marked] == texts
    anchors = [anchor for pieces in marked for piece in pieces for anchor in piece.anchors]
    assert len(anchors) == len(set(anchors))
    assert all(name in numbers(facts) for pieces in marked for piece in pieces for name in piece.facts)


TEXT = "garland at the park tent on may 15 <3"
FACTS = {
    "event_date": fact([0, 28, 34]) | {"value": "2027-05-15"},
    "place": fact([0, 15, 24]),
    "setting": fact([0, 20, 24]) | {"value": "covered"},
}


def test_on_the_page_words_and_fact_lead_to_each_other(marit: Person, store: Store) -> None:
    soup = BeautifulSoup(marit.get(f"/desk/inquiry/{add_inquiry(store, [TEXT], facts=FACTS)}").text, "html.parser")
    for name in FACTS:
        field = soup.find(id=f"f-{name}")
        words = soup.find(id=field.select_one("a.ref-link")["href"][1:])  # type: ignore[union-attr, index]
        mark = words if words.name == "mark" else words.find_parent("mark")  # type: ignore[union-attr]
        assert soup.find(id=mark.a["href"][1:])  # type: ignore[index, union-attr]
        number = field.select_one("a.ref-link").get_text().split(": ")[1]  # type: ignore[union-attr]
        assert number in [tag.get_text().split(" ")[-1] for tag in soup.select("sup.ref")]
    assert soup.select_one(".bubble.theirs").get_text().startswith("garland at the ")  # type: ignore[union-attr]


def test_every_id_on_the_page_is_there_once(marit: Person, store: Store) -> None:
    soup = BeautifulSoup(marit.get(f"/desk/inquiry/{add_inquiry(store, [TEXT], facts=FACTS)}").text, "html.parser")
    ids = [tag["id"] for tag in soup.select("[id]")]
    assert len(ids) == len(set(ids))
    targets = [tag["href"][1:] for tag in soup.select("a[href^='#']")]
    assert set(targets) <= {*ids}


def test_a_mails_subject_counts_as_its_first_words_and_automatic_mail_is_not_counted(
    marit: Person, store: Store
) -> None:
    inquiry = add_inquiry(store, [], channel="email", phone="d@example.com", facts={"place": fact([0, 9, 20])})
    with store.write() as session:
        found = session.get_one(Inquiry, inquiry)
        for number, (subject, text, automatic) in enumerate(
            [("Out of office", "away", True), ("Linden Hall", "a garland please", False)]
        ):
            session.add(
                Message(
                    studio_id=1,
                    inquiry_id=found.id,
                    direction="in",
                    channel="email",
                    provider_id=f"m{number}",
                    sender="d@example.com",
                    recipient="x",
                    subject=subject,
                    text=text,
                    automatic=automatic,
                    received_at=NOW,
                )
            )
    soup = BeautifulSoup(marit.get(f"/desk/inquiry/{inquiry}").text, "html.parser")
    assert [mark.a.get_text() for mark in soup.select("mark")] == ["Linden Hall"]  # type: ignore[union-attr]


def test_bare_facts_are_marked_at_the_words_that_gave_them() -> None:
    texts = ["gold party, blsuh", "1,400 at most. Dana"]
    sources = {"colours": [[0, 0, 4], [0, 12, 17]], "budget": [[1, 0, 5]], "name": [[1, 15, 19]], "gone": [[0, 0, 1]]}
    facts = {"colours": ["gold", "blush"], "budget": [None, 1400], "name": "Dana"}
    marked = with_sources(facts, sources)
    assert [[texts[m][start:end] for m, start, end in spans_of(marked[name])] for name in facts] == [
        ["gold", "blsuh"],
        ["1,400"],
        ["Dana"],
    ]
    assert "gone" not in marked
