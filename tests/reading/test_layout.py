"""Which part of a mail a line is."""

from datetime import date

from assistant.reading import Reader

TODAY = date(2027, 3, 10)


def roles(reader: Reader, text: str, channel: str = "email") -> list[str]:
    return [line.role for line in reader.context(text, today=TODAY, channel=channel).lines]


def test_the_subject_line_counts(reader: Reader) -> None:
    text = "Subject: shower June 5\n\nCan you do a garland?"
    assert roles(reader, text) == ["subject", "body"]
    assert reader.read(text, today=TODAY, channel="email").of("event_date")[0].value == "2027-06-05"


def test_lines_below_a_greeting_are_the_signature(reader: Reader) -> None:
    text = "We need an arch.\n\nKind regards,\nAnn Field\n5 May Street"
    assert roles(reader, text) == ["body", "sign_off", "signature", "signature"]


def test_a_date_below_the_greeting_is_no_event(reader: Reader) -> None:
    text = "Party June 5.\n\nThanks,\nApril\nFounded May 1, 1999"
    assert reader.read(text, today=TODAY, channel="email").of("event_date")[0].value == "2027-06-05"


def test_a_postscript_is_still_the_clients_word(reader: Reader) -> None:
    text = "Need a garland.\n\nThanks,\nJo\n\nPS: the party is June 5"
    assert reader.read(text, today=TODAY, channel="email").of("event_date")[0].value == "2027-06-05"


def test_a_name_alone_at_the_end_is_a_signature(reader: Reader) -> None:
    assert roles(reader, "Garland for June 5 please\n\nOdette") == ["body", "signature"]


def test_a_last_line_with_a_day_is_no_signature(reader: Reader) -> None:
    assert roles(reader, "Need an arch\n\nSaturday June 5") == ["body", "body"]


def test_quoted_history_is_left_out(reader: Reader) -> None:
    text = "June 5 works\n\nOn Mon, Mar 8, 2027 Studio wrote:\n> we have June 12"
    assert roles(reader, text) == ["body", "quoted", "quoted"]


def test_an_answer_below_the_quoted_lines_is_read(reader: Reader) -> None:
    text = "On Mon, Mar 8, 2027 Studio wrote:\n> which day?\n\nJune 5"
    assert reader.read(text, today=TODAY, channel="email").of("event_date")[0].value == "2027-06-05"


def test_a_text_message_has_no_signature_lines(reader: Reader) -> None:
    assert roles(reader, "need an arch\nthanks\nsaturday", "sms") == ["body", "body", "body"]


def test_a_forwarded_invitation_is_read_without_its_head(reader: Reader) -> None:
    text = (
        "See below!\nAnn\n\n------ Forwarded message ------\nFrom: Cy\nDate: Sat, Apr 3, 2027\n\nMia turns 16 on May 15"
    )
    assert roles(reader, text)[-4:] == ["quoted", "quoted", "quoted", "body"]
    assert reader.read(text, today=TODAY, channel="email").of("event_date")[0].value == "2027-05-15"
