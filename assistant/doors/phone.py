"""Phone numbers in the one international form (ITU-T E.164)."""

from assistant.doors.clean import one_line


def e164(raw: str, region: str = "US") -> str:
    """Return the number as +12025550101, or the text as it came when it is no possible number."""
    import phonenumbers

    text = one_line(raw, 254)
    if ":" in text:  # the address of another network, such as whatsapp:+12025550101
        return text
    try:
        number = phonenumbers.parse(text, region)
    except phonenumbers.NumberParseException:
        return text
    possible = phonenumbers.is_possible_number_with_reason(number) == phonenumbers.ValidationResult.IS_POSSIBLE
    if not possible or number.extension:
        return text
    return str(phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164))
