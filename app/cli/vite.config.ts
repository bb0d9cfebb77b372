import { chmodSync } from "node:fs";
import { builtinModules } from "node:module";
import { defineConfig } from "vite";

const outDir = new URL("../../dist/cli", import.meta.url).pathname;

/** One file that Node runs as it is, with its dependencies inside. */
export default defineConfig({
  root: new URL(".", import.meta.url).pathname,
  publicDir: false,
  logLevel: "warn",
  ssr: { noExternal: true },
  build: {
    ssr: "main.ts",
    outDir,
    emptyOutDir: true,
    target: "node20",
    minify: false,
    rolldownOptions: {
      external: [/^node:/, ...builtinModules],
      output: { entryFileNames: "fourfast.js", codeSplitting: false, banner: "#!/usr/bin/env node" },
    },
  },
  plugins: [
    {
      name: "fourfast-executable",
      closeBundle: () => chmodSync(`${outDir}/fourfast.js`, 0o755),
    },
  ],
});
