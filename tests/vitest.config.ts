import { defineConfig } from "vitest/config";

export default defineConfig({
  root: import.meta.dirname,
  cacheDir: "../node_modules/.vite",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    projects: [
      {
        extends: true,
        test: { name: "unit", include: ["**/*.test.{ts,tsx}"], exclude: ["browser/**", "fixtures/**"] },
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
