"""Whatever comes as facts gets a price or a plain refusal, never another kind of failure."""

import json
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing import DesignerDecides, FactWrong, price
from tests.pricing.jobs import book, garland

scalars = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-5, 10**30),
    st.floats(),
    st.sampled_from(["", "garland", "arch", "2027-06-01", "outdoor", "lush", "unclear", "stated", "inferred"]),
    st.text(max_size=5),
)
keys = st.sampled_from(
    [
        "kind",
        "status",
        "value",
        "options",
        "span",
        "length_ft",
        "height_ft",
        "count",
        "mirror",
        "doubled",
        "shape",
        "at",
    ]
)
anything = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=4), max_leaves=8
)


@settings(max_examples=300, deadline=None)
@given(st.dictionaries(st.sampled_from([*garland(), "place", "budget"]), anything, max_size=4))
def test_any_facts_get_a_price_or_a_plain_refusal(broken):
    try:
        answer = price({**garland(), **broken}, book(), today=date(2027, 3, 1)).to_json()
    except (FactWrong, DesignerDecides):
        return
    assert answer["low"] <= answer["likely"] <= answer["high"]
    json.dumps(answer)
