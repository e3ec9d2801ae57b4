"""The damages of a piece: what is wrong, on which part, at which joint; each a `Line` that can be gone back to and changed."""

from collections.abc import Mapping
from dataclasses import replace

from diagnose import words
from diagnose.case.case import Damage
from diagnose.cli.prompts import Back, Line, Names, choose, free_text, walk
from diagnose.cli.session import Session
from diagnose.damage_words import DAMAGE_WORDS
from diagnose.documents.say import place_of, plain
from diagnose.rulebase.entries import Joint, Piece

# What a kind of joint looks like, for somebody who has never made one.
LOOKS_LIKE: dict[str, str] = {
    "mortise_and_tenon": "a flat tongue of wood in a slot",
    "dowel": "round wooden pegs across the joint",
    "round_tenon": "the round end of the part itself",
    "dovetail": "fan-shaped teeth",
    "mitre": "both ends cut slanting",
    "veneer_bond": "the thin face on the wood below",
    "knock_down": "cams, plates or hooks",
}
FOUND_BY = {"owner": "the owner brought it for this", "us": "we found it"}
# Damages that sit at a joint as a rule; where a joint moves, which joint it is comes before the part.
AT_A_JOINT = ("loose", "broken", "split", "fitting")
JOINT_FIRST = AT_A_JOINT[:1]
WHICH_OF_THE_TWO = "Which of the two has suffered more? If neither, the one that ends in the other."


def title(damage: Damage) -> str:
    """What a damage is called on the screen: its place where one is known, and what is wrong.

    >>> title(Damage("a", "sticks", part="door")), title(Damage("a", "swollen"))
    ('door, sticks or will not close', 'board swollen or crumbling')
    """
    return place_of(damage) if damage.part or damage.joint else words.DAMAGES[damage.kind]


def _piece(session: Session) -> Piece:
    return session.knowledge.pieces[session.case.piece]


def _keep(session: Session, damage: Damage) -> None:
    damages = tuple(damage if old.id == damage.id else old for old in session.case.damages)
    session.keep(replace(session.case, damages=damages))


def _find(session: Session, name: str) -> Damage | None:
    return next((damage for damage in session.case.damages if damage.id == name), None)


def _ask_what(session: Session, name: str) -> None:
    kind = choose(session.env, "What is wrong?", {kind: said.asked for kind, said in DAMAGE_WORDS.items()})
    assert kind is not None
    old = _find(session, name)
    if old is not None:
        _keep(session, replace(old, kind=kind))
    else:
        session.keep(replace(session.case, damages=(*session.case.damages, Damage(id=name, kind=kind))))


def part_names(piece: Piece) -> Names:
    """What the parts of a piece are called besides their own names."""
    return {part: entry.also_called for part, entry in piece.parts.items()}


def joint_names(piece: Piece) -> Names:
    """What its joints are called by somebody who has other names for the parts."""
    return {
        joint.id: [
            plain(joint.id).replace(plain(part), name)
            for part in joint.joins
            if plain(part) in plain(joint.id)
            for name in piece.parts[part].also_called
        ]
        for joint in piece.joints
    }


def _ask_part(session: Session, name: str) -> None:
    damage, piece = session.case.damage(name), _piece(session)
    joint = piece.joint(damage.joint) if damage.joint else None
    if joint is not None and damage.kind in JOINT_FIRST:
        parts = {part: plain(part) for part in joint.joins}
        part = choose(session.env, WHICH_OF_THE_TWO, parts, also=part_names(piece)) if len(parts) > 1 else joint.joins[0]
    else:
        parts = {part: plain(part) for part in piece.parts}
        part = choose(session.env, "On which part?", parts, enter="nobody can say", also=part_names(piece))
    stays = joint is not None and part in joint.joins
    _keep(session, replace(damage, part=part, joint=damage.joint if stays else None))


def joints_of(piece: Piece, damage: Damage) -> list[Joint]:
    """The joints at which a damage may sit: those of its part where that is known."""
    return [joint for joint in piece.joints if damage.part is None or damage.part in joint.joins]


def joint_choices(joints: list[Joint], states: Mapping[str, str]) -> dict[str, str]:
    """Joints to choose from, those first that the joint map has moving, open or broken, and so marked."""
    slack = [joint for joint in joints if states.get(joint.id) in words.SLACK_STATES]
    marked = {joint.id: f"{plain(joint.id)} ({words.JOINT_STATES[states[joint.id]]})" for joint in slack}
    return marked | {joint.id: plain(joint.id) for joint in joints if joint.id not in marked}


def _ask_joint(session: Session, name: str) -> None:
    damage = session.case.damage(name)
    choices = joint_choices(joints_of(_piece(session), damage), session.case.joints)
    question = "At which joint?" if damage.kind in JOINT_FIRST else "Is it at a joint? Which?"
    also = joint_names(_piece(session))
    joint = choose(session.env, question, choices, enter="at none of these, or nobody can say", also=also)
    changed = replace(damage, joint=joint)
    made = damage.facts.get("joint")
    if made is not None and joint is not None and made not in joint_kinds(_piece(session), changed):
        changed = replace(changed, facts={key: value for key, value in damage.facts.items() if key != "joint"})
    _keep(session, changed)


def joint_kinds(piece: Piece, damage: Damage) -> tuple[str, ...]:
    """How the joint of a damage may be made, as far as the map of the piece knows."""
    joint = piece.joint(damage.joint) if damage.joint else None
    joints = [joint] if joint is not None else joints_of(piece, damage)
    return tuple(dict.fromkeys(kind for joint in joints for kind in joint.kind))


def _ask_made(session: Session, name: str) -> None:
    damage = session.case.damage(name)
    kinds = joint_kinds(_piece(session), damage)
    named = {kind: words.JOINT_KINDS[kind] + (f" ({LOOKS_LIKE[kind]})" if kind in LOOKS_LIKE else "") for kind in kinds}
    chosen = choose(session.env, "How is that joint made?", named, enter="it cannot be seen")
    facts = {key: value for key, value in damage.facts.items() if key != "joint"}
    _keep(session, replace(damage, facts=facts if chosen is None else {**facts, "joint": chosen}))


def _wants_made(session: Session, damage: Damage) -> bool:
    at_a_joint = damage.joint is not None or (damage.kind in JOINT_FIRST and damage.part is not None)
    return at_a_joint and "joint" not in damage.facts and len(joint_kinds(_piece(session), damage)) > 1


def _ask_says(session: Session, name: str) -> None:
    damage = session.case.damage(name)
    _keep(session, replace(damage, says=free_text(session.env, "What does the owner say about this damage?", damage.says)))


def _ask_found_by(session: Session, name: str) -> None:
    found_by = choose(session.env, "Who found it?", FOUND_BY, enter="the owner")
    _keep(session, replace(session.case.damage(name), found_by=found_by or "owner"))


def damage_lines(session: Session, name: str) -> list[Line]:
    """What is asked about one damage before any sign of it; `name` need not be in the case yet."""
    begun = _find(session, name) is not None

    def held() -> Damage:
        return session.case.damage(name)

    def wants_joint(first: bool) -> bool:
        damage = held()
        known = damage.kind in JOINT_FIRST if first else damage.kind in AT_A_JOINT[1:] and damage.part is not None
        return damage.joint is None and known and bool(joints_of(_piece(session), damage))

    def is_the_owners() -> bool:
        # The first damage is what the owner's own words are about, and those are on the sheet already.
        return bool(session.case.owner_says) and session.case.damages[0].id == name

    def now(what: str | None) -> str:
        return plain(what) if what else ""

    return [
        Line("What is wrong", lambda: DAMAGE_WORDS[held().kind].asked, lambda: not begun, lambda: _ask_what(session, name)),
        Line("At which joint", lambda: now(held().joint), lambda: wants_joint(True), lambda: _ask_joint(session, name)),
        Line("On which part", lambda: now(held().part), lambda: held().part is None, lambda: _ask_part(session, name)),
        Line("At which joint", lambda: "", lambda: wants_joint(False), lambda: _ask_joint(session, name)),
        Line(
            "How the joint is made",
            lambda: words.JOINT_KINDS.get(held().facts.get("joint", ""), ""),
            lambda: _wants_made(session, held()),
            lambda: _ask_made(session, name),
        ),
        Line(
            "What the owner says about it",
            lambda: held().says,
            lambda: not held().says and not is_the_owners(),
            lambda: _ask_says(session, name),
        ),
        Line(
            "Who found it",
            lambda: FOUND_BY[held().found_by],
            lambda: not begun and not is_the_owners(),
            lambda: _ask_found_by(session, name),
        ),
    ]


def ask_damage(session: Session) -> None:
    """Ask about one more damage."""
    used = {damage.id for damage in session.case.damages}
    name = next(n for n in (f"damage_{i}" for i in range(1, len(used) + 2)) if n not in used)
    walk(damage_lines(session, name))


def ask_damages(session: Session) -> None:
    """Every damage, until there is no other. Back is raised before the first line of the first damage."""
    env = session.env
    if session.case.damages and not session.case.damages[-1].readings:
        walk(damage_lines(session, session.case.damages[-1].id))
    while True:
        try:
            if not session.case.damages:
                ask_damage(session)
            known = "; ".join(title(damage) for damage in session.case.damages)
            while (
                choose(env, f"Noted: {known}. Is there another damage?", {"no": "no", "yes": "yes, another"}, enter="no") == "yes"
            ):
                ask_damage(session)
                known = "; ".join(title(damage) for damage in session.case.damages)
            return
        except Back:
            if not session.case.damages:
                raise
            lines = damage_lines(session, session.case.damages[-1].id)
            walk(lines, len(lines) - 1)
