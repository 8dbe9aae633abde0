"""Phone numbers in the one international form (ITU-T E.164)."""

from assistant.doors.clean import one_line


def e164(raw: str, region: str = "US") -> str:
    """Return the number as +12025550101, or the text as it came when it is no possible number."""
    import phonenumbers

    text = one_line(raw, 254)
    try:
        number = phonenumbers.parse(text, region)
    except phonenumbers.NumberParseException:
        return text
    if not phonenumbers.is_possible_number(number) or number.extension:
        return text
    return str(phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164))
