import { useEffect, useState } from "preact/hooks";
import type { ReadinessItem } from "../ports.ts";
import { Button } from "../widgets/button.tsx";

const VERDICT: Record<ReadinessItem["verdict"], string> = {
  ready: "ready",
  attention: "look at this",
  "not-ready": "NOT READY",
  unknown: "not told by this browser",
};

/** Green before a real run: what this device must be able to do where nobody can help it. */
export function ReadinessCard({ probe }: { readonly probe: () => Promise<readonly ReadinessItem[]> }) {
  const [items, setItems] = useState<readonly ReadinessItem[]>();
  const look = () => {
    setItems(undefined);
    void probe().then(setItems);
  };
  useEffect(look, []);
  const ready = items?.every(({ verdict }) => verdict === "ready" || verdict === "unknown");
  return (
    <section aria-labelledby="ready" class={ready ? "ready-card all" : "ready-card"}>
      <h2 id="ready">
        {items ? (ready ? "This phone is ready" : "Before a real run") : "Checking this phone …"}
      </h2>
      <ul>
        {items?.map((item) => (
          <li key={item.code} class={item.verdict}>
            <b>{VERDICT[item.verdict]}</b> {wordsOf(item)}
          </li>
        ))}
      </ul>
      <Button onPress={look}>Check again</Button>
    </section>
  );
}

const CLOCK_FAULT = {
  "before-release": "The clock is years behind: set it.",
  "before-newest-entry": "The clock is behind the newest entry: set it.",
  "moved-back": "The clock moved back: set it.",
};

const wordsOf = (item: ReadinessItem): string => {
  const fine = item.verdict === "ready";
  switch (item.code) {
    case "offline-copy":
      return fine
        ? "Works without a network."
        : `Not whole on this device: ${item.missing.length || item.expected} files missing. Open it once more with a network.`;
    case "storage-kept":
      return fine ? "The browser keeps the records." : "The browser may clear the records: install the app.";
    case "log-writable":
      return fine ? "The log writes and reads back." : "The log cannot be written here.";
    case "clock":
      return item.fault ? CLOCK_FAULT[item.fault] : "The clock is sane.";
    case "battery":
      return item.level_percent === null
        ? "Look at the battery: at least 40 %."
        : `Battery ${item.level_percent} %${fine ? "." : ": charge it to 40 % first."}`;
    case "installed":
      return fine ? "Installed on the home screen." : "Open in a browser tab: add it to the home screen.";
    case "last-export":
      return item.age_days === null
        ? "No run has left this device yet."
        : `Last run shared ${item.age_days} days ago.`;
  }
};
