"""Passwords: what is accepted, how it is kept, and how many are checked at once."""

import re
import secrets
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path
from threading import BoundedSemaphore

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

SHORTEST = 15  # NIST SP 800-63B rev. 4: the least where the password is the only factor
LONGEST = 256
_WAIT_SECONDS = 8.0


class Crowded(Exception):
    """Too many passwords are being checked at once; nothing was decided."""


class Passwords:
    """Hashes by argon2id with OWASP's least figures (19,456 KiB, 2 passes, 1 lane); at most two at a time."""

    def __init__(self, common: Iterable[str], *, memory_kib: int = 19456) -> None:
        self._hasher = PasswordHasher(time_cost=2, memory_cost=memory_kib, parallelism=1)
        self._gate = BoundedSemaphore(2)
        self._common = {_bare(word) for word in common}
        self._nobody = self._hasher.hash(secrets.token_hex(16))

    def hash(self, password: str) -> str:
        """Return the hash to keep."""
        with self._room():
            return self._hasher.hash(password)

    def matches(self, kept: str | None, password: str) -> bool:
        """Tell whether the password is the kept one; without a kept one the same work is done, then no."""
        with self._room():
            try:
                return self._hasher.verify(kept or self._nobody, password) and kept is not None
            except (VerificationError, InvalidHashError):
                return False

    def is_old(self, kept: str) -> bool:
        """Tell whether a kept hash was made with other settings than today's."""
        return self._hasher.check_needs_rehash(kept)

    def why_refused(self, password: str, own_words: Iterable[str] = ()) -> str | None:
        """Return what is wrong with a new password and what to do, or None."""
        if len(password) < SHORTEST:
            return f"{len(password)} characters: use {SHORTEST} or more. Four unrelated words do well"
        if len(password) > LONGEST:
            return f"{len(password)} characters: use {LONGEST} at most"
        bare = _bare(password)
        guessed = {bare, _unit(bare), _unit(bare.rstrip("0123456789"))}
        if guessed & self._common or len(set(bare)) < 4 or _is_row(bare):
            return "this one is among the first that are guessed: use four unrelated words"
        if _rest(bare, own_words) < 8:
            return "this is mostly your name, mail or studio: use words that have nothing to do with it"
        return None

    @contextmanager
    def _room(self) -> Iterator[None]:
        if not self._gate.acquire(timeout=_WAIT_SECONDS):
            raise Crowded
        try:
            yield
        finally:
            self._gate.release()


def load_common(path: Path | None = None) -> list[str]:
    """Read the bundled list of the most guessed passwords, one a line."""
    path = path or Path(__file__).with_name("common_passwords.txt")
    return [line for line in path.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]


def _bare(password: str) -> str:
    return re.sub(r"[\W_]+", "", password.casefold())


def _unit(text: str) -> str:
    """Return the shortest piece that the text repeats: "abcabcabc" gives "abc"."""
    for size in range(1, len(text) // 2 + 1):
        if len(text) % size == 0 and text[:size] * (len(text) // size) == text:
            return text[:size]
    return text


def _is_row(text: str) -> bool:
    """Tell whether every character follows its neighbour, as in 123456789012345 or abcdefghijklmno."""
    return len({_step(before, after) for before, after in pairwise(text)}) <= 1


def _step(before: str, after: str) -> int:
    step = ord(after) - ord(before)
    return step % 10 if before.isdigit() and after.isdigit() else step


def _rest(bare: str, own_words: Iterable[str]) -> int:
    """Return how many characters are left when the studio's own words are taken out."""
    parts = {_bare(part) for word in own_words for part in re.split(r"[\s@.]+", word)}
    for part in sorted((part for part in parts if len(part) >= 4), key=len, reverse=True):
        bare = bare.replace(part, "")
    return len(bare)
