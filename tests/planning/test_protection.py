"""Protection: the lightest thing to breathe through that is enough, with its authority, and no figure shown as law."""

import re
from itertools import combinations

import pytest

from diagnose.planning.protection import protection, respirator_for
from diagnose.rulebase.store import load_knowledge

KNOWLEDGE = load_knowledge()
AIRS = ("dust", "vapour", "spray_mist")


@pytest.mark.parametrize("air", [combo for size in range(1, 4) for combo in combinations(AIRS, size)], ids="+".join)
def test_it_keeps_out_everything_and_no_lighter_one_does(air: tuple[str, ...]) -> None:
    got = respirator_for(KNOWLEDGE, air)
    assert got is not None
    assert set(air) <= set(got.against)
    for lighter in KNOWLEDGE.respirators.values():
        assert lighter.rank >= got.rank or not set(air) <= set(lighter.against)


def test_nothing_in_the_air_asks_for_nothing() -> None:
    assert respirator_for(KNOWLEDGE, []) is None
    assert protection(KNOWLEDGE, ["sharp_tools"]).respirator is None


def test_what_no_respirator_keeps_out_is_sent_out() -> None:
    with pytest.raises(ValueError, match="send that work out"):
        respirator_for(KNOWLEDGE, ["dust", "smoke"])


def test_a_particulate_filter_for_wood_dust_and_an_organic_vapour_cartridge_for_finishes() -> None:
    """Filter classes: P100 for particles says nothing of vapour; cartridges are changed by a written plan and never by smell (29 CFR
    1910.134(d)(3)(iii)(B)(2) as the agency's page puts it); kept sealed, for an open one goes on filling."""
    dust, vapour = protection(KNOWLEDGE, ["wood_dust"]).respirator, protection(KNOWLEDGE, ["solvent_vapour"]).respirator
    assert dust is not None
    assert vapour is not None
    assert "P100" in dust.grade
    assert "no vapour" in dust.grade
    assert "Organic-vapour" in vapour.grade
    assert "no dust" in vapour.grade
    assert "Sealed" in vapour.keep
    assert "written plan" in vapour.change
    assert "smell is never" in vapour.change
    both = protection(KNOWLEDGE, ["wood_dust", "solvent_vapour"]).respirator
    assert both is not None
    assert set(both.against) >= {"dust", "vapour"}


def test_lead_mould_and_old_finish_are_dust() -> None:
    for hazard in ("lead_paint", "mould_spores", "old_finish_dust", "old_pesticide"):
        got = protection(KNOWLEDGE, [hazard]).respirator
        assert got is not None, hazard
        assert "dust" in got.against


def test_sprayed_isocyanate_wants_fed_air() -> None:
    got = respirator_for(KNOWLEDGE, KNOWLEDGE.finishes["two_part_polyurethane"].air)
    assert got is not None
    assert got.name.startswith("Fed air")
    assert "No cartridge is enough" in got.grade


def test_no_limit_is_shown_as_law() -> None:
    """No exposure limit stands in any text of protection, and every authority that is an agency sends to the law of the place."""
    limit = re.compile(r"\b\d+(\.\d+)? ?(mg/m|ppm|ppb|µg|ug/m|dBA)")
    texts = [" ".join((c.hazard, c.brief, c.do, c.authority)) for c in KNOWLEDGE.cautions.values()]
    texts += [" ".join((r.grade, r.keep, r.change, r.authority)) for r in KNOWLEDGE.respirators.values()]
    assert not [text for text in texts if limit.search(text)]
    for respirator in KNOWLEDGE.respirators.values():
        assert "heck current local law" in respirator.authority
        assert respirator.known_by != "memory"


def test_every_caution_has_its_word_for_the_line_of_a_step() -> None:
    for caution in KNOWLEDGE.cautions.values():
        assert caution.brief, caution.id
        assert len(caution.brief) < 120, caution.id
