"""When it is ready, what is in the price and what is not, and for what we stand afterwards."""

from datetime import timedelta

from diagnose import words
from diagnose.assess import Assessment
from diagnose.documents import md, plan_time, say
from diagnose.documents.letters.work import method_of, opens, sent_on, works
from diagnose.documents.plan_glue import gluings_of
from diagnose.planning.calendar import OPENED
from diagnose.shop import Shop

# The timing of a way that mends nothing for now.
LOOK_AGAIN = "look_again"


def when(assessment: Assessment) -> str:
    """A week, not a day, and what it depends on."""
    if not works(assessment) and not sent_on(assessment):
        return "It can go home as soon as you have answered."
    got = plan_time.when(assessment)
    closed = ("your answer" if line == OPENED and not opens(assessment) else line for line in got.depends_on)
    return f"Ready in {say.week_of(got.ready)}, if you answer this week. That depends on this: {'; '.join(closed)}."


def money(assessment: Assessment) -> str:
    """Price, tax, deposit, how long the offer stands, and what a no costs."""
    shop, price = assessment.shop, assessment.price
    assert price is not None
    until = say.long_date(assessment.today + timedelta(days=shop.estimate_valid_days))
    tax = f"Tax of {shop.tax_share:.0%} comes on top." if shop.tax_share else "No tax comes on top."
    kept = storage(shop)
    if sent_on(assessment):
        guess = (
            "The figures above are our guess, with sending and fetching in them. What the others ask is agreed with you first."
        )
        return md.bullets([guess, f"The offer stands until {until}.", kept])
    if not works(assessment):
        return md.bullets([f"The price is for our time. {tax}", f"The offer stands until {until}.", kept])
    deposit = f" We ask for {shop.money(price.likely * shop.deposit_share)} of it when you say yes." if shop.deposit_share else ""
    lines = [f"The price is for our work and all that goes into it. {tax}", f"The offer stands until {until}.{deposit}"]
    if opens(assessment):
        fee = shop.money(shop.look_see_fee)
        lines.append(f"If you say no after we have opened it, we charge {fee} for looking, and it comes back as it is.")
    return md.bullets([*lines, kept])


def storage(shop: Shop) -> str:
    """What it costs to leave it here."""
    return (
        f"If it is not fetched {shop.storage_after_weeks} weeks after we tell you it is ready, storage costs "
        f"{shop.money(shop.storage_per_week)} a week."
    )


def term(assessment: Assessment) -> str:
    """What is covered, for how long, what ends it and how to claim."""
    rights = "Your legal rights are untouched."
    if all(method_of(assessment, d).timing == LOOK_AGAIN for d in assessment.damages):
        return f"Nothing is mended yet, so there is nothing to stand for yet. {rights}"
    if all(d.decision.end_use in words.GIVEN_UP for d in assessment.damages):
        return f"Since nothing is put back into use, there is nothing to stand for. {rights}"
    if sent_on(assessment):
        return f"The work is theirs, and so is the term they give for it. {rights}"
    months = assessment.shop.term_months
    if not works(assessment) or not months:
        return f"We give no term of our own for this. {rights}"
    glued = "; do not glue it yourself first" if gluings_of(assessment) else ""
    elsewhere = "other joints, new breaks" if opens(assessment) else "other places, new marks"
    return (
        f"For {months} months we mend the places named above again free of charge if our work lets go. That does not cover "
        f"{elsewhere}, damp, or a use it was not made for. Bring it or ring us{glued}. {rights}"
    )
