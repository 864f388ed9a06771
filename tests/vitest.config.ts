import { defineConfig } from "vitest/config";

export default defineConfig({
  root: import.meta.dirname,
  cacheDir: "../node_modules/.vite",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    projects: [
      {
        extends: true,
        // A limit for what hangs, and no measure of speed: other work may take the machine's time.
        test: {
          name: "unit",
          include: ["**/*.test.{ts,tsx}"],
          exclude: ["browser/**", "fixtures/**"],
          testTimeout: 120_000,
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["browser/**/*.test.ts"],
          testTimeout: 60_000,
          hookTimeout: 180_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
