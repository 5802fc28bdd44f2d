"""Whatever is in a file, it is a plan or a list of faults in plain words."""

import json
from datetime import datetime
from types import MappingProxyType

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema.exceptions import ValidationError

from scheduling.errors import Fault, PlanError
from scheduling.plan import Plan
from scheduling.plan_file import read_plan, write_plan
from scheduling.plan_shape import schema
from scheduling.plan_words import faults_of
from scheduling.whereabouts import shown
from tests.scheduling.strategies import valid_plans

# words of the schema library, or of Python, that no workshop should have to read
FOREIGN = (
    *("is not of type", "is not valid under", "required property", "does not match"),
    *("Additional properties", "is too long", "is too short", "was expected", "regex"),
    *("is not one of", "less than the", "greater than the", "should not be", "None"),
    *("non-empty", "Traceback", "object at 0x", "Expecting", "dict", "schema"),
)


def faults(source):
    with pytest.raises(PlanError) as raised:
        read_plan(source)
    return raised.value.faults


def only(source):
    found = faults(source)
    assert len(found) == 1, found
    return found[0].where, found[0].what, found[0].fix


def in_job(**keys):
    """The one fault of a job that is otherwise right: place and words."""
    return only({"jobs": [{"id": "a", "estimate": {"likely": 1}, **keys}]})[:2]


# the text


def test_text_that_is_not_utf8():
    where, what, fix = only(b'{"jobs": [\xe4]}')
    assert where == "plan file"
    assert what == "is not UTF-8 text (byte 11 cannot be read)"
    assert fix == "Save the file as UTF-8."


def test_other_encodings_are_not_guessed():
    assert "is not UTF-8 text" in only("{}".encode("utf-16"))[1]


@pytest.mark.parametrize(
    "text", ["", " ", "{", '{"a": 1,}', "{'a': 1}", "{} {}", "\0{}"]
)
def test_text_that_is_not_json(text):
    where, what, _ = only(text)
    assert where == "plan file"
    assert what.startswith("is not JSON from line 1, column ")


def test_the_place_in_the_text_is_given():
    assert only('{\n "jobs": [1 2]\n}')[1] == "is not JSON from line 2, column 13 on"


@pytest.mark.parametrize(
    ("text", "what"), [("[]", "a list"), ("3", "3"), ("null", "null")]
)
def test_json_that_is_no_plan(text, what):
    assert only(text)[:2] == ("plan file", f"is {what}, not a plan")


def test_a_key_written_twice_is_named_with_its_place():
    text = '{"jobs": [{"id": "a", "note": "x", "note": "y", "kind": "mark"}]}'
    assert only(text)[:2] == ('jobs[0] "a"', 'has the key "note" twice')
    assert only('{"jobs": [], "jobs": []}')[:2] == (
        "plan file",
        'has the key "jobs" twice',
    )


@pytest.mark.parametrize(
    "number", ["NaN", "Infinity", "-Infinity", "1e309", "-1e309", "9" * 40]
)
def test_numbers_that_cannot_be_counted_with(number):
    text = f'{{"jobs": [{{"id": "a", "estimate": {{"likely": {number}}}}}]}}'
    where, what, _ = only(text)
    assert where == 'jobs[0] "a".estimate.likely'
    assert what == f"is {number}, not a number one can count with"


def test_a_number_of_ten_thousand_digits():
    assert "not a number one can count with" in only(f'{{"seed": {"9" * 10_000}}}')[1]


@pytest.mark.parametrize("opening", ["[", '{"a":', '{"jobs":['])
@pytest.mark.parametrize("depth", [25, 500, 100_000])
def test_nesting_without_end(opening, depth):
    closing = {"[": "]", '{"a":': "}", '{"jobs":[': "]}"}[opening]
    where, what, _ = only(opening * depth + "1" + closing * depth)
    assert what == "is nested more than 20 levels deep"
    assert where


def test_more_than_20_mb():
    assert only('"' + "x" * 20_000_001 + '"')[:2] == (
        "plan file",
        "is larger than 20 MB",
    )
    assert only(b" " * 20_000_001)[1] == "is larger than 20 MB"


def test_more_than_20000_jobs():
    where, what, _ = only('{"jobs": [' + ",".join(["7"] * 20_001) + "]}")
    assert where == "jobs"
    assert what == "holds 20,001 jobs where 20,000 are allowed"


def test_more_than_two_million_values():
    text = '{"levels": [' + ",".join(["0"] * 2_000_001) + "]}"
    assert only(text)[1] == "holds more than 2,000,000 values"


def test_after_200_faults_the_rest_are_counted():
    found = faults({"jobs": [7] * 450})
    assert len(found) == 201
    assert found[0].where == "jobs[0]"
    assert found[-1] == Fault(
        "plan file", "has these faults and 250 more", "Put these right first."
    )


def test_faults_of_sense_are_counted_too():
    found = faults({"jobs": [{"id": f"j{n}"} for n in range(300)]})
    assert len(found) == 201
    assert found[-1].what == "has these faults and 100 more"


# mappings from a program


def test_a_mapping_need_not_be_a_dict():
    assert read_plan(MappingProxyType({"jobs": ()})).jobs == ()


@pytest.mark.parametrize("thing", [datetime(2027, 1, 1), {1, 2}, b"x", object(), 1j])
def test_things_that_json_cannot_hold(thing):
    assert only({"now": thing})[:2] == ("now", "is a thing that JSON cannot hold")


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_a_mapping_may_not_hold_them_either(number):
    where, what, _ = only({"jobs": [{"id": "a", "estimate": {"likely": number}}]})
    assert where == 'jobs[0] "a".estimate.likely'
    assert what.endswith("not a number one can count with")


def test_keys_that_are_not_text():
    assert only({7: 1})[1] == "has the key 7, which is not text"


def test_a_list_that_holds_itself():
    endless: list[object] = []
    endless.append(endless)
    assert only({"jobs": endless})[1] == "is nested more than 20 levels deep"


def test_a_huge_whole_number_in_a_mapping():
    where, what, _ = only({"seed": 10**5000})
    assert where == "seed"
    assert what == "is a number too long to show, not a number one can count with"


# characters


def test_half_a_character():
    where, what, _ = only('{"jobs": [{"id": "a", "note": "x\\ud800"}]}')
    assert where == 'jobs[0] "a".note'
    assert what == 'is "x\\ud800", with half a character in it'


@pytest.mark.parametrize(
    ("name", "escaped"),
    [
        ("a\0b", "a\\x00b"),
        ("a\nb", "a\\nb"),
        ("a\n", "a\\n"),  # a pattern's "$" alone would let this through
        ("a\u202eb", "a\\u202eb"),  # turns the reading direction round
        ("a\u2028b", "a\\u2028b"),
        ("a\x9bb", "a\\x9bb"),  # a terminal takes this for a command
    ],
)
def test_characters_nobody_can_see_in_an_id(name, escaped):
    where, what, _ = only({"builds": [{"id": name}]})
    assert where == f'builds[0] "{escaped}".id'
    assert what == f'is "{escaped}", with characters nobody can see in it'


def test_nul_in_a_text():
    assert in_job(title="x\0y") == (
        'jobs[0] "a".title',
        'is "x\\x00y", with characters nobody can see in it',
    )


def test_letters_of_every_script_are_welcome():
    plan = read_plan(
        {"builds": [{"id": "クーペ №1", "name": "מכונית\u200f – Käfer\nzweite Zeile"}]}
    )
    assert plan.builds[0].id == "クーペ №1"


def test_a_megabyte_of_title_is_shown_short():
    where, what = in_job(title="x" * 1_000_000)
    assert where == 'jobs[0] "a".title'
    assert what == (f'is "{"x" * 59}…", 1,000,000 characters where 4,000 are allowed')


def test_a_megabyte_of_key_is_shown_short():
    where, what, fix = only({"k" * 1_000_000: 1})
    assert where == f'["{"k" * 59}…"]'
    assert what == "is not a key that belongs here"
    assert len(fix) < 250


# the shape


def test_unknown_keys_are_named_with_their_path():
    found = faults(
        {
            "jbos": [],
            "calendars": {"shop": {"week": {"monday": []}}},
            "jobs": [
                {"id": "a", "estimate": {"likley": 3}, "Not Before": "2027-01-01"}
            ],
        }
    )
    unknown = [one.where for one in found if one.what.startswith("is not a key that")]
    assert unknown == [
        "jbos",
        'calendars "shop".week.monday',
        'jobs[0] "a"["Not Before"]',
        'jobs[0] "a".estimate.likley',
    ]
    missing = [(one.where, one.what) for one in found if one.where not in unknown]
    assert missing == [('jobs[0] "a".estimate', 'has no "likely"')]
    fixes = {one.where: one.fix for one in found}
    assert fixes["jbos"] == 'Did you mean "jobs"? Otherwise take it out.'
    assert fixes['jobs[0] "a"["Not Before"]'] == (
        'Did you mean "not_before"? Otherwise take it out.'
    )


def test_every_missing_key_is_one_fault():
    found = faults({"consignments": [{}]})
    assert [one.what for one in found] == [
        'has no "id"',
        'has no "vendor"',
        'has no "jobs"',
    ]
    assert {one.where for one in found} == {"consignments[0]"}


WRONG = [
    ({"kind": "welding"}, ".kind", 'is "welding", which is not a choice here'),
    ({"people": "2"}, ".people", 'is "2", not a whole number'),
    ({"people": 1.5}, ".people", "is 1.5, not a whole number"),
    ({"people": 0}, ".people", "is 0, but must be at least 1"),
    ({"people": True}, ".people", "is true, not a whole number"),
    ({"rework_chance": 1.5}, ".rework_chance", "is 1.5, but must be at most 1"),
    ({"trade_level": 4}, ".trade_level", "is 4, but must be at most 3"),
    ({"trade_level": "3"}, ".trade_level", 'is "3", not a whole number or null'),
    ({"estimate": 3}, ".estimate", "is 3, not a group of keys"),
    ({"estimate": {"likely": -1}}, ".estimate.likely", "is -1, but must be at least 0"),
    ({"after": "b"}, ".after", 'is "b", not a list'),
    ({"after": [None]}, ".after[0]", "is null, not text or a group of keys"),
    (
        {"after": [{"job": "b", "link": "before"}]},
        ".after[0].link",
        'is "before", which is not a choice here',
    ),
    ({"found": "perhaps"}, ".found", 'is "perhaps", which is not a choice here'),
    ({"sent": "11.1.2027"}, ".sent", 'is "11.1.2027", not a day'),
    ({"sent": 20270111}, ".sent", "is 20270111, not text or null"),
    ({"sent": "2027-02-29"}, ".sent", 'is "2027-02-29", not a day'),
    ({"sent": "2027-01-11T08:00"}, ".sent", 'is "2027-01-11T08:00", not a day'),
    ({"not_before": "soon"}, ".not_before", 'is "soon", not a day or a moment'),
    ({"title": ["x"]}, ".title", "is a list, not text"),
    ({"title": {}}, ".title", "is a group of keys, not text"),
    ({"safety": "yes"}, ".safety", 'is "yes", not true or false'),
    ({"trade": ""}, ".trade", "is empty"),
]


@pytest.mark.parametrize(("keys", "place", "what"), WRONG)
def test_wrong_values_of_a_job(keys, place, what):
    assert in_job(**keys) == (f'jobs[0] "a"{place}', what)


@pytest.mark.parametrize(
    "moment",
    [
        *("2027-01-11", "2027-01-11T08:00:00", "2027-01-11T08:00Z", "2027-01-11 08:00"),
        *(
            "2027-01-11T24:00",
            "0000-01-01T00:00",
            "２０２７-01-11T08:00",
            "2027-1-11T8:00",
        ),
    ],
)
def test_moments_are_written_in_one_way_only(moment):
    assert in_job(started=moment) == (
        'jobs[0] "a".started',
        f'is "{moment}", not a moment',
    )


ELSEWHERE = [
    ({"version": 2}, "version", "is 2, but must be 1"),
    ({"format": "plan"}, "format", 'is "plan", but must be "workshop-plan"'),
    ({"timezone": "Mars/Base"}, "timezone", 'is "Mars/Base", not a time zone'),
    ({"timezone": "../../etc"}, "timezone", 'is "../../etc", not a time zone'),
    ({"levels": []}, "levels", "is empty"),
    ({"seed": -1}, "seed", "is -1, but must be at least 0"),
    ({"jobs": {}}, "jobs", "is a group of keys, not a list"),
    ({"jobs": [7]}, "jobs[0]", "is 7, not a group of keys"),
    ({"factors": {"build": "0.1"}}, "factors.build", 'is "0.1", not a number'),
    ({"calendars": {"": {}}}, 'calendars ""', "its key is empty"),
    (
        {"calendars": {"c": {"holidays": "England"}}},
        'calendars "c".holidays',
        'is "England", not a country whose public holidays are known',
    ),
    (
        {"calendars": {"c": {"open": {"22 May": []}}}},
        'calendars "c".open["22 May"]',
        'its key is "22 May", not a day',
    ),
    (
        {"people": [{"id": "ana", "away": ["2027-02-12/2027-02-08"]}]},
        'people[0] "ana".away[0]',
        'is "2027-02-12/2027-02-08", not days from first to last',
    ),
    (
        {"people": [{"id": "ana", "pace": {"panel": 0}}]},
        'people[0] "ana".pace.panel',
        "is 0, but must be more than 0",
    ),
    (
        {"people": [{"id": "ana", "trades": {"panel beating": 9}}]},
        'people[0] "ana".trades["panel beating"]',
        "is 9, but must be at most 3",
    ),
    (
        {"places": [{"id": f"p{n}"} for n in range(5001)]},
        "places",
        "holds 5,001 where 5,000 are allowed",
    ),
]


@pytest.mark.parametrize(("document", "where", "what"), ELSEWHERE)
def test_wrong_values_elsewhere(document, where, what):
    assert only(document)[:2] == (where, what)


@pytest.mark.parametrize(
    "hours",
    [
        *("08:00-25:00", "08:00-24:15", "12:00-08:00", "08:00-08:00", "8-12"),
        *("08:60-09:00", "08:00–12:00", "24:00-24:00", ""),
    ],
)
def test_hours_that_no_day_has(hours):
    where, what, _ = only({"calendars": {"c": {"week": {"mon": [hours]}}}})
    assert where == 'calendars "c".week.mon[0]'
    assert what == f'is "{hours}", not opening hours within one day'


@pytest.mark.parametrize("moment", ["0001-01-01T00:00", "9999-12-31T23:59"])
def test_the_ends_of_the_calendar(moment):
    assert only({"now": moment})[:2] == (
        "now",
        f"is {moment}, outside the years 1970 to 2200",
    )


def test_faults_are_listed_from_top_to_bottom_of_the_file():
    document = {"shows": [{"id": "s"}], "zz": 1, "builds": [3], "aa": 1, "seed": "x"}
    assert [one.where for one in faults(document)] == [
        *("zz", "aa"),
        *('shows[0] "s"', "builds[0]", "seed"),
    ]


# every rule of the schema speaks in our words


def keywords(rule):
    if isinstance(rule, dict):
        for key, inside in rule.items():
            if key in ("properties", "$defs"):
                for one in inside.values():
                    yield from keywords(one)
            else:
                yield key
                yield from keywords(inside)
    elif isinstance(rule, list):
        for one in rule:
            yield from keywords(one)


SILENT = {
    *("$schema", "$ref", "title", "description", "properties", "items", "pattern"),
    *("propertyNames", "additionalProperties", "required"),
}


def test_every_rule_the_schema_uses_has_words_of_its_own():
    values = {"format": "local-date", "type": "string", "enum": ["a"]}
    for keyword in set(keywords(schema())) - SILENT:
        rule = values.get(keyword, [{"type": "null"}] if keyword == "anyOf" else 1)
        error = ValidationError(
            "", validator=keyword, validator_value=rule, instance="xx", schema={}
        )
        (fault,) = faults_of(error, {})
        assert "does not belong here" not in fault.what, keyword


def test_a_rule_without_words_still_gets_a_fault():
    error = ValidationError("Leaks!", validator="multipleOf", instance=3, schema={})
    assert list(faults_of(error, {})) == [
        Fault("plan file", "is 3, which does not belong here", "Correct it.")
    ]


def test_values_are_shown_short_and_safe():
    assert shown("\x1b[31m\u202e") == '"\\x1b[31m\\u202e"'
    assert shown(False) == "false"
    assert shown(2.50) == "2.5"
    assert len(shown("é" * 1000)) == 62


# anything anywhere

scalars = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=20)
    | st.sampled_from(
        [
            "2027-01-11",
            "9999-12-31",
            "2027-01-11T08:00",
            "after",
            "a",
            "j0",
            "0001-01-01",
        ]
    )
)
anything = st.recursive(
    scalars,
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(st.text(max_size=8) | st.just("id"), inner, max_size=4)
    ),
    max_leaves=10,
)
FUZZ = settings(
    max_examples=200,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def read_or_faults(source):
    """A plan comes back or PlanError is raised: nothing else, and in our words."""
    for fault in faults_or_none(source):
        assert fault.where
        assert fault.fix.endswith(".")
        said = "".join(fault.what.split('"')[::2])  # without quoted values
        assert not [word for word in FOREIGN if word in said], fault
        assert str(fault).isprintable(), fault


def faults_or_none(source):
    try:
        plan = read_plan(source)
    except PlanError as error:
        return error.faults or pytest.fail("raised without a reason")
    assert isinstance(plan, Plan)
    return ()


@FUZZ
@given(anything)
def test_any_json_at_all(value):
    read_or_faults(json.dumps(value))


@FUZZ
@given(st.text(max_size=60) | st.binary(max_size=60))
def test_any_text_or_bytes_at_all(source):
    read_or_faults(source)


@FUZZ
@given(st.dictionaries(st.sampled_from(sorted(schema()["properties"])), anything))
def test_anything_under_the_keys_of_a_plan(document):
    read_or_faults(document)


def places(value, path=()):
    yield path
    if isinstance(value, dict | list):
        steps = value if isinstance(value, dict) else range(len(value))
        for step in steps:
            yield from places(value[step], (*path, step))


@FUZZ
@given(valid_plans(most_jobs=4), st.data())
def test_anything_in_any_place_of_a_plan(plan, data):
    document = write_plan(plan)
    path = data.draw(st.sampled_from([one for one in places(document) if one]))
    holder = document
    for step in path[:-1]:
        holder = holder[step]
    holder[path[-1]] = data.draw(anything)
    read_or_faults(document)
    try:
        text = json.dumps(document)
    except ValueError:
        return
    read_or_faults(text)
