import type { Page } from "playwright-core";
import { test } from "vitest";
import { WRITTEN_KINGFISHER } from "../../app/demo/written.ts";
import type { Reading } from "../../core/record/reading.ts";
import { askedAt } from "./instruments.ts";
import { phones } from "./phones.ts";

/** Water had in the other way than the one that the stand's own procedure asks for. */

const onPhone = phones();
const LIMIT_ms = 180_000;

/** How the water was read, as the log on the device has it. */
const waterLogged = (page: Page): Promise<readonly Reading[]> =>
  page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await done(indexedDB.open("fourfast"));
    const entries = await done(database.transaction("entries").objectStore("entries").getAll());
    database.close();
    return entries.flatMap(({ event }) => (event.step === "water" ? [event.reading] : []));
  });

test.concurrent.for([
  ["Heron", "By vessel", { kind: "volume", typed: "601", unit: "mL", instrument: "graduated vessel" }],
  ["Kingfisher", "By weight", { kind: "difference", gross: "498", unit: "g", instrument: "scale" }],
] as const)(
  "on %s water %s is written down, and the log names what it was read on",
  { timeout: LIMIT_ms },
  ([stand, way, reading], context) =>
    onPhone(async ({ url, page, crew }, expect) => {
      await crew.start(url, new RegExp(stand));
      const fill = await crew.until((screen) => screen.startsWith("step water "));
      await crew.tapNamed(way);
      await crew.measure(fill);
      await crew.until((screen) => screen.startsWith("gate seal-called"));
      expect(await waterLogged(page)).toMatchObject([reading]);
    })(context),
);

test("a crew that knows its stand finds a band that is wrong by a thousand, or another rig's", ({
  expect,
}) => {
  const { faultOf } = askedAt(WRITTEN_KINGFISHER, "water");
  expect(faultOf("440 to 460 g")).toBeUndefined();
  expect(faultOf("440 to 460 g (440.8 to 460.8 mL)")).toBeUndefined();
  expect(faultOf("440000 to 460000 mL")).toContain("0.44 to 0.46 in SI");
  expect(faultOf("590 to 610 g")).toBeDefined();
  expect(faultOf("440 to 460 mL")).toBeDefined();
  expect(askedAt(WRITTEN_KINGFISHER, "bottle-read").faultOf("2.4 to 2.6 bar")).toBeUndefined();
  expect(askedAt(WRITTEN_KINGFISHER, "bottle-read").faultOf("290 to 310 kPa")).toBeDefined();
});
