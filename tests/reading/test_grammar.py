"""The engine: rules build on each other, may decline, and end."""

import pytest

from assistant.reading.grammar import MOST_NODES_EACH_TOKEN, Grammar, Rules, kind, maybe, word
from assistant.reading.node import Node
from assistant.reading.tokens import Token, tokenize


def letters(tokens: tuple[Token, ...]) -> list[Node]:
    return [Node("letter", t.fold, t.start, t.end, i, i + 1, "word") for i, t in enumerate(tokens) if t.kind == "word"]


def parse(rules: Rules, text: str) -> list[tuple[str, object, str]]:
    tokens = tokenize(text)
    nodes = Grammar(rules.all).parse(tokens, letters(tokens))
    return [(node.kind, node.value, text[node.start : node.end]) for node in nodes if node.kind != "letter"]


def pairs() -> Rules:
    rules = Rules()

    @rules.rule("pair", "pair", kind("letter"), maybe(","), word("+"), kind("letter"))
    def pair(first: Node, second: Node) -> object:
        return None if first.value == second.value else first.value + second.value

    @rules.rule("twin", "twin", kind("pair"), kind("pair"))
    def twin(first: Node, second: Node) -> object:
        return first.value + second.value

    return rules


def test_a_rule_gets_its_kinds_and_not_its_words() -> None:
    assert parse(pairs(), "a +  b") == [("pair", "ab", "a +  b")]


def test_a_word_that_may_be_there_need_not_be() -> None:
    assert parse(pairs(), "a, + b") == [("pair", "ab", "a, + b")]


def test_a_rule_may_decline() -> None:
    assert parse(pairs(), "a + a") == []


def test_rules_build_on_each_other() -> None:
    assert ("twin", "abcd", "a + b c + d") in parse(pairs(), "a + b c + d")


def test_a_pattern_without_a_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one of them a kind"):
        Rules().rule("empty", "x", word("a"))


def test_a_rule_that_feeds_itself_is_stopped_by_the_bound() -> None:
    rules = Rules()

    @rules.rule("run", "run", kind("letter", "run"), kind("letter", "run"))
    def run(first: Node, second: Node) -> object:
        return f"{first.value}{second.value}"

    tokens = tokenize("a " * 200)
    nodes = Grammar(rules.all).parse(tokens, letters(tokens))
    assert len(nodes) <= (MOST_NODES_EACH_TOKEN + 10) * (len(tokens) + 10)
