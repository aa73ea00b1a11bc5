import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    setupFiles: ["tests/setup.ts"],
    globalSetup: ["tests/page/unpacked.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
