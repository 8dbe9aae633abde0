"""Where the shipped rules, templates and demo lie: beside the package, or inside it in a wheel."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_INSTALLED = _PACKAGE / "shipped"


def shipped(name: str) -> Path:
    """Return the shipped folder ``rules``, ``templates`` or ``demo``.

    Raises FileNotFoundError when the copy of the program is incomplete.
    """
    checkout = _PACKAGE.parent / ("fixtures/demo" if name == "demo" else name)
    for place in (_INSTALLED / name, checkout):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the shipped folder '{name}' is missing; install the program again")
