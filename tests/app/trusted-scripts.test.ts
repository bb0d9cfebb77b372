import { expect, test } from "vitest";
import { allowOwnScripts } from "../../app/trusted-scripts.ts";

type Rules = { createScriptURL(url: string): string | null };

test("only scripts of the own origin become trusted", () => {
  let rules: Rules | undefined;
  allowOwnScripts({
    location: { href: "https://college.example/stand/#/bench" },
    trustedTypes: {
      createPolicy(_name, given) {
        rules = given;
      },
    },
  });
  expect(rules?.createScriptURL("./service-worker.js")).toBe("./service-worker.js");
  expect(rules?.createScriptURL("https://college.example/stand/assets/worker.js")).not.toBeNull();
  expect(rules?.createScriptURL("https://elsewhere.example/x.js")).toBeNull();
  expect(rules?.createScriptURL("data:text/javascript,1")).toBeNull();
  expect(rules?.createScriptURL("//elsewhere.example/x.js")).toBeNull();
});

test("a browser without trusted types is left alone", () => {
  expect(() => allowOwnScripts({ location: { href: "https://college.example/" } })).not.toThrow();
});
