import { render } from "preact";
import { startUpdates } from "./offline/start-updates.ts";
import { allowOwnScripts } from "./trusted-scripts.ts";

/** COMPOSITION ROOT: the only file that builds adapters and hands them to the faces. */
allowOwnScripts(globalThis as unknown as Parameters<typeof allowOwnScripts>[0]);
startUpdates();

function Start() {
  return (
    <main>
      <h1>Fourfast</h1>
      <p>Every restraint made fast before the air goes on.</p>
    </main>
  );
}

const place = document.getElementById("app");
if (place) {
  place.replaceChildren();
  render(<Start />, place);
}
