import { defineConfig } from "vitest/config";

/** What needs a real browser. One file at a time: each has a browser of its own and the machine has two cores. */
export default defineConfig({
  root: new URL("../..", import.meta.url).pathname,
  test: {
    include: ["tests/e2e/**/*.test.ts"],
    globalSetup: ["tests/run-seed.ts", "tests/e2e/built-site.ts"],
    fileParallelism: false,
    environment: "node",
    // A test that asserts nothing cannot fail.
    expect: { requireAssertions: true },
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
