"""Random opening hours within the grammar, for properties."""

from __future__ import annotations

from hypothesis import strategies as st

WEEKDAYS = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")

_weekday = st.sampled_from(WEEKDAYS)
_span_of_days = st.builds("{}-{}".format, _weekday, _weekday)
_days = st.one_of(
    _weekday,
    _span_of_days,
    st.sampled_from(["PH", "PH +1 day", "Mo[1]", "Su[-1]"]),
    st.builds("PH,{}".format, _weekday),
    st.builds("{},PH".format, _span_of_days),
)
_season = st.sampled_from(["", "", "", "May ", "Apr-Oct ", "May 10-Jun 3 ", "week 20-30 ", "2027 "])


def _clocks(first: int, last: int) -> st.SearchStrategy[str]:
    return st.builds("{:02}:{:02}".format, st.integers(first, last), st.sampled_from([0, 15, 30, 45]))


_times = st.one_of(
    st.builds("{}-{}".format, _clocks(6, 12), _clocks(13, 23)),
    st.builds("{}-{},{}-{}".format, _clocks(6, 10), _clocks(11, 13), _clocks(14, 16), _clocks(17, 23)),
    st.builds("{}-{}".format, _clocks(18, 23), _clocks(0, 4)),
)
_sun_times = st.one_of(
    st.sampled_from(
        ["sunrise-sunset", "(sunset-02:00)-sunset", "dawn-dusk", "sunset-02:00", "sunset-sunrise"]
    ),
    st.builds("{}-sunset".format, _clocks(14, 22)),
    st.builds("10:00-12:00,{}-sunset,22:00-23:00".format, _clocks(14, 21)),
    st.builds("sunrise-{}".format, _clocks(4, 12)),
    st.sampled_from(["18:00+", "11:00-14:00,18:00+", "20:00-02:00+", "(sunset-01:30)+"]),
)
_modifier = st.sampled_from(["", "", "", " unknown", ' "ring; twice, PH"', ' open "ring"'])


def _rules(times: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.one_of(
        st.builds("{}{} {}{}".format, _season, _days, times, _modifier),
        st.builds("{}{} off".format, _season, _days),
    )


def _joined(rules: st.SearchStrategy[str], separators: list[str]) -> st.SearchStrategy[str]:
    more = st.lists(st.tuples(st.sampled_from(separators), rules), max_size=3)
    return st.builds(lambda first, rest: first + "".join(map("".join, rest)), rules, more)


EXPRESSIONS = _joined(_rules(_times), ["; ", ", "])
"""What the evaluator reads as meant: no sun, no open ends, no school holidays, no fallback."""

PUZZLING_EXPRESSIONS = st.one_of(
    _joined(_rules(st.one_of(_times, _sun_times)), ["; ", ", ", " || "]),
    _joined(_rules(_times), ["; ", " || "]).map(
        lambda text: text.replace("PH +1 day", "PH").replace("PH", "SH")
    ),
    EXPRESSIONS.map(lambda text: f'{text} || "by appointment"'),
)
"""Everything this room reads."""
