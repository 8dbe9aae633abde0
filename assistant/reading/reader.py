"""Reads one text: tokens, atoms, phrases, then one extractor for each fact."""

from collections.abc import Callable
from datetime import date

from assistant.reading import (
    budget,
    colours,
    date_moves,
    date_parts,
    date_rules,
    dates,
    name,
    near_rules,
    numbers,
    occasion,
    pieces,
    place,
    replies,
    setting,
    talk,
    times,
    week_rules,
    wishes,
)
from assistant.reading.context import Context
from assistant.reading.findings import Finding, Reading
from assistant.reading.grammar import Grammar, Rules
from assistant.reading.language import language_of
from assistant.reading.layout import lay_out, spoken
from assistant.reading.settings import ReadingSettings
from assistant.reading.tokens import MAX_CHARACTERS, tokenize
from assistant.reading.vocabulary import Vocabulary

YEARS = range(1950, 3000)
Extractor = Callable[[Context], list[Finding]]

RULE_SETS: tuple[Rules, ...] = (
    numbers.RULES,
    date_parts.RULES,
    date_rules.RULES,
    week_rules.RULES,
    near_rules.RULES,
    date_moves.RULES,
    talk.RULES,
    times.RULES,
    pieces.RULES,
    colours.RULES,
    setting.RULES,
    place.RULES,
    budget.RULES,
    name.RULES,
    occasion.RULES,
    wishes.RULES,
)

EXTRACTORS: tuple[Extractor, ...] = (
    dates.find,
    times.find,
    pieces.find,
    colours.find,
    setting.find,
    place.find,
    budget.find,
    name.find,
    occasion.find,
    replies.find,
    wishes.find,
)


class Reader:
    """A studio's vocabulary and grammar, ready to read texts; it keeps nothing of what it read."""

    def __init__(self, vocabulary: Vocabulary, settings: ReadingSettings | None = None) -> None:
        self.vocabulary = vocabulary
        self.settings = settings or ReadingSettings()
        self.grammar = Grammar(rule for rules in RULE_SETS for rule in rules.all)

    def context(self, text: str, *, today: date, channel: str = "sms", locale: str = "en_US") -> Context:
        """Return a text with its tokens, nodes and layout, for the extractors and for ``read --why``."""
        if today.year not in YEARS:
            raise ValueError(f"today: {today} lies outside the calendar of studios: give the studio's own date")
        text = text[:MAX_CHARACTERS]
        tokens = tokenize(text)
        atoms = [*self.vocabulary.atoms(tokens), *numbers.number_atoms(tokens), *numbers.dotted_atoms(tokens)]
        nodes = self.grammar.parse(tokens, atoms)
        lines = lay_out(tokens, nodes, channel)
        return Context(text, tokens, nodes, lines, today, locale, channel, self.vocabulary, self.settings)

    def read(self, text: str, *, today: date, channel: str = "sms", locale: str = "en_US") -> Reading:
        """Return what one text says; ``today`` is the studio's local date, ``locale`` orders day and month."""
        context = self.context(text, today=today, channel=channel, locale=locale)
        findings = [finding for find in EXTRACTORS for finding in find(context)]
        findings.sort(key=lambda finding: finding.spans[0] if finding.spans else (0, 0))
        kind, why = talk.kind_of(context, findings)
        if kind in talk.WITHOUT_FACTS:  # "thanks, Noor" still tells who writes
            findings = [finding for finding in findings if finding.key == "name" and kind == talk.OTHER]
        own = spoken(context.text, context.tokens, context.lines)
        corrects = bool(context.nodes.of("day_change"))
        return Reading(kind, tuple(findings), why, own, corrects, language_of(context))
