import type { Crew } from "./crew.ts";

/** Played by a crew on a stand, with a picture at each turn. Without an act: a nominal run, every screen. */
export type Scene = {
  readonly name: string;
  readonly stand: RegExp;
  readonly act?: (crew: Crew, shoot: (what: string) => Promise<void>) => Promise<void>;
};

const HERON = /Heron/;
const KINGFISHER = /Kingfisher/;

/** From here on the device has no room; `makeRoom` of the page undoes it. */
export const fillStore = (crew: Crew): Promise<void> =>
  crew.page.evaluate(`
    window.makeRoom = ((add) => () => { IDBObjectStore.prototype.add = add; })(IDBObjectStore.prototype.add);
    IDBObjectStore.prototype.add = () => { throw new DOMException("no room", "QuotaExceededError"); };
  `);

/** Goes on until then, and takes the picture. */
const upTo = async (crew: Crew, shoot: (what: string) => Promise<void>, start: string): Promise<void> => {
  await crew.until((screen) => screen.startsWith(start));
  await shoot(start.replaceAll(" ", "-"));
};

/** Taps it, and takes the picture of what comes. */
const tapped = async (
  crew: Crew,
  shoot: (what: string) => Promise<void>,
  name: string | RegExp,
  what: string,
): Promise<void> => {
  await crew.tapNamed(name);
  await crew.screen();
  await shoot(what);
};

/** The way without holding, looked at and left. */
const twoTaps = async (crew: Crew, shoot: (what: string) => Promise<void>): Promise<void> => {
  await tapped(crew, shoot, /two taps/, "two-taps");
  await crew.tapNamed("Not now");
  await crew.screen();
};

export const SCENES: readonly Scene[] = [
  { name: "nominal-heron", stand: HERON },
  { name: "nominal-kingfisher", stand: KINGFISHER },
  {
    name: "menus",
    stand: HERON,
    act: async (crew, shoot) => {
      await upTo(crew, shoot, "step water-temperature");
      await tapped(crew, shoot, "Skip…", "skip");
      await crew.tapNamed("Back to the run");
      await crew.until((screen) => screen.startsWith("acts collar-on"));
      await tapped(crew, shoot, "Say what happened", "reports-cold");
      await tapped(crew, shoot, "Menu…", "menu");
      await tapped(crew, shoot, "Crew and phone…", "crew");
      await crew.tapNamed("Back to the run");
      await crew.report("Say more…");
      await crew.screen();
      await tapped(crew, shoot, "Correct a mistake…", "correct");
      await tapped(crew, shoot, /Ran free/, "correct-what-falls");
      await crew.tapNamed("Back to the run");
      await crew.report("Say more…");
      await crew.screen();
      await shoot("say-more");
      await tapped(crew, shoot, "A gauge reads…", "gauge");
      await crew.tapNamed("Back to the run");
      await crew.report("Menu…");
      await crew.screen();
      await tapped(crew, shoot, "The log", "log");
    },
  },
  {
    name: "holds",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen.startsWith("step seat-stopper"));
      await tapped(crew, shoot, "Hold", "called");
      await tapped(crew, shoot, "Clear the hold", "clear");
      await crew.clearHold("conductor", "installer");
      await shoot("return");
      await crew.until((screen) => screen.startsWith("step upside-down"));
      await tapped(crew, shoot, "Drops", "drops-found");
      await crew.until((screen) => screen.startsWith("step lines-look"));
      await crew.page.reload();
      await crew.screen();
      await shoot("restarted");
    },
  },
  {
    name: "restraints",
    stand: HERON,
    act: async (crew, shoot) => {
      await upTo(crew, shoot, "restraint 1 B");
      await tapped(crew, shoot, "Part closed", "catch");
      await upTo(crew, shoot, "hand-over verifier");
      await crew.tap("form.reading input");
      await crew.type("JO2");
      await crew.enter();
      await shoot("wrong-code");
      await crew.page.locator("form.reading input").fill("");
      await upTo(crew, shoot, "restraint 2 C");
      await tapped(crew, shoot, "Open", "mismatch");
      await tapped(crew, shoot, "Clear the hold", "mismatch-clear");
      await crew.clearHold("conductor", "verifier");
      await shoot("mismatch-return");
      await upTo(crew, shoot, "gate line-called");
      await crew.report("Latch B open");
      await crew.screen();
      await shoot("report-after-proof");
    },
  },
  {
    name: "window",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen.startsWith("gate arm-called"));
      await twoTaps(crew, shoot);
      await upTo(crew, shoot, "zero");
      await crew.page.waitForTimeout(15_500);
      await shoot("clear-stale");
      await crew.tapNamed("Swept: all clear");
      await crew.screen();
      await crew.tapNamed("Zeroed");
      await crew.page.waitForTimeout(1500);
      await shoot("count");
      await crew.page.waitForTimeout(5000);
      await shoot("missed");
      await tapped(crew, shoot, "Nobody pulled", "after-missed");
      await crew.report("Line crossed");
      await crew.screen();
      await shoot("crossed");
    },
  },
  {
    name: "misfire-heron",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen === "count");
      await tapped(crew, shoot, "Nothing happened", "misfire");
      await upTo(crew, shoot, "empty");
      await twoTaps(crew, shoot);
      await crew.pressHold();
      await crew.screen();
      await shoot("pulled");
      await tapped(crew, shoot, "Nothing happened", "pull-in-vain");
      await crew.until((screen) => screen.startsWith("empty"));
      await tapped(crew, shoot, "Swept: all clear", "last-pull");
      await crew.pressHold();
      await crew.screen();
      await tapped(crew, shoot, "Nothing happened", "no-pull-left");
      await tapped(crew, shoot, /^Pressure unresolved/, "declare");
      await crew.tap("textarea");
      await crew.type("The slide is jammed");
      await tapped(crew, shoot, "Write it down", "unresolved");
      await tapped(crew, shoot, /^Responsible person/, "responsible-person");
    },
  },
  {
    name: "misfire-kingfisher",
    stand: KINGFISHER,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen === "count");
      await tapped(crew, shoot, "Nothing happened", "misfire");
      await upTo(crew, shoot, "step bleed");
      await upTo(crew, shoot, "step vent");
      await upTo(crew, shoot, "waiting");
    },
  },
  {
    name: "unknown",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen.startsWith("gate pressure-called"));
      await crew.page.reload();
      await crew.screen();
      await shoot("unknown");
      await tapped(crew, shoot, "Make safe", "making-safe");
    },
  },
  {
    name: "odd-report",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen.startsWith("step half"));
      await tapped(crew, shoot, "Say what happened", "reports-hot");
      await tapped(crew, shoot, "It went early", "went-early");
      await crew.report("Latch A open");
      await crew.screen();
      await shoot("open-while-safing");
    },
  },
  {
    name: "not-saved",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => screen.startsWith("step seat-stopper"));
      await fillStore(crew);
      await crew.tap(".page .go");
      await crew.page.getByText("NOT SAVED").waitFor({ timeout: 15_000 });
      await crew.screen();
      await shoot("refused");
      await crew.tapNamed("Back to the run");
      await crew.screen();
      await shoot("step");
      await tapped(crew, shoot, "Say what happened", "reports");
      await crew.tapNamed("Back to the run");
      await tapped(crew, shoot, "Hold", "hold");
    },
  },
  {
    name: "not-saved-hot",
    stand: HERON,
    act: async (crew, shoot) => {
      await crew.until((screen) => /^step half.*answer/.test(screen));
      await fillStore(crew);
      await crew.tap(".answers-good .button");
      await crew.page.getByText("NOT SAVED").waitFor({ timeout: 15_000 });
      await crew.screen();
      await crew.tapNamed("Back to the run");
      await crew.screen();
      await shoot("step");
    },
  },
  {
    name: "drill",
    stand: HERON,
    act: async (crew, shoot) => {
      await upTo(crew, shoot, "step line-out");
      await upTo(crew, shoot, "gate fill-called");
    },
  },
];
