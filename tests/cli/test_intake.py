"""The interview at a real pseudo-terminal: what is typed is what the file holds, and nothing typed is ever lost."""

import random
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from diagnose import words
from diagnose.case.case import Answer, Case, Damage
from diagnose.case.read import read_case
from diagnose.case.write import case_text
from diagnose.cli.asking import readings_here, speaker, understood
from diagnose.cli.door import HEAD, TO_SAY, usual_reading
from diagnose.cli.joint_map import SPOKEN_STATES, parse_map
from diagnose.cli.sheet import parse_amount
from diagnose.decision.next_signs import AT_THE_DOOR, can_be_asked
from diagnose.documents.say import first_up, reading_say
from diagnose.reasoning.facts import gate_open
from diagnose.rulebase.entries import Sign
from diagnose.rulebase.knowledge import Knowledge
from diagnose.rulebase.rows import background
from tests.cli.running import EXAMPLES, Program, Terminal, asked

ODD_WORDS = """it "went": #bang | - no! 'ping' – ½ {x} & <b>y</b>"""
FIRST = {"piece": frozenset({"side_chair", "chair"})}
NOT_UNDERSTOOD = "Not understood."


def most_usual(knowledge: Knowledge, sign: Sign) -> tuple[str, ...]:
    """What is seen most often, whether or not it may be taken as said."""
    often = background(knowledge.scale, sign)
    usual = usual_reading(knowledge.scale, sign, FIRST)
    return (max(sign.readings, key=lambda name: often[name]),) if usual is None else usual


def door_signs(knowledge: Knowledge, place: str) -> list[Sign]:
    """What is looked at before hands go on the first piece of the list, while all of it is as usual."""
    door = [s for s in knowledge.signs.values() if s.station == AT_THE_DOOR and can_be_asked(s, place)]
    usual = {s.id: frozenset(most_usual(knowledge, s)) for s in door}
    return [s for s in door if gate_open(s, {**FIRST, **usual})]


def usual_answers(knowledge: Knowledge, place: str) -> dict[str, Answer]:
    return {sign.id: Answer(most_usual(knowledge, sign), speaker(sign, place)) for sign in door_signs(knowledge, place)}


def to_be_answered(knowledge: Knowledge, place: str) -> list[Sign]:
    """What nothing may be taken as said of."""
    return [sign for sign in door_signs(knowledge, place) if usual_reading(knowledge.scale, sign, FIRST) is None]


def at_the_door(knowledge: Knowledge, place: str) -> list[str]:
    """Lines that say everything at the door is as usual: Enter, and then what is asked."""
    signs = to_be_answered(knowledge, place)
    return ["", *(str(list(sign.readings).index(most_usual(knowledge, sign)[0]) + 1) for sign in signs)]


def beginning(sign: Sign, reading: str) -> str:
    """The shortest beginning of a reading's words, of two letters or more, that no other reading has."""
    forms = [form for r in sign.readings if r != reading for form in (r.replace("_", " "), sign.say(r).lower())]
    label = sign.say(reading).lower()
    return next(label[:n] for n in range(2, len(label) + 1) if not any(f.startswith(label[:n]) for f in forms))


def to_the_first_question(path: Path, knowledge: Knowledge) -> Terminal:
    """A chair with a loose side rail, nothing odd about it, up to the first question."""
    terminal = Terminal("intake", path)
    door = at_the_door(knowledge, "counter")
    for line in ("side chair", "", "", "", "", *door, "all tight but 1 2", "loose", "1", "1", "", "", "", "no"):
        terminal.type(line)
    return terminal


def mild(knowledge: Knowledge, door: list[Sign]) -> Iterator[tuple[Sign, str]]:
    """Unusual readings at the door that no rule hangs anything on."""
    told = {(line.key, value) for rule in knowledge.logic.values() for line in rule.when.all_lines() for value in line.values}
    for sign in door:
        for reading in sign.readings:
            if len(sign.readings) > 2 and reading not in most_usual(knowledge, sign) and (sign.id, reading) not in told:
                yield sign, reading


def answers_of(case: Case) -> dict[str, Answer]:
    return {**case.readings, **{name: a for damage in case.damages for name, a in damage.readings.items()}}


def test_a_whole_interview(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path, "--at", "bench", "--today", "2026-03-02")
    assert NOT_UNDERSTOOD in terminal.type("a throne")
    assert NOT_UNDERSTOOD in terminal.type("99")
    assert "Whose is it?" in terminal.type("dining chair")
    terminal.type("Ms Odd")
    terminal.type(ODD_WORDS)
    for line in ("nothing", "inf", "-5", "0"):
        assert NOT_UNDERSTOOD in terminal.type(line)
    terminal.type("EUR 1,250")
    assert NOT_UNDERSTOOD in terminal.type("plywod")
    assert "At the door" in terminal.type("")

    door = door_signs(knowledge, "bench")
    smell, other = next(mild(knowledge, door))
    number = str(door.index(smell) + 1)
    assert f"from 1 to {len(door)}" in terminal.type(str(len(door) + 1))
    assert asked(knowledge, terminal.type(number)) == smell
    listed = terminal.type("b")
    for sign in door:
        usual = usual_reading(knowledge.scale, sign, FIRST)
        assert f"{sign.ask} {TO_SAY if usual is None else first_up(reading_say(sign, Answer(usual)))}" in listed
    terminal.type(number)
    assert f"{smell.ask} {smell.say(other)}" in terminal.type(beginning(smell, other))
    unsaid = to_be_answered(knowledge, "bench")
    assert asked(knowledge, terminal.type("")) == unsaid[0]
    assert f"{smell.ask} {smell.say(other)}" in terminal.type("b"), "back leads to the list again"
    assert not read_case(path, knowledge).readings, "nothing of the list is kept before it is confirmed"
    for line in at_the_door(knowledge, "bench"):
        said = terminal.type(line)
    assert "Joint map" in said
    expected = usual_answers(knowledge, "bench") | {smell.id: Answer((other,), speaker(smell, "bench"))}
    assert dict(read_case(path, knowledge).readings) == expected

    assert "no state of a joint" in terminal.type("1 sings")
    assert "there is no joint 40" in terminal.type("all tight but 40")
    terminal.type("all tight but 1 2")
    assert NOT_UNDERSTOOD in terminal.type("haunted")
    assert "1  left side rail to back leg (moves)" in terminal.type("lo"), "what moves comes first"
    for line in ("1", "back leg", "dowels"):
        terminal.type(line)
    said = terminal.type("n")

    given: list[tuple[Sign, Answer]] = []

    def reply(how: Callable[[Sign, list[str]], tuple[str, str]], unsure: bool = False) -> str:
        """Answer a choose-one or yes/no question, passing over the others."""
        nonlocal said
        sign = asked(knowledge, said)
        while sign.kind not in ("choose_one", "yes_no"):
            said = terminal.type("l")
            sign = asked(knowledge, said)
        line, reading = how(sign, list(sign.readings))
        assert NOT_UNDERSTOOD in terminal.type("99")
        assert NOT_UNDERSTOOD in terminal.type("no such words")
        said = terminal.type(line)
        assert ("So far: " in said and "Advice now: " in said) is ("Nothing changes so far." not in said)
        given.append((sign, Answer((reading,), speaker(sign, "bench"), unsure)))
        return sign.id

    reply(lambda sign, readings: ("1", readings[0]))
    reply(lambda sign, readings: (sign.say(readings[1]).upper() + " ?", readings[1]), unsure=True)

    put_off = asked(knowledge, said)
    said = terminal.type("l")
    untold = asked(knowledge, said)
    assert untold != put_off
    assert "Because " in terminal.type("w")
    said = terminal.type("T")
    given.append((untold, Answer((), speaker(untold, "bench"), cannot_tell=True)))
    assert answers_of(read_case(path, knowledge))[untold.id].cannot_tell

    reply(lambda sign, readings: (beginning(sign, readings[1]) + "?", readings[1]), unsure=True)
    taken_back, _ = given.pop()
    said = terminal.type("b")
    assert asked(knowledge, said) == taken_back
    assert taken_back.id not in answers_of(read_case(path, knowledge))
    reply(lambda sign, readings: ("2?", readings[1]), unsure=True)

    first, was = given[0]
    listed = terminal.type("a")
    line = next(line for line in listed.splitlines() if first.ask and first.ask in line)
    assert NOT_UNDERSTOOD in terminal.type("999")
    assert asked(knowledge, terminal.type(line.split()[0])) == first
    assert answers_of(read_case(path, knowledge))[first.id] == was, "the old answer stays until the new one is given"
    said = terminal.type(str(len(first.readings)))
    given[0] = (first, replace(was, reads=(list(first.readings)[-1],)))
    assert asked(knowledge, said) not in [sign for sign, _ in given]
    said = terminal.type("s")
    assert "Kept in" in said
    assert terminal.code == 0

    of_piece = {sign.id: a for sign, a in given if sign.of == "piece"}
    of_damage = {sign.id: a for sign, a in given if sign.of == "damage"}
    joints = {j.id: "moves" if i < 2 else "tight" for i, j in enumerate(knowledge.pieces["side_chair"].joints)}
    case = read_case(path, knowledge)
    (damage,) = case.damages
    from_the_sheet = {
        name: answer
        for name, answer in damage.readings.items()
        if name not in of_damage and list(readings_here(knowledge, case, damage, knowledge.signs[name])) == list(answer.reads)
    }
    assert damage == Damage(
        id="damage_1",
        kind="loose",
        part="back_leg",
        joint=knowledge.pieces["side_chair"].joints[0].id,
        facts={"joint": "dowel"},
        readings=of_damage | from_the_sheet,
    )
    assert case == Case(
        piece="side_chair",
        taken_in=case.taken_in,
        called="dining chair",
        owner="Ms Odd",
        owner_says=ODD_WORDS,
        value=1250.0,
        joints=joints,
        readings=expected | of_piece,
        damages=(damage,),
    )
    assert str(case.taken_in) == "2026-03-02"


def test_kill_at_every_step_loses_only_the_line_being_typed(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    unsaid = [sign.ask or "" for sign in to_be_answered(knowledge, "counter")]
    door = list(zip(("At the door", *unsaid), at_the_door(knowledge, "counter"), strict=True))
    steps: list[tuple[str, str, Callable[[Case], bool]]] = [
        ("What is it?", "1", lambda c: c.piece == next(iter(knowledge.pieces))),
        ("Whose is it?", "Mr Grey", lambda c: c.owner == "Mr Grey"),
        ("own words?", "it creaks", lambda c: c.owner_says == "it creaks"),
        ("worth, as the owner", "400", lambda c: c.value == 400.0),
        ("Which wood?", "beech", lambda c: c.wood is not None),
        *((word, line, lambda c: not c.readings) for word, line in door[:-1]),
        (*door[-1], lambda c: dict(c.readings) == usual_answers(knowledge, "counter")),
        ("Joint map", "all tight but 2", lambda c: set(c.joints.values()) == {"tight", "moves"}),
        ("What is wrong?", "1", lambda c: c.damages[0].kind == "loose"),
        ("At which joint?", "1", lambda c: c.damages[0].joint is not None),
        ("Which of the two", "1", lambda c: c.damages[0].part is not None),
        ("How is that joint made?", "1", lambda c: len(c.damages[0].facts) == 1),
    ]
    killed_after = {"What is it?", "own words?", unsaid[-1], "What is wrong?", "At which joint?"}
    terminal = Terminal("intake", path)
    for question, line, kept in steps:
        assert question in terminal.said
        terminal.type(line)
        assert kept(read_case(path, knowledge)), question
        if question in killed_after:
            terminal.child.send("half a li")
            terminal.kill()
            assert kept(read_case(path, knowledge)), question
            assert [file.name for file in tmp_path.iterdir()] == [path.name]
            terminal = Terminal("intake", path)
    said = terminal.type("n")
    for _ in range(2):
        before = answers_of(read_case(path, knowledge))
        sign = asked(knowledge, said)
        terminal.type("1")
        terminal.child.send("2")
        terminal.kill()
        now = answers_of(read_case(path, knowledge))
        assert set(now) - set(before) == {sign.id}
        assert {name: now[name] for name in before} == before
        terminal = Terminal("intake", path)
        assert "Is there another damage?" in terminal.said
        said = terminal.type("n")
        assert asked(knowledge, said).id not in now
    terminal.kill()
    assert len(answers_of(read_case(path, knowledge))) == len(usual_answers(knowledge, "counter")) + 2


def test_control_c_says_one_line_and_exits_130(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = to_the_first_question(path, knowledge)
    terminal.type("1")
    before = path.read_bytes()
    said = terminal.press("c")
    assert said.replace("^C", "").strip().splitlines() == ["interrupted; every answer so far is kept"]
    assert terminal.code == 130
    assert path.read_bytes() == before
    assert len(answers_of(read_case(path, knowledge))) > 1


def test_the_end_of_input_stops_as_s_does(tmp_path: Path) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    terminal.type("1")
    said = terminal.press("d")
    assert "Stopped." in said
    assert f"Kept in {path}" in said
    assert terminal.code == 0


def test_bold_only_on_a_terminal_that_wants_it(tmp_path: Path) -> None:
    bold = Terminal("intake", tmp_path / "case.yaml", TERM="xterm", NO_COLOR="")
    assert "\x1b[1mWhat is it?\x1b[0m" in bold.said
    bold.kill()
    plain = Terminal("intake", tmp_path / "case.yaml", TERM="xterm", NO_COLOR="1")
    assert "What is it?" in plain.said
    assert "\x1b" not in plain.said
    plain.kill()


def test_letters_that_no_terminal_should_send_are_survived(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    terminal.type("1")
    terminal.child.ptyproc.write(b"M\x1b[A \xff\xfe e\n")
    assert "own words?" in terminal.listen()
    terminal.kill()
    assert read_case(path, knowledge).owner.startswith("M\x1b[A")


def test_grave_news_is_told_at_the_door(tmp_path: Path, knowledge: Knowledge) -> None:
    """Before anybody has tried a joint of it, and in one line."""
    terminal = Terminal("intake", tmp_path / "case.yaml")
    for line in ("1", "", "", "", ""):
        terminal.type(line)
    grave = {
        line.values[0]: rule.because
        for rule in knowledge.logic.values()
        for effect in rule.then
        for line in rule.when.lines
        if effect.kind == "triage" and effect.target == words.Triage.STAYS_OUT and line.key in usual_answers(knowledge, "counter")
    }
    reading, because = next(iter(grave.items()))
    sign = next(s for s in door_signs(knowledge, "counter") if reading in s.readings)
    terminal.type(str(door_signs(knowledge, "counter").index(sign) + 1))
    terminal.type(str(list(sign.readings).index(reading) + 1))
    news = f"At the door: {words.TRIAGE_SAY[words.Triage.STAYS_OUT]}. {because}"
    enter, *_ = at_the_door(knowledge, "counter")
    said = terminal.type(enter)
    assert news in said.splitlines(), "at once, before anything else is asked"
    assert said.count(news) == 1, "and once is enough"
    assert "Joint map" not in said, "no hands go on what stays outside"
    assert "What is wrong?" in said, "the letter has to say it"
    terminal.kill()


def test_what_is_put_off_at_the_door_is_asked_later(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path)
    for line in ("1", "", "", "", "", "1"):
        terminal.type(line)
    assert "(later)" in terminal.type("l")
    terminal.type("2")
    assert "Cannot be told yet" in terminal.type("t")
    assert "(unsure)" in "".join(terminal.type(line) for line in ("3", "1?"))
    for line in at_the_door(knowledge, "counter"):
        terminal.type(line)
    first, second, third = door_signs(knowledge, "counter")[:3]
    kept = read_case(path, knowledge).readings
    assert first.id not in kept
    assert kept[second.id].cannot_tell
    assert kept[third.id].unsure
    terminal.type("s")
    again = Terminal("intake", path)
    assert "Joint map" in again.said
    assert "At the door" not in again.said
    again.kill()


def test_without_a_terminal_nothing_is_asked(tmp_path: Path, program: Program) -> None:
    path = tmp_path / "case.yaml"
    ran = program("intake", path)
    assert ran.code == 2
    assert ran.out == ""
    (line,) = ran.err.splitlines()
    assert "needs a terminal" in line
    assert "--answers FILE" in line
    assert list(tmp_path.iterdir()) == []


def shuffled(case: Case, seed: int) -> Case:
    """The same case with its answers written in another order."""
    rng = random.Random(seed)

    def mixed(readings: dict[str, Answer]) -> dict[str, Answer]:
        names = list(readings)
        rng.shuffle(names)
        return {name: readings[name] for name in names}

    damages = tuple(replace(damage, readings=mixed(dict(damage.readings))) for damage in case.damages)
    return replace(case, readings=mixed(dict(case.readings)), damages=damages)


def test_answers_from_a_file_in_any_order(tmp_path: Path, program: Program, knowledge: Knowledge) -> None:
    source = read_case(EXAMPLES / "broken_back_leg.yaml", knowledge)
    told, cases = set(), set()
    orders = [source, *(shuffled(source, seed) for seed in (1, 2))]
    assert len({case_text(case, knowledge) for case in orders}) == len(orders)
    for index, case in enumerate(orders):
        answers = tmp_path / f"answers_{index}.yaml"
        answers.write_text(case_text(case, knowledge), encoding="utf-8")
        path = tmp_path / f"case_{index}.yaml"
        ran = program("intake", path, "--at", "bench", "--answers", answers)
        assert ran.code == 0, ran.err
        assert ran.out == ""
        kept = answers_of(read_case(path, knowledge))
        assert kept
        assert kept.items() <= answers_of(source).items()
        cases.add(path.read_text(encoding="utf-8"))
        told.add(program("assess", path, "--json", "--today", "2026-03-02").out)
    assert len(cases) == 1
    assert len(told) == 1
    assert "rule_base" in told.pop()


def test_answers_of_another_piece_are_refused(tmp_path: Path, program: Program, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    path.write_bytes((EXAMPLES / "slack_chair.yaml").read_bytes())
    before = path.read_bytes()
    ran = program("intake", path, "--answers", EXAMPLES / "rocking_table.yaml")
    assert (ran.code, len(ran.err.splitlines())) == (2, 1)
    assert "the answers are of a" in ran.err
    case = read_case(path, knowledge)
    renamed = tmp_path / "renamed.yaml"
    damages = tuple(replace(damage, id=f"other_{damage.id}") for damage in case.damages)
    renamed.write_text(case_text(replace(case, damages=damages), knowledge), encoding="utf-8")
    ran = program("intake", path, "--answers", renamed)
    assert (ran.code, len(ran.err.splitlines())) == (2, 1)
    assert "has no damage other_" in ran.err
    assert path.read_bytes() == before


def go_through(terminal: Terminal, knowledge: Knowledge, most: int) -> list[Sign]:
    """Answer questions with their first reading until the program has enough; the signs asked."""
    signs: list[Sign] = []
    while not terminal.ended and len(signs) < most:
        signs.append(asked(knowledge, terminal.said))
        terminal.type("1")
    if not terminal.ended:
        terminal.type("s")
    return signs


def test_from_photographs_to_the_counter_to_the_bench(tmp_path: Path, knowledge: Knowledge) -> None:
    path = tmp_path / "case.yaml"
    terminal = Terminal("intake", path, "--at", "photos")
    shown = ""
    for line in ("side chair", "", "", "", "", *at_the_door(knowledge, "photos"), "broken", "back leg", "", "", "owner"):
        shown += terminal.type(line)
    assert HEAD["photos"] in shown
    assert "Joint map" not in shown, "a joint is tried by hand"
    terminal.type("no")
    from_photos = go_through(terminal, knowledge, 30)
    case = read_case(path, knowledge)
    kept = answers_of(case)
    assert from_photos
    assert {sign.id for sign in from_photos} <= set(kept)
    assert {knowledge.signs[name].effort for name in kept} <= {"ask", "look"}
    asked_of_owner = {name: knowledge.signs[name].effort == "ask" for name in kept}
    assert all(answer.by == ("owner" if asked_of_owner[name] else "photograph") for name, answer in kept.items())
    assert not all(asked_of_owner.values())

    terminal = Terminal("intake", path, "--at", "counter")
    assert "Joint map" in terminal.said, "and it is tried at the counter"
    assert "At the door" not in terminal.said
    terminal.type("all tight")
    terminal.type("no")
    at_counter = go_through(terminal, knowledge, 30)
    assert {sign.effort for sign in at_counter} <= words.PLACES["counter"]
    assert not {s.id for s in at_counter} & {s.id for s in from_photos}
    now = answers_of(read_case(path, knowledge))
    assert {name: now[name] for name in kept} == kept
    assert all(now[sign.id].by in ("seen", "measured", "owner") for sign in at_counter)

    terminal = Terminal("intake", path, "--at", "bench")
    terminal.type("no")
    at_bench = go_through(terminal, knowledge, 4)
    last = answers_of(read_case(path, knowledge))
    assert {name: last[name] for name in now} == now
    assert len(last) == len(now) + len(at_bench)
    assert len(from_photos) + len(at_counter) + len(at_bench) >= 6


@pytest.mark.parametrize(
    ("line", "reads", "measured"),
    [("0.4 mm", "snug", "0.4 mm"), ("2", "loose", ""), ("2 mm?", "loose", "2 mm"), ("1/8 in", "loose", "1/8 in")],
)
def test_a_figure_is_a_figure_and_a_number_is_a_choice(line: str, reads: str, measured: str) -> None:
    sign = Sign.model_validate(
        {
            "id": "gap",
            "kind": "measure",
            "of": "damage",
            "ask": "How wide?",
            "look": "Slide a leaf in.",
            "station": "break",
            "effort": "measure",
            "measure": {"unit": "mm", "from": 0, "to": 6},
            "readings": {"snug": {"upto": 0.5}, "loose": {"upto": 6}},
            "sources": ["common_practice"],
            "status": "draft",
        }
    )
    expected = Answer((reads,), "measured", unsure=line.endswith("?"), measured=measured)
    assert understood(sign, line, "bench") == expected
    assert "outside 0 to 6 mm" in str(understood(sign, "7 mm", "bench"))
    assert "has no unit" in str(understood(sign, "0.4", "bench"))


@pytest.mark.parametrize(
    ("text", "amount"),
    [("350", 350.0), ("EUR 1,250", 1250.0), ("1.250,50", 1250.5), ("12,50", 12.5), ("1 €", 1.0), ("$0.5", 0.5)],
)
def test_sums_of_money_as_people_write_them(text: str, amount: float) -> None:
    assert parse_amount(text) == amount


@pytest.mark.parametrize("text", ["", "nothing", "-5", "0", "1e400", "inf", "nan", "1 to 2", "9" * 12])
def test_what_is_no_sum_of_money(text: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(text)}$"):
        parse_amount(text)


def test_maps_of_every_state() -> None:
    joints = ["a", "b", "c", "d"]
    for state, label in words.JOINT_STATES.items():
        assert parse_map(f"all {label}", joints) == dict.fromkeys(joints, state)
        assert parse_map(f"2 4 {label}", joints) == {"b": state, "d": state}
    assert parse_map("", joints) == {}
    assert parse_map("all tight but 1 3; 4 cannot be reached", joints) == {
        "a": "moves",
        "b": "tight",
        "c": "moves",
        "d": "cannot_be_reached",
    }
    for said, state in SPOKEN_STATES.items():
        assert parse_map(f"1 {said}", joints) == {"a": state}
    assert parse_map("1 to 3 loose, 4 tight", joints) == {"a": "moves", "b": "moves", "c": "moves", "d": "tight"}
    assert parse_map("all tight but 2 broken", joints) == {"a": "tight", "b": "broken", "c": "tight", "d": "tight"}
    assert parse_map("don't know", joints) == {}
    for wrong in ("all sing", "5 move", "moves", "0 open", "1-9 move", "1 loose and 2 tight"):
        with pytest.raises(ValueError, match=r"is no state|there is no joint|names no joint"):
            parse_map(wrong, joints)
