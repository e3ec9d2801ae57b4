"""Pictures for the diagnosis: drawn only where the case gives them something to show, and only if the drawing library is there."""

import base64
import html
from dataclasses import dataclass

from diagnose.assess import Assessment, DamageAssessment
from diagnose.decision.sensitivity import sensitivity
from diagnose.decision.strength import LOAD_SCATTER, STRENGTH_SCATTER, usual_load
from diagnose.documents import charts, say

# Indoor wood through a year where nothing is known of the room: 9 % in the middle, 2.5 points either way (judgement).
MEAN_MOISTURE, HALF_SWING = 9.0, 2.5
WIDE_MM = 150.0
STEEPEST = 1 / 3


@dataclass(frozen=True)
class Picture:
    """A drawing and the sentence under it."""

    svg: str
    caption: str

    def html(self) -> str:
        """The figure, with the drawing inside it so that the page needs nothing else; the caption is its other text."""
        caption = html.escape(self.caption)
        data = base64.b64encode(self.svg.encode("utf-8")).decode("ascii")
        return f'<figure><img src="data:image/svg+xml;base64,{data}" alt="{caption}"><figcaption>{caption}</figcaption></figure>'


def _of_damage(assessment: Assessment, damage: DamageAssessment) -> list[Picture]:
    place = say.first_up(say.place_of(damage.damage))
    found = []
    slope = damage.strength.read.get("slope")
    if slope is not None and slope <= STEEPEST:
        found.append(Picture(charts.slope_chart("bending", slope), f"{place}: what the slope of grain leaves of the strength"))
    advised = damage.decision.options[0]
    if advised.strength_ratio:
        load = 100 * usual_load(assessment.shop.sound_part_fails)
        svg = charts.overlap_chart(100 * advised.strength_ratio, STRENGTH_SCATTER, load, LOAD_SCATTER, "% of as made")
        name = assessment.knowledge.methods[advised.method].name
        found.append(Picture(svg, f"{place}: hardest load against strength after “{name}”"))
    hangs_on = sensitivity(damage.situation, damage.decision)
    bars = [(influence.name, influence.low.lead, influence.high.lead) for influence in hangs_on.leading]
    if bars and hangs_on.runner_up is not None:
        svg = charts.tornado_chart(bars, hangs_on.lead, assessment.shop.currency)
        found.append(Picture(svg, f"{place}: what the advice hangs on, each input halved and doubled"))
    piece = assessment.knowledge.pieces[assessment.case.piece]
    part = piece.parts.get(damage.damage.part or "")
    wood = assessment.knowledge.woods.get(assessment.case.wood or "")
    if damage.damage.kind == "split" and part is not None and part.section[1] >= WIDE_MM and wood is not None and wood.coef_t:
        width = part.section[1]
        svg = charts.year_chart(wood.name, width, wood.coef_t, MEAN_MOISTURE, HALF_SWING)
        found.append(Picture(svg, f"{place}: how its width moves through a year indoors"))
    return found


def pictures(assessment: Assessment) -> list[Picture]:
    """Every picture of a diagnosis; none where the drawing library is not installed."""
    try:
        return [picture for damage in assessment.damages for picture in _of_damage(assessment, damage)]
    except charts.PicturesMissing:
        return []
