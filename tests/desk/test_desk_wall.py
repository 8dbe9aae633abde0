"""The wall around the desk: every route of the URL map, asked by everybody who must not get through."""

from collections.abc import Iterator

import pytest
from desk_cast import (
    HEADERS,
    Clock,
    Person,
    add_booking,
    add_designer,
    add_inquiry,
    add_send,
    add_studio,
    add_task,
    draft_of,
    make_app,
    token_in,
)
from flask import Flask
from sqlalchemy import select

from assistant.desk import make_setup_link
from assistant.desk.headers import POLICY
from assistant.store import Store
from assistant.store.models import Base

# Which routes there are, and who may use them. A route that is missing here fails the tests.
BEHIND_THE_WALL = {
    "desk.home": "/desk",
    "desk.inquiry": "/desk/inquiry/{inquiry}",
    "desk.paste": "/desk/paste",
    "desk.dates": "/desk/dates",
    "desk.tray": "/desk/tray",
    "desk.logout": "/desk/logout",
    "desk.facts": "/desk/inquiry/{inquiry}/facts",
    "desk.reply": "/desk/inquiry/{inquiry}/reply",
    "desk.answer_myself": "/desk/inquiry/{inquiry}/mine",
    "desk.write": "/desk/inquiry/{inquiry}/write",
    "desk.close": "/desk/inquiry/{inquiry}/close",
    "desk.done_task": "/desk/task/{task}/done",
    "desk.settle": "/desk/inquiry/{inquiry}/held/1",
    "desk.add_date": "/desk/dates/add",
    "desk.remove_date": "/desk/dates/{booking}/remove",
}
OPEN = {
    "desk.front": "/",
    "desk.login": "/desk/login",
    "desk.setup": "/desk/setup/{setup}",
    "desk.asset": "/desk/assets/look.css",
}
ELSEWHERE = [
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {"Sec-Fetch-Site": "none"},
    {"Origin": "https://evil.example"},
    {"Origin": "http://localhost.evil.example"},
]
READ = ["desk.home", "desk.inquiry", "desk.paste", "desk.dates", "desk.tray"]
CHANGE = sorted(set(BEHIND_THE_WALL) - set(READ) | {"desk.paste"})


@pytest.fixture
def ids(store: Store, app: Flask, clock: Clock) -> dict[str, object]:
    """One row of each kind in the first studio."""
    inquiry = add_inquiry(store, ["an arch please"], draft="An arch, gladly.", name="Dana")
    add_send(store, inquiry, "Which day?", state="failed", error="no such number")
    return {
        "inquiry": inquiry,
        "draft": draft_of(store, inquiry).id,
        "task": add_task(store, inquiry, "call her"),
        "booking": add_booking(store),
        "setup": make_setup_link(store, 1, clock()),
    }


def path_of(endpoint: str, ids: dict[str, object]) -> str:
    return {**BEHIND_THE_WALL, **OPEN}[endpoint].format(**ids)


def contents(store: Store) -> list[object]:
    """Every row of every table."""
    with store.read() as session:
        return [
            (table.name, sorted(map(repr, session.execute(select(table)).all())))
            for table in Base.metadata.sorted_tables
        ]


def test_the_table_above_names_every_route(app: Flask) -> None:
    assert {rule.endpoint for rule in app.url_map.iter_rules()} == {*BEHIND_THE_WALL, *OPEN}


def test_each_route_takes_the_methods_it_needs_and_no_other(app: Flask) -> None:
    taken = {rule.endpoint: (rule.methods or set()) - {"HEAD", "OPTIONS"} for rule in app.url_map.iter_rules()}
    both = {"desk.paste", "desk.login", "desk.setup"}
    for endpoint, methods in taken.items():
        wanted = {"GET", "POST"} if endpoint in both else {"POST"} if endpoint in CHANGE else {"GET"}
        assert methods == wanted, endpoint


@pytest.mark.parametrize("endpoint", READ)
def test_nobody_reads_without_a_login(app: Flask, ids: dict[str, object], endpoint: str) -> None:
    answer = Person(app).get(path_of(endpoint, ids))
    assert (answer.status_code, answer.location.split("?")[0]) == (303, "/desk/login")


@pytest.mark.parametrize("endpoint", CHANGE)
def test_nobody_changes_anything_without_a_login(
    app: Flask, store: Store, ids: dict[str, object], endpoint: str
) -> None:
    before = contents(store)
    person = Person(app)
    token = token_in(person.web.get("/desk/login").text)
    answer = person.web.post(path_of(endpoint, ids), data={"form_token": token, "draft_id": "1"}, headers=HEADERS)
    assert answer.status_code == 401
    assert contents(store) == before


@pytest.mark.parametrize("endpoint", [*CHANGE, "desk.login", "desk.setup"])
def test_a_form_without_the_pages_own_token_is_refused(
    marit: Person, store: Store, ids: dict[str, object], endpoint: str
) -> None:
    before = contents(store)
    for data in ({}, {"form_token": ""}, {"form_token": "0" * 64}, {"form_token": "é"}):
        assert marit.web.post(path_of(endpoint, ids), data=data, headers=HEADERS).status_code == 403
    assert contents(store) == before


@pytest.mark.parametrize("endpoint", [*CHANGE, "desk.login", "desk.setup"])
def test_another_site_can_not_send_a_form_even_with_the_token(
    marit: Person, store: Store, ids: dict[str, object], endpoint: str
) -> None:
    page = "/desk" if endpoint in CHANGE else path_of(endpoint, ids)
    token = token_in(marit.web.get(page).text)
    before = contents(store)
    for headers in ELSEWHERE:
        assert marit.web.post(path_of(endpoint, ids), data={"form_token": token}, headers=headers).status_code == 403
    assert contents(store) == before


def test_the_token_of_another_login_is_refused(marit: Person, ines: Person) -> None:
    token = token_in(ines.web.get("/desk").text)
    assert marit.web.post("/desk/logout", data={"form_token": token}, headers=HEADERS).status_code == 403


@pytest.mark.parametrize("endpoint", [*READ, *OPEN])
def test_looking_twice_changes_nothing(marit: Person, store: Store, ids: dict[str, object], endpoint: str) -> None:
    before = contents(store)
    for _ in range(2):
        assert marit.get(path_of(endpoint, ids)).status_code < 400
    assert contents(store) == before


@pytest.mark.parametrize("endpoint", sorted(set(CHANGE) - {"desk.paste"}))
def test_opening_the_address_of_a_change_changes_nothing(
    marit: Person, store: Store, ids: dict[str, object], endpoint: str
) -> None:
    before = contents(store)
    assert marit.get(path_of(endpoint, ids)).status_code == 405
    assert contents(store) == before


@pytest.fixture
def stranger(app: Flask, store: Store, clock: Clock, password_hash: str) -> Person:
    """A designer of another studio on the same machine."""
    add_studio(store, 2)
    add_designer(store, password_hash, email="olga@example.net", name="Olga", studio=2)
    other = make_app(store, clock)
    other.extensions["runtime"].studio_id = 2
    person = Person(other)
    assert person.log_in("olga@example.net").status_code == 303
    return person


@pytest.mark.parametrize("endpoint", [name for name, path in BEHIND_THE_WALL.items() if "{" in path])
def test_rows_of_another_studio_do_not_exist(
    stranger: Person, store: Store, ids: dict[str, object], endpoint: str
) -> None:
    before = contents(store)
    path = path_of(endpoint, ids)
    data = {"draft_id": ids["draft"], "fingerprint": "", "text": "x", "own_text": "x", "reason": "silent"}
    answer = stranger.get(path) if endpoint in READ else stranger.post(path, data)
    assert answer.status_code == 404
    assert contents(store) == before


def test_lists_show_nothing_of_another_studio(stranger: Person, ids: dict[str, object]) -> None:
    for path in ("/desk", "/desk/dates?month=2027-03", "/desk/tray"):
        page = stranger.get(path).text
        assert "Dana" not in page
        assert "Invented job" not in page
        assert "Which day?" not in page


def test_a_draft_of_another_inquiry_can_not_be_sent_from_here(
    marit: Person, store: Store, ids: dict[str, object]
) -> None:
    other = add_inquiry(store, ["columns"], draft="Columns.")
    answer = marit.post(f"/desk/inquiry/{other}/reply", {"draft_id": ids["draft"], "fingerprint": "x", "text": "x"})
    assert answer.status_code == 404


def every_answer(marit: Person, ids: dict[str, object]) -> Iterator[object]:
    for endpoint in [*READ, *OPEN]:
        yield marit.get(path_of(endpoint, ids))
    yield marit.get("/desk/inquiry/999999")
    yield marit.get("/nowhere")
    yield marit.get("/desk/logout")
    yield marit.web.post("/desk/logout")


def test_every_answer_carries_the_headers_that_keep_it_safe(marit: Person, ids: dict[str, object]) -> None:
    for answer in every_answer(marit, ids):
        headers = answer.headers  # type: ignore[attr-defined]
        assert headers["Content-Security-Policy"] == POLICY
        assert headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert "Access-Control-Allow-Origin" not in headers
        assert headers["Cache-Control"] == ("no-cache" if "/assets/" in answer.request.path else "no-store")  # type: ignore[attr-defined]
        assert "Strict-Transport-Security" not in headers  # this desk is plain http on its own machine


def test_by_https_browsers_are_told_to_stay_there_for_a_year(store: Store, clock: Clock) -> None:
    # RFC 6797: max-age in seconds
    person = Person(make_app(store, clock, public_url="https://desk.example.com"))
    for path in ("/desk/login", "/nowhere", "/desk/assets/look.css"):
        assert person.get(path).headers["Strict-Transport-Security"] == "max-age=31536000; includeSubDomains"


def test_the_policy_allows_nothing_that_is_not_ours() -> None:
    rules = dict(rule.split(" ", 1) for rule in POLICY.split("; "))
    assert rules["default-src"] == rules["base-uri"] == rules["object-src"] == rules["frame-ancestors"] == "'none'"
    assert {rules[name] for name in ("script-src", "style-src", "img-src", "connect-src", "form-action")} == {"'self'"}


def test_no_page_holds_an_inline_script_or_style(marit: Person, ids: dict[str, object]) -> None:
    from bs4 import BeautifulSoup

    for endpoint in [*READ, "desk.login", "desk.setup"]:
        soup = BeautifulSoup(marit.get(path_of(endpoint, ids)).text, "html.parser")
        assert not soup.find_all("style")
        scripts = soup.find_all("script")
        assert all(not script.string and script["src"].startswith("/desk/assets/") for script in scripts)
        for tag in soup.find_all(True):
            assert not [name for name in tag.attrs if name == "style" or name.startswith("on")]


@pytest.mark.parametrize("name", ["words.yaml", "home.html", "../../rules/studio.yaml", "%2e%2e/words.yaml", "x.css"])
def test_only_the_listed_files_are_served(app: Flask, name: str) -> None:
    assert Person(app).get(f"/desk/assets/{name}").status_code == 404


def test_the_tray_is_only_there_when_the_studio_has_one(store: Store, clock: Clock, app: Flask) -> None:
    person = Person(make_app(store, clock, tray=False))
    person.log_in()
    assert person.get("/desk/tray").status_code == 404
    assert "Tray" not in person.get("/desk").text
