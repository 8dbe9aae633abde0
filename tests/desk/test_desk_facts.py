"""Facts by hand: only what she changed goes on, in the contract's shapes; what is wrong is said beside its field."""

from typing import Any

import pytest
from bs4 import BeautifulSoup
from desk_cast import FakeFlow, Person, add_inquiry
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.desk.fact_fields import BadField, read_span
from assistant.desk.fact_form import READERS, form_for, read_form
from assistant.store import Store
from assistant.store.models import Inquiry

TEXT = "10 ft garland on may 15 at 3pm, blush and gold, in the park, max $400. Dana"
FACTS: dict[str, Any] = {
    "event_date": {"status": "stated", "value": "2027-05-15", "from": [[0, 17, 23]]},
    "event_time": {"status": "stated", "value": "15:00", "from": [[0, 27, 30]]},
    "pieces": [{"kind": "arch", "shape": "half", "count": 2, "length_ft": [10, 12], "from": [[0, 0, 13]]}],
    "colours": ["blush", "gold"],
    "setting": {"status": "inferred", "value": "outdoor", "from": [[0, 53, 57]]},
    "place": {"status": "stated", "value": "the park"},
    "budget": [None, 400],
    "name": "Dana",
    "density": "lush",
    "finish": {"mirror": 0.3, "doubled": 0.5},
    "miles": {"status": "stated", "value": [15, 20]},
    "strike": True,
    "crew": {"status": "stated", "value": 2},
}


@pytest.fixture
def inquiry(store: Store) -> int:
    return add_inquiry(store, [TEXT], facts=FACTS, draft="x")


def fields_of(page: str) -> dict[str, str]:
    """What a browser would send from the facts form, left as it is."""
    form = BeautifulSoup(page, "html.parser").select_one("#facts form")
    assert form
    sent = {tag["name"]: tag.get("value", "") for tag in form.select("input[name]")}
    for select in form.select("select"):
        chosen = select.select_one("option[selected]") or select.select_one("option")
        sent[select["name"]] = chosen["value"]  # type: ignore[index]
    return sent  # type: ignore[return-value]


def save(person: Person, inquiry: int, **typed: str) -> Any:
    fields = fields_of(person.get(f"/desk/inquiry/{inquiry}").text)
    fields.pop("form_token")
    changed = {name.replace("_n_", "-"): text for name, text in typed.items()}
    return person.post(f"/desk/inquiry/{inquiry}/facts", {**fields, **changed})


def test_saving_what_was_shown_changes_nothing(marit: Person, flow: FakeFlow, inquiry: int) -> None:
    assert save(marit, inquiry).location.endswith("?said=facts_same#reply")
    assert flow.asked == []


@pytest.mark.parametrize(
    ("typed", "change"),
    [
        ({"event_date": "2027-06-19"}, {"event_date": {"status": "stated", "value": "2027-06-19"}}),
        ({"event_time": "09:30"}, {"event_time": {"status": "stated", "value": "09:30"}}),
        ({"occasion": "wedding"}, {"occasion": {"status": "stated", "value": "wedding"}}),
        ({"setting": "covered"}, {"setting": {"status": "stated", "value": "covered"}}),
        ({"place": " Linden  Hall "}, {"place": {"status": "stated", "value": "Linden Hall"}}),
        ({"colours": "Sage, ivory;gold, sage"}, {"colours": ["sage", "ivory", "gold"]}),
        ({"budget_low": "300", "budget_high": "$1,500"}, {"budget": [300, 1500]}),
        ({"budget_high": ""}, {"budget": None}),
        ({"name": "Dana Example"}, {"name": "Dana Example"}),
        ({"density": "light"}, {"density": {"status": "stated", "value": "light"}}),
        ({"mirror": "10", "doubled": ""}, {"finish": {"status": "stated", "value": {"mirror": 0.1}}}),
        ({"miles": "12.5"}, {"miles": {"status": "stated", "value": 12.5}}),
        ({"miles": "0"}, {"miles": {"status": "stated", "value": 0}}),
        ({"strike": "no"}, {"strike": {"status": "stated", "value": False}}),
        ({"strike": ""}, {"strike": None}),
        ({"crew": "3"}, {"crew": {"status": "stated", "value": 3}}),
        ({"event_date": ""}, {"event_date": None}),
        (
            {"event_date": "2027-06-19", "place": ""},
            {"event_date": {"status": "stated", "value": "2027-06-19"}, "place": None},
        ),
    ],
)
def test_only_the_changed_facts_go_on_in_the_contracts_shapes(
    marit: Person, flow: FakeFlow, inquiry: int, typed: dict[str, str], change: dict[str, Any]
) -> None:
    assert save(marit, inquiry, **typed).location.endswith("?said=facts_saved#reply")
    assert flow.asked == [("edit_facts", inquiry, change)]


@pytest.mark.parametrize(
    ("typed", "pieces"),
    [
        ({"piece_n_0_n_length": "14"}, [{"kind": "arch", "shape": "half", "count": 2, "length_ft": [14, 14]}]),
        (
            {"piece_n_0_n_length": "", "piece_n_0_n_width": "6.5 to 8"},
            [{"kind": "arch", "shape": "half", "count": 2, "width_ft": [6.5, 8]}],
        ),
        ({"piece_n_0_n_kind": "column", "piece_n_0_n_length": ""}, [{"kind": "column", "count": 2}]),
        ({"piece_n_0_n_kind": ""}, None),
        (
            {"piece_n_1_n_kind": "hoop", "piece_n_1_n_width": "6"},
            [
                {"kind": "arch", "shape": "half", "count": 2, "length_ft": [10, 12]},
                {"kind": "hoop", "width_ft": [6, 6]},
            ],
        ),
    ],
)
def test_pieces_are_changed_added_and_taken_away(
    marit: Person, flow: FakeFlow, inquiry: int, typed: dict[str, str], pieces: Any
) -> None:
    save(marit, inquiry, **typed)
    assert flow.asked == [("edit_facts", inquiry, {"pieces": pieces})]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"event_date": "2027-02-30"}, "this is no day"),
        ({"event_date": "2027-02-01"}, "this day is past"),
        ({"event_date": "2099-01-01"}, "three years off"),
        ({"event_time": "25:00"}, "no time of day"),
        ({"occasion": "coronation"}, "none of the choices"),
        ({"piece_n_0_n_kind": "elephant"}, "none of the kinds"),
        ({"piece_n_0_n_length": "long"}, "a number or a range"),
        ({"piece_n_0_n_length": "12-8"}, "the smaller number first"),
        ({"piece_n_0_n_length": "NaN"}, "a number or a range"),
        ({"piece_n_0_n_count": "-2"}, "a whole number"),
        ({"piece_n_0_n_count": "1e3"}, "a whole number"),
        ({"piece_n_1_n_length": "8"}, "a size but no kind"),
        ({"colours": ",".join("abcdefghijklm")}, "up to 12 colours"),
        ({"place": "x" * 201}, "200 at most"),
        ({"budget_low": "900"}, "swap them"),
        ({"budget_high": "a lot"}, "a whole number"),
        ({"miles": "-3"}, "a number or a range"),
        ({"miles": "5000"}, "give 0 to 1000"),
        ({"mirror": "80", "doubled": "40"}, "over 100 %"),
        ({"crew": "0"}, "a whole number from 1"),
    ],
)
def test_what_is_wrong_is_said_and_everything_typed_stays(
    marit: Person, flow: FakeFlow, inquiry: int, typed: dict[str, str], said: str
) -> None:
    answer = save(marit, inquiry, **{"name": "Somebody New", **typed})
    assert answer.status_code == 400
    assert said in answer.text
    again = fields_of(answer.text)
    assert again["name"] == "Somebody New"
    for name, value in typed.items():
        if name not in ("occasion", "piece_n_0_n_kind"):
            assert again[name.replace("_n_", "-")] == value
    assert flow.asked == []


def test_each_problem_is_tied_to_its_field(marit: Person, inquiry: int) -> None:
    soup = BeautifulSoup(save(marit, inquiry, event_date="2027-02-30").text, "html.parser")
    field = soup.select_one("#in-event_date")
    assert field["aria-invalid"] == "true"  # type: ignore[index]
    assert "this is no day" in soup.find(id=field["aria-describedby"]).get_text()  # type: ignore[index, union-attr]


def test_facts_that_moved_meanwhile_are_not_put_back_by_an_old_page(
    marit: Person, store: Store, flow: FakeFlow, inquiry: int
) -> None:
    fields = fields_of(marit.get(f"/desk/inquiry/{inquiry}").text) | {"place": "Linden Hall"}
    with store.write() as session:
        found = session.get_one(Inquiry, inquiry)
        found.version += 1
        found.facts = {**found.facts, "event_time": {"status": "stated", "value": "16:00"}}
    fields.pop("form_token")
    answer = marit.post(f"/desk/inquiry/{inquiry}/facts", fields)
    assert answer.status_code == 409
    assert "Linden Hall" in answer.text
    assert flow.asked == []


@pytest.mark.parametrize("status", ["unclear", "inferred"])
def test_a_day_in_doubt_is_settled_by_one_tap(marit: Person, store: Store, flow: FakeFlow, status: str) -> None:
    fact = {"status": "unclear", "options": ["2027-06-05", "2027-06-12"]}
    if status == "inferred":
        fact = {"status": "inferred", "value": "2027-06-12"}
    inquiry = add_inquiry(store, ["next saturday"], facts={"event_date": fact})
    soup = BeautifulSoup(marit.get(f"/desk/inquiry/{inquiry}").text, "html.parser")
    day = soup.select("button[name=pick_date]")[-1]["value"]
    assert save(marit, inquiry, pick_date=str(day)).location.endswith("facts_saved#reply")
    assert flow.asked[-1][2] == {"event_date": {"status": "stated", "value": "2027-06-12"}}


def test_the_enter_key_saves_and_picks_no_day(marit: Person, store: Store) -> None:
    # HTML: the first submit button of a form is pressed by Enter
    facts = {"event_date": {"status": "unclear", "options": ["2027-06-05", "2027-06-12"]}}
    inquiry = add_inquiry(store, ["next saturday"], facts=facts)
    soup = BeautifulSoup(marit.get(f"/desk/inquiry/{inquiry}").text, "html.parser")
    first = soup.select_one("#facts form").select_one("button[type=submit]")  # type: ignore[union-attr]
    assert "name" not in first.attrs  # type: ignore[union-attr]


def test_what_the_flow_can_not_correct_is_said(marit: Person, flow: FakeFlow, inquiry: int) -> None:
    flow.trouble = ValueError("this conversation has no message of the client yet")
    answer = save(marit, inquiry, place="Linden Hall")
    assert answer.status_code == 400
    assert "no message of the client yet" in answer.text
    assert "Linden Hall" in answer.text


words = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)


@settings(max_examples=150, deadline=None)
@given(
    typed=st.dictionaries(
        st.sampled_from(
            [
                *READERS,
                "budget_low",
                "mirror",
                "piece-0-kind",
                "piece-0-length",
                "piece-1-kind",
                "piece-1-count",
                "pick_date",
            ]
        ),
        words,
    )
)
def test_no_input_at_all_breaks_the_form(app_limits: Any, typed: dict[str, str]) -> None:
    form = read_form(typed, FACTS, app_limits)
    assert set(form.changes) | set(form.problems) <= set(READERS)
    assert not set(form.changes) & set(form.problems)


@settings(max_examples=100, deadline=None)
@given(low=st.integers(1, 300), more=st.integers(0, 100))
def test_a_range_comes_back_as_it_was_written(low: int, more: int) -> None:
    if low + more <= 300:
        assert read_span(f"{low}-{low + more}", 300) == [low, low + more]


@pytest.mark.parametrize("text", ["inf", "1e9", "٣", "8--9", "8-", "-8", "0", "301", "8ft"])
def test_a_size_is_a_plain_number_of_feet(text: str) -> None:
    with pytest.raises(BadField):
        read_span(text, 300)


@pytest.fixture(scope="module")
def app_limits() -> Any:
    from datetime import date

    from assistant.desk.fact_fields import Limits

    none = frozenset({"garland"})
    return Limits(date(2027, 3, 1), none, none, none, none)


def test_the_form_shows_every_fact(app_limits: Any) -> None:
    texts = form_for(FACTS).texts
    assert texts["event_date"] == "2027-05-15"
    assert (texts["piece-0-count"], texts["piece-0-length"]) == ("2", "10-12")
    assert (texts["mirror"], texts["doubled"], texts["miles"], texts["strike"]) == ("30", "50", "15-20", "yes")
