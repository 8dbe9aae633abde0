"""Keeps the pieces: named again they change, taken back they go; a size said alone finds the piece that lacks one."""

from dataclasses import dataclass, field
from typing import Any

from assistant.inquiry.merge_values import places
from assistant.reading.findings import ONLY, WITHDRAW, Finding

SIZES = ("length_ft", "width_ft", "height_ft")
# The direction of a size that names none, by piece. Common practice, no source.
BARE = {
    "garland": "length_ft", "ceiling": "length_ft", "arch": "width_ft", "wall": "width_ft", "hoop": "width_ft",
    "drop": "width_ft", "column": "height_ft", "marquee": "height_ft", "centerpiece": "height_ft",
    "bouquet": "height_ft",
}  # fmt: skip
COUNTED = ("centerpiece", "bouquet", "column")
TAKES = {
    "garland": {"length_ft"}, "arch": set(SIZES), "wall": set(SIZES), "ceiling": set(SIZES), "hoop": set(SIZES),
    "drop": set(SIZES), "column": {"height_ft", "width_ft"}, "marquee": {"height_ft", "width_ft"},
    "centerpiece": {"height_ft"}, "bouquet": {"height_ft"},
}  # fmt: skip


@dataclass
class _Piece:
    value: dict[str, Any]
    places: list[list[int]] = field(default_factory=list)
    message: int = -1

    def lacks(self, sizes: dict[str, Any]) -> bool:
        return not any(key in self.value for key in SIZES) or not (set(sizes) & set(self.value) & set(SIZES))


class PieceKeeper:
    """The pieces in the order named."""

    def __init__(self) -> None:
        self._pieces: list[_Piece] = []
        self._waiting: list[tuple[Finding, int]] = []

    def hear(self, finding: Finding, message: int) -> None:
        """Take one finding into account."""
        if finding.key == "size":
            self._size(finding, message)
        elif finding.key == "number":
            self._number(finding, message)
        elif finding.key == "count":
            self._count(finding, message)
        elif finding.mode == WITHDRAW:
            kind = finding.value.get("kind") if finding.value else None
            self._pieces = [piece for piece in self._pieces if kind is not None and piece.value["kind"] != kind]
        else:
            self._named(finding, message)

    def _named(self, finding: Finding, message: int) -> None:
        kind = finding.value["kind"]
        if finding.mode == ONLY:
            self._pieces = [p for p in self._pieces if p.value["kind"] == kind or p.message == message]
        known = self._same(finding, message)
        if known is None:
            known = _Piece({"kind": kind})
            self._pieces.append(known)
        known.value.update(finding.value)
        known.places.extend(places(finding, message))
        known.message = message
        waiting, self._waiting = self._waiting, []
        for size, told in waiting:
            self._size(size, told)

    def _same(self, finding: Finding, message: int) -> _Piece | None:
        """Return the piece of an earlier message that is spoken of again."""
        extra = finding.extra or {}
        if extra.get("another"):
            return None
        same = [p for p in self._pieces if p.value["kind"] == finding.value["kind"] and p.message != message]
        if not same:
            return None
        sizes = {key: finding.value[key] for key in SIZES if key in finding.value}
        open_ones = [piece for piece in same if piece.lacks(sizes)]
        return (open_ones or same)[-1]

    def _size(self, finding: Finding, message: int) -> None:
        fitting = [piece for piece in self._pieces if self._as_sizes(piece, finding.value)]
        if not fitting:
            if not self._pieces:
                self._waiting.append((finding, message))
            return
        lacking = [piece for piece in fitting if piece.lacks(self._as_sizes(piece, finding.value))]
        piece = (lacking or fitting)[-1]
        piece.value.update(self._as_sizes(piece, finding.value))
        piece.places.extend(places(finding, message))

    @staticmethod
    def _as_sizes(piece: _Piece, said: dict[str, Any]) -> dict[str, Any]:
        """Return the sizes as this piece takes them; nothing when one of them does not fit it."""
        kind = piece.value["kind"]
        named = {BARE.get(kind, "width_ft") if key == "bare_ft" else key: value for key, value in said.items()}
        if kind == "garland" and set(named) == {"width_ft"}:
            named = {"length_ft": named["width_ft"]}
        return named if set(named) <= TAKES.get(kind, set(SIZES)) else {}

    def _count(self, finding: Finding, message: int) -> None:
        counted = [piece for piece in self._pieces if piece.value.get("count", 1) != 1] or self._pieces
        if counted:
            counted[-1].value["count"] = finding.value["count"]
            counted[-1].places.extend(places(finding, message))

    def _number(self, finding: Finding, message: int) -> None:
        """Take a number that is the whole message as the count of the last piece, if that kind is counted."""
        last = self._pieces[-1] if self._pieces else None
        if last is None or last.value["kind"] not in COUNTED or finding.value < 2:
            return
        if "count" not in last.value or (finding.extra or {}).get("corrects"):
            last.value["count"] = finding.value
            last.places.extend(places(finding, message))

    def edit(self, fact: Any) -> None:
        """Take the designer's list."""
        listed = fact.get("value") if isinstance(fact, dict) else fact
        bare = [{key: value for key, value in piece.items() if key != "from"} for piece in listed or []]
        self._pieces = [_Piece(piece) for piece in bare]

    def fact(self) -> list[dict[str, Any]]:
        """Return the pieces in the contract's shape."""
        return [piece.value | ({"from": piece.places} if piece.places else {}) for piece in self._pieces]

    def source(self) -> list[list[int]]:
        """Return the words that gave them."""
        return [place for piece in self._pieces for place in piece.places]
