"""The one-use set-up link and what a password must be."""

import pytest
from desk_cast import HEADERS, NOW, Clock, Person, add_studio, make_app, token_in
from sqlalchemy import func, select

from assistant.desk import make_setup_link, setup_path
from assistant.desk.passwords import Passwords, load_common
from assistant.store import Store
from assistant.store.models import Designer, SetupLink

GOOD = "otter lantern pickle ferry"


@pytest.fixture
def fresh(store: Store, clock: Clock) -> Person:
    """A browser at a desk without any designer."""
    return Person(make_app(store, clock))


def send(person: Person, path: str, **form: str) -> object:
    page = person.web.get(path)
    data = {
        "name": "Ada Example",
        "email": "ada@example.com",
        "password": GOOD,
        "again": GOOD,
        "form_token": token_in(page.text),
        **form,
    }
    return person.web.post(path, data=data, headers=HEADERS)


def designers(store: Store) -> int:
    with store.read() as session:
        return session.scalar(select(func.count(Designer.id))) or 0


def test_there_is_no_login_before_the_link_is_used(fresh: Person, store: Store) -> None:
    assert designers(store) == 0
    assert fresh.log_in().status_code == 401


def test_the_link_makes_a_designer_who_is_logged_in(fresh: Person, store: Store) -> None:
    answer = send(fresh, setup_path(make_setup_link(store, 1, NOW)))
    assert answer.location == "/desk?said=welcome"  # type: ignore[attr-defined]
    assert fresh.get("/desk").status_code == 200
    assert fresh.log_in("ada@example.com", GOOD).status_code == 303


def test_the_link_works_once(fresh: Person, store: Store) -> None:
    path = setup_path(make_setup_link(store, 1, NOW))
    send(fresh, path)
    assert fresh.web.get(path).status_code == 404
    token = token_in(fresh.web.get("/desk/login").text)
    again = {"form_token": token, "name": "B", "email": "b@example.com", "password": GOOD, "again": GOOD}
    assert fresh.web.post(path, data=again, headers=HEADERS).status_code == 404
    assert designers(store) == 1


def test_the_link_ends_after_a_day(fresh: Person, store: Store, clock: Clock) -> None:
    path = setup_path(make_setup_link(store, 1, NOW))
    clock.turn(hours=24)
    assert fresh.web.get(path).status_code == 404


def test_only_the_hash_of_the_link_is_kept(store: Store) -> None:
    token = make_setup_link(store, 1, NOW)
    with store.read() as session:
        assert session.scalars(select(SetupLink)).one().token_hash != token
    assert len(token) >= 22


def test_a_link_makes_a_designer_of_its_own_studio(fresh: Person, store: Store) -> None:
    add_studio(store, 2)
    send(fresh, setup_path(make_setup_link(store, 2, NOW)))
    with store.read() as session:
        assert session.scalars(select(Designer.studio_id)).one() == 2


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ({"password": "short", "again": "short"}, "15 or more"),
        ({"again": "another lantern pickle ferry"}, "differ"),
        ({"email": "no address"}, "no mail address"),
        ({"name": "  "}, "write the name"),
    ],
)
def test_what_is_wrong_is_said_beside_the_field_and_the_rest_is_kept(
    fresh: Person, store: Store, form: dict[str, str], said: str
) -> None:
    path = setup_path(make_setup_link(store, 1, NOW))
    answer = send(fresh, path, **form)
    assert answer.status_code == 400  # type: ignore[attr-defined]
    assert said in answer.text  # type: ignore[attr-defined]
    assert form.get("email", "ada@example.com") in answer.text  # type: ignore[attr-defined]
    assert fresh.web.get(path).status_code == 200  # the link is not used up
    assert designers(store) == 0


def test_two_designers_of_a_studio_have_two_addresses(fresh: Person, store: Store) -> None:
    send(fresh, setup_path(make_setup_link(store, 1, NOW)))
    answer = send(fresh, setup_path(make_setup_link(store, 1, NOW)))
    assert answer.status_code == 409  # type: ignore[attr-defined]


@pytest.fixture(scope="module")
def passwords() -> Passwords:
    return Passwords(load_common())


@pytest.mark.parametrize(
    "password",
    [
        "a" * 14,
        "a" * 15,
        "passwordpassword",
        "PasswordPassword1",
        "123456789012345",
        "qwertyuiopasdfgh",
        "abcdefghijklmnop",
        "letmein letmein letmein",
        "password-password-2027",
        "iloveyou iloveyou",
        "111222111222111",
        "Invented Balloon Studio",
        "inventedballoonstudio!",
        "ada@example.com!",
        "x" * 257,
    ],
)
def test_a_password_that_is_guessed_first_is_refused(passwords: Passwords, password: str) -> None:
    assert passwords.why_refused(password, ["Ada Example", "ada@example.com", "Invented Balloon Studio"])


@pytest.mark.parametrize(
    "password",
    [
        GOOD,
        "five brown geese on a wire",
        "tränen über dem großen meer",
        "🎈🎈 two red balloons up",
        "zk3!vv0q~pL2xW9",
        "   spaces at the ends   kept ",
        "w" + "ord " * 60,
    ],
)
def test_a_long_password_of_any_characters_is_taken_untouched(passwords: Passwords, password: str) -> None:
    assert passwords.why_refused(password, ["Ada Example"]) is None
    kept = passwords.hash(password)
    assert passwords.matches(kept, password)
    assert not passwords.matches(kept, password.strip() + "x")


@pytest.mark.parametrize(("length", "taken"), [(14, False), (15, True), (64, True), (256, True), (257, False)])
def test_the_shortest_and_the_longest_password(passwords: Passwords, length: int, taken: bool) -> None:
    # NIST SP 800-63B rev. 4: at least 15 characters where the password is the only factor, 64 and more allowed
    password = ("otter lantern pickle ferry " * 12)[:length]
    assert (passwords.why_refused(password) is None) is taken


def test_every_listed_password_is_refused_however_often_it_is_repeated(passwords: Passwords) -> None:
    long_enough = [word * -(-15 // len(word)) for word in load_common()]
    assert [word for word in long_enough if not passwords.why_refused(word)] == []
