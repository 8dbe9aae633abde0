"""Error pages: plain words, what became of the input, a number that the log has too, and never a traceback."""

import logging

import pytest
from desk_cast import HEADERS, FakeFlow, Person, add_inquiry, draft_of
from flask import Flask

from assistant.store import Store, StoreBusy

TYPED = "My own careful words"


@pytest.fixture
def reply(store: Store, app: Flask) -> tuple[str, dict[str, object]]:
    """The address and the form of a reply that waits."""
    inquiry = add_inquiry(store, ["an arch please"], draft="An arch, gladly.")
    draft = draft_of(store, inquiry)
    return f"/desk/inquiry/{inquiry}/reply", {"draft_id": draft.id, "fingerprint": draft.fingerprint, "text": TYPED}


def test_a_fault_of_ours_shows_a_reference_that_the_log_has_too(
    marit: Person, flow: FakeFlow, reply: tuple[str, dict[str, object]], caplog: pytest.LogCaptureFixture
) -> None:
    flow.trouble = RuntimeError("secret words of a client, +12025550101")
    answer = marit.post(*reply)
    assert answer.status_code == 500
    reference = answer.text.split("Reference ")[1][:8]
    assert reference in caplog.text
    assert "secret words" not in answer.text + caplog.text
    assert "Traceback" not in answer.text
    assert TYPED in answer.text
    assert "no message goes out twice" in answer.text


def test_the_log_of_a_fault_names_the_place(
    marit: Person, flow: FakeFlow, reply: tuple[str, dict[str, object]], caplog: pytest.LogCaptureFixture
) -> None:
    flow.trouble = RuntimeError("x")
    with caplog.at_level(logging.ERROR):
        marit.post(*reply)
    assert "decisions.py" in caplog.text
    assert "RuntimeError" in caplog.text


def test_a_busy_store_asks_to_try_again_and_gives_the_words_back(
    marit: Person, flow: FakeFlow, reply: tuple[str, dict[str, object]]
) -> None:
    flow.trouble = StoreBusy("the database is busy")
    answer = marit.post(*reply)
    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "5"
    assert TYPED in answer.text
    assert "nothing was sent" in answer.text


def test_words_typed_past_the_end_of_a_login_are_given_back(
    marit: Person, clock: object, reply: tuple[str, dict[str, object]]
) -> None:
    path, data = reply
    clock.turn(hours=1)  # type: ignore[attr-defined]
    answer = marit.web.post(path, data=data, headers=HEADERS)
    assert answer.status_code == 401
    assert TYPED in answer.text


def test_words_that_another_site_sent_are_not_shown(marit: Person, reply: tuple[str, dict[str, object]]) -> None:
    path, data = reply
    answer = marit.web.post(path, data=data, headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 403
    assert TYPED not in answer.text


def test_a_body_over_twelve_megabytes_is_refused_with_a_page(marit: Person) -> None:
    answer = marit.web.post("/desk/paste", data={"pasted": "x" * (12 * 1024 * 1024 + 1)}, headers=HEADERS)
    assert answer.status_code == 413
    assert "12 MB" in answer.text


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/desk/inquiry/999999", 404),
        ("/nowhere", 404),
        ("/desk/logout", 405),
        ("/desk?page=0", 404),
        ("/desk?page=x", 404),
        ("/desk?page=99", 404),
        ("/desk/dates?month=nonsense", 404),
        ("/desk/dates?month=9999-01", 404),
        ("/desk/inquiry/99999999999999999999", 404),
    ],
)
def test_a_wrong_address_has_a_page_of_its_own(marit: Person, path: str, status: int) -> None:
    answer = marit.get(path)
    assert answer.status_code == status
    assert "Reference " in answer.text
    assert "Nothing was changed" in answer.text


@pytest.mark.parametrize("draft_id", ["", "x", "-1", "1e3", "99999999999999999999", "²"])
def test_a_form_with_a_broken_number_is_a_bad_request(
    marit: Person, reply: tuple[str, dict[str, object]], draft_id: str
) -> None:
    path, data = reply
    assert marit.post(path, {**data, "draft_id": draft_id}).status_code == 400


def test_the_doors_get_one_plain_line(app: Flask) -> None:
    answer = app.test_client().post("/doors/nowhere")
    assert answer.status_code == 404
    assert answer.mimetype == "text/plain"
    assert "<" not in answer.text


def test_a_broken_error_page_still_answers_without_a_traceback(
    marit: Person, app: Flask, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object, **__: object) -> str:
        raise RuntimeError("no template")

    monkeypatch.setitem(app.jinja_env.globals, "word", broken)
    answer = marit.get("/desk/inquiry/999999")
    assert answer.status_code == 500
    assert answer.text.startswith("Something broke here. Reference ")
