"""Every kind of damage with all that it is called: in a list, at the counter, in a letter, in the field guide."""

from dataclasses import dataclass


@dataclass(frozen=True)
class DamageWords:
    """What one kind of damage is called.

    `name` stands alone; `short` stands behind the name of a part, where `name` does not read well there; `asked` as somebody at a
    counter would say it; `wrong` goes on a sentence that begins with the part. In the field guide people look for it under `sought`,
    it `means` something in a few words, and `also` is what they may type instead.
    """

    name: str
    asked: str
    wrong: str
    sought: str
    means: str
    also: tuple[str, ...]
    short: str = ""

    @property
    def after_a_part(self) -> str:
        """The name as it stands behind the name of a part."""
        return self.short or self.name


DAMAGE_WORDS: dict[str, DamageWords] = {
    "loose": DamageWords(
        name="loose",
        asked="loose: it wobbles, creaks, leans or hangs",
        wrong="is loose",
        sought="Loose or wobbly",
        means="a joint moves or has come apart",
        also=("wobbles", "chair wobbles", "table wobbles", "shaky", "rickety", "wiggles", "creaks", "came apart", "fell apart"),
    ),
    "broken": DamageWords(
        name="broken",
        asked="broken off or broken through",
        wrong="is broken",
        sought="Broken",
        means="a part has gone through",
        also=("snapped", "broke off", "chair leg broke", "broken leg", "broken rung", "collapsed"),
    ),
    "split": DamageWords(
        name="split or cracked",
        asked="split or cracked",
        wrong="is split or cracked",
        sought="Split or cracked",
        means="a board or part has opened along its grain, or a seam has opened",
        also=("crack", "cracked top", "gap in the top", "open seam", "split seat"),
    ),
    "rocks": DamageWords(
        name="rocks on its feet",
        asked="rocks on its feet, though nothing is loose",
        wrong="rocks on its feet",
        sought="Rocks on the floor",
        means="one foot stands off",
        also=("table rocks", "chair rocks", "uneven legs", "wonky", "tilts"),
    ),
    "fitting": DamageWords(
        name="a screw, bolt or fitting that does not hold",
        short="a fitting that does not hold",
        asked="a screw, bolt, hinge or other fitting that does not hold",
        wrong="has a screw, bolt or fitting that does not hold",
        sought="Screw, hinge or fitting that does not hold",
        means="it turns, falls out or has torn out",
        also=("loose screw", "stripped screw", "loose hinge", "bolt", "handle came off", "castor fell off"),
    ),
    "surface": DamageWords(
        name="damage to the surface only",
        short="surface only",
        asked="the surface only: veneer lifting, marks, finish",
        wrong="is damaged on its surface",
        sought="Spoilt surface",
        means="only the finish, the colour or the veneer has suffered",
        also=("scratch", "white ring", "water stain", "flaking varnish", "sticky finish", "burn mark", "peeling veneer"),
    ),
    "insect": DamageWords(
        name="insect holes or rot",
        asked="insect holes (woodworm) or rot",
        wrong="has insect holes or rot",
        sought="Insect holes or rot",
        means="holes, powder, soft wood",
        also=("woodworm", "beetle", "worm holes", "sawdust", "rotten", "mouldy"),
    ),
    "sticks": DamageWords(
        name="a drawer, door or leaf that sticks or will not close",
        short="sticks or will not close",
        asked="a drawer, door or leaf that sticks, drags or will not close",
        wrong="sticks or will not close",
        sought="Sticks or will not close",
        means="a drawer, door or leaf rubs or jams",
        also=("drawer jams", "drawer stuck", "stuck door", "door rubs", "hard to open"),
    ),
    "warped": DamageWords(
        name="bent, cupped or twisted",
        asked="bent, sagging, cupped or twisted",
        wrong="is bent, cupped or twisted",
        sought="Bent, cupped or twisted",
        means="a board or part is no longer straight",
        also=("warped top", "bowed", "sagging shelf", "sags", "twisted door"),
    ),
    "swollen": DamageWords(
        name="board swollen or crumbling",
        short="swollen or crumbling",
        asked="board swollen or crumbling",
        wrong="is swollen or crumbling",
        sought="Board swollen or crumbling",
        means="pressed board that got wet or worn",
        also=("chipboard", "swelled", "crumbles", "water damage"),
    ),
}
