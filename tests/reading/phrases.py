"""Corpus files: many phrasings under one expected value, and near-misses that must stay silent."""

from datetime import date
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
import yaml

from assistant.loading.reading import load_reader
from assistant.reading import Finding
from assistant.rulebook import Rulebook

CORPUS = Path(__file__).parent.parent / "corpus"
TODAY = date(2027, 3, 1)
READER = load_reader(Rulebook())


def groups(name: str) -> list[Any]:
    """Return each phrase of a corpus file with its group, as pytest's parameters."""
    told = [(str(phrase), group) for group in _corpus(name)["groups"] for phrase in group["phrases"]]
    return [pytest.param(phrase, group, id=phrase[:60].replace("\n", " ")) for phrase, group in told]


def silent(name: str) -> list[str]:
    """Return the phrases that must give nothing."""
    return [str(phrase) for phrase in _corpus(name)["silent"]]


def _corpus(name: str) -> Any:
    return yaml.safe_load((CORPUS / f"{name}.yaml").read_text(encoding="utf-8"))


def found(extractor: ModuleType, phrase: str, key: str) -> list[Finding]:
    """Return what an extractor finds of one fact in a phrase; with line breaks it is a mail, else a text message."""
    channel = "email" if "\n\n" in phrase else "sms"
    context = READER.context(phrase, today=TODAY, channel=channel)
    return [finding for finding in extractor.find(context) if finding.key == key]


def given(findings: list[Finding]) -> list[Any]:
    """Return the values that are given; what is unclear as the word itself."""
    return ["unclear" if f.status == "unclear" else f.value for f in findings if f.mode != "withdraw"]


def taken_back(findings: list[Finding]) -> list[Any]:
    """Return the values that are ruled out."""
    return [f.value for f in findings if f.mode == "withdraw"]
