"""Frozen dataclasses to plain JSON values and back: money and measures as text, so that nothing passes a float."""

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

T = TypeVar("T")


def to_plain(value: Any) -> Any:
    """Return ``value`` as JSON can hold it: dataclasses as objects, Decimal and dates as text."""
    if is_dataclass(value):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, Mapping):
        return {key: to_plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [to_plain(inner) for inner in value]
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def from_plain(shape: type[T], value: Any) -> T:
    """Return the value of type ``shape`` that to_plain made ``value`` of."""
    return cast(T, _build(shape, value))


def _build(shape: Any, value: Any) -> Any:
    origin, inside = get_origin(shape), get_args(shape)
    if origin in (Union, types.UnionType):
        return None if value is None else _build(next(part for part in inside if part is not type(None)), value)
    if origin is list:
        return [_build(inside[0], inner) for inner in value]
    if origin is dict:
        return {key: _build(inside[1], inner) for key, inner in value.items()}
    if isinstance(shape, type) and is_dataclass(shape):
        hints = _hints(shape)
        return shape(**{name: _build(hints[name], inner) for name, inner in value.items()})
    if shape is Decimal:
        return Decimal(value)
    return date.fromisoformat(value) if shape is date else value


@cache
def _hints(shape: Any) -> dict[str, Any]:
    return get_type_hints(shape)
