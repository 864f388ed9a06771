import { defineConfig } from "vitest/config";

export default defineConfig({
  root: import.meta.dirname,
  cacheDir: "../node_modules/.vite",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    maxWorkers: "100%",
    // Limits for what hangs, and no measure of speed: other work may take the machine's time.
    testTimeout: 120_000,
    hookTimeout: 180_000,
    // SEED from the environment, for whoever wants to see a random failure again.
    setupFiles: ["support/seed.ts"],
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["**/*.test.{ts,tsx}"],
          exclude: ["browser/**", "fixtures/**", "**/*.long.test.ts"],
          // Modules are loaded once for all files: a fifth of the time was loading them again.
          isolate: false,
        },
      },
      {
        extends: true,
        // What takes many builds, kills, random changes or recordings.
        test: {
          name: "long",
          include: ["**/*.long.test.ts"],
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["browser/**/*.test.ts"],
          // Each waits for its own browser and its own recording most of the time.
          maxWorkers: 2,
        },
      },
    ],
  },
});
