import { defineConfig } from "vitest/config";

/** Everything that runs without a browser. A file that needs a document asks for it: `// @vitest-environment happy-dom`. */
export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    include: ["tests/**/*.test.{ts,tsx}"],
    exclude: ["tests/e2e/**"],
    globalSetup: ["tests/run-seed.ts"],
    setupFiles: ["tests/seed-each-file.ts"],
    environment: "node",
    // A test that asserts nothing cannot fail.
    expect: { requireAssertions: true },
    testTimeout: 20_000,
    // The kernel leaves no branch untried; what holds only types has none.
    coverage: {
      include: ["core/sequence/**", "core/record/**"],
      exclude: ["core/record/entry.ts", "core/record/reading.ts", "tests/**"],
      reporter: ["text"],
      thresholds: { branches: 100 },
    },
  },
});
