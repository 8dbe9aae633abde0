"""The calendar's rule files: every fault is named with its remedy; closed and private days are kept."""

from datetime import date
from pathlib import Path

import pytest
import yaml

from assistant.availability import judge
from assistant.loading.availability import load_calendar
from assistant.paths import shipped
from assistant.rulebook import Rulebook, RuleFilesWrong

CASES = yaml.safe_load((Path(__file__).parent / "broken" / "cases.yaml").read_text(encoding="utf-8"))
TODAY = date(2027, 3, 1)


def changed(folder: Path, file: str, find: str, put: str) -> Rulebook:
    text = (shipped("rules") / file).read_text(encoding="utf-8")
    assert find in text
    (folder / file).write_text(text.replace(find, put, 1), encoding="utf-8")
    return Rulebook(folder)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_broken_calendar_is_named_with_its_remedy(case: dict[str, str], tmp_path: Path) -> None:
    with pytest.raises(RuleFilesWrong) as fault:
        load_calendar(changed(tmp_path, case["file"], case["find"], case["put"]))
    for words in case["words"]:
        assert words in str(fault.value)


def test_a_closed_weekday_is_closed_and_nobody_builds_on_it(tmp_path: Path) -> None:
    rules = load_calendar(changed(tmp_path, "calendar.yaml", "closed_weekdays: []", "closed_weekdays: [sunday]"))
    sunday, monday = date(2027, 10, 17), date(2027, 10, 18)
    assert judge(sunday, rules=rules, today=TODAY).verdict == "closed"
    assert "closed on Sundays" in judge(sunday, rules=rules, today=TODAY).why
    assert judge(monday, rules=rules, today=TODAY).verdict == "full"


def test_a_job_can_be_built_two_days_before_where_the_rules_allow_it(tmp_path: Path) -> None:
    text = (shipped("rules") / "calendar.yaml").read_text(encoding="utf-8")
    text = text.replace("closed_weekdays: []", "closed_weekdays: [sunday]")
    (tmp_path / "calendar.yaml").write_text(text.replace("build_up_to_days_before: 1", "build_up_to_days_before: 2"))
    found = judge(date(2027, 10, 18), rules=load_calendar(Rulebook(tmp_path)), today=TODAY)
    assert found.verdict == "open"
    assert "Saturday 2027-10-16" in found.why


def test_closed_days_hold_from_the_first_to_the_last(tmp_path: Path) -> None:
    put = "closed: [{from: '2027-12-24', to: '2027-12-26', why: family days}]"
    rules = load_calendar(changed(tmp_path, "calendar.yaml", "closed: []", put))
    words = [judge(date(2027, 12, day), rules=rules, today=TODAY).verdict for day in (23, 24, 26, 28)]
    assert words == ["open", "closed", "closed", "open"]
    assert "family days" in judge(date(2027, 12, 25), rules=rules, today=TODAY).why


def test_private_time_of_the_rules_takes_its_hours(tmp_path: Path) -> None:
    put = "private: [{start: '2027-06-12T09:00', end: '2027-06-12T13:00', why: dentist}]"
    rules = load_calendar(changed(tmp_path, "calendar.yaml", "private: []", put))
    assert judge(date(2027, 6, 12), rules=rules, today=TODAY).crew_hours_free == 5.0


def test_a_second_person_adds_hours_to_both_days(tmp_path: Path) -> None:
    rules = load_calendar(changed(tmp_path, "calendar.yaml", "crew: 1", "crew: 2"))
    found = judge(date(2027, 6, 12), rules=rules, today=TODAY)
    assert "18 of 18 crew hours" in found.why
    assert "12 of 12 for building" in found.why
