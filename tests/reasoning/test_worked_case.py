"""Every figure of the worked case (two independent reckonings that agree to 1e-12): prior, rows, answers, posterior, decibels."""

import re
from pathlib import Path

import numpy as np
import pytest

from diagnose.reasoning.believe import Belief, answer_tables, believe, decibels, log_odds
from diagnose.rulebase.rows import row
from tests import worked

SHORT = dict(zip("ASFGRO", worked.NAMES, strict=True))
FOUR = 5.0001e-5


@pytest.fixture(scope="module")
def belief() -> Belief:
    model = worked.model()
    return believe(model, answer_tables(worked.SCALE, model, worked.ANSWERS))


def index_of(belief: Belief, letters: str) -> int:
    wanted = {SHORT[letter] for letter in letters}
    for index, members in enumerate(belief.model.members):
        if {n for n, m in zip(belief.model.names, members, strict=True) if m} == wanted:
            return index
    raise AssertionError(letters)


def test_prior() -> None:
    model = worked.model()
    prior = dict(zip(model.names, model.prior @ model.members, strict=True))
    expected = {"aged_glue": 0.2335, "glue_starved": 0.2335, "finish_on_face": 0.1231,
                "gap_too_wide": 0.2335, "grain_runout": 0.1231, "overload": 0.2335}  # fmt: skip
    assert model.sets == 42
    for name, value in expected.items():
        assert prior[name] == pytest.approx(value, abs=FOUR)
    assert model.prior[0] == pytest.approx(0.05, abs=1e-12)


ROWS = """
break_path aged_glue along .95 beside .0375 across .0125
break_path glue_starved along .95 beside .0375 across .0125
break_path finish_on_face along .95 beside .0375 across .0125
break_path gap_too_wide along .8 beside .15 across .05
break_path grain_runout along .02 beside .18 across .8
break_path overload along .3 beside .6 across .1
glue_face aged_glue torn .0857 film .8 bare .0857 slick .0286
glue_face glue_starved torn .075 film .1 bare .8 slick .025
glue_face finish_on_face torn .0167 film .0167 bare .0167 slick .95
glue_face gap_too_wide torn .1714 film .6 bare .1714 slick .0571
glue_face overload torn .8 film .0857 bare .0857 slick .0286
gap gap_too_wide snug .02 loose .18 slack .8
"""


@pytest.mark.parametrize("line", ROWS.strip().splitlines())
def test_rows(line: str) -> None:
    sign_id, cause_id, *rest = line.split()
    sign = next(s for s in worked.SIGNS if s.id == sign_id)
    cause = next(c for c in worked.CAUSES if c.id == cause_id)
    got = row(worked.SCALE, sign, cause)
    assert got is not None
    for reading, number in zip(rest[::2], rest[1::2], strict=True):
        assert got[reading] == pytest.approx(float(number), abs=FOUR)


# set, odds, along, bare (unsure), hard use, product × 10⁵, P(set)
TABLE = """
other 0.040348 0.5947 0.2800 0.1080 72.556 0.0251
A 0.120000 0.9377 0.1514 0.1080 184.018 0.0636
F 0.060000 0.9377 0.1100 0.1080 66.837 0.0231
G 0.120000 0.7907 0.2029 0.1080 207.869 0.0719
S 0.120000 0.9377 0.5800 0.1080 704.825 0.2438
R 0.060000 0.0263 0.2800 0.3726 16.442 0.0057
O 0.120000 0.3007 0.1514 0.9459 516.797 0.1787
AF 0.007200 0.9377 0.1307 0.1080 9.531 0.0033
AG 0.014400 0.8642 0.1771 0.1080 23.807 0.0082
AS 0.014400 0.9377 0.3657 0.1080 53.331 0.0184
AR 0.007200 0.4820 0.1514 0.3726 19.579 0.0068
AO 0.014400 0.6192 0.1514 0.9459 127.709 0.0442
FG 0.007200 0.8642 0.1564 0.1080 10.512 0.0036
FS 0.007200 0.9377 0.3450 0.1080 25.155 0.0087
FR 0.003600 0.4820 0.1100 0.3726 7.111 0.0025
FO 0.007200 0.6192 0.1307 0.9459 55.120 0.0191
GS 0.014400 0.8642 0.3914 0.1080 52.606 0.0182
GR 0.007200 0.4085 0.2029 0.3726 22.229 0.0077
GO 0.014400 0.5457 0.1771 0.9459 131.661 0.0455
SR 0.007200 0.4820 0.5800 0.3726 74.993 0.0259
SO 0.014400 0.6192 0.3657 0.9459 308.430 0.1067
RO 0.007200 0.1635 0.1514 0.9591 17.094 0.0059
AFG 0.000864 0.8887 0.1548 0.1080 1.283 0.0004
AFS 0.000864 0.9377 0.2805 0.1080 2.454 0.0008
AFR 0.000432 0.6339 0.1307 0.3726 1.334 0.0005
AFO 0.000864 0.7253 0.1376 0.9459 8.158 0.0028
AGS 0.001728 0.8887 0.3114 0.1080 5.165 0.0018
AGR 0.000864 0.5849 0.1771 0.3726 3.335 0.0012
AGO 0.001728 0.6763 0.1686 0.9459 18.635 0.0064
ASR 0.000864 0.6339 0.3657 0.3726 7.463 0.0026
ASO 0.001728 0.7253 0.2943 0.9459 34.890 0.0121
ARO 0.000864 0.4215 0.1514 0.9591 5.290 0.0018
FGS 0.000864 0.8887 0.2976 0.1080 2.468 0.0009
FGR 0.000432 0.5849 0.1564 0.3726 1.473 0.0005
FGO 0.000864 0.6763 0.1548 0.9459 8.554 0.0030
FSR 0.000432 0.6339 0.3450 0.3726 3.520 0.0012
FSO 0.000864 0.7253 0.2805 0.9459 16.626 0.0058
FRO 0.000432 0.4215 0.1307 0.9591 2.283 0.0008
GSR 0.000864 0.5849 0.3914 0.3726 7.370 0.0025
GSO 0.001728 0.6763 0.3114 0.9459 34.428 0.0119
GRO 0.000864 0.3725 0.1771 0.9591 5.469 0.0019
SRO 0.000864 0.4215 0.3657 0.9591 12.775 0.0044
"""


@pytest.mark.parametrize("line", TABLE.strip().splitlines())
def test_every_set(belief: Belief, line: str) -> None:
    letters, odds, along, bare, hard, product, share = line.split()
    index = 0 if letters == "other" else index_of(belief, letters)
    model = belief.model
    # The unit of odds: "something else" weighs .05 × .766608/.95 there.
    unit = 0.95 / 0.766608
    assert model.prior[index] / unit == pytest.approx(float(odds), abs=5.0001e-7)
    likes = [belief.answered[name][index] for name in ("break_path", "glue_face", "hard_use")]
    for got, printed in zip(likes, (along, bare, hard), strict=True):
        assert got == pytest.approx(float(printed), abs=FOUR)
    assert model.prior[index] / unit * np.prod(likes) * 1e5 == pytest.approx(float(product), abs=5.0001e-4)
    assert belief.posterior[index] == pytest.approx(float(share), abs=FOUR)


def test_the_table_is_whole(belief: Belief) -> None:
    assert len(TABLE.strip().splitlines()) == belief.model.sets
    unit = 0.95 / 0.766608
    weights = belief.model.prior / unit * np.prod(list(belief.answered.values()), axis=0)
    assert weights.sum() == pytest.approx(0.02891185, abs=5e-9)


def test_posterior_of_causes(belief: Belief) -> None:
    expected = {"A": 0.1750, "S": 0.4657, "F": 0.0769, "G": 0.1857, "R": 0.0719, "O": 0.4510}
    for letter, value in expected.items():
        assert belief.causes[SHORT[letter]] == pytest.approx(value, abs=FOUR)
    assert belief.something_else == pytest.approx(0.0251, abs=FOUR)


DECIBELS = {
    "glue_starved": {"break_path": 2.89, "glue_face": 4.55, "hard_use": -1.78, "prior": -5.16, "now": -0.6},
    "overload": {"break_path": -1.71, "glue_face": -1.85, "hard_use": 9.09, "prior": -5.16, "now": -0.85},
    "aged_glue": {"break_path": 1.99, "glue_face": -1.59, "hard_use": -0.5, "prior": -5.16, "now": -6.73},
}


@pytest.mark.parametrize("cause", DECIBELS)
def test_decibels(belief: Belief, cause: str) -> None:
    weights = decibels(belief)
    before = believe(belief.model, {}).causes[cause]
    got = {sign: weights[sign][cause] for sign in belief.answered}
    got |= {"prior": float(log_odds(before)), "now": float(log_odds(belief.causes[cause]))}
    for name, value in DECIBELS[cause].items():
        assert got[name] == pytest.approx(value, abs=0.00501)


def test_leading_explanations(belief: Belief) -> None:
    order = ["S", "O", "SO", "G", "A", "GO", "AO", "SR", "", "F", "FO", "AS"]
    told = [frozenset(names) for names, _ in belief.explanations(12)]
    assert told == [frozenset(SHORT[letter] for letter in letters) for letters in order]


def test_the_figures_here_are_those_of_the_design() -> None:
    """Where the design is at hand, the table typed here is compared with it line by line."""
    design = Path(__file__).parents[3] / "shared" / "worked_case.md"
    if not design.is_file():
        pytest.skip("the design's worked case does not lie beside this checkout")
    printed = [
        " ".join(cells[:7])
        for line in design.read_text(encoding="utf-8").splitlines()
        if len(cells := [cell.strip() for cell in line.strip("|").split("|")]) == 10 and re.match(r"[A-Zo]", cells[0])
    ]
    assert set(TABLE.strip().splitlines()) == set(printed)
