import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    reporters: ['default', './tests/closing-line.ts'],
    // Node's own type stripping, as in production: what it refuses must fail here too.
    experimental: { viteModuleRunner: false },
    // The machines have two cores, and some tests start the whole desk.
    testTimeout: 30_000,
    hookTimeout: 30_000,
  },
});
