"""Who an inquiry is from, in words, and how to reach them."""

import phonenumbers

from assistant.desk.facts import value_of
from assistant.store.models import Inquiry


def who(inquiry: Inquiry) -> str:
    """Return the client's name, else the address they wrote from."""
    name = inquiry.client.name or value_of(inquiry.facts.get("name"))
    return str(name) if name else reach(inquiry) or "A new client"


def reach(inquiry: Inquiry) -> str:
    """Return the address on the inquiry's channel, else any."""
    addresses = sorted(inquiry.client.addresses, key=lambda address: (address.channel != inquiry.channel, address.id))
    return phone_text(addresses[0].value) if addresses else ""


def phone_text(value: str) -> str:
    """Return a phone number as it is written at home or with its country code; other addresses stay as they are."""
    if not value.startswith("+"):
        return value
    try:
        number = phonenumbers.parse(value)
    except phonenumbers.NumberParseException:
        return value
    style = phonenumbers.PhoneNumberFormat
    return str(phonenumbers.format_number(number, style.NATIONAL if number.country_code == 1 else style.INTERNATIONAL))
