/**
 * What can go wrong at a stand that fires a bottle of water and air, judged before any control.
 * The numbers are the ones that facts and steps name; docs/hazards.md is printed from this table.
 * Severity and likelihood are our own judgement, 1 to 5; there are no statistics of such stands.
 */
export type Hazard = {
  readonly id: string;
  readonly failure: string;
  readonly effect: string;
  /** 5 lasting injury, 4 injury needing treatment, 3 bruise or damage, 2 lost test, 1 nuisance. */
  readonly severity: 1 | 2 | 3 | 4 | 5;
  /** 5 each day, 4 each week, 3 some runs a term, 2 rare, 1 not seen. */
  readonly likelihood: 1 | 2 | 3 | 4 | 5;
  readonly prevent: string;
  readonly detect: string;
  readonly respond: string;
  /** `steps`: a procedure must name it. `tool`: the sequence or the screen answers it by itself. */
  readonly answeredBy: "steps" | "tool";
};

type Row = readonly [
  failure: string,
  effect: string,
  severity: Hazard["severity"],
  likelihood: Hazard["likelihood"],
  prevent: string,
  detect: string,
  respond: string,
];

const ROWS: readonly Row[] = [
  [
    "A restraint is not closed",
    "The bottle leaves the stand under full thrust",
    5,
    4,
    "All are closed in one read-and-do step, apart from the looks",
    "Two looks by two people with a pull between; marks seen again from the line",
    "Charged: nobody touches it; make safe",
  ],
  [
    "A restraint is half closed",
    "It opens on the jolt; a glance and a light tug miss it",
    5,
    4,
    "“Part closed” is an answer of its own; nothing is preselected",
    "Touched at each look; a pull of stated force before the second",
    "First look: press home, look again. Second look: hold",
  ],
  [
    "The stopper leaks upside down",
    "Wet line and people, low fill, a sudden letting go",
    3,
    3,
    "Soaped and seated by hand",
    "Held upside down over a bucket at no pressure",
    "Seal again; what rested on it falls",
  ],
  [
    "The one-way valve leaks back",
    "Water in line, gauge and regulator; false readings",
    3,
    3,
    "Arrow looked at, line dry before use",
    "Line looked along before and after each run",
    "Tag out, call staff; charged: shut, leave the coupling, make safe",
  ],
  [
    "The one-way valve holds while the line is bled",
    "The line reads zero, the bottle is full, somebody approaches",
    5,
    3,
    "The rig declares how a charged bottle is emptied",
    "A gauge on the bottle side, or the opening seen free and silent",
    "No approach; empty it by the rig's way",
  ],
  [
    "Pressure stays in the line after the regulator is lowered",
    "The hose whips when it is undone",
    4,
    4,
    "Set from below; bled after lowering",
    "Line gauge read before uncoupling and after bleeding",
    "Bleed again, read again",
  ],
  [
    "The wrong gauge or the wrong unit is read",
    "Too much pressure, or a false zero",
    5,
    3,
    "Steps name the gauge; numbers are typed with its own unit",
    "Gauges read at zero first; two are compared",
    "Hold or make safe",
  ],
  [
    "Too much pressure",
    "The bottle bursts: fragments, the plug thrown",
    5,
    2,
    "Set pressure under the owner's limit; raised in steps; supply in its band",
    "A reading above the limit makes safe at once",
    "Shut the supply, empty from the line",
  ],
  [
    "The bottle is old, sunburnt or dented",
    "It bursts below its limit",
    5,
    2,
    "Shots counted against the owner's number",
    "Looked at and felt before each run",
    "Scrap it and log it",
  ],
  [
    "The line is pinched or kinked",
    "The gauge stands above the bottle; a slow fill, a late jump",
    4,
    3,
    "Laid along its guides before the collar goes in",
    "Looked along after seating; a still reading before going on",
    "Hold; make safe",
  ],
  [
    "The supply is open at the release",
    "It empties through the bottle; the hose whips; the data are spoilt",
    4,
    3,
    "Shut and uncoupled before arming",
    "Handles looked at; “air was on” can be said in any state",
    "Make safe; shut it from its place outside the sectors",
  ],
  [
    "The regulator stands in the splash",
    "A hand goes in to save it",
    3,
    4,
    "Set out at its mark before the fill",
    "Looked at with the line and the cones",
    "Moved only at zero",
  ],
  [
    "Somebody stands beside the stand or in line with the opening",
    "Struck by slide, plug or jet",
    5,
    3,
    "Line, cones and sectors set out; glasses on",
    "Swept and called clear, and again just before the zero",
    "“Someone crossed” takes clear away and holds",
  ],
  [
    "The cord is caught, the slide jams",
    "A full bottle that may go at any touch",
    5,
    3,
    "Run free dry; cord laid in its guides",
    "“Nothing happened”",
    "Misfire: wait, empty by the rig's way; only then approach",
  ],
  [
    "The slide goes early",
    "A release with people near",
    5,
    2,
    "Cord slack and guarded; people away before it is in hand",
    "“It went early” can be said in any state",
    "As after a release: shown empty, wait, approach",
  ],
  [
    "A safety pin is left in",
    "No release, a false misfire, somebody walks in",
    5,
    3,
    "The dry run shows the release as it will be used",
    "“Nothing happened”",
    "Treated as a misfire, never just pulled",
  ],
  [
    "The window after the zero is missed",
    "Useless data, and hurry at the next try",
    2,
    4,
    "Everything is said before the zero; nothing is tapped after it",
    "The count, judged by the stamps",
    "Costs nothing: call again, zero again, within the rig's number",
  ],
  [
    "A word is misheard",
    "A release that is early or blind",
    4,
    3,
    "Fixed words, repeated back, before the zero",
    "The reply that must come back is on the screen",
    "Stop, and say the whole call again",
  ],
  [
    "The phone dies",
    "The place is lost; a crew that guesses",
    5,
    3,
    "Charge checked; each act saved before it shows; a paper card at the line",
    "The screen says when it is not saved",
    "Unknown: treated as pressurised, by the card",
  ],
  [
    "Somebody is interrupted in the middle of a step",
    "The step stays half done",
    5,
    4,
    "Hold is one tap on every screen",
    "Screen lock, another app or two idle minutes count as interruptions",
    "The step is done again, the one before read again",
  ],
  [
    "Taps by rote",
    "Everything is answered and nothing looked at",
    5,
    4,
    "Answers are states; first answers are hidden; order is changed",
    "Answers under a second, evenly spaced answers, in the review",
    "Talked over after the run; the method is changed",
  ],
  [
    "One person gives both looks",
    "The second look is lost",
    5,
    4,
    "Roles that differ never meet in one person; own code at the hand-over",
    "Refused, and logged",
    "Another person verifies",
  ],
  [
    "The bottle is moved after the looks",
    "The looks say nothing any more",
    5,
    3,
    "Whatever opens or moves takes the proof away",
    "“Bottle moved” and “restraint open” in two taps",
    "Back to the mount; the whole proof again",
  ],
  [
    "A long stay at pressure",
    "The bottle creeps; a burst grows likelier",
    4,
    2,
    "The rig's limits on time at pressure and on zeros",
    "The clock runs from the first air",
    "Make safe",
  ],
  [
    "Water or a glove taps the screen",
    "A wrong answer",
    4,
    3,
    "Large controls far apart; what leads on is pressed and held",
    "Each act shows at once and sounds",
    "Corrected by an entry that names it; both stay",
  ],
  [
    "The stand is not anchored",
    "The whole stand moves or falls",
    4,
    2,
    "Looked at when the line is set out",
    "The pull test pulls on the stand as well",
    "Stop; anchor it",
  ],
  [
    "A cold or dry plug sticks, then lets go",
    "A late release after a “misfire”",
    5,
    2,
    "Soaped; seated by hand",
    "The opening watched from the line",
    "Wait and empty before anybody approaches",
  ],
];

/** The window, interruptions, rote, one person twice, a long stay, false touches. */
const ANSWERED_BY_THE_TOOL: readonly string[] = ["17", "20", "21", "22", "24", "25"];

export const HAZARDS: readonly Hazard[] = ROWS.map(
  ([failure, effect, severity, likelihood, prevent, detect, respond], at) => {
    const id = String(at + 1);
    const answeredBy = ANSWERED_BY_THE_TOOL.includes(id) ? "tool" : "steps";
    return { id, failure, effect, severity, likelihood, prevent, detect, respond, answeredBy };
  },
);
