"""One text, the studio's vocabulary and today's date in; facts out, each with the words that gave it.

This room knows no clock, store, web, YAML or price. Three lines at a Python prompt::

    reader = load_reader(Rulebook())                       # assistant.loading.reading, assistant.rulebook
    reading = reader.read("garland for oct 16", today=date(2027, 3, 1))
    reading.kind, reading.findings

How a text is read
    tokens.py      words, numbers, marks, line ends; ``fold`` is what rules compare (lower case, no accents, no
                   apostrophes: "Mother's" is "mothers"); nothing is rewritten, so spans cut the client's own words.
    vocabulary.py  every list of rules/words/<language>/*.yaml; a token gets ALL its atoms, several at once are fine.
    numbers.py     ``number`` (a Fraction), ``ordinal`` (an int), ``range`` (low, high) nodes: the number is read once.
    grammar.py     small rules over nodes and words, applied until nothing new appears.
    layout.py      the line's role: subject, body, sign_off, signature, quoted.
    context.py     what an extractor gets: text, tokens, nodes, lines, today, locale, channel and look-around helpers.
    findings.py    Finding and Reading.
    days.py, weeks.py, holidays.py   what a phrase of a day means on a given today: every day that fits, none invented.
    date_parts.py, date_rules.py, week_rules.py, near_rules.py   the rules that build such phrases.
    date_candidates.py   which of them are days at all (no ages, streets, sizes); date_roles.py what happens on them.
    dates.py with date_neighbours.py, date_joining.py, date_moves.py   one answer, or all that is still possible.
    time_rules.py, times.py   when it starts. talk.py   the kind of message. replies.py   a number alone.
    reader.py      RULE_SETS and EXTRACTORS: the two visible lists. A new fact is a module with RULES and find().

How to add words
    A file rules/words/<language>/<subject>.yaml is ``{atom kind: {value: [phrases of 1 to 6 words]}}``. Languages are
    only folders, all are loaded together; "common" holds what no language owns. Quote YAML's own words: "no", "on",
    "yes". The reserved kind ``mend`` names the kinds of which misspelt single words are mended::

        mend: {kinds: [colour, piece]}

How to add rules
    In your module: ``RULES = Rules()``, then::

        @RULES.rule("number of feet", "length", kind("number", "range"), maybe("-"), kind("foot_unit"))
        def feet(amount: Node, _unit: Node) -> object:
            return None if amount.value == 0 else amount.value     # None declines

    kind(...) parts are handed to the function, word(...)/maybe(...) parts are not. A newline is a token, so no rule
    crosses a line unless it says ``maybe("\\n")``. Values must be hashable (tuples, Fractions, frozen dataclasses).

How to add an extractor
    ``find(context) -> list[Finding]``. Choose among ``context.nodes.longest("length")`` (longest nodes win, ties stay)
    with the words around them (context.before / after / sentence / role). One finding for each thing said.

What merging expects (assistant/inquiry/merge.py)
    pieces    one finding a piece, value {"kind", "count"?, "length_ft"?, "width_ft"?, "height_ft"?} (lists of two
              floats in feet); mode give, withdraw ("no columns") or only ("make that just the arch").
    size      a size said without a piece: value {"length_ft" | "width_ft" | "height_ft": [low, high]}, several keys at
              once for "8x8"; a bare length whose direction is not said is {"bare_ft": [low, high]}.
    count     a number of pieces said alone: value {"count": 12}. number: a message that is a number alone.
    colours   one finding a colour word; mode give or withdraw ("rose gold not gold": give one, withdraw the other).
    setting, place, budget, name, occasion    one finding each time it is said; later texts win. value as in the
              facts; budget is [low, high]. mode withdraw takes a value back.
    event_date, event_time                    see dates.py and times.py.
    Every finding carries spans (at least one), rule (its name in plain words) and, where helpful, why.
"""

from assistant.reading.findings import Finding, Reading
from assistant.reading.reader import Reader

__all__ = ["Finding", "Reader", "Reading"]
