"""Logging in, being slowed down, and the sessions behind it."""

from datetime import timedelta

import pytest
from desk_cast import HEADERS, MAIL, PASSWORD, Clock, Person, make_app, token_in
from flask import Flask
from sqlalchemy import func, select

from assistant.desk.waits import wait_after
from assistant.store import Store
from assistant.store.models import DeskSession, LoginWait


def waits(store: Store) -> list[LoginWait]:
    with store.read() as session:
        return list(session.scalars(select(LoginWait)))


def test_a_right_password_opens_what_needs_her(app: Flask) -> None:
    person = Person(app)
    assert person.log_in().location == "/desk"
    assert person.get("/desk").status_code == 200


def test_the_page_asked_for_opens_after_the_login(app: Flask) -> None:
    assert Person(app).log_in(next="/desk/dates?month=2027-05").location == "/desk/dates?month=2027-05"


@pytest.mark.parametrize(
    "target",
    [
        "//evil.example",
        "https://evil.example/desk",
        "/desk//evil.example",
        "/\\evil.example",
        "/desk\r\nX: 1",
        "javascript:alert(1)",
        "/elsewhere",
        "\\\\evil.example",
        "/desk\\..\\x",
        "data:text/html,x",
    ],
)
def test_a_login_never_leads_to_another_site(app: Flask, target: str) -> None:
    assert Person(app).log_in(next=target).location == "/desk"


def test_an_unknown_account_is_answered_like_a_wrong_password(app: Flask, clock: Clock) -> None:
    person = Person(app)
    wrong = person.log_in(password="not the right one at all")
    unknown = person.log_in("nobody@example.com")
    assert (wrong.status_code, unknown.status_code) == (401, 401)
    assert wrong.text.replace(MAIL, "") == unknown.text.replace("nobody@example.com", "")


def test_an_unknown_account_costs_a_hash_too(app: Flask, monkeypatch: pytest.MonkeyPatch) -> None:
    passwords, asked = app.extensions["desk"].passwords, []
    hasher = passwords._hasher
    monkeypatch.setattr(passwords, "_hasher", Counting(hasher, asked))
    Person(app).log_in("nobody@example.com")
    assert asked == ["verify"]


class Counting:
    """Notes each verification and passes it on."""

    def __init__(self, hasher: object, asked: list[str]) -> None:
        self._hasher, self._asked = hasher, asked

    def verify(self, kept: str, password: str) -> bool:
        self._asked.append("verify")
        return self._hasher.verify(kept, password)  # type: ignore[attr-defined,no-any-return]


def test_each_failure_doubles_the_wait_from_a_second_to_a_quarter_of_an_hour() -> None:
    assert [wait_after(count).total_seconds() for count in (1, 2, 3, 10, 11, 500)] == [1, 2, 4, 512, 900, 900]


def test_a_try_during_the_wait_is_refused_even_with_the_right_password(app: Flask, clock: Clock) -> None:
    person = Person(app)
    person.log_in(password="not the right one at all")
    assert person.log_in().status_code == 429
    clock.turn(seconds=1)
    assert person.log_in().status_code == 303


def test_ten_thousand_guesses_in_an_hour_try_at_most_thirty_passwords(store: Store, clock: Clock) -> None:
    from assistant.desk.waits import take_turn

    tried = 0
    with store.write() as session:
        for _ in range(10_000):
            tried += take_turn(session, "marit@example.com", clock()) is None
            clock.turn(seconds=0.36)
    assert 10 <= tried <= 30


def test_a_right_password_forgets_the_failures(app: Flask, store: Store, clock: Clock) -> None:
    person = Person(app)
    person.log_in(password="not the right one at all")
    clock.turn(seconds=2)
    person.log_in()
    assert waits(store) == []


def test_a_stranger_who_guesses_does_not_lock_out_a_browser_she_used_before(app: Flask, clock: Clock) -> None:
    hers, stranger = Person(app), Person(app)
    hers.log_in()
    for _ in range(12):
        stranger.log_in(password="a guess of a stranger")
        clock.turn(minutes=15)
    stranger.log_in(password="a guess of a stranger")
    assert stranger.log_in().status_code == 429
    assert hers.log_in().status_code == 303


def test_made_up_accounts_do_not_pile_up(app: Flask, store: Store, clock: Clock) -> None:
    person = Person(app)
    for number in range(5):
        person.log_in(f"made-up-{number}@example.com")
    clock.turn(days=2)
    person.log_in("another@example.com")
    assert len(waits(store)) == 1


def test_a_login_gets_a_new_session_and_ends_the_old_one(app: Flask, store: Store) -> None:
    person = Person(app)
    person.log_in()
    first = person.web.get_cookie("desk").value  # type: ignore[union-attr]
    person.log_in()
    assert person.web.get_cookie("desk").value != first  # type: ignore[union-attr]
    person.web.set_cookie("desk", first)
    assert person.get("/desk").status_code == 303


def test_logout_ends_the_session_on_the_server_so_a_copied_cookie_opens_nothing(marit: Person, app: Flask) -> None:
    copied = marit.web.get_cookie("desk").value  # type: ignore[union-attr]
    assert marit.post("/desk/logout").location.startswith("/desk/login")
    thief = Person(app)
    thief.web.set_cookie("desk", copied)
    assert thief.get("/desk").location.startswith("/desk/login")


def test_the_store_keeps_no_token_that_opens_the_desk(marit: Person, store: Store) -> None:
    token = marit.web.get_cookie("desk").value  # type: ignore[union-attr]
    with store.read() as session:
        kept = session.scalars(select(DeskSession)).one()
    assert len(token) >= 22  # 128 bits in base64
    assert token not in (kept.token_hash, kept.csrf_secret)


@pytest.mark.parametrize(("step", "count", "opens"), [(29, 1, True), (31, 1, False), (29, 24, True), (29, 25, False)])
def test_a_login_ends_after_half_an_hour_idle_and_after_twelve_hours(
    marit: Person, clock: Clock, step: int, count: int, opens: bool
) -> None:
    for _ in range(count):
        clock.turn(minutes=step)
        answer = marit.get("/desk")
    assert (answer.status_code == 200) is opens


def test_a_disabled_designer_is_out_at_once(marit: Person, store: Store, clock: Clock) -> None:
    from assistant.store.models import Designer

    with store.write() as session:
        session.scalars(select(Designer).where(Designer.email == MAIL)).one().disabled_at = clock()
    assert marit.get("/desk").status_code == 303
    assert marit.log_in().status_code == 401


def test_the_cookie_is_bound_to_the_host_when_served_by_https(store: Store, clock: Clock, app: Flask) -> None:
    safe = make_app(store, clock, public_url="https://desk.example.com")
    person = Person(safe)
    answer = person.web.get("/desk/login", base_url="https://desk.example.com")
    token = token_in(answer.text)
    data = {"form_token": token, "email": MAIL, "password": PASSWORD}
    answer = person.web.post("/desk/login", data=data, headers=HEADERS, base_url="https://desk.example.com")
    cookies = answer.headers.getlist("Set-Cookie")
    login = next(cookie for cookie in cookies if cookie.startswith("__Host-desk="))
    assert {"Secure", "HttpOnly", "SameSite=Lax", "Path=/"} <= set(login.split("; "))
    assert "Domain" not in login
    assert all(cookie.startswith("__Host-") and "Secure" in cookie for cookie in cookies)


def test_on_this_machine_alone_the_cookie_does_without_https(app: Flask) -> None:
    cookies = Person(app).log_in().headers.getlist("Set-Cookie")
    assert all("HttpOnly" in cookie and "SameSite=Lax" in cookie and "Secure" not in cookie for cookie in cookies)


def test_a_desk_that_listens_to_others_without_https_keeps_its_cookie_secure(store: Store, clock: Clock) -> None:
    open_to_all = make_app(store, clock, host="0.0.0.0", demo=False)
    assert open_to_all.extensions["desk"].cookies.secure


def test_the_password_is_kept_as_argon2id_with_the_least_figures_of_owasp(store: Store, clock: Clock) -> None:
    # OWASP, Password Storage: argon2id with 19 MiB, 2 passes, 1 lane
    passwords = make_app(store, clock).extensions["desk"].passwords
    assert passwords.hash(PASSWORD).startswith("$argon2id$v=19$m=19456,t=2,p=1$")


def test_an_older_hash_is_renewed_at_login(app: Flask, store: Store) -> None:
    from assistant.desk.passwords import Passwords
    from assistant.store.models import Designer

    old = Passwords([], memory_kib=16).hash(PASSWORD)
    with store.write() as session:
        session.scalars(select(Designer).where(Designer.email == MAIL)).one().password_hash = old
    assert Person(app).log_in().status_code == 303
    with store.read() as session:
        kept = session.scalars(select(Designer.password_hash).where(Designer.email == MAIL)).one()
    assert "m=8," in kept


def test_no_more_than_two_passwords_are_checked_at_once() -> None:
    import threading

    from assistant.desk.passwords import Passwords

    passwords, inside, most = Passwords([]), [0], [0]
    lock = threading.Lock()

    class Slow:
        def hash(self, _password: str) -> str:
            with lock:
                inside[0] += 1
                most[0] = max(most[0], inside[0])
            threading.Event().wait(0.02)
            with lock:
                inside[0] -= 1
            return ""

    passwords._hasher = Slow()  # type: ignore[assignment]
    threads = [threading.Thread(target=passwords.hash, args=("x",)) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == [2]


def test_reading_a_page_notes_the_login_as_used_once_a_minute_at_most(
    marit: Person, store: Store, clock: Clock
) -> None:
    def seen() -> object:
        with store.read() as session:
            return session.scalar(select(func.max(DeskSession.seen_at)))

    before = seen()
    clock.turn(seconds=59)
    marit.get("/desk")
    assert seen() == before
    clock.turn(seconds=1)
    marit.get("/desk")
    assert seen() == before + timedelta(minutes=1)  # type: ignore[operator]
