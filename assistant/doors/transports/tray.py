"""The tray: a folder where messages without a way out lie as readable files, for the designer to send by hand."""

import os
from pathlib import Path

from assistant.doors.transports.base import LookUp, TryLater
from assistant.store.parcels import Parcel, fingerprint


class Tray:
    """Writes each message once to ``folder``; the same message always has the same name."""

    look_up = LookUp.EXACT

    def __init__(self, folder: Path) -> None:
        """Keep the folder's place; it is made with the first message."""
        self.folder = folder

    def send(self, parcel: Parcel) -> str:
        """Write the file whole or not at all, and to the disk."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            _write_whole(self.folder / f"{_name(parcel)}.txt", _page(parcel))
        except OSError as problem:
            raise TryLater(f"the tray can't be written ({problem.strerror}): see {self.folder}") from problem
        return _name(parcel)

    def find(self, parcel: Parcel) -> list[str]:
        """Return the message's name if its file is there."""
        name = _name(parcel)
        return [name] if (self.folder / f"{name}.txt").is_file() else []


def _name(parcel: Parcel) -> str:
    return f"{parcel.id:06d}-{fingerprint(parcel.subject, parcel.text)[:8]}"


def _page(parcel: Parcel) -> str:
    subject = [f"Subject: {parcel.subject}"] if parcel.subject else []
    head = [f"To: {parcel.recipient}", f"From: {parcel.sender}", f"By: {parcel.channel}", *subject]
    return "\n".join([*head, "", parcel.text, ""])


def _write_whole(path: Path, text: str) -> None:
    draft = path.with_suffix(".part")
    with draft.open("w", encoding="utf-8", errors="replace", newline="\n") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    draft.replace(path)
