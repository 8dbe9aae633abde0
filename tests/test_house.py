"""The house: which room may know which, so that the arrows run one way and the pure rooms stay pure."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "assistant"
PURE = {"reading", "inquiry", "availability", "pricing", "wording"}
IMPURE_LIBRARIES = {"flask", "sqlalchemy", "alembic", "twilio", "yaml", "pydantic", "werkzeug", "psycopg", "smtplib"}
MAY_KNOW: dict[str, set[str]] = {
    "reading": set(),
    "pricing": set(),
    "availability": set(),
    "inquiry": {"reading"},
    "wording": {"inquiry"},
    "rulebook": {"paths"},
    "loading": PURE | {"rulebook", "paths", "doors"},  # of doors the shape of mail.yaml
    "store": set(),
    "doors": {"store", "runtime", "config", "flow", "loading", "rulebook", "paths"},
    "flow": PURE | {"store", "doors", "loading", "rulebook"},
    "desk": {"availability", "store", "flow", "runtime", "paths", "wording", "doors", "composition"},
}
# What a room may take from doors is the shape of a message alone, never a way in or out.
DOORS_SHAPES = {"assistant.doors.inbound", "assistant.doors.clean", "assistant.doors.paste"}


def imports_of(file: Path) -> set[str]:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


def modules(room: str) -> list[Path]:
    return sorted((PACKAGE / room).rglob("*.py"))


@pytest.mark.parametrize("room", sorted(MAY_KNOW))
def test_a_room_knows_only_the_rooms_it_may(room: str) -> None:
    assert modules(room)
    for file in modules(room):
        known = {name.split(".")[1] for name in imports_of(file) if name.startswith("assistant.")}
        assert known - {room} <= MAY_KNOW[room], f"{file.relative_to(PACKAGE)} knows {sorted(known - {room})}"


@pytest.mark.parametrize("room", sorted(PURE))
def test_a_pure_room_knows_no_store_web_or_clock(room: str) -> None:
    for file in modules(room):
        libraries = {name.split(".")[0] for name in imports_of(file)}
        assert not libraries & IMPURE_LIBRARIES, file
        source = file.read_text(encoding="utf-8")
        for clock in ("datetime.now(", "date.today(", "time.time(", "utcnow("):
            assert clock not in source, f"{file} asks the clock"


@pytest.mark.parametrize("room", ["flow", "desk"])
def test_nobody_reaches_through_a_door(room: str) -> None:
    for file in modules(room):
        through = {name for name in imports_of(file) if name.startswith("assistant.doors")}
        assert through <= DOORS_SHAPES, file
