"""A person's own words are kept, quoted history and contact lines are not; when in doubt, too much is kept."""

from dataclasses import replace

import pytest

from assistant.doors.mail.body import decode, from_html
from assistant.doors.mail.words import own_words
from assistant.loading.mail import load_mail_rules
from assistant.rulebook import Rulebook

RULES = load_mail_rules(Rulebook())


def words(text: str) -> str:
    return own_words(text, RULES)


def test_history_in_the_usual_forms_is_set_aside() -> None:
    new = "Yes, the 16th works.\nCan we do 12 ft?"
    for history in (
        "On Mon, Mar 1, 2027 at 9:00 AM Studio <studio@example.com> wrote:\n> Which day?\n> Ada",
        "El lun, 1 mar 2027 a las 9:00, Studio (<studio@example.com>) escribió:\n> ¿Qué día?",
        "El lun, 1 mar 2027 a las 9:00, Studio (<studio@example.com>)\nescribió:\n> ¿Qué día?",
        "On Mon, Mar 1, 2027 at 9:00 AM A Very Long Studio Name <studio@example.com>\nwrote:\n\n> Which day?",
        "-----Original Message-----\nFrom: Studio\nSent: Monday\nTo: Dana\nSubject: Re: arch\n\nWhich day?",
        "From: Studio <studio@example.com>\nSent: Monday, March 1, 2027\nTo: Dana\nSubject: Re: arch\n\nWhich day?",
        "> Which day?\n> Ada",
    ):
        assert words(f"{new}\n\n{history}") == new


def test_an_answer_below_or_between_quotes_is_kept() -> None:
    text = "On Mon, Studio wrote:\n> Which day?\nOctober 16\n> How long?\n10 ft"
    assert words(text) == "October 16\n10 ft"


def test_a_filled_in_form_is_not_taken_for_history() -> None:
    form = "Name: Dana Example\nDate: October 16, 2027\nSubject: 10 ft garland\nTo: be set up at Hollis Park"
    assert words(form) == form


def test_the_name_under_a_mail_stays_and_contact_lines_go() -> None:
    text = "A garland for June 5, please.\n\nThanks,\nDana Example\nExample Events\ndana@example.org\n(202) 555-0101"
    assert words(text) == "A garland for June 5, please.\n\nThanks,\nDana Example\nExample Events"


def test_a_signature_mark_keeps_the_name_only() -> None:
    assert words("See you.\n-- \nDana Example\nEvents\nRoom 4\nwww.example.org") == "See you.\nDana Example\nEvents"


@pytest.mark.parametrize(
    "text",
    [
        "Hi Ada,\nthanks, June 5 works for us.\nIt is at Hollis Park.",
        "We need:\n- 10 ft garland\n- 2 columns\n- a hoop",
        "Thanks!\nOh, and it starts at 3 pm at Hollis Park.",
        "Is that your best?\nBest would be under $500.\nDana",
        "First line\nThanks for the quote, could you do 12 ft?\nMore words",
    ],
)
def test_what_only_looks_like_an_ending_is_kept(text: str) -> None:
    assert words(text) == text


def test_a_postscript_after_the_contact_lines_is_kept() -> None:
    text = "A garland please.\nThanks,\nDana\n(202) 555-0101\nP.S. it is outdoors"
    assert words(text) == "A garland please.\nThanks,\nDana\nP.S. it is outdoors"


def test_lines_a_phone_adds_are_left_out() -> None:
    assert words("June 5 works\n\nSent from my phone") == "June 5 works"
    assert words("El 5 de junio\n\nEnviado desde mi teléfono") == "El 5 de junio"


def test_a_mail_that_is_nothing_but_history_is_kept_whole() -> None:
    forwarded = "---------- Forwarded message ---------\nFrom: Dana\nDate: Monday\nSubject: arch\n\n10 ft arch please"
    assert "10 ft arch please" in words(forwarded)
    assert words("> only a quote") == "> only a quote"


def test_a_paragraph_on_one_long_line_is_kept() -> None:
    text = "On " + "a lovely day in October we would like balloons " * 20 + "\nwrote: Dana"
    assert words(text).split() == text.split()


HOSTILE = {
    "header words": "On " * 3400,
    "header lines": "On a b c d e f g\n" * 600,
    "blank lines": "\n" * 10_000,
    "from lines": "From: x\n" * 1200,
    "spaces": "From:" + " " * 9995,
    "quote marks": "> " * 5000,
    "quoted lines": "> > > > > x\n" * 800,
    "warnings": "Warning: " * 1100,
    "mail warnings": ("Important Note: mail" * 7 + "\n") * 70,
    "underscores": ("_" * 31 + "\n\n ") * 300,
    "closings": "Thanks,\n" * 1200,
    "devices": "Sent from my a b c d e f g h i j k l m n!\n" * 250,
    "stars": ("* " * 70 + "\n") * 70,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_mail_is_read_in_reasonable_time(name: str) -> None:
    """A pattern that backtracks would not end here: the run's own time limit shows it."""
    assert isinstance(words(HOSTILE[name]), str)


def test_html_becomes_lines_without_scripts_and_history() -> None:
    page = (
        "<html><head><title>x</title><style>p{}</style></head><body><script>alert(1)</script>"
        "<p>Hi Ada,</p><div>a 10&nbsp;ft\n garland<br>for June&nbsp;5</div>"
        "<div class='gmail_quote'>On Mon Ada wrote:<blockquote>Which day?</blockquote></div></body></html>"
    )
    assert from_html(page, quotes=False).split("\n") == ["Hi Ada,", "", "a 10 ft garland", "for June 5"]
    assert "Which day?" in from_html(page, quotes=True)
    assert "alert" not in from_html(page, quotes=True)


def test_very_deep_html_is_read() -> None:
    assert "deep" in from_html("<div>" * 5000 + "deep", quotes=True)


@pytest.mark.parametrize(
    ("data", "charset", "text"),
    [
        ("¿Qué día?".encode(), "utf-8", "¿Qué día?"),
        ("¿Qué día?".encode(), "us-ascii", "¿Qué día?"),
        ("¿Qué día?".encode(), "iso-8859-1", "¿Qué día?"),
        ("¿Qué día?".encode("cp1252"), "utf-8", "¿Qué día?"),
        ("¿Qué día?".encode("latin-1"), "iso-8859-1", "¿Qué día?"),
        ("10 ft – “gold”".encode("cp1252"), "x-unknown", "10 ft – “gold”"),
        ("¿Qué?".encode("utf-16"), "utf-16", "¿Qué?"),
        (b"plain", "base64", "plain"),
        (b"\x81\xff", None, "\x81ÿ"),
    ],
)
def test_text_is_decoded_by_what_it_is(data: bytes, charset: str | None, text: str) -> None:
    assert decode(data, charset) == text


def test_a_useless_length_in_the_rules_is_refused() -> None:
    with pytest.raises(ValueError, match="give 1000 or more"):
        replace(RULES, longest_text=5)
