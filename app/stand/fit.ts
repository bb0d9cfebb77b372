import { useLayoutEffect, useRef, useState } from "preact/hooks";

/**
 * Nothing scrolls on a step (SAFETY A19), on whatever phone and at whatever size of text. Where all of a
 * screen does not fit, first the reasons go, then the type gets smaller, down to the least that SAFETY A39
 * allows; if that is not enough, what is read comes on a page before what is answered, and there the
 * act, being read, may be cut short. `above` names what takes room from the screen while it is there.
 */
const LEVELS = ["all", "terse", "small", "tiny"] as const;

export const useFit = (screen: string, above: string) => {
  const root = useRef<HTMLDivElement>(null);
  const [paged, setPaged] = useState<string>();
  const [size, setSize] = useState("");

  useLayoutEffect(() => {
    const measure = () => setSize(`${innerWidth} ${innerHeight}`);
    addEventListener("resize", measure);
    return () => removeEventListener("resize", measure);
  }, []);
  const room = `${size} ${above}`;
  const name = `${screen} ${room}`;
  const first = screen.replace(/ \/ .*/, "");
  const isPaged = paged === `${first} ${room}`;
  useLayoutEffect(() => {
    const page = root.current?.querySelector("main");
    if (!page) return;
    for (const level of LEVELS) {
      page.dataset["fit"] = level;
      if (page.scrollHeight <= page.clientHeight) return;
    }
    if (!isPaged && screen === first) setPaged(name);
  }, [name, isPaged]);
  return { root, paged: isPaged };
};
