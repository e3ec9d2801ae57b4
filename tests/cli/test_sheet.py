"""The sheet of the interview: what people type is understood or met with the nearest, and every line can be gone back to."""

import io
import os
import random
import re
import signal
import time
from collections.abc import Iterator
from pathlib import Path

import pexpect
import pytest

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.naming import woods_like, woods_meant
from diagnose.case.read import read_case
from diagnose.case.write import write_case
from diagnose.cli.asking import readings_here, understood
from diagnose.cli.damages import LOOKS_LIKE, joint_choices, joint_kinds, part_names, title
from diagnose.cli.door import HEAD, LOOK, NOT_TAKEN_IN, TO_SAY, usual_reading
from diagnose.cli.environment import Environment, folded
from diagnose.cli.meaning import meanings
from diagnose.cli.prompts import KEYS, SPOKEN_KEYS, Back, Line, allowed, fitting, match, walk
from diagnose.cli.sheet import kind_named, kinds_like
from diagnose.decision.next_signs import AT_THE_DOOR
from diagnose.reasoning.deduce import deduce
from diagnose.reasoning.facts import Facts
from diagnose.reasoning.rulebook import rulebook_of
from diagnose.rulebase.knowledge import Knowledge
from tests.cli.running import PROGRAM, Terminal, asked

ON_A_CHAIR = {"piece": frozenset({"side_chair", "chair"})}


def answers_of(case: Case) -> dict[str, Answer]:
    return {**case.readings, **{name: answer for damage in case.damages for name, answer in damage.readings.items()}}


def names(knowledge: Knowledge) -> dict[str, str]:
    return {piece.id: piece.name for piece in knowledge.pieces.values()}


# ---- words typed


@pytest.mark.parametrize(
    ("typed", "piece"),
    [("dining chair", "side_chair"), ("an old flat pack wardrobe", "flat_pack_cupboard"), ("bookcas", "bookcase"),
     ("a couch", "sofa"), ("3", "stick_chair"), ("cot", "cot"), ("crib", "cot"), ("bunk bed", "bunk_bed")],
)  # fmt: skip
def test_a_piece_as_people_call_it(knowledge: Knowledge, typed: str, piece: str) -> None:
    assert kind_named(knowledge, typed, names(knowledge)) == piece


@pytest.mark.parametrize("typed", ["chair", "old oak chair", "chest", "throne", "", "the"])
def test_a_word_that_means_several_pieces_or_none_names_none(knowledge: Knowledge, typed: str) -> None:
    assert kind_named(knowledge, typed, names(knowledge)) is None


def test_a_wider_word_offers_the_pieces_it_may_mean(knowledge: Knowledge) -> None:
    assert {piece.group for piece in kinds_like(knowledge, "my old chair")} == {"chair"}
    assert kinds_like(knowledge, "throne") == ()


def test_words_inside_a_label_name_it_when_it_alone_has_them() -> None:
    choices = {"a": "At a top corner", "b": "Along the top edge", "c": "In the middle"}
    assert match("corner", choices) == "a"
    assert match("top edge", choices) == "b"
    assert match("top", choices) is None
    assert fitting("top", choices) == ["a", "b"]
    assert allowed(choices, "top") == "Several fit: 1 At a top corner · 2 Along the top edge. Which number?"
    assert "from 1 to 3" in allowed(choices, "ceiling")
    assert "from 1 to 3" in allowed(choices, "4")


def test_a_key_is_never_a_beginning_and_a_choice_comes_before_a_spoken_key(knowledge: Knowledge) -> None:
    assert all(match(key, {"x": f"{key}ery odd"}) is None for key in KEYS)
    assert match("back", {"back_leg": "back leg", "top": "top"}) == "back_leg"
    assert set(SPOKEN_KEYS.values()) <= set(KEYS)
    said = {sign.say(reading).lower() for sign in knowledge.signs.values() for reading in sign.readings}
    assert not said & set(SPOKEN_KEYS), "what is a reading is never taken for a key"


def test_joints_and_places_have_their_plain_words() -> None:
    assert set(LOOKS_LIKE) <= set(words.JOINT_KINDS)
    assert set(HEAD) == set(LOOK) == set(words.PLACES)
    assert title(Damage("damage_1", "loose")) == words.DAMAGES["loose"], "an id is no name of a place"


def test_what_a_word_of_the_trade_means(tmp_path: Path) -> None:
    assert meanings("dowels") == meanings("Dowel") != []
    assert [line.partition(":")[0] for line in meanings("mortise and tenon")] == ["Mortise", "Tenon"]
    assert meanings("") == meanings("xyzzy") == []
    terminal = Terminal("intake", tmp_path / "case.yaml")
    assert meanings("splat")[0] in terminal.type("? splat")
    assert "not in the glossary" in terminal.type("?xyzzy")
    assert "as ? dowel" in terminal.type("?")
    assert "Whose is it?" in terminal.type("1")
    terminal.kill()


def test_every_unusual_name_of_a_part_is_in_the_glossary(knowledge: Knowledge) -> None:
    parts = {part for piece in knowledge.pieces.values() for part in piece.parts}
    unusual = {"splat", "stretcher", "apron", "kicker", "loper", "plinth", "batten", "webbing", "crest_rail", "face_frame",
               "fly_rail", "tack_rail", "slat_ledge", "bracket_foot", "breadboard_end", "top_fixing", "runner"}  # fmt: skip
    assert unusual <= parts
    assert [part for part in sorted(unusual) if not meanings(part)] == []


# ---- lines and going back


def lines_of(told: list[str], back_at: dict[str, int], wanted: frozenset[str] = frozenset("abc")) -> list[Line]:
    """Three lines; one of them goes back as often as said."""

    def ask(name: str) -> None:
        told.append(name)
        if back_at.get(name, 0):
            back_at[name] -= 1
            raise Back

    return [Line(n, lambda: "", lambda n=n: n in wanted, lambda n=n: ask(n)) for n in "abc"]  # type: ignore[misc]


def test_lines_are_asked_in_order_and_gone_back_to() -> None:
    told: list[str] = []
    walk(lines_of(told, {"c": 2}))
    assert told == ["a", "b", "c", "b", "c", "b", "c"]


def test_what_is_not_wanted_is_passed_over_but_can_be_gone_back_to() -> None:
    told: list[str] = []
    walk(lines_of(told, {"c": 1}, frozenset("ac")))
    assert told == ["a", "c", "a", "c"]
    told.clear()
    walk(lines_of(told, {"b": 1}, frozenset("bc")), start=1)
    assert told == ["b", "a", "b", "c"]


def test_back_before_the_first_line_is_for_whoever_asked() -> None:
    with pytest.raises(Back):
        walk(lines_of([], {"a": 1}))


def test_back_on_the_sheet_asks_the_line_before_again(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    assert "first question" in terminal.type("b")
    terminal.type("bed")
    assert "What is it?" in terminal.type("b")
    assert "Whose is it?" in terminal.type("dining chair")
    terminal.type("Ms Lo")
    assert "Enter keeps 'Ms Lo'" in terminal.type("b")
    assert "own words?" in terminal.type("Ms Low")
    for line in ("it wobbles", "160"):
        terminal.type(line)
    said = terminal.type("oak")
    assert "Which of these?" in said
    assert "White oak" in said
    assert "Noted: White oak" in terminal.type("white")
    case = read_case(path, knowledge)
    assert (case.piece, case.called, case.owner, case.wood) == ("side_chair", "dining chair", "Ms Low", "white_oak")
    assert "Enter keeps 'White oak'" in terminal.type("b")
    said = terminal.type("")
    while "Joint map" not in said:
        said = terminal.type("2" if TO_SAY not in said else "")
    assert HEAD["counter"] in terminal.type("b"), "from the map to the door"
    assert "Joint map" in terminal.type("")
    terminal.type("all tight but 3")
    terminal.type("loose")
    assert "What is wrong?" in terminal.type("b")
    terminal.type("loose")
    said = terminal.type("1")
    assert "Which of the two" in said
    assert "At which joint?" in terminal.type("b")
    terminal.type("2")
    terminal.type("leg")
    assert "Is there another damage?" in terminal.type("dowels"), "the first is the owner's, whose words are on the sheet"
    assert "Who found it?" in terminal.type("b")
    assert "Is there another damage?" in terminal.type("2")
    terminal.kill()
    (damage,) = read_case(path, knowledge).damages
    chair = knowledge.pieces["side_chair"]
    assert damage == Damage("damage_1", "loose", "back_leg", chair.joints[0].id, found_by="us", facts={"joint": "dowel"})


def test_a_line_of_the_sheet_can_be_changed_from_the_list_of_answers(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    usual = {s.id: Answer(r) for s in knowledge.signs.values()
             if s.station == AT_THE_DOOR and (r := usual_reading(knowledge.scale, s, ON_A_CHAIR)) is not None}  # fmt: skip
    chair = knowledge.pieces["side_chair"]
    damage = Damage("damage_1", "loose", "side_rail", chair.joints[0].id, facts={"joint": "dowel"})
    joints = {chair.joints[0].id: "moves"}
    write_case(path, Case("side_chair", owner_says="it wobbles", joints=joints, readings=usual, damages=(damage,)), knowledge)
    terminal = Terminal("intake", path)
    assert "Is there another damage?" in terminal.said
    terminal.type("")

    def number_of(listed: str, name: str) -> str:
        return next(line.split()[0] for line in listed.splitlines() if f"  {name}: " in line)

    terminal.type(number_of(terminal.type("a"), "Worth, as the owner puts it"))
    assert "So far" not in terminal.type("lots")
    terminal.type("250")
    terminal.type(number_of(terminal.type("a"), "At which joint"))
    terminal.type("2")
    terminal.type(number_of(terminal.type("a"), "Joint map"))
    terminal.type("all tight")
    listed = terminal.type("a")
    assert f"  Joint map: {len(chair.joints)} tight" in listed
    assert "Left as it was" in terminal.type(number_of(listed, "On which part")) + terminal.type("b")
    terminal.type("s")
    case = read_case(path, knowledge)
    assert case.value == 250.0
    assert case.damages[0].joint == chair.joints[1].id
    assert set(case.joints.values()) == {"tight"}


# ---- what fits this piece


def test_readings_that_another_piece_or_part_would_show_are_not_offered(knowledge: Knowledge) -> None:
    sign = next(s for s in knowledge.signs.values() if any({"piece", "part"} <= r.when.keys() for r in s.readings.values()))
    case = Case("chest_of_drawers")
    free = readings_here(knowledge, case, Damage("a", "loose"), sign)
    at_drawer = readings_here(knowledge, case, Damage("a", "sticks", "drawer_front"), sign)
    assert set(at_drawer) < set(free) < set(sign.readings)
    assert len(at_drawer) == 1
    chair = Case("side_chair")
    joint = next(j for j in knowledge.pieces["side_chair"].joints if set(j.joins) == {"back_leg", "side_rail"})
    by_part = readings_here(knowledge, chair, Damage("a", "loose", "back_leg"), sign)
    by_joint = readings_here(knowledge, chair, Damage("a", "loose", "back_leg", joint.id), sign)
    assert set(by_joint) < set(by_part), "a joint says more than one of its parts"
    assert not set(by_part) & set(at_drawer)


def test_every_piece_and_part_can_show_some_reading_of_every_sign_that_is_asked_of_all(knowledge: Knowledge) -> None:
    for sign in knowledge.signs.values():
        if sign.when or sign.unless or sign.computed:
            continue
        for piece in knowledge.pieces.values():
            assert readings_here(knowledge, Case(piece.id), Damage("a", "loose"), sign), (sign.id, piece.id)


def test_only_what_was_shown_is_understood(knowledge: Knowledge) -> None:
    sign = next(s for s in knowledge.signs.values() if s.kind == "choose_one" and len(s.readings) > 3)
    first, second, third, *_ = sign.readings
    shown = {first: sign.say(first), third: sign.say(third)}
    assert understood(sign, "2", "counter", shown) == Answer((third,), by="owner" if sign.effort == "ask" else "seen")
    assert "from 1 to 2" in str(understood(sign, "3", "counter", shown))
    assert isinstance(understood(sign, sign.say(second), "counter", shown), str)


def test_what_the_sheet_has_said_is_not_asked_again(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    damage = Damage("damage_1", "sticks", "drawer_front")
    readings = {"live_pests": Answer(("none_seen",))}
    write_case(path, Case("chest_of_drawers", joints={}, readings=readings, damages=(damage,)), knowledge)
    terminal = Terminal("intake", path)
    said = terminal.said
    told = said
    while not terminal.ended:
        said = terminal.type("" if "another damage?" in said or "Joint map" in said or "Enter skips" in said else "t")
        told += said
    for line in (line for line in told.splitlines() if "From the sheet: " in line):
        sign = next(s for s in knowledge.signs.values() if s.ask and s.ask in line)
        (reading,) = readings_here(knowledge, Case("chest_of_drawers"), damage, sign)
        assert answers_of(read_case(path, knowledge))[sign.id] == Answer((reading,))
        assert told.count(f"\n{sign.ask}\n") == 0, "and it is not asked"
    assert "From the sheet: " in told, "some sign has one reading left for a drawer front"


def test_slack_joints_come_first_and_say_so(knowledge: Knowledge) -> None:
    joints = list(knowledge.pieces["side_chair"].joints[:3])
    shown = joint_choices(joints, {joints[2].id: "open", joints[0].id: "tight"})
    assert list(shown) == [joints[2].id, joints[0].id, joints[1].id]
    assert shown[joints[2].id].endswith(f"({words.JOINT_STATES['open']})")


def test_a_joint_is_made_in_a_way_that_this_piece_has(knowledge: Knowledge) -> None:
    for piece in knowledge.pieces.values():
        known = {kind for joint in piece.joints for kind in joint.kind}
        assert set(joint_kinds(piece, Damage("a", "loose"))) == known
        for joint in piece.joints:
            assert joint_kinds(piece, Damage("a", "loose", joint=joint.id)) == joint.kind


# ---- at the door


def test_nothing_rare_is_taken_as_said_where_the_piece_is_made_for_it(knowledge: Knowledge) -> None:
    for sign in (s for s in knowledge.signs.values() if s.station == AT_THE_DOOR):
        for name, reading in sign.readings.items():
            for piece in {v for line in reading.when.lines if line.key == "piece" for v in line.values} & set(knowledge.pieces):
                kind = knowledge.pieces[piece]
                usual = usual_reading(knowledge.scale, sign, {"piece": frozenset({kind.id, kind.group})})
                assert usual in (None, (name,))


def test_a_mirror_has_glass_and_a_bed_may_be_a_childs(knowledge: Knowledge) -> None:
    def open_at(piece: str) -> set[str]:
        kind = knowledge.pieces[piece]
        values = {"piece": frozenset({kind.id, kind.group})}
        door = [sign for sign in knowledge.signs.values() if sign.station == AT_THE_DOOR]
        return {sign.id for sign in door if usual_reading(knowledge.scale, sign, values) is None}

    more = open_at("framed_mirror") - open_at("table"), open_at("bed") - open_at("table")
    assert [len(names) for names in more] == [1, 1]
    assert more[0] != more[1]


def not_taken_in(knowledge: Knowledge, piece: str) -> tuple[str, str]:
    """A sign at the door and the reading of it for which a piece is not taken in."""
    kind = knowledge.pieces[piece]
    book = rulebook_of(knowledge)
    for sign in knowledge.signs.values():
        for reading in sign.readings if sign.station == AT_THE_DOOR else ():
            values = {"piece": frozenset({kind.id, kind.group}), sign.id: frozenset({reading})}
            if deduce(book, Facts(values, {})).triage() is words.Triage.DECLINE:
                return sign.id, reading
    raise AssertionError(piece)


def test_of_a_piece_that_is_not_taken_in_no_sign_is_asked(tmp_path: Path, knowledge: Knowledge) -> None:
    sign, reading = not_taken_in(knowledge, "bed")
    path = tmp_path / "case.yaml"
    write_case(path, Case("bed", readings={sign: Answer((reading,))}, damages=(Damage("damage_1", "loose"),)), knowledge)
    terminal = Terminal("intake", path)
    said = terminal.said
    while "nothing more is asked" not in said and not terminal.ended:
        said = terminal.type("")
    assert f"At the door: {words.TRIAGE_SAY[words.Triage.DECLINE]}." in said
    assert words.Triage.DECLINE in NOT_TAKEN_IN
    ask = knowledge.signs[sign].ask or ""
    number = next(line.split()[0] for line in terminal.type("a").splitlines() if ask in line)
    terminal.type(number)
    said = terminal.type("1")
    assert asked(knowledge, said), "the answer was a mistake: it goes on"
    terminal.kill()
    assert read_case(path, knowledge).readings[sign].reads != (reading,)


# ---- the file on disk


def test_two_sittings_at_one_case_do_not_undo_each_other(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    first = Terminal("intake", path)
    first.type("1")
    second = Terminal("intake", path)
    second.type("Ms Second")
    said = first.type("Ms First")
    assert first.code == 2
    (line,) = said.strip().splitlines()
    assert line.startswith(f"{path}: was changed by somebody else")
    second.type("it wobbles")
    second.kill()
    case = read_case(path, knowledge)
    assert (case.owner, case.owner_says) == ("Ms Second", "it wobbles")
    again = Terminal("intake", path)
    assert "worth" in again.said
    again.kill()


def test_a_file_that_was_thrown_away_is_written_again(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    terminal.type("1")
    path.unlink()
    terminal.type("Ms Here")
    terminal.kill()
    assert read_case(path, knowledge).owner == "Ms Here"


def kills() -> Iterator[float]:
    chance = random.Random(7)
    return (chance.uniform(0.0, 0.05) for _ in range(6))


def test_the_file_is_whole_whenever_the_power_goes(tmp_path: Path, knowledge: Knowledge) -> None:
    """Killed at a chance moment while lines come in faster than they can be kept."""
    path = tmp_path / "case.yaml"
    for wait in kills():
        path.unlink(missing_ok=True)
        child = pexpect.spawn(str(PROGRAM), ["intake", str(path)], env={**os.environ, "TERM": "dumb"}, timeout=20)
        child.expect("> ")
        child.send("1\nMs Quick\nit wobbles\n160\n\n\n2\n1\n1\nall tight but 1\nloose\n1\n1\n\n\n\n")
        while not path.exists():
            time.sleep(0.001)
        time.sleep(wait)
        child.kill(signal.SIGKILL)
        child.expect(pexpect.EOF)
        case = read_case(path, knowledge)
        assert case.piece == next(iter(knowledge.pieces))


# ---- lines that fit the terminal


def test_long_talk_is_broken_between_words() -> None:
    text = "  12  " + "word " * 40
    lines = folded(text.rstrip(), 60).splitlines()
    assert len(lines) > 3
    assert all(len(line) <= 60 for line in lines)
    assert all(line.startswith("      word") for line in lines[1:]), "under the text, not under its number"
    assert " ".join(" ".join(lines).split()) == " ".join(text.split())
    assert folded("short", 60) == "short"


def test_talk_that_goes_to_no_terminal_stays_one_line() -> None:
    talk = io.StringIO()
    Environment(talk=talk).say("word " * 60)
    assert talk.getvalue() == "word " * 60 + "\n"


def test_a_line_is_folded_by_what_is_seen_of_it(knowledge: Knowledge) -> None:
    for sign in (sign for sign in knowledge.signs.values() if sign.ask):
        for reading in sign.readings:
            plain, bold = f"   7  {sign.ask} {sign.say(reading)}", f"   7  {sign.ask} \x1b[1m{sign.say(reading)}\x1b[0m"
            told = folded(bold, 60)
            assert re.sub(r"\x1b\[\d*m", "", told) == folded(plain, 60)
            within = re.search(r"\x1b\[1m(.*?)\x1b\[0m", told, re.DOTALL)
            assert within is not None
            assert within[1].split() == sign.say(reading).split()


def test_behind_an_answer_at_the_door_only_its_line_is_shown_again_and_words_name_a_line(
    tmp_path: Path, knowledge: Knowledge
) -> None:
    terminal = Terminal("intake", tmp_path / "case.yaml")
    for line in ("dining chair", "", "", ""):
        terminal.type(line)
    said = terminal.type("")
    asks = [s.ask for s in knowledge.signs.values() if s.ask and s.station == AT_THE_DOOR]
    listed = sum(ask in said for ask in asks)
    assert listed > 5
    (smell,) = (s for s in knowledge.signs.values() if s.station == AT_THE_DOOR and s.effort == "smell")
    assert smell.ask is not None
    assert smell.ask in terminal.type("smell")
    said = terminal.type("2")
    assert sum(ask in said for ask in asks) == 1
    assert HEAD["counter"] not in said
    terminal.type("3")
    assert HEAD["counter"] in terminal.type("b"), "behind a question that was left all of it stands there again"
    terminal.kill()


def test_another_kind_of_piece_keeps_no_part_or_joint_that_it_has_not(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    chair = knowledge.pieces["side_chair"]
    damage = Damage("damage_1", "loose", "side_rail", chair.joints[0].id, facts={"joint": "dowel"})
    write_case(
        path, Case("side_chair", owner_says="it wobbles", joints={chair.joints[0].id: "moves"}, damages=(damage,)), knowledge
    )
    terminal = Terminal("intake", path)
    while "Is there another damage?" not in terminal.said:
        terminal.type("" if "Enter" in terminal.said else "t")
    terminal.type("")
    assert "1  What is it: Side chair" in terminal.type("a")
    assert "What is it?" in terminal.type("1")
    terminal.type("table")
    terminal.kill()
    case = read_case(path, knowledge)
    assert case.piece == "table"
    assert case.joints == {}
    assert (case.damages[0].part, case.damages[0].joint, case.damages[0].facts) == (None, None, {})


def test_woods_are_understood_with_other_words_and_slips(knowledge: Knowledge) -> None:
    assert {wood.id for wood in woods_meant(knowledge, "solid oak")} == {wood.id for wood in woods_like(knowledge, "oak")}
    assert "mahogany" in {wood.id for wood in woods_meant(knowledge, "mahogony")}
    assert "beech" in {wood.id for wood in woods_meant(knowledge, "beach")}
    assert woods_meant(knowledge, "chipboard") == ()


def test_parts_are_understood_by_their_other_names_and_said_back(tmp_path: Path, knowledge: Knowledge) -> None:
    for piece in knowledge.pieces.values():
        also, parts = part_names(piece), {part: part.replace("_", " ") for part in piece.parts}
        for part, entry in piece.parts.items():
            for name in entry.also_called:
                assert match(f"the left {name}", parts, also) == part, (piece.id, name)
                assert match(name.replace(" ", ""), parts, also) == part, (piece.id, name)
    path = tmp_path / "case.yaml"
    write_case(path, Case("bar_stool", joints={"front_upper_rung_to_left_front_leg": "broken"}), knowledge)
    terminal = Terminal("intake", path)
    while "What is wrong?" not in terminal.said:
        terminal.type("1" if any(f"\n   1  {said}" in terminal.said for said in ("An ordinary", "It is not", "Solid")) else "")
    terminal.type("broken")
    assert "  Noted: rung." in terminal.type("footrest").splitlines()
    assert "  Noted: front upper rung to left front leg" in terminal.type("front upper foot rest to left front leg")
    terminal.kill()
    assert read_case(path, knowledge).damages[0].part == "rung"


@pytest.mark.parametrize(
    ("typed", "piece", "count"),
    [
        ("a set of six dining chairs", "side_chair", 6),
        ("an old wardrobe", "wardrobe", 1),
        ("old garden bench", "garden_bench", 1),
    ],
)
def test_how_many_came_in_is_heard_with_the_kind(
    tmp_path: Path, knowledge: Knowledge, typed: str, piece: str, count: int
) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    noted = f"  Noted: {knowledge.pieces[piece].name}{f', {count} of them' if count > 1 else ''}."
    assert noted in terminal.type(typed).splitlines()
    terminal.type("")
    assert ("What is one of them worth" in terminal.type("")) is (count > 1)
    terminal.type("s")
    assert (read_case(path, knowledge).piece, read_case(path, knowledge).count) == (piece, count)


def test_a_kind_that_is_never_mended_into_use_is_told_at_once_and_only_the_damage_is_asked(tmp_path: Path) -> None:
    terminal = Terminal("intake", tmp_path / "case.yaml")
    terminal.type("cot")
    for _ in range(3):
        terminal.type("")
    said = terminal.type("")
    assert f"At the door: {words.TRIAGE_SAY[words.Triage.DECLINE]}." in said
    assert "What is wrong?" in said


def test_an_office_chair_is_asked_for_its_gas_column_and_goes_to_others(tmp_path: Path, knowledge: Knowledge) -> None:
    """Never taken as said, and nothing is asked that the others look at themselves."""
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    for line in ("office chair", "", "", "", "", ""):
        terminal.type(line)
    said = terminal.type("gas column")
    while "What is wrong?" not in said:
        said = terminal.type("1" if re.search(r"\n   1  (?!.*Joint map)", said) and "Joint map" not in said else "")
    for line in ("a screw", "can't tell"):
        said = terminal.type(line)
    while "nothing more is asked" not in said:
        assert not asked_of(knowledge, said), said
        said = terminal.type("")
    said = terminal.type("")
    assert terminal.ended
    assert "--form receipt" not in said
    assert f"diagnose letter {path}" in said


def asked_of(knowledge: Knowledge, said: str) -> list[str]:
    return [sign.id for sign in knowledge.signs.values() if sign.ask and sign.ask in said.splitlines()]


@pytest.mark.parametrize(("place", "paper"), [("photos", "until_you_bring_it"), ("counter", "receipt"), ("bench", "receipt")])
def test_what_to_run_next_is_told_at_the_end(tmp_path: Path, knowledge: Knowledge, place: str, paper: str) -> None:
    path = tmp_path / "case.yaml"
    write_case(path, Case("side_chair", damages=(Damage("damage_1", "loose"),)), knowledge)
    terminal = Terminal("intake", path, "--at", place)
    said = terminal.type("s")
    for command in (f"letter {path} --form {paper}", f"assess {path}", f"letter {path}"):
        assert f"  diagnose {command}" in said.splitlines()
    assert (f"  diagnose intake {path} --at counter" in said.splitlines()) is (place == "photos")
