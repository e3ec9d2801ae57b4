"""A rule base of three causes without a fault in it, as readable text, and the means to change one line of it."""

from dataclasses import dataclass
from pathlib import Path

from diagnose.rulebase.fault import Mark

# Where a changed line carries this sign, a fault is expected at the character behind it.
HERE = "‸"

SCALE = """\
scale:
  words: {nearly_always: 0.95, usually: 0.80, often: 0.60, sometimes: 0.30, seldom: 0.10, hardly_ever: 0.02}
  happens: {common: 0.15, regular: 0.06, rare: 0.003}
  treats: {fully: 0.02, mostly: 0.2}
  keeps: {all: 1.0, most: 0.9, none: 0.0}
  effort: {ask: 0.5, look: 1, touch: 1, measure: 2}
  off_by: {sure: 0.02, owner: 0.10, photograph: 0.10, unsure: 0.40}
  together: 0.6
  something_else: 0.05
  something_else_returns: sometimes
  turning: 1
  sources: [common_practice]
"""

SOURCES = """\
sources:
  - id: common_practice
    title: What most shops do
    kind: practice
    known_by: judgement
  - id: joints_study
    title: A study of glued joints
    year: 1998
    kind: study
    known_by: read
  - id: old_notebook
    title: What was once read somewhere
    kind: notebook
    known_by: memory
"""

PIECES = """\
pieces:
  - id: side_chair
    name: Side chair
    group: chair
    also_called: [dining chair]
    parts:
      back_leg: {count: 2, section: [28, 42], carries: person}
      side_rail: {count: 2, section: [20, 60], carries: person}
    joints:
      - id: left_rail_to_back_leg
        joins: [back_leg, side_rail]
        kind: [mortise_and_tenon, dowel]
      - id: right_rail_to_back_leg
        joins: [back_leg, side_rail]
        kind: [mortise_and_tenon, dowel]
    healthy_load: a_person_leaning_back
    sources: [common_practice]
"""

# Three signs that count in full: one of each kind with readings of its own.
SIGNS = """\
signs:
  - id: break_path
    kind: choose_one
    of: damage
    ask: Which way does the break run?
    look: Turn the part under a low lamp and follow the fresh edge.
    station: break
    effort: look
    gone_after: [clean, fit_dry]
    when: {damage: [broken, split, loose]}
    readings:
      along_glue_line:
        say: Along the glue line
        background: often
      beside_glue_line:
        say: In the wood, beside the glue line
        background: sometimes
      across_part:
        say: Straight across the part
        background: seldom
    sources: [common_practice]
  - id: joint_gap
    kind: measure
    of: damage
    ask: How wide is the gap round the tenon?
    look: Slide feeler leaves in until one just drags.
    station: inside_joint
    effort: measure
    measure: {unit: mm, from: 0, to: 6}
    readings:
      snug: {upto: 0.15}
      loose: {upto: 0.5}
      slack: {upto: 6}
    sources: [{joints_study: table 3}]
  - id: faces_carry
    kind: tick_all
    of: damage
    ask: What is on the faces that were glued?
    look: Scratch with a fingernail.
    station: inside_joint
    effort: touch
    when: {break_path: along_glue_line}
    readings:
      finish:
        say: Finish
        background: hardly_ever
      old_glue:
        say: Old glue
        background: sometimes
    sources: [common_practice]
"""

# Five more that count half, so that no cause has a thin row.
MORE_SIGNS = """\
signs:
  - id: fell_over
    kind: yes_no
    of: damage
    ask: Did it fall over?
    look: Ask who was there.
    station: owner
    effort: ask
    counts: half
    readings:
      yes: {background: seldom}
      no: {}
    sources: [common_practice]
  - id: leaned_back
    kind: yes_no
    of: piece
    ask: Does somebody lean back in it?
    look: Ask who sits in it.
    station: owner
    effort: ask
    counts: half
    readings:
      yes: {background: sometimes}
      no: {}
    sources: [common_practice]
  - id: refinished
    kind: yes_no
    of: piece
    ask: Was it refinished?
    look: Ask, and look under the seat.
    station: owner
    effort: ask
    counts: half
    readings:
      yes: {background: seldom}
      no: {}
    sources: [common_practice]
  - id: creaks
    kind: yes_no
    of: damage
    ask: Does it creak?
    look: Sit on it and rock.
    station: standing
    effort: look
    counts: half
    readings:
      yes: {background: sometimes}
      no: {}
    sources: [common_practice]
  - id: moving_joints
    kind: choose_one
    of: piece
    counts: half
    computed: {by: moving_joints, from: [creaks]}
    readings:
      none: {say: No joint}
      one: {say: One joint}
      two: {say: Two joints}
      three_or_more: {say: Three joints or more}
    sources: [common_practice]
"""

CAUSES = """\
causes:
  - id: finish_on_face
    name: Finish on the faces that were glued
    family: bond
    role: made_in
    when: {damage: loose}
    happens: regular
    except:
      - when: {joint: dowel}
        happens: rare
    shows:
      break_path: {along_glue_line: nearly_always}
      joint_gap: {snug: usually}
      faces_carry: {finish: nearly_always}
      fell_over: {yes: hardly_ever}
      leaned_back: {yes: seldom}
      refinished: {yes: often}
      creaks: {yes: seldom}
      moving_joints: {one: often}
    returns: usually
    explains: The glue held the finish and the finish let go of the wood.
    owner: Varnish had run into the joint, so the glue never reached the wood.
    sources: [common_practice]
  - id: gap_too_wide
    name: The tenon was made too thin
    family: fit
    role: made_in
    when: {damage: loose}
    happens: common
    shows:
      break_path: {along_glue_line: usually}
      joint_gap: {slack: usually, snug: hardly_ever}
      faces_carry: {old_glue: usually}
      fell_over: {yes: hardly_ever}
      leaned_back: {yes: often}
      refinished: {yes: seldom}
      creaks: {yes: usually}
      moving_joints: {two: sometimes}
    returns: by_strength
    made_too_weak: yes
    explains: A thick glue line is weak and shrinks as it dries.
    owner: The joint had been cut too wide for its tenon.
    sources: [{joints_study: table 2}]
  - id: overload
    name: More load than the part could carry
    family: load
    role: set_off
    happens: regular
    shows:
      break_path: {beside_glue_line: often, across_part: sometimes}
      joint_gap: {snug: often}
      faces_carry: {old_glue: seldom}
      fell_over: {yes: usually}
      leaned_back: {yes: usually}
      refinished: {yes: seldom}
      creaks: {yes: seldom}
      moving_joints: {none: often}
    returns: sometimes
    explains: Once is enough.
    owner: It was loaded harder than it was made for.
    sources: [common_practice]
"""

METHODS = """\
methods:
  - id: reglue_cleaned
    name: Take apart, clean to bare wood, glue again
    owner: We take the joint apart and glue it afresh.
    stays_visible: Nothing.
    class: reglue
    when: {damage: loose}
    unless: {break_path: across_part}
    treats: {bond: mostly, finish_on_face: fully, gap_too_wide: mostly}
    keeps: all
    strength: reglued_joint
    steps: [part_joint, scrape_to_bare_wood, spread_glue, clamp]
    sources: [common_practice]
  - id: new_rail
    name: Make a new rail
    owner: We make the broken part anew.
    stays_visible: The new wood is a little paler.
    class: replace_part
    treats: {load: mostly}
    keeps: most
    strength: new_part
    steps: [part_joint, spread_glue, clamp]
    sources: [common_practice]
"""

STEPS = """\
steps:
  - id: part_joint
    phase: take_apart
    per: bond
    do: Ease the joint apart.
    why: Nothing can be cleaned while it is shut.
    minutes: [5, 10, 30]
    undo: yes
    sources: [common_practice]
  - id: scrape_to_bare_wood
    phase: clean
    per: bond
    do: Scrape {bond.faces} back to bare wood; keep the fit.
    why: Glue laid on anything else holds no better than that does.
    minutes: [5, 10, 25]
    then: [3, 6, 15]
    wait: 0 min
    after: [part_joint]
    hazards: [scraping_dust]
    uses: {abrasive_sheet: 0.5}
    check: {sign: faces_carry, reads: old_glue}
    undo: no
    sources: [common_practice]
  - id: spread_glue
    phase: glue
    per: bond
    do: Spread glue on both faces.
    why: A dry face drinks it all.
    minutes: [2, 3, 5]
    after: [scrape_to_bare_wood]
    undo: yes
    sources: [common_practice]
  - id: clamp
    phase: cure
    per: piece
    do: Clamp and leave alone.
    why: It holds once it is hard.
    minutes: [3, 5, 9]
    wait: 24 h
    after: [spread_glue]
    undo: yes
    sources: [common_practice]
"""

LOGIC = """\
logic:
  - id: finish_stops_glue
    protects: bond
    when: {faces_carry: finish, damage: loose}
    unless: {faces_carry: {all: [finish, old_glue]}}
    then:
      - finding: bond_blocked
      - require: scrape_to_bare_wood
      - caution: scraping_dust
    because: Glue laid on a finish holds no better than the finish does.
    sources: [common_practice]
"""

STORIES = """\
stories:
  - name: Varnish in the socket of a rail
    given: {piece: side_chair, damage: loose, break_path: along_glue_line, faces_carry: [finish], joint_gap: 0.1 mm}
    expect:
      first_cause: finish_on_face
      rules: [finish_stops_glue]
      class: reglue
  - name: Old glue and no varnish
    given: {piece: chair, damage: loose, break_path: along_glue_line, faces_carry: [old_glue]}
    never:
      rules: [finish_stops_glue]
"""

CAUTIONS = """\
cautions:
  - id: scraping_dust
    hazard: The dust of an old finish may hold lead.
    do: Scrape wet and wear a mask.
    authority: common_practice
    sources: [common_practice]
"""

FINDINGS = """\
findings:
  - id: bond_blocked
    say: Something lies between the glue and the wood
    sources: [common_practice]
  - id: never_concluded
    say: Nobody says this yet
    sources: [common_practice]
"""

CONSUMABLES = """\
materials:
  consumables:
    - id: abrasive_sheet
      name: Sheet of abrasive
      unit: each
      price: [0.5, 0.8, 1.2]
      sources: [common_practice]
"""

FILES = {
    "scale.yaml": SCALE,
    "sources.yaml": SOURCES,
    "pieces.yaml": PIECES,
    "signs/break.yaml": SIGNS,
    "signs/more.yaml": MORE_SIGNS,
    "causes/joint.yaml": CAUSES,
    "methods/joint.yaml": METHODS,
    "steps/joint.yaml": STEPS,
    "logic/bond.yaml": LOGIC,
    "logic/bond.cases.yaml": STORIES,
    "cautions.yaml": CAUTIONS,
    "findings.yaml": FINDINGS,
    "materials/consumables.yaml": CONSUMABLES,
}


@dataclass(frozen=True)
class Change:
    """In `file`, `old` (which stands there once) becomes `new`; with no `old`, `new` is added at the end."""

    file: str
    old: str
    new: str

    def and_here(self, old: str, new: str) -> tuple["Change", "Change"]:
        """This change and another in the same file."""
        return self, Change(self.file, old, new)

    def and_there(self, other: "Change") -> tuple["Change", "Change"]:
        """This change and one in another file."""
        return self, other

    def made(self, text: str) -> str:
        """The text with the change made."""
        if not self.old:
            return text + self.new
        assert text.count(self.old) == 1, f"{self.old!r} stands {text.count(self.old)} times in {self.file}"
        return text.replace(self.old, self.new)


def small_rules(into: Path, *changes: Change) -> tuple[Path, Mark | None]:
    """Writes the rule base into `into`/rules; gives the folder, and the place that a change marks with HERE."""
    texts = dict(FILES)
    for change in changes:
        texts[change.file] = change.made(texts.get(change.file, ""))
    folder = into / "rules"
    place = None
    for name, text in texts.items():
        if HERE in text:
            before = text[: text.index(HERE)]
            place = Mark(f"rules/{name}", before.count("\n") + 1, len(before) - before.rfind("\n"))
            text = text.replace(HERE, "")
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder, place
