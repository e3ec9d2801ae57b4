"""The plan's calendar: the week, what it depends on, and its stretches as a list and as bars."""

from collections.abc import Sequence
from datetime import date, timedelta
from html import escape
from math import ceil

from diagnose.assess import Assessment
from diagnose.documents import md, plan_glue, say
from diagnose.documents.pictures import Picture
from diagnose.planning.calendar import Bar, Calendar, calendar
from diagnose.planning.lists import to_buy, to_get, used_up

KINDS = {"queue": "waiting for its turn", "buy": "on order", "work": "work", "wait": "waiting", "outside": "outside"}
ROW, LEFT, WIDTH, TOP = 26, 290, 800, 34


def when(assessment: Assessment) -> Calendar:
    """The calendar of an assessment's plan, at the shop's hours, queue and outside trades."""
    shop, told = assessment.shop, assessment.told
    price = told.of_set or told.ours
    return calendar(
        assessment.today,
        assessment.plan,
        shop.weeks_booked,
        shop.hours_a_week,
        shop.outside_weeks,
        tuple(sorted({d.decision.by for d in assessment.damages} - {"us"})),
        price.minutes[1] if price is not None else None,
        to_get(to_buy(used_up(assessment.knowledge, assessment.plan), shop.in_rack)),
        plan_glue.waits_of(assessment, plan_glue.gluings_of(assessment)),
    )


def section(assessment: Assessment) -> str:
    """Minutes, waiting, the week and its stretches; where there is no price yet the minutes of the steps stand for it."""
    if not assessment.plan:
        return "No work."
    price, got = assessment.price, when(assessment)
    low, likely, high = price.minutes if price is not None else _minutes(assessment)
    waiting = sum(bar.days for bar in got.bars if bar.kind == "wait")
    rows = [(_from(assessment.today, bar), KINDS[bar.kind], _name(bar), _length(bar.days)) for bar in got.bars]
    return md.join(
        f"Work {low:.0f} – **{likely:.0f}** – {high:.0f} minutes; {_waiting(waiting)}. "
        f"Ready in {say.week_of(got.ready)}. That depends on: {'; '.join(got.depends_on)}.",
        md.table(("from about", "is", "what", "takes"), rows),
        "A week is promised and never a day. A date that the owner needs is held against it before the yes.",
    )


def _waiting(days: float) -> str:
    return f"waiting about {ceil(days)} days" if days > 1 else f"waiting {say.wait(days * 24)}" if days else "no waiting"


def _minutes(assessment: Assessment) -> tuple[float, float, float]:
    each = [planned.minutes() for planned in assessment.plan]
    return sum(m[0] for m in each), sum(m[1] for m in each), sum(m[2] for m in each)


def _length(days: float) -> str:
    if days >= 14:
        return f"{days / 7:.0f} weeks"
    if days >= 1.5:
        return f"{ceil(days - 0.25)} days"
    return "a day" if days > 0.5 else "half a day or less"


def _from(today: date, bar: Bar) -> str:
    day = today + timedelta(days=int(bar.start))
    return f"{day.day} {day:%B}"


def picture(assessment: Assessment) -> Picture | None:
    """The calendar drawn as bars; None where there is no work."""
    if not assessment.plan:
        return None
    got = when(assessment)
    return Picture(
        bars_svg(got.bars, assessment.today),
        f"The calendar, ready in {say.week_of(got.ready)}. Black is work, hatched is waiting, dotted is outside.",
    )


def _name(bar: Bar) -> str:
    if bar.steps is None or bar.kind == "outside":
        return say.first_up(bar.what)
    first, last = bar.steps
    return f"{say.first_up(bar.what)}, " + (f"step {first}" if first == last else f"steps {first} to {last}")


def bars_svg(bars: Sequence[Bar], today: date) -> str:
    """Bars under one another on a line of days, told apart by hatching and by their own words; plain SVG, the same input the same bytes.

    >>> bars_svg([Bar("work", "Glue", 0, 2)], date(2026, 3, 2)).startswith("<svg")
    True
    """
    last = max((bar.end for bar in bars), default=1.0) or 1.0
    scale = (WIDTH - LEFT - 20) / last
    height = TOP + ROW * len(bars) + 12
    said = " ".join(f"{bar.what}: {KINDS[bar.kind]}, from day {bar.start:.0f}, {_length(bar.days)}." for bar in bars)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {height}" width="{WIDTH}" height="{height}" role="img" '
        'font-family="DejaVu Sans, Arial, sans-serif" font-size="12">',
        f"<title>Calendar of the work</title><desc>{escape(said)}</desc>",
        '<defs><pattern id="wait" width="6" height="6" patternUnits="userSpaceOnUse"><path d="M0 6 L6 0" stroke="#444" stroke-width="1"/>'
        '</pattern><pattern id="outside" width="6" height="6" patternUnits="userSpaceOnUse"><circle cx="3" cy="3" r="1.3" fill="#444"/>'
        "</pattern></defs>",
        f'<rect width="{WIDTH}" height="{height}" fill="#fff"/>',
    ]
    for week in range(int(last // 7) + 1):
        if week % max(1, ceil(last / 7 / 8)):
            continue
        x = LEFT + week * 7 * scale
        day = today + timedelta(weeks=week)
        parts.append(
            f'<path d="M{x:.1f} {TOP - 8} V{height - 6}" stroke="#bbb"/><text x="{x:.1f}" y="{TOP - 14}">{day.day} {day:%b}</text>'
        )
    fill = {"queue": "#ddd", "buy": "#fff", "work": "#333", "wait": "url(#wait)", "outside": "url(#outside)"}
    for row, bar in enumerate(bars):
        y = TOP + row * ROW
        parts.append(f'<text x="6" y="{y + 14}">{escape(_short(_name(bar)))}</text>')
        width = max(bar.days * scale, 1.5)
        parts.append(
            f'<rect x="{LEFT + bar.start * scale:.1f}" y="{y}" width="{width:.1f}" height="{ROW - 8}" fill="{fill[bar.kind]}" stroke="#222"/>'
        )
    return "\n".join([*parts, "</svg>"])


def _short(text: str, most: int = 42) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"
