"""The SMS door's signature check against published vectors.

Source of the first table: the unit test of the twilio-python repository (tests/unit/test_request_validator.py), whose
numbers are published test data; the algorithm: https://www.twilio.com/docs/usage/security#validating-requests.
The second table was computed from that algorithm (HMAC-SHA1, RFC 2104) with invented data.
"""

import base64
import hashlib
import hmac

import pytest
from werkzeug.datastructures import MultiDict

from assistant.doors.sms import is_signed

TOKEN = "12345"
URL = "https://mycompany.com/myapp.php?foo=1&bar=2"
FORM = {
    "CallSid": "CA1234567890ABCDE",
    "Digits": "1234",
    "From": "+14158675309",
    "To": "+18005551212",
    "Caller": "+14158675309",
}
GOOD = "RSOYDt4T1cUTdK1PDd93/VVr8B8="
REPEATED = MultiDict(
    [("Sid", "CA123"), ("SidAccount", "AC123"), ("Digits", "5678"), ("Digits", "1234")]
)


@pytest.mark.parametrize(
    ("url", "form", "signature", "valid"),
    [
        (URL, FORM, GOOD, True),
        (URL, {**FORM, "From": "+14158675310", "Caller": "+14158675310"}, "GvWf1cFY/Q7PnoempGyD5oXAezc=", True),
        (URL, {**FORM, "From": "+14158675310", "Caller": "+14158675310"}, GOOD, False),
        (URL, {**FORM, "Digits": "9"}, GOOD, False),
        (f"{URL}&x=1", FORM, GOOD, False),
        (URL.replace("mycompany.com", "mycompany.com:1234"), FORM, GOOD, True),
        (URL, FORM, "kvajT1Ptam85bY51eRf/AJRuM3w=", True),
        (URL.replace("https", "http"), FORM, "0ZXoZLH/DfblKGATFgpif+LLRf4=", True),
        (
            URL.replace("https", "http").replace("mycompany.com", "mycompany.com:1234"),
            FORM,
            "Zmvh+3yNM1Phv2jhDCwEM3q5ebU=",
            True,
        ),
        (URL, REPEATED, "IK+Dwps556ElfBT0I3Rgjkr1wJU=", True),
        (URL, FORM, "", False),
    ],
)
def test_published_vectors(url: str, form: dict[str, str], signature: str, valid: bool) -> None:
    assert is_signed(TOKEN, url, MultiDict(form), signature) is valid


OWN_URL = "https://studio.example.com/sms"
OWN = {
    "MessageSid": "SM00000000000000000000000000000001",
    "From": "+12025550101",
    "To": "+12025550199",
    "NumMedia": "0",
}


@pytest.mark.parametrize(
    ("body", "signature"),
    [
        ("Hi, need a garland 3/14!", "/D31KZqvYmauDj9DFZyAKHU5eCE="),
        ("¿Arco de globos? 🎈 10 ft", "2WzAR1HoPySkTrr3KXJBwi4NSoA="),
        ("", "A3rxfSHiqpfOCEGKjlI5/wFf1ZY="),
    ],
)
def test_vectors_with_accents_a_picture_and_nothing(body: str, signature: str) -> None:
    form = {**OWN, "Body": body}
    joined = OWN_URL + "".join(name + form[name] for name in sorted(form))
    by_hand = base64.b64encode(hmac.new(TOKEN.encode(), joined.encode(), hashlib.sha1).digest()).decode()
    assert by_hand == signature
    assert is_signed(TOKEN, OWN_URL, MultiDict(form), signature)
    assert not is_signed("54321", OWN_URL, MultiDict(form), signature)
