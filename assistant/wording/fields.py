"""The fields that templates may use, and their values for one reply."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time, timedelta
from typing import Any

from assistant.inquiry.known import Facts, is_known, possible_days, value_of
from assistant.inquiry.step import Step
from assistant.wording import formats
from assistant.wording.phrases import Phrases
from assistant.wording.pieces import pieces_text
from assistant.wording.studio import Studio
from assistant.wording.template import fill

LONGEST_VALUE = 120

FIELDS: Mapping[str, str] = {
    "studio": "the studio's name",
    "assistant": "what the assistant calls itself",
    "designer": "who reads every quote",
    "phone": "the studio's phone number",
    "email": "the studio's mail address",
    "website": "the studio's website, or empty",
    "name": "the client's name, or empty",
    "greeting": "a greeting with the client's name, in the first text and in mails",
    "intro": "that this is an assistant and a person reads every quote; in the first text only",
    "read_back": "the inferred day read back, when it has to be confirmed",
    "questions": "the questions to put",
    "answers": "the studio's own answers",
    "hand_over": "the words of the hand-over rule",
    "by": "by when somebody answers",
    "pieces": "the pieces with count and size",
    "colours": "the colors",
    "setting": "indoors, outdoors or under a roof",
    "place": "the place",
    "date": "the event's day in full; empty when it is not certain",
    "short_date": "the event's day, short",
    "days": "the days a date in doubt may mean",
    "time": "when guests arrive",
    "open_date": "the day, only when the calendar says open or tight",
    "open_short_date": "the same, short",
    "alternates": "up to three other days that are open",
    "price": "the single figure",
    "low": "the range's lower end",
    "high": "the range's upper end",
    "tax": "that sales tax comes on top, when the studio set a rate",
    "included": "what the price includes",
    "assumptions": "what the draft takes for granted",
    "assumption_lines": "the same, a line each",
    "deposit": "the deposit: an amount, a share, or the full amount",
    "expires": "the last day the quote is good for",
    "caution": "one short line of cautions",
    "caution_lines": "all cautions, a line each",
    "link": "the client's page of this quote",
}


@dataclass(frozen=True)
class Figures:
    """What a reply may speak of: the sheet, the calendar's and the price book's answers, and what was said before.

    ``quote`` and ``verdict`` are what `assistant price` and `assistant dates` print. ``introduced`` tells that this
    conversation has had the line on the assistant. ``expires`` is worked out from the studio's rules if not given.
    """

    facts: Facts
    today: date
    quote: Mapping[str, Any] | None = None
    verdict: Mapping[str, Any] | None = None
    introduced: bool = False
    expires: date | None = None
    link: str = ""


@dataclass(frozen=True)
class Speaker:
    """The studio speaking one language on one channel."""

    studio: Studio
    phrases: Phrases
    language: str
    channel: str
    locale: str = field(default="en_US")


def values_of(step: Step, figures: Figures, speaker: Speaker) -> dict[str, str]:
    """Return the value of every field for one reply; what is not known is empty."""
    values = dict.fromkeys(FIELDS, "")
    values |= _studio(figures, speaker)
    values |= _event(figures, speaker)
    values |= _calendar(figures, speaker)
    values |= _price(step, figures, speaker)
    values |= _talk(step, speaker, values)
    return values


def clean(value: Any) -> str:
    """Return a client's words on one line, without control characters and not too long."""
    text = "".join(char if char.isprintable() else " " for char in str(value or ""))
    return " ".join(text.split())[:LONGEST_VALUE]


def _studio(figures: Figures, speaker: Speaker) -> dict[str, str]:
    studio, phrases = speaker.studio, speaker.phrases
    name = clean(value_of(figures.facts.get("name")))
    who = {"assistant": studio.assistant[speaker.language], "designer": studio.designer[speaker.language]}
    first = not figures.introduced
    return {
        **who,
        "studio": studio.name,
        "phone": studio.phone,
        "email": studio.email,
        "website": studio.website,
        "name": name,
        "greeting": fill(phrases.greeting, {"name": _called(name)}) if first or speaker.channel == "email" else "",
        "intro": fill(phrases.intro, who) if first else "",
        "link": figures.link,
    }


def _called(name: str) -> str:
    """Return what a person is called in a greeting: the first name, or all of it after a title such as "Dr."."""
    first = name.split(" ")[0]
    return name if first.endswith(".") else first


def _event(figures: Figures, speaker: Speaker) -> dict[str, str]:
    facts, phrases = figures.facts, speaker.phrases
    colours = [clean(colour) for colour in value_of(facts.get("colours")) or []]
    day = _certain_day(facts)
    at = str(value_of(facts["event_time"])) if is_known(facts, "event_time") else ""
    return {
        "pieces": pieces_text(facts, phrases),
        "colours": formats.listed(colours, phrases.conjunction),
        "setting": phrases.settings.get(str(value_of(facts.get("setting"))), "") if is_known(facts, "setting") else "",
        "place": clean(value_of(facts["place"])) if is_known(facts, "place") else "",
        "date": _long(day, figures, speaker) if day else "",
        "short_date": _short(day, speaker) if day else "",
        "days": _possible(facts, speaker),
        "time": formats.clock(time.fromisoformat(at), phrases.clock, speaker.locale) if at else "",
    }


def _certain_day(facts: Facts) -> date | None:
    return possible_days(facts["event_date"])[0] if is_known(facts, "event_date") else None


def _long(day: date, figures: Figures, speaker: Speaker) -> str:
    near = abs((day - figures.today).days) < 300
    pattern = speaker.phrases.day if near else speaker.phrases.day_with_year
    return formats.day(day, pattern, speaker.locale)


def _short(day: date, speaker: Speaker) -> str:
    return formats.day(day, speaker.phrases.short_day, speaker.locale)


def _possible(facts: Facts, speaker: Speaker) -> str:
    """The days a date in doubt may mean: up to three by name, more by their two ends."""
    fact = facts.get("event_date")
    days = possible_days(fact) if fact else []
    if not days:
        return ""
    is_span = isinstance(fact, Mapping) and not fact.get("options")
    named = [days[0], days[-1]] if is_span or len(days) > 3 else days
    words = [_short(day, speaker) for day in dict.fromkeys(named)]
    return " - ".join(words) if is_span or len(days) > 3 else formats.listed(words, speaker.phrases.alternative)


def _calendar(figures: Figures, speaker: Speaker) -> dict[str, str]:
    verdict, day = figures.verdict or {}, _certain_day(figures.facts)
    possible = verdict.get("verdict") in ("open", "tight")
    others = [date.fromisoformat(other) for other in verdict.get("alternates", ())][:3]
    words = [_short(other, speaker) for other in others]
    return {
        "open_date": _long(day, figures, speaker) if day and possible else "",
        "open_short_date": _short(day, speaker) if day and possible else "",
        "alternates": formats.listed(words, speaker.phrases.alternative),
    }


def _price(step: Step, figures: Figures, speaker: Speaker) -> dict[str, str]:
    """Prices are at hand for a draft alone, so that no other template can let one slip out."""
    quote = figures.quote
    if quote is None or step.kind != "draft":
        return {}
    phrases = speaker.phrases
    amounts = {
        name: formats.money(int(quote[key]), str(quote["currency"]), speaker.locale)
        for name, key in (("low", "low"), ("high", "high"), ("price", "likely"))
    }
    expires = figures.expires or figures.today + timedelta(days=speaker.studio.quote_valid_days)
    strike = value_of(figures.facts.get("strike")) is True
    cautions = quote.get("cautions", ()) if speaker.language == "en" else phrases.cautions
    return {
        **amounts,
        "tax": phrases.tax if quote.get("tax") else "",
        "included": phrases.included_take_down if strike else phrases.included,
        "deposit": _deposit(step, quote, speaker),
        "expires": _short(expires, speaker),
        "caution": phrases.caution,
        "caution_lines": _caution_lines(list(cautions) or phrases.cautions),
    }


def _deposit(step: Step, quote: Mapping[str, Any], speaker: Speaker) -> str:
    """An amount beside a single figure, a share beside a range, or the full amount."""
    deposit, likely = quote.get("deposit"), int(quote["likely"])
    if not deposit or not likely:
        return ""
    if deposit >= likely:
        return speaker.phrases.full_amount
    if step.template == "quote":
        return formats.money(int(deposit), str(quote["currency"]), speaker.locale)
    return fill(speaker.phrases.percent, {"number": str(round(100 * deposit / likely))})


def _talk(step: Step, speaker: Speaker, values: Mapping[str, str]) -> dict[str, str]:
    language = speaker.language
    assumed = [words[language] for words in (a.words for a in step.assumptions) if words.get(language)]
    over = step.hand_over
    return {
        "questions": " ".join(fill(_worded(question.words, language), values) for question in step.questions),
        "answers": " ".join(_worded(answer.words, language) for answer in step.answers),
        "hand_over": over.words.get(language, "") if over else "",
        "by": over.by.get(language, "") if over else "",
        "assumptions": ", ".join(assumed),
        "assumption_lines": _lines(assumed),
        "read_back": fill(speaker.phrases.read_back, values) if "event_date" in step.confirm else "",
    }


def _worded(words: Mapping[str, str], language: str) -> str:
    """The words in ``language``, or in the first one there is: better asked in another language than not at all."""
    return words.get(language) or next(iter(words.values()))


def _caution_lines(cautions: list[str]) -> str:
    """A line for each caution; the sentence that all of them end with stands once, below them."""
    last = {caution.rstrip(".").rpartition(". ")[2] for caution in cautions}
    if len(cautions) < 2 or len(last) != 1:
        return _lines(cautions)
    ending = f"{last.pop()}."
    return f"{_lines([caution.removesuffix(ending).rstrip() for caution in cautions])}\n{ending}"


def _lines(items: list[str]) -> str:
    return "\n".join(f"- {item}" for item in items)
