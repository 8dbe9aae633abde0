"""A step and its figures in, a text out: template, language and channel chosen, parts counted, prices found."""

from collections.abc import Mapping
from dataclasses import dataclass

from assistant.inquiry.step import Step
from assistant.wording.approval import Approval
from assistant.wording.fields import Figures, Speaker, values_of
from assistant.wording.gsm import plain
from assistant.wording.phrases import Phrases
from assistant.wording.segments import Encoding, segments
from assistant.wording.studio import Studio
from assistant.wording.template import Template, fill, one_paragraph, split_subject

PRICED = ("low", "high", "price")
PROMISING = ("open_date", "open_short_date", "alternates")
FRAME = "mail"


class NoTemplate(ValueError):
    """A reply that has no template; the text names the file to write."""


@dataclass(frozen=True)
class Reply:
    """A finished text. ``may_go_alone`` tells whether it may leave without the designer's yes."""

    text: str
    subject: str
    parts: int
    encoding: Encoding
    units: int
    bears_price: bool
    promises_date: bool
    may_go_alone: bool


@dataclass(frozen=True)
class Wording:
    """The studio's templates and words; templates are keyed by language and file name without ending."""

    studio: Studio
    phrases: Mapping[str, Phrases]
    approval: Approval
    templates: Mapping[tuple[str, str], Template]

    def reply(self, step: Step, figures: Figures, *, language: str, channel: str) -> Reply:
        """Return the text of ``step``. A language the studio does not write falls back to its first one.

        Raises NoTemplate for a step without text, such as ``silent``, and for a template that is missing.
        """
        language = language if language in self.studio.languages else self.studio.languages[0]
        speaker = Speaker(self.studio, self.phrases[language], language, channel, self.studio.locale_of(language))
        values = values_of(step, figures, speaker)
        template = self._template(step.template, language, channel)
        inner = {**values, "greeting": ""} if channel == "email" else values  # a mail's frame greets
        subject, body = split_subject(fill(template.text, inner, sentences=True))
        if channel == "email":
            subject, body = self._framed(subject, body, values, language)
        else:
            body = one_paragraph(body)
            body = plain(body) if self.studio.plain_sms else body
        return self._finished(step, template, subject, body, values, as_text=channel != "email")

    def _template(self, name: str, language: str, channel: str) -> Template:
        for wanted in (f"{name}.{channel}", name):
            if name and (language, wanted) in self.templates:
                return self.templates[language, wanted]
        if not name:
            raise NoTemplate("this step has no text: nothing is to be sent")
        raise NoTemplate(f"no reply template {language}/{name}.txt: write it into templates/replies/{language}")

    def _framed(self, subject: str, body: str, values: Mapping[str, str], language: str) -> tuple[str, str]:
        """Put greeting and signature around the body of a mail."""
        frame = self._template(FRAME, language, "email")
        frame_subject, text = split_subject(frame.text)
        around = text.partition("{body}")
        whole = "\n\n".join(part for part in (fill(around[0], values), body, fill(around[2], values)) if part)
        return subject or fill(frame_subject, values), whole

    def _finished(
        self, step: Step, template: Template, subject: str, body: str, values: Mapping[str, str], *, as_text: bool
    ) -> Reply:
        used = {name for name in template.fields if values.get(name)}
        both = f"{subject}\n{body}"
        price = bool(used & set(PRICED)) or self.approval.bears_price(both)
        promise = bool(used & set(PROMISING)) or self.approval.promises_date(both)
        counted = segments(body)
        return Reply(
            text=body,
            subject=subject,
            parts=len(counted.parts) if as_text else 1,
            encoding=counted.encoding,
            units=counted.units,
            bears_price=price,
            promises_date=promise,
            may_go_alone=self.approval.may_go_alone(step.kind, bears_price=price, promises_date=promise),
        )
