import { useEffect, useState } from "preact/hooks";
import type { Throw } from "../../core/propulsion/throw.ts";
import type { Result } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { Preferences } from "../ports.ts";
import type { LiveRun } from "../session/live-run.ts";
import { issueWords } from "../text.ts";
import { setMuted } from "./senses.ts";
import type { Crew } from "./sign-on-screen.tsx";
import { Stand } from "./stand.tsx";

export type OpenStandProps = {
  readonly log: string;
  readonly open: (log: string) => Promise<Result<LiveRun>>;
  readonly lastCrew: (log: string, rig: string) => Promise<Crew | undefined>;
  readonly estimate: (rig: Rig) => Promise<Throw | undefined>;
  readonly carry: (run: LiveRun, way: "share" | "save") => Promise<string>;
  readonly onLeave: () => void;
  readonly preferences: Preferences;
};

/** From an address to the face: opened, or why not. What is only nice to have comes when it comes. */
export function OpenStand({ log, open, lastCrew, estimate, carry, onLeave, preferences }: OpenStandProps) {
  const [opened, setOpened] = useState<Result<LiveRun>>();
  const [crew, setCrew] = useState<Crew>();
  const [thrown, setThrown] = useState<Throw>();
  useEffect(() => {
    let gone = false;
    setMuted(preferences.read("sound") === "off");
    void open(log).then((result) => {
      if (gone) return;
      setOpened(result);
      if (!result.ok) return;
      const { rig } = result.value.view();
      void lastCrew(log, rig.id).then(setCrew);
      void estimate(rig).then(setThrown);
    });
    return () => {
      gone = true;
    };
  }, [log]);
  if (!opened) return <p class="opening">Opening the run …</p>;
  if (!opened.ok)
    return (
      <main class="start">
        <h1>This run cannot be opened</h1>
        <ul>
          {opened.issues.map(issueWords).map(({ what, todo }) => (
            <li key={what}>
              {what} {todo}
            </li>
          ))}
        </ul>
        <p>Nothing of it was changed. If pressure may be on the stand, go by the paper card: make safe.</p>
        <p>
          <a href="#/">Start page</a>
        </p>
      </main>
    );
  const run = opened.value;
  return (
    <Stand
      run={run}
      lastCrew={crew}
      estimate={thrown}
      carry={(way) => carry(run, way)}
      onLeave={onLeave}
      preferences={preferences}
    />
  );
}
